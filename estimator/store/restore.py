"""Putting a backup in the place of the file; whatever was there is kept beside it.

It works where the file is damaged, missing, from a later version or no file of ours at all: nothing
of it is believed. What lies beside a file, its journals, goes aside with it: a journal left behind
would be played into the restored file at its next start and undo the restore without a word.

A stop at any moment leaves the old file or the restored one, never neither. The old file keeps its
name until the checked copy takes that name in one step; before that it is only linked or copied
aside. Where it has journals, SQLite is first asked to settle them, so that taking them away cannot
tear what they belong to.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from estimator import whole_file
from estimator.notices import WorldFault
from estimator.store import migrations
from estimator.store.backup import looked_through, write_backup
from estimator.store.database import version_of
from estimator.store.faults import DamagedFile, NewerFile, NotOurFile
from estimator.store.lock import Lock
from estimator.store.looking import APPLICATION_ID, check_identity
from estimator.store.manifest import (
    REPLACED,
    Backup,
    backups_in,
    folder_beside,
    is_good,
    manifest_of,
    manifest_path,
)
from estimator.store.second_place import last_seen
from estimator.store.shape import strangers_in

BESIDE = ("-journal", "-wal", "-shm")
"""What SQLite keeps beside a file."""
CHOOSE = "choose another backup: the command data restore --list shows them"


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore put in place, and where what was there is kept."""

    path: Path
    backup: Backup
    kept: tuple[Path, ...]
    before: Backup | None
    """The backup made of what was there, where it could still be opened."""


def restore(live: Path, backup: Path, *, now: datetime) -> Restored:
    """Put a backup in the place of the file.

    Args:
        live: Where the file is, or should be.
        backup: The backup, with its manifest beside it.
        now: The time, with its zone.

    Raises:
        FileInUse: when a window has the file open.
        DamagedFile: when the backup is not as it was made.
        NewerFile: when a later version made the backup.
        NotOurFile: when the backup is something else.
        WorldFault: when the disk is in the way; what was there is put back.
    """
    real = live.resolve()
    with ExitStack() as ended, _told(real):
        real.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        lock = Lock(real)
        ended.callback(lock.close)
        lock.take()
        whole_file.sweep(real)
        whole_file.sweep_names(real, REPLACED)
        chosen = _described(backup)
        draft = ended.enter_context(whole_file.draft(real))
        _checked_copy(chosen, draft)
        before = _backed_up(real, now)
        kept = _swapped(real, draft, chosen, now)
    return Restored(real, chosen, kept, before)


def restorable(live: Path) -> tuple[Backup, ...]:
    """Return the backups beside a file, and those only the second place has, the newest last."""
    beside = backups_in(folder_beside(live))
    place = last_seen(live)
    known = {one.path.name for one in beside}
    away = backups_in(place.inside) if place is not None and place.is_there else ()
    found = [*beside, *(one for one in away if one.path.name not in known)]
    return tuple(sorted(found, key=lambda one: (one.sequence, one.path.name)))


def newest_good(live: Path) -> Backup | None:
    """Return the newest backup that is as it was made and that this version reads."""
    for backup in reversed(restorable(live)):
        if backup.manifest.version <= migrations.HEAD and is_good(backup):
            return backup
    return None


def _described(backup: Path) -> Backup:
    """Return a backup with its manifest; without one nothing can be proved of it."""
    if not backup.is_file():
        raise WorldFault(f"there is no backup {backup.name}", do=CHOOSE)
    manifest = manifest_of(backup)
    if manifest is None:
        raise DamagedFile(
            f"{backup.name} cannot be shown to be whole",
            why=f"{manifest_path(backup).name} beside it is missing or cannot be read",
            do=CHOOSE,
        )
    return Backup(backup, manifest)


def _checked_copy(chosen: Backup, draft: Path) -> None:
    """Copy a backup aside and check the copy, which is what will be used."""
    told, name = chosen.manifest, chosen.path.name
    if whole_file.copy_bytes(chosen.path, draft) != told.sha256:
        raise DamagedFile(f"{name} is not as it was made", why="its hash differs", do=CHOOSE)
    if told.version > migrations.HEAD:
        raise NewerFile(
            f"{name} was made by a later version (file version {told.version}; this program reads"
            f" up to {migrations.HEAD})",
            do=CHOOSE,
        )
    _look_at(draft, name)
    if looked_through(draft) != (told.version, told.counts):
        raise DamagedFile(f"{name} does not hold what its manifest says", do=CHOOSE)


