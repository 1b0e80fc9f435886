"""Where, check, backup and restore as they are typed, with the file sound and in ruins."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from estimator.command.main import run
from estimator.office.place import file_in
from estimator.store import clock, happenings, photos
from estimator.store.database import open_file
from estimator.store.manifest import backups_in, folder_beside
from tests.store import deeds_made_up, work


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = file_in(tmp_path_factory.mktemp("made"))
    open_file(path).close()
    return path.read_bytes()


@pytest.fixture
def folder(made: bytes, tmp_path: Path) -> Path:
    here = tmp_path / "books"
    here.mkdir()
    file_in(here).write_bytes(made)
    return here


class Typed:
    """Types data commands about one folder and keeps what was said."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.capsys = folder, capsys
        self.told = self.aside = ""

    def __call__(self, *words: str) -> int:
        code = run(["data", *words, "--data", str(self.folder)])
        self.told, self.aside = self.capsys.readouterr()
        return code


@pytest.fixture
def typed(folder: Path, capsys: pytest.CaptureFixture[str]) -> Typed:
    return Typed(folder, capsys)


def note(folder: Path, word: str) -> None:
    """Change the file as a day's work would."""
    with open_file(file_in(folder)) as database:
        database.raw.execute("INSERT INTO drafts VALUES (?, '', '')", (word,))


def notes(folder: Path) -> list[str]:
    raw = sqlite3.connect(file_in(folder))
    try:
        return [row[0] for row in raw.execute("SELECT key FROM drafts ORDER BY key")]
    finally:
        raw.close()


def spoil_photographs(folder: Path) -> None:
    """Change every photograph as a failing disk does, past the file's own guard."""
    raw = sqlite3.connect(file_in(folder))
    guarded = "SELECT sql FROM sqlite_schema WHERE name = 'tr_photos_frozen'"
    (guard,) = raw.execute(guarded).fetchone()
    raw.execute("DROP TRIGGER tr_photos_frozen")
    raw.execute("UPDATE photos SET jpeg = x'00'")
    raw.execute(guard)
    raw.commit()
    raw.close()


def test_where_names_the_file_and_its_backups(typed: Typed, folder: Path) -> None:
    assert typed("where") == 0
    assert typed.told.splitlines() == [
        f"File: {file_in(folder)}",
        f"Backups: {folder / 'backups'} (0)",
    ]


def test_a_backup_is_made_once_and_listed(typed: Typed, folder: Path) -> None:
    assert typed("backup") == 0
    one = backups_in(folder_beside(file_in(folder)))[0]
    assert typed.told == f"Backed up: {one.path}\n"
    assert typed("backup") == 0
    assert "Nothing has changed" in typed.told
    assert typed("restore", "--list") == 0
    assert typed.told.startswith(one.path.name)
    assert "asked for" in typed.told


def test_check_finds_nothing_wrong_with_a_sound_file(typed: Typed, folder: Path) -> None:
    typed("backup")
    before = file_in(folder).read_bytes()
    assert typed("check") == 0
    assert typed.told.endswith("Nothing is wrong.\n")
    assert "0 hours old" in typed.told
    assert file_in(folder).read_bytes() == before


def test_check_tells_of_a_spoilt_photograph(typed: Typed, folder: Path) -> None:
    with open_file(file_in(folder)) as database:
        job = work.job_in(database)
        name = photos.keep(database, job, b"the front", width_px=20, height_px=15)
    assert typed("check") == 0
    assert "Photographs: each is as it was taken in" in typed.told
    spoil_photographs(folder)
    assert typed("check") == 2
    assert f"Wrong: photograph {name[:12]} of job {job[:8]} is damaged" in typed.told


def test_check_tells_of_a_deed_that_was_changed(typed: Typed, folder: Path) -> None:
    with open_file(file_in(folder)) as database:
        job = work.job_in(database)
        happenings.add(database, job, deeds_made_up.journey()[0])
    assert typed("check") == 0
    assert "What happened to each job: as it was noted" in typed.told
    with closing(sqlite3.connect(file_in(folder))) as raw:
        (sql,) = raw.execute(
            "SELECT sql FROM sqlite_schema WHERE name = 'tr_happenings_frozen'"
        ).fetchone()
        raw.execute("DROP TRIGGER tr_happenings_frozen")
        raw.execute("UPDATE happenings SET document = replace(document, 'Ines', 'Inez')")
        raw.execute(sql)
        raw.commit()
    assert typed("check") == 2
    assert f"Wrong: job {job[:8]}: " in typed.told
    assert "is not as it was noted" in typed.told


