"""Copies of the file that still hold a person who was erased from it.

A backup is never changed, so a person stays in it until it goes. Looked through are the backups,
those in the second place where it is there now, and any other file of ours in the same folder,
such as one that a restored backup took the place of.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from estimator.store.database import Database
from estimator.store.manifest import folder_beside, manifest_of
from estimator.store.second_place import second_place

MAGIC = b"SQLite format 3\x00"
"""The first bytes of every SQLite file."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One copy that holds the person, or may hold them."""

    path: Path
    made_at: datetime | None
    """Told by its manifest; a copy without one never goes by itself."""

    @property
    def goes_by_itself(self) -> bool:
        """Whether thinning lets it go in time."""
        return self.made_at is not None


def still_holding(database: Database, uid: str) -> tuple[Copy, ...]:
    """Return the copies that hold a customer as they were, the oldest first."""
    held = [
        Copy(path, manifest.made_at if (manifest := manifest_of(path)) else None)
        for path in sorted(set(_copies(database)))
        if _holds(path, uid)
    ]
    return tuple(sorted(held, key=lambda one: (one.made_at is None, str(one.made_at), one.path)))


def _copies(database: Database) -> Iterator[Path]:
    """Yield every other file of ours; never the live one, whose locks a look by hand would drop."""
    live = database.path.resolve()
    place = second_place(database)
    folders = [live.parent, folder_beside(live), *([place.inside] if place else [])]
    for folder in folders:
        for path in folder.glob("*") if folder.is_dir() else ():
            if path.is_file() and path.resolve() != live and _is_ours(path):
                yield path


def _is_ours(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(len(MAGIC)) == MAGIC
    except OSError:
        return False


def _holds(path: Path, uid: str) -> bool:
    """Ask a copy whether it has the customer unerased; one that cannot say may hold them."""
    try:
        uri = f"{path.resolve().as_uri()}?mode=ro&immutable=1"
        with closing(sqlite3.connect(uri, uri=True)) as raw:
            raw.execute("PRAGMA trusted_schema = OFF")
            wanted = "SELECT 1 FROM customers WHERE uid = ? AND erased_at IS NULL"
            return bool(raw.execute(wanted, (uid,)).fetchall())
    except sqlite3.Error:
        return True
