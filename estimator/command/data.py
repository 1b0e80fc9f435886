"""The ``data`` commands: one file in one folder, and everything one may ask of it.

Each part adds its own commands. They are loaded only when one of them is asked for, because the
database library takes longer to load than a wall takes to price.
"""

from __future__ import annotations

import argparse
import importlib
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from estimator import logs
from estimator.command.exits import Exit
from estimator.command.speech import complain
from estimator.notices import WorldFault
from estimator.office.place import file_in, refuse_if_lost, usual_folder
from estimator.store import backup, clock, facts
from estimator.store.database import Database, open_file
from estimator.store.place import synced_folder

SHORT_UID = 8
"""Letters of a job's or customer's name in the file that are shown, and enough to know it by."""
DAILY_WORK = ("add", "issue", "confirm-prices")
"""Commands that change the file; import, uplift, erasure and restore force a backup themselves."""
PARTS = ("data_add", "data_backup", "data_find", "data_jobs", "data_people", "data_prices")
EXAMPLE = """\
examples:
  python -m estimator data where
  python -m estimator data check --data my_folder
  python -m estimator data find repoint --throwaway
"""


class _FolderParser(argparse.ArgumentParser):
    """Every data command takes the folder, before or after its own words."""

    def __init__(self, *arguments: Any, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        add_folder(self)


def add_folder(parser: argparse.ArgumentParser) -> None:
    """Let a command be told which folder the file is in."""
    parser.add_argument(
        "--data",
        metavar="FOLDER",
        type=Path,
        default=argparse.SUPPRESS,
        help="the folder the file is in, where it is not the usual one",
    )
    parser.add_argument(
        "--throwaway",
        action="store_true",
        default=argparse.SUPPRESS,
        help="use a fresh folder, and throw it away at the end",
    )


def add_to(commands: Any) -> None:
    """Add the data commands."""
    data = commands.add_parser(
        "data",
        help="look after the file that holds customers, jobs, prices and papers",
        description="Look after the file that holds customers, jobs, prices and papers.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_folder(data)
    data.set_defaults(command="data")
    inner = data.add_subparsers(
        dest="asked", metavar="COMMAND", required=True, parser_class=_sub_parser(type(data))
    )
    for part in PARTS:
        importlib.import_module(f"estimator.command.{part}").add_to(inner)


def _sub_parser(kind: type[argparse.ArgumentParser]) -> type[argparse.ArgumentParser]:
    """Return a parser that complains as the outer one does and takes the folder too."""
    return type("DataParser", (_FolderParser, kind), {})


def run(arguments: argparse.Namespace) -> Exit:
    """Run one data command in its folder."""
    with folder_of(arguments) as folder, logs.Kept(folder, arguments.asked):
        arguments.data = folder
        ended: Exit = arguments.run(arguments)
    return ended


@contextmanager
def folder_of(arguments: argparse.Namespace) -> Iterator[Path]:
    """Yield the folder asked for; a throwaway one is gone afterwards."""
    if getattr(arguments, "throwaway", False):
        with tempfile.TemporaryDirectory(prefix="perpend-") as made:
            complain(f"Using a fresh folder, thrown away at the end: {made}")
            yield Path(made)
        return
    yield getattr(arguments, "data", None) or usual_folder()


def opened(arguments: argparse.Namespace, *, read_only: bool = False) -> Database:
    """Open the file in the folder asked for, making both where they are not there.

    Raises:
        WorldFault: when the file cannot be opened: what happened, and what to do.
    """
    folder: Path = arguments.data
    is_new = not file_in(folder).exists()
    restore = "restore one with the command data restore, or move the backups away to begin anew"
    refuse_if_lost(folder, do=restore)
    if not read_only:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    database = open_file(
        file_in(folder),
        read_only=read_only,
        before_migration=backup.before_migration(clock.now),
    )
    if not read_only:
        _warn_of_place(database)
    if not read_only and not is_new and arguments.asked in DAILY_WORK:
        _back_up_when_due(database)
    return database


def _back_up_when_due(database: Database) -> None:
    """Back up before changing a file whose newest backup is old."""
    try:
        backup.back_up_when_due(database, now=clock.now(), why="at start")
    except WorldFault as fault:
        # The command itself may still go well, and says so if it does not.
        complain(f"No backup was made: {fault}")


def _warn_of_place(database: Database) -> None:
    """Warn once of a synchronised or network folder, and remember that it was said."""
    warning = synced_folder(database.path)
    if warning and facts.once(database, "told of a synchronised folder"):
        complain(f"Take care: {warning}.")
