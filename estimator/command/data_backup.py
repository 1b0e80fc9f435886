"""The commands that guard the file: where it is, whether it is sound, backing up, restoring.

All of them but ``backup`` work when the file itself will not open: that is when they are needed.
"""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path
from typing import Any

from estimator.command.data import opened
from estimator.command.exits import Exit
from estimator.command.speech import complain, say
from estimator.notices import Notice, UserMistake, WorldFault
from estimator.office.place import file_in
from estimator.store import clock, happenings, numbering, paper_checks, photos
from estimator.store.backup import back_up
from estimator.store.database import Database, version_of
from estimator.store.manifest import Backup, backups_in, folder_beside, is_good
from estimator.store.restore import CHOOSE, newest_good, restorable, restore
from estimator.store.second_place import last_seen, name_second_place, second_place

NEWEST = "newest"
MEGABYTE = 1_000_000
EVERY = 10
"""How many backups are read between two words on how far it has come."""


def add_to(commands: Any) -> None:
    """Add the commands that guard the file."""
    place = commands.add_parser("where", help="say where the file and its backups are")
    place.set_defaults(run=where)

    checking = commands.add_parser(
        "check", help="read the file, its papers and its backups through"
    )
    checking.set_defaults(run=check)

    backing = commands.add_parser("backup", help="back the file up now")
    backing.add_argument(
        "--to", metavar="FOLDER", type=Path, help="copy this and every later backup there, too"
    )
    backing.set_defaults(run=backup)

    putting = commands.add_parser("restore", help="put a backup in the place of the file")
    putting.add_argument(
        "backup", metavar="BACKUP", nargs="?", help=f"a backup, as listed, or {NEWEST}"
    )
    putting.add_argument("--list", action="store_true", help="list the backups there are")
    putting.set_defaults(run=put_back)


def where(arguments: argparse.Namespace) -> Exit:
    """Say where the file and its backups are, without opening it."""
    live = file_in(arguments.data)
    folder = folder_beside(live)
    say(f"File: {live}" + ("" if live.exists() else " (not there yet)"))
    say(f"Backups: {folder} ({len(backups_in(folder))})")
    place = last_seen(live)
    if place is not None:
        say(
            f"Second place for backups: {place.folder}" + ("" if place.is_there else " (not there)")
        )
    return Exit.DONE


def check(arguments: argparse.Namespace) -> Exit:
    """Read the file, its issued papers and its backups through, and say what is found."""
    live = file_in(arguments.data)
    try:
        complain(f"Reading {live.name} through…")
        with opened(arguments, read_only=True) as database:
            faults = _file_faults(database)
            notices = _place_notices(database)
    except WorldFault as fault:
        faults, notices = [str(fault)], ()
    faults += _backup_faults(live)
    for one in faults:
        say(f"Wrong: {one}")
    _tell(notices)
    say("Something is wrong." if faults else "Nothing is wrong.")
    return Exit.MISTAKE if faults else Exit.DONE


def backup(arguments: argparse.Namespace) -> Exit:
    """Back the file up now."""
    with opened(arguments) as database:
        if arguments.to is not None:
            place = name_second_place(database, arguments.to)
            say(f"Second place for backups: {place.folder}")
        complain("Backing up…")
        made = back_up(database, now=clock.now(), why="asked for")
        notices = made.notices if made is not None else _place_notices(database)
    if made is None:
        say("Nothing has changed since the newest backup, so there is no new one.")
    else:
        say(f"Backed up: {made.path}")
    _tell(notices)
    return Exit.DONE


def put_back(arguments: argparse.Namespace) -> Exit:
    """Put a backup in the place of the file, or list the backups."""
    live = file_in(arguments.data)
    if arguments.list:
        return _list(live)
    chosen = _chosen(live, arguments.backup)
    complain(f"Checking {chosen.name} and putting it in place…")
    done = restore(live, chosen, now=clock.now())
    # Opening it brings an older one up to date, and shows that it opens.
    with opened(arguments) as database:
        gone_on = numbering.go_on_after(database, done.kept)
    say(f"Restored: {live}, as it was on {_when(done.backup.made_at)}")
    for number in gone_on:
        # Customers have papers with the numbers in between, though this file knows nothing of them.
        say(f"Numbers go on from {number}: those before it were given since the backup")
    if done.before is not None:
        say(f"What was there was backed up: {done.before.path}")
    for kept in done.kept:
        say(f"What was there is kept: {kept}")
    return Exit.DONE


