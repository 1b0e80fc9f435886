"""Backups made while working are sound, skipped when nothing changed, and hashed."""

from __future__ import annotations

import ast
import gzip
import json
import resource
import shutil
import sqlite3
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import insert

from estimator import whole_file
from estimator.notices import WorldFault
from estimator.store.backup import back_up, before_migration
from estimator.store.database import Database, open_file
from estimator.store.manifest import (
    WORTH_THINNING,
    backups_in,
    folder_beside,
    is_good,
    manifest_path,
    thin,
    write_manifest,
)
from estimator.store.second_place import name_second_place
from estimator.store.tables import Drafts, Facts

ROOT = Path(__file__).resolve().parents[2]
NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("made") / "work.perpend"
    open_file(path).close()
    return path


@pytest.fixture
def database(made: Path, tmp_path: Path) -> Iterator[Database]:
    with open_file(Path(shutil.copy2(made, tmp_path))) as opened:
        yield opened


@pytest.fixture(scope="module")
def trees() -> dict[str, ast.Module]:
    """Every module of the program by its file name."""
    return {
        path.name: ast.parse(path.read_text(encoding="utf-8"))
        for path in (ROOT / "estimator").rglob("*.py")
    }


def change(database: Database, number: int) -> None:
    """Commit one change that can be told from any other."""
    with database.writing() as connection:
        connection.execute(
            insert(Drafts).values(key=f"draft {number}", document="x" * 900, changed_at=NOW)
        )


def dump(path: Path) -> list[str]:
    raw = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
    try:
        return list(raw.iterdump())
    finally:
        raw.close()


def test_a_backup_holds_what_was_saved_and_says_so(database: Database) -> None:
    change(database, 1)
    made = back_up(database, now=NOW, why="before an import")
    assert made is not None
    assert made.path.name == "work-20260302-083000.perpend"
    assert dump(made.path) == dump(database.path)
    assert made.manifest.counts["drafts"] == 1
    assert made.manifest.sha256 == whole_file.sha256_of(made.path)
    told = json.loads(manifest_path(made.path).read_bytes())
    assert told["why"] == "before an import"
    assert told["size"] == made.path.stat().st_size
    assert backups_in(folder_beside(database.path)) == (made,)


def test_only_their_owner_may_read_them(database: Database) -> None:
    made = back_up(database, now=NOW)
    assert made is not None
    assert made.path.stat().st_mode & 0o077 == 0
    assert made.path.parent.stat().st_mode & 0o077 == 0


def test_nothing_is_backed_up_twice_unless_forced(database: Database) -> None:
    assert back_up(database, now=NOW) is not None
    assert back_up(database, now=NOW) is None
    forced = back_up(database, now=NOW, forced=True)
    assert forced is not None
    assert forced.path.name == "work-20260302-083000-2.perpend"
    change(database, 1)
    changed = back_up(database, now=NOW - timedelta(days=400))
    assert changed is not None
    assert changed.sequence == 3
    assert not list(folder_beside(database.path).glob(".*"))


def test_a_spoilt_newest_backup_is_made_again(database: Database) -> None:
    made = back_up(database, now=NOW)
    assert made is not None
    made.path.write_bytes(made.path.read_bytes()[:-1] + b"!")
    assert not is_good(made)
    assert back_up(database, now=NOW) is not None


def test_what_is_not_committed_is_not_backed_up(database: Database) -> None:
    with database.writing(), pytest.raises(RuntimeError, match="inside a transaction"):
        back_up(database, now=NOW)


WRITER = """
    import sqlite3, sys, time
    raw = sqlite3.connect(sys.argv[1], isolation_level=None, timeout=30)
    raw.execute("PRAGMA synchronous = OFF")
    print("writing", flush=True)
    number = 0
    while True:
        number += 1
        raw.execute("BEGIN IMMEDIATE")
        for half in "ab":
            raw.execute("INSERT OR REPLACE INTO facts VALUES (?, ?)", (half, str(number)))
            raw.execute(
                "INSERT INTO drafts VALUES (?, ?, '')", (f"{half} {number}", half * 2000)
            )
        raw.execute("COMMIT")
        time.sleep(0.002)
"""
"""Writes pairs, past our lock and all but without a pause, as no second window of ours could."""


def test_20_backups_during_continuous_writes_are_each_a_committed_state(
    database: Database,
) -> None:
    writer = subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(WRITER), str(database.path)],
        stdout=subprocess.PIPE,
    )
    assert writer.stdout is not None
    writer.stdout.readline()
    try:
        made = [back_up(database, now=NOW, forced=True) for _ in range(20)]
    finally:
        writer.kill()
        writer.communicate()
    seen = []
    for backup in made:
        assert backup is not None
        raw = sqlite3.connect(backup.path)
        assert raw.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        facts = dict(raw.execute("SELECT name, value FROM facts WHERE name IN ('a', 'b')"))
        pairs = raw.execute("SELECT count(*) FROM drafts").fetchone()[0]
        raw.close()
        # All of one pair and of every pair before it: a state that was committed.
        assert len(set(facts.values())) <= 1
        seen.append(int(facts.get("a", "0")))
        assert pairs == 2 * seen[-1]
    assert seen == sorted(seen)
    assert seen[-1] > seen[0]


