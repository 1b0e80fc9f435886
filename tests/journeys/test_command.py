"""The whole program from the command line: surveys in, words, numbers and papers out."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import estimator
from estimator.command import main

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "demo"
FIRM = str(DEMO / "firm.json")
PRICED = ("window_lime", "quoin_cavity", "terrace", "phone_call")
MALFORMED = sorted(
    path for path in (ROOT / "tests" / "bad_surveys").glob("*.json") if path.name != "index.json"
)
ONE_SENTENCE = re.compile(r"\S.*[.]\n")


def survey(name: str) -> str:
    return str(DEMO / f"{name}.json")


def printed(name: str, capsys: pytest.CaptureFixture[str], *extra: str) -> dict[str, Any]:
    main.run(["price", survey(name), "--json", *extra])
    result: dict[str, Any] = json.loads(capsys.readouterr().out)
    return result


def started(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "estimator", *arguments],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


@pytest.mark.parametrize("name", PRICED)
def test_a_demo_is_priced(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["price", survey(name), "--firm", FIRM]) == main.Exit.DONE
    said = capsys.readouterr()
    assert "Damage category" in said.out
    assert "£" in said.out
    assert not said.err


@pytest.mark.parametrize("name", PRICED)
def test_printed_lines_add_up(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    for option in printed(name, capsys)["options"]:
        pence = [round(float(line["amount"]) * 100) for line in option["lines"]]
        net, total = (round(float(option[key]) * 100) for key in ("net", "total"))
        tax = [round(float(tax["amount"]) * 100) for tax in option["tax"] if tax["charged"]]
        assert sum(pence) == net
        assert net + sum(tax) == total


def test_a_wall_to_be_referred_gets_no_price(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["price", survey("refer")]) == main.Exit.NO_PRICE
    said = capsys.readouterr().out
    assert "No price is given." in said
    assert "engineer" in said
    assert "£" not in said


def test_a_wall_to_be_referred_has_no_options(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    result = printed("refer", capsys, "--pdf", str(tmp_path / "papers"))
    assert result["route"] == "refer to a chartered structural engineer"
    assert result["options"] == []
    assert result["words"]
    assert result["notices"]
    assert not (tmp_path / "papers").exists()


def test_a_telephone_call_makes_an_estimate(capsys: pytest.CaptureFixture[str]) -> None:
    result = printed("phone_call", capsys)
    assert (result["paper"], result["route"]) == ("estimate", "range only")
    for option in result["options"]:
        low, likely, high = (float(option["range"][key]) for key in ("low", "likely", "high"))
        assert low < likely < high
        assert all(end.is_integer() for end in (low, high))


def test_grout_mortar_and_access_are_told_with_their_reckoning(
    capsys: pytest.CaptureFixture[str],
) -> None:
    result = printed("terrace", capsys)
    kinds = {need["material"] for need in result["materials"]}
    assert kinds >= {"grout", "cement", "hydrated_lime", "sand", "protection"}
    assert all(need["working"] and float(need["quantity"]) > 0 for need in result["materials"])
    assert {reach["means"] for reach in result["access"]} == {"tower"}


def test_scopes_are_offered_as_asked(capsys: pytest.CaptureFixture[str]) -> None:
    result = printed("window_lime", capsys, "--scope", "repoint", "--scope", "local")
    assert [option["key"] for option in result["options"]] == ["repoint", "local"]


def test_number_and_date_go_on_the_paper(capsys: pytest.CaptureFixture[str]) -> None:
    result = printed("window_lime", capsys, "--number", "Q-0001", "--date", "2026-12-01")
    assert (result["number"], result["date"]) == ("Q-0001", "2026-12-01")


def test_the_same_survey_prints_the_same_twice(capsys: pytest.CaptureFixture[str]) -> None:
    assert printed("phone_call", capsys) == printed("phone_call", capsys)


@pytest.mark.parametrize("name", PRICED)
def test_a_paper_is_written(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["price", survey(name), "--firm", FIRM, "--pdf", str(tmp_path)]) == 0
    (paper,) = tmp_path.iterdir()
    assert paper.read_bytes().startswith(b"%PDF-")
    assert f"Written: {paper}" in capsys.readouterr().out


def test_another_price_book_changes_the_price(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shipped = json.loads((ROOT / "resources" / "price_book.json").read_text(encoding="utf-8"))
    shipped["labour"]["bricklayer"]["basic"] = "34.00"
    shipped["confirmed"] = True
    book = tmp_path / "book.json"
    book.write_text(json.dumps(shipped), encoding="utf-8")
    usual, dear = (
        printed("window_lime", capsys),
        printed("window_lime", capsys, "--book", str(book)),
    )
    assert (usual["rates_confirmed"], dear["rates_confirmed"]) == (False, True)
    for cheaper, dearer in zip(usual["options"], dear["options"], strict=True):
        assert float(cheaper["total"]) < float(dearer["total"])


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["prise"],
        ["price"],
        ["price", "none.json"],
        ["price", str(DEMO)],
        ["price", survey("window_lime"), "--scope", "roof"],
        ["price", survey("window_lime"), "--scope", "local", "local"],
        ["price", survey("window_lime"), "--date", "25/11/2026"],
        ["price", survey("window_lime"), "--book", "none.json"],
        ["price", survey("window_lime"), "--book", FIRM],
        ["price", survey("window_lime"), "--firm", survey("window_lime")],
        ["price", survey("window_lime"), "--colour", "red"],
        ["price", survey("window_lime"), "--pdf", f"{FIRM}/papers"],
    ],
)
def test_what_cannot_be_used_is_said_in_one_sentence(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main.run(arguments) == main.Exit.MISTAKE
    said = capsys.readouterr()
    assert ONE_SENTENCE.fullmatch(said.err), said.err
    assert "invalid" not in said.err
    assert not said.out


def test_malformed_surveys_are_kept() -> None:
    assert len(MALFORMED) >= 200


@pytest.mark.parametrize("path", MALFORMED, ids=lambda path: path.stem)
def test_a_malformed_survey_is_said_in_one_sentence(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main.run(["price", str(path)]) == main.Exit.MISTAKE
    said = capsys.readouterr()
    assert ONE_SENTENCE.fullmatch(said.err), said.err
    assert "Traceback" not in said.err
    assert not said.out


def test_a_fault_in_the_program_is_one_sentence_and_no_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_given: object) -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(main.price, "quoted", broken)
    monkeypatch.delenv(main.DEBUG, raising=False)
    assert main.run(["price", survey("window_lime")]) == main.Exit.FAULT
    said = capsys.readouterr().err
    assert ONE_SENTENCE.fullmatch(said), said
    assert "secret detail" not in said
    monkeypatch.setenv(main.DEBUG, "1")
    assert main.run(["price", survey("window_lime")]) == main.Exit.FAULT
    assert "ZeroDivisionError: secret detail" in capsys.readouterr().err


@pytest.mark.slow
def test_the_program_starts_as_a_module() -> None:
    priced = started("price", survey("quoin_cavity"), "--json")
    assert (priced.returncode, priced.stderr) == (0, "")
    assert json.loads(priced.stdout)["damage_category"] == 2
    assert started("price", survey("refer")).returncode == main.Exit.NO_PRICE
    missing = started("price", "none.json")
    assert missing.returncode == main.Exit.MISTAKE
    assert ONE_SENTENCE.fullmatch(missing.stderr)


@pytest.mark.slow
def test_a_terminal_that_knows_only_ascii_is_no_trouble() -> None:
    priced = started("price", survey("window_lime"), PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert priced.returncode == 0, priced.stderr


def test_help_has_an_example_and_version_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main.run(["--help"])
    assert left.value.code == 0
    assert "python -m estimator price demo/window_lime.json" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        main.run(["--version"])
    assert capsys.readouterr().out == f"Perpend {estimator.__version__}\n"
