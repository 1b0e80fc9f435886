"""What can go wrong with the file, in words: each says what happened and what to do."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from estimator.notices import WorldFault


class FileInUse(WorldFault):
    """Another window or program holds the file."""


class NotOurFile(WorldFault):
    """The file is something else, or cannot be read as ours."""


class NewerFile(WorldFault):
    """A later version of the program made the file."""


class DamagedFile(WorldFault):
    """The checks at start found the file damaged."""


FULL = "the disk is full or the file may grow no further, so the last change was not saved"
PLAIN = {
    sqlite3.SQLITE_FULL: (FULL, "free some space, or choose another place, and save again"),
    sqlite3.SQLITE_IOERR: (
        "the disk would not take the last change, so it was not saved",
        "check that the disk is there and has room, and save again",
    ),
    sqlite3.SQLITE_READONLY: (
        "the file may only be read, so the change was not saved",
        "ask whoever looks after the machine to let you write to its folder",
    ),
    sqlite3.SQLITE_CANTOPEN: (
        "the file could not be opened",
        "check that its folder exists and that you may write to it",
    ),
    sqlite3.SQLITE_BUSY: (
        "something else is using the file",
        "close the other window or program and try again",
    ),
    sqlite3.SQLITE_CORRUPT: (
        "part of the file cannot be read",
        "restore the newest good backup with the command data restore",
    ),
    sqlite3.SQLITE_NOTADB: (
        "the file is not one of this program's",
        "choose another file, or restore a backup",
    ),
}
"""By SQLite's own primary result code."""
PRIMARY = 0xFF


def told(error: sqlite3.Error) -> WorldFault | None:
    """Return the fault of the world behind an error, or None for a fault of the program."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None or (code & PRIMARY) not in PLAIN:
        return None
    what, do = PLAIN[code & PRIMARY]
    return WorldFault(what, do=do)


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Turn faults of the disk into plain sentences; faults of the program go on as they are."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        cause = error.orig if isinstance(error, DBAPIError) else error
        fault = told(cause) if isinstance(cause, sqlite3.Error) else None
        if fault is None:
            raise
        fault.field = str(path)
        raise fault from error
