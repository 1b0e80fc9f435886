"""The commands about people: they say first, and do only what they said."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estimator.command import data_people, main
from estimator.command.exits import Exit
from estimator.office.place import FILE_NAME
from estimator.store import customers, issued, people
from estimator.store.customers import Customer
from estimator.store.database import open_file
from estimator.store.jobs import Stage
from tests.store import people_made_up as made_up
from tests.store.people_made_up import CANARIES, LATELY, LONG_AGO, TODAY, Made


@dataclass
class Told:
    """How a command ended and what it printed."""

    ended: int
    out: str
    err: str


@dataclass
class Desk:
    """A folder with one customer in its file, and a way to run commands in it."""

    folder: Path
    made: Made
    capsys: pytest.CaptureFixture[str]

    def run(self, *words: str) -> Told:
        self.capsys.readouterr()
        ended = main.run(["data", *words, "--data", str(self.folder)])
        return Told(ended, *self.capsys.readouterr())

    @property
    def file(self) -> Path:
        return self.folder / FILE_NAME


@pytest.fixture
def desk(
    quick: Path,
    request: pytest.FixtureRequest,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> Desk:
    monkeypatch.setattr(data_people, "_today", lambda: TODAY)
    folder = quick / "data"
    folder.mkdir()
    (folder / FILE_NAME).write_bytes(made_up.fresh())
    when, stage = getattr(request, "param", (LONG_AGO, Stage.DONE))
    with open_file(folder / FILE_NAME) as database:
        made = made_up.customer(database, issued_at=when, stage=stage)
    return Desk(folder, made, capsys)


@pytest.fixture
def quick() -> Iterator[Path]:
    """A folder in memory where there is one: nothing here is about the disk."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        yield Path(folder)


def test_an_export_is_a_text_a_json_and_the_papers(desk: Desk, tmp_path: Path) -> None:
    told = desk.run("export", "quillfeather", "--to", str(tmp_path / "out"))
    assert told.ended == Exit.DONE
    stem = f"customer-{desk.made.uid[:8]}"
    written = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert written == [f"{stem}.json", f"{stem}.txt", f"quotation-{desk.made.number}.pdf"]
    held = json.loads((tmp_path / "out" / f"{stem}.json").read_text(encoding="utf-8"))
    assert held["customer"]["email"] == CANARIES["email"]
    text = (tmp_path / "out" / f"{stem}.txt").read_text(encoding="utf-8")
    assert [word for word in CANARIES.values() if word not in text] == []
    assert told.out.count("Written: ") == 3


def test_an_export_into_a_file_is_told(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("", encoding="utf-8")
    told = desk.run("export", "quillfeather", "--to", str(tmp_path / "out"))
    assert told.ended == Exit.MISTAKE
    assert "could not be written" in told.err


def test_without_yes_nothing_is_erased(desk: Desk) -> None:
    before = desk.file.read_bytes()
    told = desk.run("erase", "Zephyrine")
    assert told.ended == Exit.DONE
    assert "Nothing has been erased yet." in told.out
    assert f"data erase {desk.made.uid[:8]} --yes" in told.out
    assert desk.file.read_bytes() == before
    assert not (desk.folder / "backups").exists()


def test_with_yes_it_is_done_after_a_backup_that_is_listed(desk: Desk) -> None:
    shown = desk.run("erase", "Zephyrine")
    told = desk.run("erase", desk.made.uid[:8], "--yes")
    assert told.ended == Exit.DONE
    assert "Erased." in told.out
    (backup,) = (desk.folder / "backups").glob("*.perpend")
    assert str(backup) in told.out
    assert "as new ones are made" in told.out
    # What was said beforehand is what was done.
    before = shown.out.split("\n\nNothing has been erased yet.")[0]
    assert told.out.startswith(before)
    live = [path for path in desk.folder.glob("*") if path.is_file()]
    held = [
        path.name
        for path in live
        for word in CANARIES.values()
        if word.encode() in path.read_bytes()
    ]
    assert held == []


@pytest.mark.parametrize("desk", [(LATELY, Stage.OFFERED)], indirect=True)
def test_what_stays_is_told_with_its_day(desk: Desk) -> None:
    with open_file(desk.file) as database:
        total = issued.find(database, desk.made.number).total
    told = desk.run("erase", "Zephyrine", "--yes")
    assert f"{desk.made.number} of 2026-06-01, £{total.pounds:,}, until 2033-04-05" in told.out
    assert "because tax needs them" in told.out
    assert f"Not finished yet, and left without a name or a site: {desk.made.job[:8]}" in told.out
    with open_file(desk.file) as database:
        assert issued.find(database, desk.made.number).total == total
        assert issued.verify(database) == ()


def test_places_that_name_them_elsewhere_are_told(desk: Desk) -> None:
    with open_file(desk.file) as database:
        other = customers.add(database, Customer("A friend", notes=f"of {CANARIES['name']}"))
    assert f"  customer {other.uid}" in desk.run("erase", "Zephyrine").out


def test_no_room_to_write_the_file_anew_is_told(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(people, "_write_anew", lambda raw: False)
    assert "no room to write the file anew" in desk.run("erase", "Zephyrine", "--yes").err


@pytest.mark.parametrize("desk", [(LONG_AGO, Stage.LOST)], indirect=True)
def test_who_is_due_is_listed_and_nothing_done(desk: Desk) -> None:
    before = desk.file.read_bytes()
    told = desk.run("keep-list")
    assert told.out.splitlines()[0] == (
        f"{desk.made.uid[:8]}  2019-03-01  {CANARIES['name']}:"
        " 1 job, 2 surveys, 1 paper to be emptied"
    )
    assert "Nothing has been removed." in told.out
    assert desk.file.read_bytes() == before


def test_nobody_due_is_told(desk: Desk) -> None:
    assert "Nobody is due" in desk.run("keep-list").out


@pytest.mark.parametrize("command", [("export", "--to", "out"), ("erase", "--yes")])
def test_a_name_that_fits_nobody_or_several_stops_the_command(
    desk: Desk, command: tuple[str, ...]
) -> None:
    def now() -> datetime:
        return datetime.now(UTC)

    with open_file(desk.file) as database:
        customers.add(database, Customer("Zephyrine the second"), now=now)
    before = desk.file.read_bytes()
    name, *rest = command
    for words, said in (("zephyrine", "fits 2 customers"), ("nobody", "no customer is called")):
        told = desk.run(name, words, *rest)
        assert (told.ended, said in told.err.casefold()) == (Exit.MISTAKE, True)
    assert desk.file.read_bytes() == before
    assert not (desk.folder / "backups").exists()
