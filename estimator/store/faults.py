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


class MayNotWrite(WorldFault):
    """The file or its folder may be read but not written."""


class NotOurFile(WorldFault):
    """The file is something else, or cannot be read as ours."""


class NewerFile(WorldFault):
    """A later version of the program made the file."""


class DamagedFile(WorldFault):
    """The checks at start found the file damaged."""


FULL = "the disk is full or the file may grow no further, so the last change was not saved"
NO_MEMORY = (
    "the machine has no memory left for this, and nothing was changed",
    "close other programs and try again",
)
UNREADABLE = (
    "part of the file cannot be read",
    "restore the newest good backup with the command data restore",
)
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
    sqlite3.SQLITE_PERM: (
        "the system would not let the file be used",
        "ask whoever looks after the machine to let you write to its folder",
    ),
    sqlite3.SQLITE_LOCKED: (
        "another part of this program is using the file",
        "wait a moment and try again",
    ),
    sqlite3.SQLITE_NOMEM: NO_MEMORY,
    sqlite3.SQLITE_CANTOPEN: (
        "the file could not be opened, or its folder may no longer be written to",
        "check that the folder is there and that you may write to it, and try again",
    ),
    sqlite3.SQLITE_BUSY: (
        "something else is using the file",
        "close the other window or program and try again",
    ),
    sqlite3.SQLITE_CORRUPT: UNREADABLE,
    sqlite3.SQLITE_NOTADB: (
        "the file is not one of this program's",
        "choose another file, or restore a backup",
    ),
}
"""By SQLite's own primary result code."""
EXTENDED = {
    sqlite3.SQLITE_READONLY_ROLLBACK: (
        "the last change was cut off and has to be put back before the file can be read",
        "open it once where it may be written to",
    ),
}
"""By the longer code, where it means something else to a person."""
PRIMARY = 0xFF


def told(error: sqlite3.Error) -> WorldFault | None:
    """Return the fault of the world behind an error, or None for a fault of the program."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        # Python's own complaint, without a code, about letters that cannot be letters.
        return (
            DamagedFile(UNREADABLE[0], do=UNREADABLE[1])
            if "decode to UTF-8" in str(error)
            else None
        )
    words = EXTENDED.get(code) or PLAIN.get(code & PRIMARY)
    if words is None:
        return None
    kind = {sqlite3.SQLITE_CORRUPT: DamagedFile, sqlite3.SQLITE_NOTADB: NotOurFile}
    return kind.get(code & PRIMARY, WorldFault)(words[0], do=words[1])


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
        fault.what, fault.field = f"{fault.what} ({path})", str(path)
        raise fault from error
    except UnicodeDecodeError as error:
        raise DamagedFile(UNREADABLE[0], do=UNREADABLE[1], field=str(path)) from error
    except MemoryError as error:
        raise WorldFault(NO_MEMORY[0], do=NO_MEMORY[1], field=str(path)) from error
