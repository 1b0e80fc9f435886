"""Every earlier file opens, and a step that fails leaves the file as it was."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, StaticPool, create_engine, event

from estimator.store import migrations
from estimator.store.database import Database, open_file, problems_in, version_of
from estimator.store.faults import DamagedFile, NewerFile
from estimator.store.shape import STORED as SHAPES
from estimator.store.shape import made_shape, own_shape, strangers_in
from tests.store.conftest import FIXTURES, stored
from tests.store.dumps import dump, dump_at, sha
from tests.store.hard_data import fill

STORED = sorted(file.stem for file in FIXTURES.glob("v*.gz"))
OLDER = STORED[:-1]


class MadeToFail(Exception):
    """Raised on purpose."""


@contextmanager
def failing_at(k: int) -> Iterator[list[str]]:
    """Fail at the k-th statement any engine runs, counting from 1."""
    seen: list[str] = []

    def before(_connection: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        seen.append(statement)
        if len(seen) == k:
            raise MadeToFail(statement[:60])

    event.listen(Engine, "before_cursor_execute", before)
    try:
        yield seen
    finally:
        event.remove(Engine, "before_cursor_execute", before)


def fail_everywhere(attempt: Callable[[int], None], after: Callable[[], None]) -> int:
    """Fail at the first statement, the second, … until nothing fails; return how many there are."""
    k = 0
    while True:
        k += 1
        with failing_at(k) as seen:
            try:
                attempt(k)
            except MadeToFail:
                after()
            else:
                assert len(seen) == k - 1
                return k - 1


def test_there_is_a_stored_file_of_every_version() -> None:
    assert [f"v{version:04d}" for version in range(1, migrations.HEAD + 1)] == STORED


def test_the_stored_shapes_are_those_of_the_scripts() -> None:
    again = "write them anew with: python -m estimator.store.shape"
    told = json.loads(SHAPES.read_text(encoding="utf-8"))
    assert told["scripts"] == migrations.fingerprint(), again
    for version in range(1, migrations.HEAD + 1):
        assert own_shape(version) == made_shape(version), again


@pytest.mark.parametrize("name", STORED)
def test_a_stored_file_opens_with_all_it_held(tmp_path: Path, name: str) -> None:
    path = stored(name, tmp_path / "old.perpend")
    held = json.loads((FIXTURES / f"{name}.json").read_text(encoding="utf-8"))
    with open_file(path) as database:
        assert version_of(database.raw) == migrations.HEAD
        assert dump(database.raw) == held
        assert problems_in(database.raw) == []
        total = "SELECT sum(total_pence) FROM issued_papers"
        assert database.raw.execute(total).fetchone() == (123_457,)
    # The second opening finds nothing left to do.
    with open_file(path) as database:
        assert dump(database.raw) == held


@pytest.mark.parametrize("name", OLDER)
def test_an_older_file_grows_into_the_shape_of_a_new_one(tmp_path: Path, name: str) -> None:
    path = stored(name, tmp_path / "old.perpend")
    with open_file(path) as database:
        assert strangers_in(database.raw, migrations.HEAD) == []


@pytest.mark.parametrize("name", OLDER)
def test_failing_at_every_statement_leaves_a_whole_file(quick: Path, name: str) -> None:
    path = stored(name, quick / "old.perpend")
    before, made = path.read_bytes(), dump_at(path)
    asked: list[int] = []

    def attempt(k: int) -> None:
        path.write_bytes(before)
        asked.clear()
        open_file(path, before_migration=lambda _database: asked.append(k)).close()

    left: set[bytes] = set()
    count = fail_everywhere(attempt, lambda: left.add(path.read_bytes()))
    assert count > 6  # The shortest step, with what writes down that it was taken.
    assert asked == [count + 1]
    # With only one step to go, nothing but the file as it was may be left.
    assert before in left
    assert len(left) <= migrations.HEAD - int(name[1:])
    for content in left:
        path.write_bytes(content)
        assert dump_at(path) == made
        with sqlite3.connect(path) as raw:
            assert strangers_in(raw, version_of(raw)) == []
        raw.close()


def test_a_new_file_whose_making_failed_anywhere_opens_as_new(quick: Path) -> None:
    path = quick / "new.perpend"
    left: set[bytes] = set()

    def attempt(_k: int) -> None:
        path.unlink(missing_ok=True)
        open_file(path).close()

    assert fail_everywhere(attempt, lambda: left.add(path.read_bytes())) > 40
    # Nothing at all, the scratch table of the migrations, and each whole step.
    assert 2 <= len(left) <= migrations.HEAD + 2
    for content in left:
        path.write_bytes(content)
        with open_file(path) as database:
            assert version_of(database.raw) == migrations.HEAD
            assert strangers_in(database.raw, migrations.HEAD) == []


def calls_for(path: Path) -> list[Path]:
    """Open a file and return for which files a backup was asked."""
    asked: list[Path] = []

    def backup(database: Database) -> None:
        # It is as it was, and may be copied.
        assert version_of(database.raw) < migrations.HEAD
        asked.append(database.path)

    open_file(path, before_migration=backup).close()
    return asked


@pytest.mark.parametrize("name", OLDER)
def test_a_backup_is_asked_for_once_and_only_before_a_change(tmp_path: Path, name: str) -> None:
    path = stored(name, tmp_path / "old.perpend")
    assert calls_for(path) == [path]
    assert calls_for(path) == []
    assert calls_for(tmp_path / "new.perpend") == []


@pytest.mark.parametrize("name", OLDER)
def test_no_backup_no_migration(tmp_path: Path, name: str) -> None:
    path = stored(name, tmp_path / "old.perpend")
    before = sha(path)

    def cannot(_database: Database) -> None:
        raise MadeToFail

    with pytest.raises(MadeToFail):
        open_file(path, before_migration=cannot)
    assert sha(path) == before


@pytest.mark.parametrize("name", OLDER)
def test_an_older_file_open_to_read_only_is_left_alone(tmp_path: Path, name: str) -> None:
    path = stored(name, tmp_path / "old.perpend")
    before = sha(path)
    with pytest.raises(Exception, match="must be brought up to"):
        open_file(path, read_only=True)
    assert sha(path) == before


@pytest.mark.parametrize("version", [migrations.HEAD + 1, migrations.HEAD + 100, -1])
def test_a_version_nobody_here_made_is_refused_unchanged(full: Path, version: int) -> None:
    raw = sqlite3.connect(full)
    raw.execute(f"PRAGMA user_version = {version}")
    raw.close()
    before = sha(full)
    kind = DamagedFile if version < 0 else NewerFile
    for read_only in (False, True):
        with pytest.raises(kind, match="restore"):
            open_file(full, read_only=read_only)
    assert sha(full) == before
    assert sorted(file.name for file in full.parent.iterdir()) == [full.name]


def test_a_step_that_leaves_a_loose_row_is_undone(tmp_path: Path) -> None:
    raw = sqlite3.connect(tmp_path / "loose", isolation_level=None)
    engine = create_engine("sqlite://", creator=lambda: raw, poolclass=StaticPool)
    event.listen(engine, "begin", lambda connection: connection.exec_driver_sql("BEGIN IMMEDIATE"))
    with engine.connect() as connection:
        migrations.upgrade(connection, to=1)
    fill(raw)
    raw.execute("PRAGMA foreign_keys = OFF")
    raw.execute("INSERT INTO jobs VALUES (99, 'x', 4444, '', '', '', '', '', '', NULL)")
    with engine.connect() as connection, pytest.raises(RuntimeError, match="point at nothing"):
        migrations.upgrade(connection, to=2)
    assert version_of(raw) == 1
    engine.dispose()
    raw.close()
