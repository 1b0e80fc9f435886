"""A second place for backups, a stick or another disk that the user names.

One fire or one thief should not take both. A stick that is not there is told, never a fault.
"""

from __future__ import annotations

import json
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy.dialects.sqlite import insert

from estimator import whole_file
from estimator.notices import Notice, Severity, WorldFault
from estimator.store import manifest
from estimator.store.database import Database
from estimator.store.manifest import Backup
from estimator.store.tables import Facts

FACT = "second_place"
SEEN = "second_place.txt"
"""When it was last copied to, kept beside the backups. Written into the file itself it would
change the file at each backup, and nothing would ever be unchanged."""
INSIDE = "perpend backups"
"""Made when the place is named: where it is missing, the stick is missing too, even if an empty
folder stands where the stick should be."""
WARN_AFTER = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class SecondPlace:
    """The place named, and how it stands."""

    folder: Path
    copied_at: datetime | None
    """When a backup was last copied there."""

    @property
    def inside(self) -> Path:
        """The folder the backups lie in there."""
        return self.folder / INSIDE

    @property
    def is_there(self) -> bool:
        """Whether it can be seen now."""
        return self.inside.is_dir()

    def notices(self, now: datetime) -> tuple[Notice, ...]:
        """Return what is to be said about it: not there, never used, or long ago."""
        told = []
        if not self.is_there:
            text = f"The second place for backups, {self.folder}, is not there now; put it in."
            told.append(Notice("backup.second_place_missing", Severity.NOTE, text))
        if self.copied_at is None:
            text = f"No backup has been copied to the second place, {self.folder}, yet."
            told.append(Notice("backup.second_place_old", Severity.CAUTION, text))
        elif now - self.copied_at >= WARN_AFTER:
            days = (now - self.copied_at).days
            text = f"The last backup in the second place, {self.folder}, is {days} days old."
            told.append(Notice("backup.second_place_old", Severity.CAUTION, text))
        return tuple(told)


def name_second_place(database: Database, folder: Path) -> SecondPlace:
    """Keep a folder as the second place for backups.

    Raises:
        WorldFault: when it is not there or may not be written to.
    """
    named = folder.absolute()
    if named.resolve() == database.path.resolve().parent:
        raise WorldFault(
            f"{folder} is the folder the file is in",
            do="name a place that would survive the loss of this one: a stick, another disk",
        )
    try:
        (named / INSIDE).mkdir(exist_ok=True, mode=0o700)
    except OSError as error:
        raise WorldFault(
            f"{folder} cannot hold backups",
            why=error.strerror.lower() if error.strerror else "",
            do="check that it is there and may be written to",
        ) from error
    kept = {"name": FACT, "value": str(named)}
    with database.writing() as connection:
        connection.execute(
            insert(Facts).values(kept).on_conflict_do_update(index_elements=["name"], set_=kept)
        )
    return SecondPlace(named, _copied_at(database.path, named))


def second_place(database: Database) -> SecondPlace | None:
    """Return the second place, where one was named."""
    # Read past the stores: they would ask for leave to write, and a backup need not wait for it.
    row = database.raw.execute("SELECT value FROM facts WHERE name = ?", (FACT,)).fetchone()
    if row is None:
        return None
    named = Path(row[0])
    return SecondPlace(named, _copied_at(database.path, named))


def carry(backup: Backup, place: SecondPlace, *, live: Path, now: datetime) -> tuple[Notice, ...]:
    """Copy a backup to the second place where it lacks it, and return what is to be said."""
    if not place.is_there:
        return place.notices(now)
    target = place.inside / backup.path.name
    try:
        if not manifest.is_good(Backup(target, backup.manifest)):
            manifest.write_manifest(target, backup.manifest)
            if whole_file.copy(backup.path, target) != backup.manifest.sha256:
                raise OSError(None, "what was read is not what was written")
        manifest.thin(place.inside)
        seen = {"folder": str(place.folder), "copied_at": now.astimezone(UTC).isoformat()}
        whole_file.write(manifest.folder_beside(live) / SEEN, json.dumps(seen).encode())
    except OSError as error:
        text = f"No backup could be copied to {place.folder}: {(error.strerror or '').lower()}."
        return (Notice("backup.second_place_failed", Severity.CAUTION, text), *place.notices(now))
    return ()


def last_seen(live: Path) -> SecondPlace | None:
    """Return the second place a backup last went to, without opening the file."""
    with suppress(OSError, ValueError, KeyError, TypeError):
        seen = json.loads((manifest.folder_beside(live) / SEEN).read_bytes())
        return SecondPlace(Path(seen["folder"]), datetime.fromisoformat(seen["copied_at"]))
    return None


def _copied_at(live: Path, folder: Path) -> datetime | None:
    """Return when a backup last went to a place, if it was this one."""
    seen = last_seen(live)
    return seen.copied_at if seen is not None and seen.folder == folder else None
