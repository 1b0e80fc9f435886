"""Finding things from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from estimator.command import main
from estimator.command.exits import Exit
from estimator.office.place import FILE_NAME
from estimator.store import customers, jobs, price_books
from estimator.store.customers import Customer
from estimator.store.database import open_file
from estimator.store.jobs import Job


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("find")
    with open_file(made / FILE_NAME) as database:
        price_books.installed(database)
        who = customers.add(database, Customer("Zoë O'Hara", telephone="01632 960 123"))
        jobs.add(database, Job("Gable crack", customer=who.uid))
    return made


def found(folder: Path, *words: str) -> int:
    return main.run(["data", "find", *words, "--data", str(folder)])


def test_hits_are_told_one_a_line(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert found(folder, "gable") == Exit.DONE
    (line,) = capsys.readouterr().out.splitlines()
    assert line.startswith("job")
    assert "Gable crack" in line


def test_a_job_is_called_as_in_the_list(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found(folder, "gable")
    main.run(["data", "jobs", "--data", str(folder)])
    hit, listed = capsys.readouterr().out.splitlines()
    assert hit.split()[1] == listed.split()[0]


def test_a_number_is_found_without_its_spaces(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert found(folder, "01632960123", "--json") == Exit.DONE
    (hit,) = json.loads(capsys.readouterr().out)["found"]
    assert (hit["kind"], hit["title"]) == ("customer", "Zoë O'Hara")


def test_a_slip_is_said_apart_from_the_answer(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert found(folder, "gabel", "--kind", "job") == Exit.DONE
    said = capsys.readouterr()
    assert "Gable crack" in said.out
    assert "searched for “gable”" in said.err


def test_nothing_found_is_no_mistake(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert found(folder, "qqqqqq") == Exit.DONE
    said = capsys.readouterr()
    assert said.out == ""
    assert "Nothing fits" in said.err


def test_a_fresh_folder_has_the_rates_that_come_with_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main.run(["data", "find", "repoint", "--kind", "item", "--throwaway"]) == Exit.DONE
    assert "epoint" in capsys.readouterr().out


def test_looking_makes_no_file_and_needs_no_lock(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert found(tmp_path / "elsewhere", "gable") == Exit.MISTAKE
    assert not (tmp_path / "elsewhere").exists()
    with open_file(folder / FILE_NAME):
        assert found(folder, "gable") == Exit.DONE
    assert "Gable crack" in capsys.readouterr().out


def test_an_unknown_kind_is_a_mistake(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert found(folder, "gable", "--kind", "wall") == Exit.MISTAKE
    assert "unknown word" in capsys.readouterr().err