def test_check_tells_of_a_spoilt_backup(typed: Typed, folder: Path) -> None:
    typed("backup")
    one = backups_in(folder_beside(file_in(folder)))[0]
    one.path.write_bytes(b"x" + one.path.read_bytes()[1:])
    assert typed("check") == 2
    assert f"Wrong: the backup {one.path.name} is not as it was made" in typed.told


def test_check_tells_of_a_file_in_ruins_and_of_its_backups(typed: Typed, folder: Path) -> None:
    typed("backup")
    file_in(folder).write_bytes(b"x" * 5000)
    assert typed("check") == 2
    assert "Wrong: work.perpend is not a file of this program" in typed.told
    assert "Backups: 1, of which 1 are as they were made" in typed.told


@pytest.mark.parametrize("ruin", [b"", b"x" * 5000, None])
def test_the_newest_good_backup_is_restored_from_ruins(
    typed: Typed, folder: Path, ruin: bytes | None
) -> None:
    note(folder, "first")
    typed("backup")
    note(folder, "second")
    typed("backup")
    spoilt = backups_in(folder_beside(file_in(folder)))[-1]
    spoilt.path.write_bytes(b"x" + spoilt.path.read_bytes()[1:])
    file_in(folder).unlink() if ruin is None else file_in(folder).write_bytes(ruin)
    assert typed("restore", "newest") == 0, typed.aside
    assert typed.told.startswith(f"Restored: {file_in(folder)}, as it was on ")
    assert notes(folder) == ["first"]


def test_a_restore_of_one_by_name_can_be_taken_back(typed: Typed, folder: Path) -> None:
    note(folder, "first")
    typed("backup")
    name = backups_in(folder_beside(file_in(folder)))[0].path.name
    note(folder, "second")
    assert typed("restore", name) == 0
    assert notes(folder) == ["first"]
    assert "What was there was backed up:" in typed.told
    assert "What was there is kept:" in typed.told
    assert typed("restore", "newest") == 0
    assert notes(folder) == ["first", "second"]


def test_a_file_in_use_is_not_replaced(typed: Typed, folder: Path) -> None:
    typed("backup")
    with open_file(file_in(folder)):
        assert typed("restore", "newest") == 2
    assert "is open already" in typed.aside


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["restore"], "No backup is named; name one as listed, or say newest."),
        (["restore", "newest"], "There is no good backup"),
        (["restore", "nothing.perpend"], "There is no backup nothing.perpend"),
    ],
)
def test_a_backup_that_is_not_there_is_said_plainly(
    typed: Typed, words: list[str], said: str
) -> None:
    assert typed(*words) == 2
    assert said in typed.aside


def test_a_second_place_gets_every_backup_and_is_asked_too(
    typed: Typed, folder: Path, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    note(folder, "first")
    assert typed("backup", "--to", str(stick)) == 0
    note(folder, "second")
    assert typed("backup") == 0
    assert len(backups_in(stick / "perpend backups")) == 2
    for lost in folder.iterdir():
        if lost.name != "backups" and lost.is_file():
            lost.unlink()
    for lost in (folder / "backups").glob("work*"):
        lost.unlink()
    assert typed("restore", "newest") == 0, typed.aside
    assert notes(folder) == ["first", "second"]


def test_a_missing_stick_is_told_and_stops_nothing(
    typed: Typed, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    typed("backup", "--to", str(stick))
    (stick / "perpend backups").rename(tmp_path / "pulled out")
    note(folder, "more")
    assert typed("backup") == 0
    assert "is not there now" in typed.aside
    assert "days old" not in typed.aside
    later = clock.now() + timedelta(days=7)
    monkeypatch.setattr(clock, "now", lambda: later)
    assert typed("check") == 0
    assert "is 7 days old" in typed.aside
    assert typed("where") == 0
    assert typed.told.endswith("(not there)\n")


def test_the_folder_of_the_file_is_no_second_place(typed: Typed, folder: Path) -> None:
    assert typed("backup", "--to", str(folder)) == 2
    assert "is the folder the file is in" in typed.aside
