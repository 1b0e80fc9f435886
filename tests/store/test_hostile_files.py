"""Wrong files, torn files and files made to do harm: each a plain sentence, and nothing changed."""

from __future__ import annotations

import gzip
import hashlib
import os
import random
import sqlite3
import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from estimator.notices import WorldFault
from estimator.store.database import open_file
from estimator.store.faults import DamagedFile, NotOurFile
from tests.store.dumps import dump, dump_at
from tests.store.in_child import NOBODY, done

PAGE = 4096


def other_sqlite(path: Path, *before: str) -> None:
    """Make another program's file."""
    raw = sqlite3.connect(path, isolation_level=None)
    for statement in (*before, "CREATE TABLE notes (a)", "INSERT INTO notes VALUES (1)"):
        raw.execute(statement)
    raw.close()


def zipped(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as bundle:
        bundle.writestr("work.perpend", "x" * 5000)


def sparse(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(3 << 30)


WRONG: dict[str, Callable[[Path], object]] = {
    "text": lambda path: path.write_text("Dear customer,\n" * 500),
    "PDF": lambda path: path.write_bytes(b"%PDF-1.7\n" + bytes(5000)),
    "another SQLite": other_sqlite,
    "another SQLite with its own name": lambda path: other_sqlite(
        path, "PRAGMA application_id = 7", "PRAGMA user_version = 1"
    ),
    "another SQLite that writes ahead": lambda path: other_sqlite(
        path, "PRAGMA journal_mode = WAL"
    ),
    "header cut off": lambda path: path.write_bytes(b"SQLite format 3\x00\x10\x00"),
    "header and nothing": lambda path: path.write_bytes(b"SQLite format 3\x00" + bytes(5000)),
    "folder": Path.mkdir,
    "pipe": os.mkfifo,
    "3 GB of nothing": sparse,
    "link to itself": lambda path: path.symlink_to(path),
    "zip": zipped,
    "gzip": lambda path: path.write_bytes(gzip.compress(bytes(50_000))),
    "one letter": lambda path: path.write_bytes(b"S"),
    "device": lambda path: path.symlink_to("/dev/zero"),
}


def beside(path: Path) -> list[tuple[str, int, int]]:
    """Return what lies in a folder, with size and time of change."""
    told = ((one.name, one.lstat()) for one in path.parent.iterdir())
    return sorted((name, found.st_size, found.st_mtime_ns) for name, found in told)


@pytest.mark.parametrize("kind", WRONG)
@pytest.mark.parametrize("read_only", [False, True])
def test_a_wrong_file_is_refused_and_left_alone(
    tmp_path: Path, kind: str, *, read_only: bool
) -> None:
    path = tmp_path / "work.perpend"
    WRONG[kind](path)
    before = beside(path)
    began = time.monotonic()
    with pytest.raises(NotOurFile) as told:
        open_file(path, read_only=read_only)
    assert time.monotonic() - began < 2
    assert beside(path) == before
    sentence = str(told.value)
    assert sentence.startswith("work.perpend ")
    assert "; " in sentence


def test_an_empty_file_is_made_whole_or_told(tmp_path: Path) -> None:
    path = tmp_path / "work.perpend"
    path.touch()
    with pytest.raises(NotOurFile, match="is empty"):
        open_file(path, read_only=True)
    assert path.stat().st_size == 0
    open_file(path).close()
    assert path.stat().st_size > 0


@pytest.mark.skipif(os.geteuid() != 0, reason="only root may act as somebody else")
def test_a_file_that_may_not_be_read_is_told(shared: Path) -> None:
    path = shared / "work.perpend"
    path.write_bytes(b"secret")
    path.chmod(0)
    os.chown(shared, NOBODY, NOBODY)
    assert (
        done("open_without_rights", path)
        == "work.perpend may not be read; ask for leave to read it."
    )


@pytest.mark.parametrize("ending", ["-wal", "-shm"])
@pytest.mark.parametrize("content", [b"", bytes(4000)])
def test_side_files_that_are_never_ours_stop_the_opening(
    full: Path, ending: str, content: bytes
) -> None:
    other = full.with_name(full.name + ending)
    other.write_bytes(content)
    before = beside(full)
    for read_only in (False, True):
        with pytest.raises(WorldFault, match="lies beside the file because another program"):
            open_file(full, read_only=read_only)
    assert beside(full) == before


def test_a_journal_that_is_not_the_files_own_changes_nothing(full: Path) -> None:
    held = dump_at(full)
    full.with_name(full.name + "-journal").write_bytes(b"not a journal " * 200)
    with open_file(full) as database:
        assert dump(database.raw) == held


STRANGE = (
    "CREATE TRIGGER t AFTER INSERT ON jobs BEGIN DELETE FROM jobs; END",
    "CREATE TRIGGER tr_jobs_found2 AFTER UPDATE ON jobs BEGIN SELECT 1; END",
    "CREATE VIEW v AS SELECT * FROM jobs",
    "CREATE VIEW v AS WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n)"
    " SELECT x FROM n",
    "CREATE TABLE more (a)",
    "CREATE VIRTUAL TABLE more USING fts5 (a)",
    "CREATE INDEX more ON jobs (title)",
    "CREATE INDEX more ON jobs (upper(title))",
    "ALTER TABLE jobs ADD COLUMN more TEXT",
    "DROP TRIGGER tr_issued_papers_frozen",
    "DROP INDEX ix_jobs_changed_at_id_customer_id_stage",
    "DROP TABLE drafts",
)


@pytest.mark.parametrize("statement", STRANGE)
def test_a_file_with_more_or_less_than_ours_is_refused(full: Path, statement: str) -> None:
    raw = sqlite3.connect(full)
    raw.execute(statement)
    raw.commit()
    raw.close()
    before = full.read_bytes()
    with pytest.raises(NotOurFile, match="holds what no version of this program made"):
        open_file(full)
    assert full.read_bytes() == before


def test_a_guard_whose_words_were_changed_is_seen(full: Path) -> None:
    raw = sqlite3.connect(full)
    raw.execute("PRAGMA writable_schema = ON")
    raw.execute(
        "UPDATE sqlite_schema SET sql = replace(sql, 'RAISE(ABORT', 'RAISE(IGNORE') "
        "WHERE name = 'tr_issued_papers_kept'"
    )
    raw.commit()
    raw.close()
    with pytest.raises(WorldFault, match="restore"):
        open_file(full)


def is_as_issued(paper: list[Any]) -> bool:
    """Tell whether the bytes of a paper are those it was issued with."""
    pdf, hashed = bytes.fromhex(paper[9]), paper[10]
    return hashlib.sha256(pdf).hexdigest() == hashed


def verdict(path: Path, held: dict[str, list[list[Any]]]) -> str:
    """Open a torn file: refused, proven harmless, told by the hash of a paper, or harmed."""
    try:
        with open_file(path) as database:
            now = dump(database.raw)
            if now == held:
                return "harmless"
            papers = {"issued_papers": now.pop("issued_papers")}
            wrong = [row for row in papers["issued_papers"] if not is_as_issued(row)]
            same = now == {table: rows for table, rows in held.items() if table not in papers}
            return "told by a hash" if same and wrong else "HARMED"
    except (DamagedFile, NotOurFile):
        return "refused"


def test_zeroed_pages_are_found_or_harmless(quick: Path, full_bytes: bytes) -> None:
    path = quick / "work.perpend"
    path.write_bytes(full_bytes)
    held = dump_at(path)
    pages = len(full_bytes) // PAGE
    chosen = random.Random(11).sample(range(pages), 60)
    told = {}
    for page in chosen:
        torn = bytearray(full_bytes)
        torn[page * PAGE : (page + 1) * PAGE] = bytes(PAGE)
        path.write_bytes(torn)
        told[page] = verdict(path, held)
    assert "HARMED" not in told.values(), told
    assert list(told.values()).count("refused") >= 40, told


def test_truncations_are_found(quick: Path, full_bytes: bytes) -> None:
    path = quick / "work.perpend"
    chance = random.Random(11)
    at_pages = [PAGE * n for n in chance.sample(range(1, len(full_bytes) // PAGE), 30)]
    for length in (*at_pages, *chance.sample(range(1, len(full_bytes)), 30)):
        path.write_bytes(full_bytes[:length])
        with pytest.raises((DamagedFile, NotOurFile)):
            open_file(path)
        assert path.read_bytes() == full_bytes[:length]


@pytest.mark.parametrize("count", [50, pytest.param(500, marks=pytest.mark.long)])
def test_mutated_files_crash_nothing_and_end_soon(
    quick: Path, full_bytes: bytes, count: int
) -> None:
    path = quick / "inside" / "work.perpend"
    path.parent.mkdir()
    path.write_bytes(full_bytes)
    told = done("mutated", path, count, 18, within=600)
    assert sum(told["verdicts"].values()) == count
    assert told["unforeseen"] == []
    assert told["slowest"] < 10
    assert [one.name for one in quick.iterdir()] == ["inside"]
