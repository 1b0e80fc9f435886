"""Backups: made by SQLite itself, proved, hashed, and kept beside the file.

A plain copy of a file that is being written to is no backup. SQLite's own copying is, and it is
done in one step, because copying page by page starts again at every change and may never end.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import estimator
from estimator import whole_file
from estimator.notices import Notice, WorldFault
from estimator.store.database import Before, Database, problems_in, version_of
from estimator.store.faults import PLAIN, PRIMARY, DamagedFile
from estimator.store.manifest import (
    REPLACED,
    Backup,
    Manifest,
    backups_in,
    folder_beside,
    is_good,
    manifest_path,
    thin,
    write_manifest,
)
from estimator.store.second_place import carry, second_place

PATIENCE = 30.0
"""How long to wait for another program that is writing to the file [s]."""
PAUSE = 0.02
"""How long to wait between two tries [s]."""
BACK_UP_AFTER = timedelta(minutes=30)
"""House rule: a file is not changed for longer than this without a backup."""


def back_up(
    database: Database, *, now: datetime, forced: bool = False, why: str = ""
) -> Backup | None:
    """Back the open file up, or return None when nothing changed since the newest backup.

    Whether anything changed is told by content: SQLite's copies of unchanged content are alike to
    the byte, so a copy with the hash of the newest sound backup is thrown away again. The header's
    change counter would cost less, but must not be read past SQLite while the file is open, and
    after a restore it counts again from an old number, which a newer backup may bear already.

    Args:
        database: The open file.
        now: The time, with its zone.
        forced: Keep it even when nothing changed.
        why: What it is made before, in a word or two.

    Raises:
        DamagedFile: when the copy does not pass its checks.
        WorldFault: when the disk will not take it.
    """
    folder = folder_beside(database.path)
    with _told(folder):
        if database.lock is not None:
            whole_file.sweep(database.path, folder)
            whole_file.sweep_names(database.path.resolve(), REPLACED)
        made = write_backup(database.raw, database.path, now=now, forced=forced, why=why)
        notices = _carried(database, now)
        if made is None:
            return None
        thin(folder)
    return replace(made, notices=notices)


def back_up_when_due(database: Database, *, now: datetime, why: str) -> Backup | None:
    """Back the open file up unless its newest backup is young; None where none was made.

    Args:
        database: The open file.
        now: The time, with its zone.
        why: What it is made before or at, in a word or two.

    Raises:
        DamagedFile: when the copy does not pass its checks.
        WorldFault: when the disk will not take it.
    """
    made = [one.made_at for one in backups_in(folder_beside(database.path))]
    if any(now - BACK_UP_AFTER < at <= now for at in made):
        return None
    return back_up(database, now=now, why=why)


def before_migration(clock: Callable[[], datetime]) -> Before:
    """Return what ``open_file`` calls before it brings an older file up to date."""

    def forced(database: Database) -> None:
        back_up(database, now=clock(), forced=True, why="before a new version of the file")

    return forced


def write_backup(
    raw: sqlite3.Connection, live: Path, *, now: datetime, forced: bool, why: str
) -> Backup | None:
    """Write one backup of an open connection beside its file; None when nothing changed.

    Raises:
        DamagedFile: when the copy does not pass its checks.
        WorldFault: when the disk will not take it.
    """
    if raw.in_transaction:
        raise RuntimeError("a backup inside a transaction would hold what may be taken back")
    folder = folder_beside(live)
    with _told(folder):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        listed = backups_in(folder)
        target = _free_name(folder, live, now)
        with whole_file.draft(target) as written:
            _copied(raw, written)
            version, counts = looked_through(written)
            sha256 = whole_file.sha256_of(written)
            newest = listed[-1] if listed else None
            if not forced and newest and newest.manifest.sha256 == sha256 and is_good(newest):
                return None
            manifest = Manifest(
                sequence=newest.sequence + 1 if newest else 1,
                version=version,
                counts=counts,
                size=written.stat().st_size,
                sha256=sha256,
                made_at=now.astimezone(UTC),
                why=why,
                program=estimator.__version__,
            )
            # The manifest goes first: a backup that has its name always has its manifest.
            write_manifest(target, manifest)
            whole_file.name(written, target)
    return Backup(target, manifest)


def looked_through(copy: Path) -> tuple[int, dict[str, int]]:
    """Check a closed copy and return its version and how many rows each table has.

    Raises:
        DamagedFile: when the checks find fault with it.
    """
    uri = f"{copy.resolve().as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(uri, uri=True)) as raw:
            raw.execute("PRAGMA trusted_schema = OFF")
            raw.execute("PRAGMA cell_size_check = ON")
            found = problems_in(raw)
            if not found:
                return version_of(raw), _counts(raw)
    except sqlite3.DatabaseError as error:
        found = [str(error)]
    raise DamagedFile(
        f"a backup does not pass its checks ({found[0][:120]})",
        do="restore the newest good backup with the command data restore",
    )


def _counts(raw: sqlite3.Connection) -> dict[str, int]:
    """Return how many rows each table has; those another table is made of are left out."""
    tables = raw.execute(
        "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table'"
        " AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name"
    ).fetchall()
    counts = {}
    for (name,) in tables:
        quoted = name.replace('"', '""')
        counts[name] = int(raw.execute(f'SELECT count(*) FROM "{quoted}"').fetchone()[0])
    return counts


def _copied(raw: sqlite3.Connection, target: Path) -> None:
    """Have SQLite copy the file in one step, as it was last committed."""
    until = time.monotonic() + PATIENCE

    def waited(_status: int, _remaining: int, _total: int) -> None:
        if time.monotonic() > until:
            raise WorldFault(
                "no backup could be made",
                why="another program keeps writing to the file",
                do="close it and try again",
            )

    with closing(sqlite3.connect(target)) as copy:
        # The copy has no name yet and is synchronised by hand before it gets one.
        copy.execute("PRAGMA journal_mode = OFF")
        copy.execute("PRAGMA synchronous = OFF")
        raw.backup(copy, pages=-1, progress=waited, sleep=PAUSE)


def _carried(database: Database, now: datetime) -> tuple[Notice, ...]:
    """Bring the newest backup to the second place, if there is one."""
    place = second_place(database)
    listed = backups_in(folder_beside(database.path))
    if place is None or not listed:
        return ()
    return carry(listed[-1], place, live=database.path, now=now)


def _free_name(folder: Path, live: Path, now: datetime) -> Path:
    """Return a name nothing has yet; the clock may show the same second twice."""
    stem = f"{live.stem}-{now.astimezone(UTC):%Y%m%d-%H%M%S}"
    name, turn = folder / f"{stem}{live.suffix}", 1
    while name.exists() or manifest_path(name).exists():
        turn += 1
        name = folder / f"{stem}-{turn}{live.suffix}"
    return name


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    """Say in plain words why no backup could be written."""
    try:
        yield
    except (OSError, sqlite3.Error) as error:
        code = getattr(error, "sqlite_errorcode", None)
        if isinstance(error, sqlite3.Error) and (code is None or code & PRIMARY not in PLAIN):
            raise
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise WorldFault(
            f"no backup could be written into {folder}",
            why=(why or "").lower(),
            do="check that the folder may be written to and the disk is not full",
        ) from error
