"""A person's words followed through every command: none in the logs, none left once erased.

Each personal field holds a token that stands nowhere else, so a single find is a leak.
"""

from __future__ import annotations

import argparse
import json
import logging
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, create_engine

from estimator import logs
from estimator.command import main
from estimator.office.place import FILE_NAME
from estimator.store import customers, database, drafts, issued, jobs, person_export
from estimator.store.database import open_file
from tests.store import people_made_up as made_up
from tests.store.people_made_up import CANARIES

ROOT = Path(__file__).resolve().parents[2]
NAME = CANARIES["name"]


class Everything(logging.Handler):
    """A log without our filter, to show what would get in."""

    def __init__(self) -> None:
        super().__init__(logging.DEBUG)
        self.text = ""

    def emit(self, record: logging.LogRecord) -> None:
        self.text += f"{record.getMessage()} {record.exc_info}\n"


@pytest.fixture
def unguarded(monkeypatch: pytest.MonkeyPatch) -> Iterator[Everything]:
    """The database library telling every value it is given, with nothing hidden from it."""

    def talking(*words: Any, **settings: Any) -> Engine:
        return create_engine(*words, **{**settings, "hide_parameters": False})

    monkeypatch.setattr(database, "create_engine", talking)
    handler, talkative = Everything(), logging.getLogger("sqlalchemy")
    before = talkative.level
    talkative.setLevel(logging.INFO)
    logging.getLogger().addHandler(handler)
    yield handler
    logging.getLogger().removeHandler(handler)
    talkative.setLevel(before)


def commands() -> set[str]:
    """Every data command there is."""
    top = main.parser()._subparsers
    assert top is not None
    data = top._group_actions[0].choices["data"]  # type: ignore[index]
    inner = next(
        action for action in data._actions if isinstance(action, argparse._SubParsersAction)
    )
    return set(inner.choices)


def asked(folder: Path, number: str, job: str) -> dict[str, list[list[str]]]:
    """How each command is asked, with a person's words wherever it takes words."""
    survey, out = folder / f"{NAME}.json", folder / NAME
    return {
        "add": [["add", str(survey), "--job", job, "--why", CANARIES["said"]]],
        "where": [["where"]],
        "check": [["check"]],
        "backup": [["backup"]],
        "restore": [["restore", "--list"], ["restore", NAME]],
        "find": [["find", word] for word in CANARIES.values()],
        "jobs": [["jobs"]],
        "issue": [["issue", NAME]],
        "papers": [["papers"]],
        "paper": [["paper", number, str(out)], ["paper", NAME, str(out)]],
        "export": [["export", NAME, "--to", str(out)], ["export", "x", "--to", NAME]],
        "erase": [["erase", NAME], ["erase", CANARIES["telephone"]]],
        "keep-list": [["keep-list"]],
        "import-prices": [["import-prices", str(survey), "--supplier", NAME]],
        "export-prices": [["export-prices", str(out / f"{NAME}.csv")]],
        "uplift": [["uplift", "2.5", "--group", NAME]],
        "undo": [["undo"]],
        "price-history": [["price-history", NAME]],
        "confirm-prices": [["confirm-prices", NAME]],
    }


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """A folder with a survey in a file named after the person."""
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / FILE_NAME).write_bytes(made_up.fresh())
    (tmp_path / f"{NAME}.json").write_text(made_up.survey(), encoding="utf-8")
    return tmp_path


def run(desk: Path, *words: str) -> int:
    """Run one data command with a log kept."""
    folder = desk / "data"
    with logs.Kept(folder, words[0]):
        return main.run(["data", *words, "--data", str(folder)])


