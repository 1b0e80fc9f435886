"""What can be learnt about a file before it is opened to be used, without changing a byte of it.

The header is read through SQLite itself. An ordinary open and close of the file would, on systems
with POSIX locks, silently let go of every lock this program holds on it.
"""

from __future__ import annotations

import errno
import os
import sqlite3
import stat
from pathlib import Path

from estimator.notices import WorldFault
from estimator.store import migrations
from estimator.store.faults import DamagedFile, MayNotWrite, NewerFile, NotOurFile

APPLICATION_ID = 0x50455250
"""Names the file type: PERP, in the place SQLite keeps for it."""
RESTORE = "restore the newest good backup with the command data restore"
SMALLEST = 512
"""The smallest page there is; no file of SQLite is shorter. [bytes]"""
SCRATCH = {"alembic_version"}
"""What a file whose making was cut off may hold already."""


def look_at(path: Path, *, read_only: bool) -> Path:
    """Return the real path, having refused what is plainly not ours.

    What cannot be told yet, because a change was cut off or is being made, is let pass: it is
    asked again once the lock is held.

    Raises:
        NotOurFile: when it is something else.
        NewerFile: when a later version of the program made it.
        WorldFault: when the way there is barred.
    """
    real = _real(path)
    size = _size(real, path.name)
    if size is None and read_only:
        raise NotOurFile(f"there is no file {path.name}", do="check its name and folder")
    if size is None:
        return real
    if size == 0 and read_only:
        raise NotOurFile(f"{path.name} is empty", do="choose another file, or restore a backup")
    for ending in ("-wal", "-shm"):
        if _size(real.with_name(real.name + ending), path.name) is not None:
            raise WorldFault(
                f"{path.name}{ending} lies beside the file",
                why="another program had it open, or it was left behind by a copy",
                do=f"close that program, move {path.name}{ending} to another folder and try again",
            )
    if not os.access(real, os.R_OK, effective_ids=os.access in os.supports_effective_ids):
        raise WorldFault(f"{path.name} may not be read", do="ask for leave to read it")
    if size and _size(real.with_name(real.name + "-journal"), path.name) is None:
        if size < SMALLEST:
            # SQLite itself would take a file of one byte for an empty one, and write over it.
            raise _not_ours(path.name)
        _peek(real, path.name)
    return real


def check_identity(raw: sqlite3.Connection, name: str) -> bool:
    """Refuse another program's file and a later version's; return whether it is still to be made.

    Raises:
        NotOurFile: when another program made it.
        NewerFile: when a later version of the program made it.
        DamagedFile: when it says a version nobody made.
    """
    identity = int(raw.execute("PRAGMA application_id").fetchone()[0])
    version = int(raw.execute("PRAGMA user_version").fetchone()[0])
    if identity == 0 and version == 0:
        inside = {str(row[0]) for row in raw.execute("SELECT name FROM sqlite_schema")}
        if inside <= SCRATCH | {f"sqlite_autoindex_{one}_1" for one in SCRATCH}:
            return True
    if identity != APPLICATION_ID:
        raise NotOurFile(f"{name} is another program's file", do="choose another file")
    if version < 1:
        raise DamagedFile(f"{name} says it is of version {version}, and there is none", do=RESTORE)
    if version > migrations.HEAD:
        raise NewerFile(
            f"{name} was made by a later version (file version {version}; this program reads"
            f" up to {migrations.HEAD})",
            do="open it with the later version, or restore a backup this one can read",
        )
    return False


def _real(path: Path) -> Path:
    """Follow every link once, so that all names of one file lead to one lock."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise NotOurFile(f"{path.name} leads nowhere", do="choose the file itself") from error


def _size(real: Path, name: str) -> int | None:
    """Return the size of a plain file, or None when there is none."""
    try:
        found = real.stat()
    except OSError as error:
        if error.errno in {errno.ENOENT, errno.ENOTDIR}:
            return None
        if error.errno == errno.ENAMETOOLONG:
            raise WorldFault(
                f"the name {name[:40]}… is too long", do="choose a shorter one"
            ) from error
        raise WorldFault(f"{name} may not be looked at", do="ask for leave to read it") from error
    if not stat.S_ISREG(found.st_mode):
        raise NotOurFile(f"{name} is not a file", do="choose the file itself")
    return found.st_size


def _not_ours(name: str) -> NotOurFile:
    """Say that a file is something else."""
    return NotOurFile(
        f"{name} is not a file of this program",
        do="choose another file, or restore a backup with the command data restore",
    )


def _peek(real: Path, name: str) -> None:
    """Read identity and version alone, taking no lock and looking at no journal."""
    raw = sqlite3.connect(f"{real.as_uri()}?mode=ro&immutable=1", uri=True, isolation_level=None)
    try:
        check_identity(raw, name)
    except sqlite3.DatabaseError as error:
        code = getattr(error, "sqlite_errorcode", 0)
        if code == sqlite3.SQLITE_NOTADB:
            raise _not_ours(name) from error
        if code == sqlite3.SQLITE_CANTOPEN:
            # The one mode SQLite will not look at without its side files.
            raise NotOurFile(
                f"{name} was changed by another program into a form this one never uses",
                do=RESTORE,
            ) from error
    finally:
        raw.close()


def prove_writable(raw: sqlite3.Connection, name: str) -> None:
    """Begin a change and take it back, so that a barred file or folder is known at the start.

    Raises:
        MayNotWrite: when the file or its folder may only be read.
    """
    try:
        raw.execute("BEGIN IMMEDIATE")
        version = int(raw.execute("PRAGMA user_version").fetchone()[0])
        # Writing what is there already makes SQLite open its journal, which needs the folder.
        raw.execute(f"PRAGMA user_version = {version}")
    except sqlite3.OperationalError as error:
        if (error.sqlite_errorcode & 0xFF) in {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN}:
            raise MayNotWrite(
                f"{name} or its folder may only be read",
                do="open it to read only, or ask for leave to write there",
            ) from error
        raise
    finally:
        if raw.in_transaction:
            raw.execute("ROLLBACK")
