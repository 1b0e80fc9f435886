"""Backups and other copies that still hold somebody who was erased."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estimator.store import backup, copies, people
from estimator.store.database import Database, open_file
from estimator.store.manifest import folder_beside
from estimator.store.second_place import name_second_place
from tests.store import people_made_up as made_up
from tests.store.people_made_up import TODAY

NOW = datetime(2026, 11, 25, 8, tzinfo=UTC)


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    path = quick / "data" / "work.perpend"
    path.parent.mkdir()
    path.write_bytes(made_up.fresh())
    with open_file(path) as opened:
        yield opened


def test_only_backups_from_their_time_hold_somebody(database: Database) -> None:
    backup.back_up(database, now=NOW, forced=True, why="before they came")
    made = made_up.customer(database)
    with_them = backup.back_up(database, now=NOW, forced=True)
    people.erase_customer(database, made.uid, today=TODAY)
    backup.back_up(database, now=NOW, forced=True)
    (held,) = copies.still_holding(database, made.uid)
    assert with_them is not None
    assert (held.path, held.made_at, held.goes_by_itself) == (with_them.path, NOW, True)


def test_the_second_place_is_looked_through_too(database: Database, quick: Path) -> None:
    stick = quick / "stick"
    stick.mkdir()
    place = name_second_place(database, stick)
    made = made_up.customer(database)
    backup.back_up(database, now=NOW)
    people.erase_customer(database, made.uid, today=TODAY)
    folders = {held.path.parent for held in copies.still_holding(database, made.uid)}
    assert folders == {place.inside, folder_beside(database.path)}


def test_a_file_set_aside_never_goes_by_itself(database: Database) -> None:
    made = made_up.customer(database)
    kept = backup.back_up(database, now=NOW)
    assert kept is not None
    aside = database.path.with_name("work.perpend.2026-11-25")
    aside.write_bytes(kept.path.read_bytes())
    people.erase_customer(database, made.uid, today=TODAY)
    held = copies.still_holding(database, made.uid)
    assert [(one.path.name, one.goes_by_itself) for one in held][-1] == (aside.name, False)


def test_a_copy_that_cannot_say_may_hold_them(database: Database) -> None:
    made = made_up.customer(database)
    broken = database.path.with_name("broken.perpend")
    broken.write_bytes(made_up.fresh()[:3000])
    (database.path.parent / "notes.txt").write_text("not a file of ours", encoding="utf-8")
    assert [one.path for one in copies.still_holding(database, made.uid)] == [broken]


OTHER_PROCESS = """
import sqlite3, sys
raw = sqlite3.connect(sys.argv[1], timeout=0, isolation_level=None)
try:
    raw.execute("BEGIN IMMEDIATE")
except sqlite3.OperationalError as told:
    print(told)
"""


def test_looking_keeps_the_locks_on_the_live_file(database: Database) -> None:
    # Opening and closing the live file by hand would drop every lock this process has on it.
    made = made_up.customer(database)
    with database.writing():
        assert copies.still_holding(database, made.uid) == ()
        other = subprocess.run(
            [sys.executable, "-c", OTHER_PROCESS, str(database.path)],
            capture_output=True,
            text=True,
            check=True,
        )
    assert other.stdout.strip() == "database is locked"
