"""Power cuts: what was acknowledged is there afterwards, whatever else the disk lost or tore.

The rules of what a disk may lose are those of https://www.sqlite.org/atomiccommit.html, sections
2 and 3, with single bytes of a sector written or not (its "powersafe overwrite").
"""

from __future__ import annotations

import os
import pickle
import random
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import delete, insert, update

from estimator.notices import WorldFault
from estimator.store.database import Database, open_file
from estimator.store.tables import Drafts, Facts
from tests.store.conftest import MEMORY
from tests.store.in_child import ROOT
from tests.store.recorded_disk import Event, RecordedDisk, replayed

SAVES, KEPT, SEED = 30, 6, 20261125
NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)


def text(number: int) -> str:
    """What a save writes; every fifth is long, so that the file grows and shrinks."""
    return f"{number:05} " * (4000 if number % 5 == 0 else 300)


def save(database: Database, number: int) -> None:
    """Save over what was there, beside it, and in place of what was let go."""
    with database.writing() as connection:
        connection.execute(insert(Facts).values(name=f"save {number:05}", value=""))
        connection.execute(update(Facts).where(Facts.name == "last").values(value=str(number)))
        connection.execute(
            insert(Drafts).values(key=f"{number:05}", document=text(number), changed_at=NOW)
        )
        connection.execute(delete(Drafts).where(Drafts.key <= f"{number - KEPT:05}"))


def record(path: str, log: str) -> None:
    """Save and acknowledge, and write down what the disk was asked; in a process of its own."""
    try:
        disk = RecordedDisk()
    except (RuntimeError, AttributeError, OSError) as error:
        print(error)
        return
    with open_file(Path(path)) as database:
        for number in range(1, SAVES + 1):
            save(database, number)
            disk.events.append(("acknowledged", number))
    Path(log).write_bytes(pickle.dumps(disk.events))


@pytest.fixture(scope="module")
def events() -> list[Event]:
    """What was asked of the disk during thirty saves."""
    with tempfile.TemporaryDirectory(dir=MEMORY) as folder:
        path, log = Path(folder) / "work.perpend", Path(folder) / "log"
        with open_file(path) as database, database.writing() as connection:
            connection.execute(insert(Facts).values(name="last", value="0"))
        code = "import sys; from tests.store.test_power_loss import record; record(*sys.argv[1:])"
        said = subprocess.run(
            [sys.executable, "-c", code, str(path), str(log)],
            check=True,
            capture_output=True,
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            text=True,
            timeout=60,
        )
        assert said.stderr == ""
        if not log.exists():
            pytest.skip(said.stdout)
        found: list[Event] = pickle.loads(log.read_bytes())
        # The record is whole: done again from it alone, the file is the same to the byte.
        assert replayed(found, len(found)).untouched() == {path.name: path.read_bytes()}
        return found


def wrong_after(events: Sequence[Event], seed: int) -> str:
    """Cut the power somewhere, open what is left, and say what is wrong with it."""
    chance = random.Random(seed)
    upto = chance.randrange(1, len(events) + 1)
    disk = replayed(events, upto)
    with tempfile.TemporaryDirectory(dir=MEMORY) as folder:
        for name, content in disk.after_a_cut(chance).items():
            (Path(folder) / name).write_bytes(content)
        try:
            with open_file(Path(folder) / "work.perpend") as database:
                wrong = wrong_with(database, disk.acknowledged)
        except (WorldFault, sqlite3.Error) as error:
            wrong = str(error)
    return f"seed {seed}, cut after {upto} of {len(events)}: {wrong}" if wrong else ""


def wrong_with(database: Database, acknowledged: int) -> str:
    """Say what is wrong when so many saves were acknowledged and the next may be there."""
    found = database.raw.execute("PRAGMA integrity_check").fetchall()
    if found != [("ok",)]:
        return str(found[0][0])
    facts = dict(database.raw.execute("SELECT name, value FROM facts").fetchall())
    drafts = dict(database.raw.execute("SELECT key, document FROM drafts").fetchall())
    last = int(facts["last"])
    if last not in {acknowledged, acknowledged + 1}:
        return f"{acknowledged} acknowledged, {last} there"
    saves = [name for name in sorted(facts) if name.startswith("save ")]
    if saves != [f"save {number:05}" for number in range(1, last + 1)]:
        return f"half of save {last}: {saves[-2:]}"
    kept = range(max(1, last - KEPT + 1), last + 1)
    if drafts != {f"{number:05}": text(number) for number in kept}:
        return f"half of save {last}: {sorted(drafts)}"
    return ""


def wrongs(events: Sequence[Event], count: int) -> list[str]:
    found = [wrong_after(events, SEED + number) for number in range(count)]
    return [wrong for wrong in found if wrong]


def test_ten_power_cuts(events: list[Event]) -> None:
    assert {event[0] for event in events} >= {"create", "delete", "folder", "sync", "write"}
    assert wrongs(events, 10) == []


@pytest.mark.long
def test_two_hundred_power_cuts(events: list[Event]) -> None:
    assert wrongs(events, 200) == []


@pytest.mark.long
@pytest.mark.parametrize("lie", ["sync", "folder"])
def test_a_disk_that_does_not_flush_is_noticed(events: list[Event], lie: str) -> None:
    """The replays can fail: without one kind of flush, they do."""
    assert wrongs([event for event in events if event[0] != lie], 200) != []