def begun(desk: Path) -> tuple[str, str, str]:
    """Take the survey in and issue its paper, by command; return customer, job and number."""
    assert run(desk, "add", str(desk / f"{NAME}.json")) == 0
    with open_file(desk / "data" / FILE_NAME) as opened:
        job = jobs.list_jobs(opened)[0].uid
        (person,) = customers.list_customers(opened)
        customers.change(
            opened, customers.Customer(**{**as_values(person), "notes": CANARIES["notes"]})
        )
        drafts.keep(opened, f"survey/{job}", json.dumps(CANARIES))
    assert run(desk, "issue", job) == 0
    with open_file(desk / "data" / FILE_NAME) as opened:
        (paper,) = issued.list_papers(opened)
    return person.uid, job, paper.number


def as_values(person: customers.Customer) -> dict[str, object]:
    return {name: getattr(person, name) for name in person.__slots__}


def found(folder: Path) -> dict[str, list[str]]:
    return made_up.found_in(folder, list(CANARIES.values()))


def test_no_command_lets_a_person_into_the_log(desk: Path, unguarded: Everything) -> None:
    _, job, number = begun(desk)
    listed = asked(desk, number, job)
    # A command nobody thought of here is asked with the person's words all the same.
    for command in sorted(commands()):
        for words in listed.get(command, [[command, NAME]]):
            run(desk, *words)
    log = desk / "data" / "logs"
    lines = (log / "perpend.log").read_text(encoding="utf-8").splitlines()
    assert len(lines) >= 2 * len(commands())
    assert found(log) == {}
    # The same lines, not guarded, give everything away.
    assert [word for word in CANARIES.values() if word not in unguarded.text] == []


def test_a_crash_gives_nobody_away(
    desk: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    caplog: pytest.LogCaptureFixture,
) -> None:
    begun(desk)
    capsys.readouterr()

    def fails(*_: object) -> None:
        raise RuntimeError(f"no such column: {' '.join(CANARIES.values())}")

    monkeypatch.delenv(main.DEBUG, raising=False)
    monkeypatch.setattr(person_export, "_job", fails)
    assert run(desk, "export", NAME, "--to", str(desk / "out")) == 1
    printed = "".join(capsys.readouterr())
    assert "RuntimeError" in printed
    with open_file(desk / "data" / FILE_NAME) as opened:
        (person,) = customers.list_customers(opened)
        with pytest.raises(RuntimeError), logs.Kept(desk / "data", "export"):
            person_export.export_customer(opened, person.uid)
    log = desk / "data" / "logs"
    text = (log / "perpend.log").read_text(encoding="utf-8")
    assert "[RuntimeError at store/person_export.py:" in text
    assert found(log) == {}
    assert [word for word in CANARIES.values() if word in printed] == []


def test_an_erased_person_is_nowhere_but_on_papers_that_tax_needs(desk: Path) -> None:
    uid, job, number = begun(desk)
    data = desk / "data"
    assert set(found(data)) == set(CANARIES.values())
    with open_file(data / FILE_NAME) as opened:
        total, pdf = issued.find(opened, number).total, issued.pdf_of(opened, number)
    assert run(desk, "erase", uid, "--yes") == 0
    left = {word for word, names in found(data).items() if set(names) & live(data)}
    # What is left lies in the bytes of the PDF that tax needs, and in no other cell of the file.
    assert left <= {word for word in CANARIES.values() if word.encode() in pdf}
    with open_file(data / FILE_NAME) as opened:
        assert issued.find(opened, number).total == total
        assert issued.pdf_of(opened, number) == pdf
        assert issued.verify(opened) == ()
        assert jobs.survey(opened, job).customer.name == ""
        cells = "\n".join(opened.raw.iterdump())
    assert [word for word in CANARIES.values() if word.casefold() in cells.casefold()] == []
    # The backup forced before the erasure holds them; one made before they were typed does not.
    holding = {name for names in found(data).values() for name in names if name not in live(data)}
    backups = sorted(path.name for path in (data / "backups").glob("*.perpend"))
    assert holding
    assert holding <= set(backups)


def live(data: Path) -> set[str]:
    """Names of the files that are not backups: file, journal, settings, logs."""
    return {path.name for path in data.rglob("*") if path.parent.name != "backups"}