def _chosen(live: Path, asked: str | None) -> Path:
    """Return the backup asked for: a path, a name as listed, or the newest good one.

    Raises:
        UserMistake: when there is none of that name, or none is named.
    """
    if asked is None:
        raise UserMistake("no backup is named", do=f"name one as listed, or say {NEWEST}")
    if asked == NEWEST:
        complain("Looking for the newest good backup…")
        found = newest_good(live)
        if found is None:
            raise UserMistake("there is no good backup", do=f"look in {folder_beside(live)}")
        return found.path
    for one in restorable(live):
        if asked == one.path.name:
            return one.path
    path = Path(asked)
    if not path.is_file():
        raise UserMistake(f"there is no backup {asked}", do=CHOOSE)
    return path


def _list(live: Path) -> Exit:
    found = restorable(live)
    for one in reversed(found):
        told = one.manifest
        size = f"{told.size / MEGABYTE:.1f} MB"
        why = f", {told.why}" if told.why else ""
        away = "" if one.path.parent == folder_beside(live) else f" in {one.path.parent}"
        say(f"{one.path.name}  {_when(told.made_at)}  {size}  version {told.version}{why}{away}")
    if not found:
        complain("There are no backups yet; make one with the command data backup.")
    return Exit.DONE


def _file_faults(database: Database) -> list[str]:
    """Say what the open file is, and return what is wrong with what is kept in it."""
    say(f"File: {database.path}, version {version_of(database.raw)}, pages and references sound")
    damages = paper_checks.verify(database)
    if not damages:
        say("Issued papers: each is as it was issued")
    spoilt = photos.damaged(database)
    if not spoilt:
        say("Photographs: each is as it was taken in")
    changed = happenings.damaged(database)
    if not changed:
        say("What happened to each job: as it was noted")
    return [
        *(f"paper {one.number}: {one.what}" for one in damages),
        *(f"photograph {name[:12]} of job {job[:8]} is damaged" for job, name in spoilt),
        *(f"job {one.job[:8]}: {one.uid[:12]} is not as it was noted" for one in changed),
    ]


def _backup_faults(live: Path) -> list[str]:
    """Read every backup through, and return which are not as they were made."""
    found = backups_in(folder_beside(live))
    faults = []
    for count, one in enumerate(found, start=1):
        if not is_good(one):
            faults.append(f"the backup {one.path.name} is not as it was made")
        if count % EVERY == 0:
            complain(f"Read {count} of {len(found)} backups…")
    say(f"Backups: {len(found)}, of which {len(found) - len(faults)} are as they were made")
    if found:
        say(f"Newest backup: {found[-1].path.name}, {_age(found[-1])} old")
    return faults


def _place_notices(database: Database) -> tuple[Notice, ...]:
    place = second_place(database)
    if place is None:
        return ()
    notices = place.notices(clock.now())
    if not notices and place.copied_at is not None:
        say(f"Second place for backups: {place.folder}, last used {_when(place.copied_at)}")
    return notices


def _tell(notices: tuple[Notice, ...]) -> None:
    for notice in notices:
        complain(notice.text)


def _when(moment: datetime) -> str:
    """Return a moment as it is said here."""
    here = moment.astimezone()
    return f"{here.day} {here:%B %Y, %H:%M}"


def _age(one: Backup) -> str:
    """Return the age of a backup in the largest whole unit."""
    hours = max(int((clock.now() - one.made_at).total_seconds() // 3600), 0)
    count, unit = (hours // 24, "day") if hours >= 24 else (hours, "hour")
    return f"{count} {unit}" if count == 1 else f"{count} {unit}s"