def test_backups_between_own_writes_equal_the_file(database: Database) -> None:
    for number in range(20):
        change(database, number)
        made = back_up(database, now=NOW)
        assert made is not None
        assert dump(made.path) == dump(database.path)


def copies_files_by_hand(tree: ast.Module) -> bool:
    """Whether a module takes up the library's own ways to copy files, for whatever end."""
    return any(
        (isinstance(node, ast.Import) and any(one.name == "shutil" for one in node.names))
        or (isinstance(node, ast.ImportFrom) and node.module == "shutil")
        for node in ast.walk(tree)
    )


def test_no_file_is_copied_by_hand(trees: dict[str, ast.Module]) -> None:
    assert not [name for name, tree in trees.items() if copies_files_by_hand(tree)]
    assert copies_files_by_hand(ast.parse("import shutil\nshutil.copy2('a', 'b')"))


def test_closed_files_are_copied_by_backup_and_restore_alone(trees: dict[str, ast.Module]) -> None:
    using = {
        name
        for name, tree in trees.items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute)
        and node.attr in {"copy", "copy_bytes"}
        and isinstance(node.value, ast.Name)
        and node.value.id == "whole_file"
    }
    assert using == {"second_place.py", "restore.py"}


def test_a_killed_backup_leaves_nothing_behind(database: Database) -> None:
    folder = folder_beside(database.path)
    folder.mkdir()
    (folder / ".work-20260101-000000.perpend.aside").write_bytes(b"half")
    back_up(database, now=NOW)
    assert not list(folder.glob(".*"))


def test_a_folder_in_the_way_is_said_plainly(database: Database) -> None:
    folder_beside(database.path).write_text("in the way", encoding="utf-8")
    with pytest.raises(WorldFault, match="no backup could be written"):
        back_up(database, now=NOW)


def test_a_fact_of_the_file_is_no_change_of_another(database: Database) -> None:
    back_up(database, now=NOW)
    with pytest.raises(ValueError, match="taken back"), database.writing() as connection:
        connection.execute(insert(Facts).values(name="a", value="1"))
        raise ValueError("taken back")
    assert back_up(database, now=NOW) is None


def test_an_older_file_is_backed_up_before_it_is_changed(tmp_path: Path) -> None:
    live = tmp_path / "work.perpend"
    live.write_bytes(gzip.decompress((ROOT / "tests/store/fixtures/v0001.gz").read_bytes()))
    was = dump(live)
    open_file(live, before_migration=before_migration(lambda: NOW)).close()
    (made,) = backups_in(folder_beside(live))
    assert made.manifest.version == 1
    assert "new version" in made.manifest.why
    assert dump(made.path) == was != dump(live)


def test_a_full_disk_leaves_the_backups_there_were(database: Database) -> None:
    assert back_up(database, now=NOW) is not None
    before = sorted(folder_beside(database.path).iterdir())
    pages = database.path.stat().st_size
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    refused = 0
    for size in range(0, pages, pages // 10):
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
        try:
            with pytest.raises(WorldFault, match="no backup could be written into"):
                back_up(database, now=NOW, forced=True)
            refused += 1
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert refused >= 10
    assert sorted(folder_beside(database.path).iterdir()) == before


def test_enough_backups_are_thinned_and_a_spoilt_one_takes_no_place(database: Database) -> None:
    folder = folder_beside(database.path)
    one = back_up(database, now=NOW)
    assert one is not None
    for number in range(2, WORTH_THINNING + 1):
        path = folder / f"work-{number}.perpend"
        path.write_bytes(one.path.read_bytes())
        made_at = NOW + timedelta(hours=number)
        write_manifest(path, replace(one.manifest, sequence=number, made_at=made_at))
    spoilt = folder / f"work-{WORTH_THINNING}.perpend"
    spoilt.write_bytes(b"spoilt")
    gone = thin(folder)
    left = backups_in(folder)
    assert {backup.sequence for backup in left} & {backup.sequence for backup in gone} == set()
    assert len([backup for backup in left if is_good(backup)]) >= 10
    assert spoilt in {backup.path for backup in left}
    assert len(list(folder.iterdir())) == 2 * len(left)
    assert thin(folder) == ()


def test_a_stick_that_fails_is_told_and_keeps_what_it_had(
    database: Database, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    place = name_second_place(database, stick)
    first = back_up(database, now=NOW)
    assert first is not None
    assert not first.notices
    assert place.folder == stick

    def broken(_source: Path, _target: Path) -> str:
        raise OSError(5, "Input/output error")

    change(database, 1)
    monkeypatch.setattr(whole_file, "copy", broken)
    later = back_up(database, now=NOW + timedelta(days=8))
    assert later is not None
    assert [one.code for one in later.notices] == [
        "backup.second_place_failed",
        "backup.second_place_old",
    ]
    monkeypatch.undo()
    # The next time round brings it what it lacks, even if nothing has changed since.
    assert back_up(database, now=NOW + timedelta(days=9)) is None
    kept = backups_in(place.inside)
    assert [one.sequence for one in kept] == [1, 2]
    assert all(is_good(one) for one in kept)