def _look_at(draft: Path, name: str) -> None:
    """Refuse what is not ours, or holds anything no version of ours made: it came from outside."""
    uri = f"{draft.as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(uri, uri=True)) as raw:
            raw.execute("PRAGMA trusted_schema = OFF")
            is_empty = check_identity(raw, name)
            strangers = [] if is_empty else strangers_in(raw, version_of(raw))
    except sqlite3.DatabaseError as error:
        raise DamagedFile(f"{name} cannot be read", do=CHOOSE) from error
    if is_empty or strangers:
        found = strangers[0] if strangers else "nothing"
        raise NotOurFile(f"{name} holds what no version of this program made ({found})", do=CHOOSE)


def _backed_up(real: Path, now: datetime) -> Backup | None:
    """Back up what is there, where it opens as it is.

    A file with anything beside it is not opened before it has been put aside, and one that does
    not open or pass its checks is kept aside only.
    """
    if not real.is_file() or any(_beside(real)):
        return None
    uri = f"{real.as_uri()}?mode=ro"
    with suppress(sqlite3.Error, WorldFault), closing(sqlite3.connect(uri, uri=True)) as raw:
        if raw.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,):
            return write_backup(raw, real, now=now, forced=True, why="before a restore")
    return None


def _swapped(real: Path, draft: Path, chosen: Backup, now: datetime) -> tuple[Path, ...]:
    """Keep what is there, put the copy in its place, and look at it where it now is."""
    whole_file.sync_file(draft)
    beside = _beside(real)
    found = [real, *beside] if real.exists() else beside
    aside = _free_name(real, now)
    kept = {name: aside.with_name(aside.name + name.name.removeprefix(real.name)) for name in found}
    with ExitStack() as undone:
        undone.callback(_put_back, real, kept)
        for name, target in kept.items():
            _keep(name, target, is_alone=not beside)
        whole_file.sync_folder(real.parent)
        if beside:
            _settle(real)
        for name in _beside(real):
            name.unlink()
        whole_file.name(draft, real)
        if looked_through(real)[1] != chosen.manifest.counts:
            raise DamagedFile(f"{real.name} is not what was put in its place", do=CHOOSE)
        undone.pop_all()
    return tuple(kept.values())


def _beside(real: Path) -> list[Path]:
    """Return what lies beside a file."""
    names = (real.with_name(real.name + ending) for ending in BESIDE)
    return [name for name in names if name.exists() or name.is_symlink()]


def _keep(name: Path, target: Path, *, is_alone: bool) -> None:
    """Keep a file under another name, if possible without its own name being gone for a moment.

    A second name for the same bytes costs no room on a full disk. A file with journals is copied,
    because settling them will change it.
    """
    try:
        if is_alone:
            os.link(name, target)
            return
        if name.is_file():
            whole_file.copy(name, target)
            return
    except OSError:
        # No second names on this disk, or no room for a copy: its own name has to go.
        target.unlink(missing_ok=True)
    name.replace(target)


def _settle(real: Path) -> None:
    """Have SQLite play in or take back what the journals of a file hold, where it can."""
    if not real.is_file():
        return
    with suppress(sqlite3.Error), closing(sqlite3.connect(real)) as raw:
        raw.execute("SELECT count(*) FROM sqlite_schema").fetchall()
        raw.execute("PRAGMA journal_mode = DELETE").fetchall()


def _put_back(real: Path, kept: dict[Path, Path]) -> None:
    """Put back what was there, exactly as it was.

    What was not there before is ours and goes; what was not put aside yet is in its place still.
    """
    try:
        for name in (real, *_beside(real)):
            if name not in kept:
                name.unlink(missing_ok=True)
        for name, target in kept.items():
            if not target.exists():
                continue
            if name.exists() and name.samefile(target):
                # Two names of one file: giving it the one would leave it the other.
                target.unlink()
            else:
                target.replace(name)
        whole_file.sync_folder(real.parent)
    except OSError as error:
        names = ", ".join(target.name for target in kept.values() if target.exists())
        raise WorldFault(
            f"{real.name} was not replaced, and could not be put back",
            why=error.strerror.lower() if error.strerror else "",
            do=f"what was there is kept beside it as {names}" if names else "look at the disk",
        ) from error


def _free_name(real: Path, now: datetime) -> Path:
    """Return a dated name for what is put aside, with nothing of that name beside it either."""
    stem = f"{real.stem}{REPLACED}{now.astimezone(UTC):%Y%m%d-%H%M%S}"
    name, turn = real.with_name(f"{stem}{real.suffix}"), 1
    while name.exists() or _beside(name):
        turn += 1
        name = real.with_name(f"{stem}-{turn}{real.suffix}")
    return name


@contextmanager
def _told(real: Path) -> Iterator[None]:
    """Say in plain words what was in the way."""
    try:
        yield
    except OSError as error:
        raise WorldFault(
            f"{real.name} was not replaced, and is as it was",
            why=error.strerror.lower() if error.strerror else "",
            do="check that the folder may be written to and the disk is not full, and try again",
        ) from error
