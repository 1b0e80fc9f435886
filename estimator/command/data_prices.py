"""The commands for prices: lists in and out, uplifts, history, and what is one's own.

Whatever would change many prices is shown first, and done only with ``--yes``, after a backup.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from estimator.command.data import opened
from estimator.command.exits import Exit
from estimator.command.speech import complain, say
from estimator.exchange import matching, reading
from estimator.exchange.price_list import MOST_ROWS, Preview, Problem
from estimator.money import exact
from estimator.notices import UserMistake, WorldFault
from estimator.office import price_lists
from estimator.store import bulk, catalogue, clock, price_books
from estimator.store.backup import back_up
from estimator.store.book_parts import Entry, Kind
from estimator.store.bulk import Arrival, Change, Uplift
from estimator.store.database import Database

SHOWN = 40
"""Most lines of one kind printed."""
LONG_WORK = 4_000
"""From so many rows written on, a person is told how far it has come."""
NOT_YET = "Nothing is written yet; say it again with --yes to do it."


def add_to(commands: Any) -> None:
    """Add the commands for prices."""
    taking = commands.add_parser("import-prices", help="take a supplier's price list in")
    taking.add_argument("file", metavar="FILE", type=Path, help="CSV, XLSX or ODS")
    taking.add_argument("--supplier", default="", help="whose list it is, where it does not say")
    taking.add_argument("--yes", action="store_true", help="write it, after a look without")
    taking.add_argument(
        "--leave-out", action="store_true", help="leave out rows that cannot be taken"
    )
    taking.set_defaults(run=import_prices)

    giving = commands.add_parser("export-prices", help="write materials, bars and articles out")
    giving.add_argument("file", metavar="FILE", type=Path, help="a name ending in .csv or .xlsx")
    giving.set_defaults(run=export_prices)

    lifting = commands.add_parser("uplift", help="make what is bought dearer by so much per cent")
    lifting.add_argument("percent", metavar="PERCENT", help="such as 2.5, or -3 for cheaper")
    lifting.add_argument("--group", default="", help="one group alone, such as Bars or Labour")
    lifting.add_argument("--yes", action="store_true", help="do it, after a look without")
    lifting.set_defaults(run=uplift)

    undoing = commands.add_parser("undo", help="take the newest change of prices back")
    undoing.set_defaults(run=undo)

    telling = commands.add_parser("price-history", help="tell what something cost from when on")
    telling.add_argument("code", metavar="CODE", help="its code, such as grout or bar_1000")
    telling.set_defaults(run=price_history)

    owning = commands.add_parser("confirm-prices", help="mark rates as your own, or list the rest")
    owning.add_argument("code", metavar="CODE", nargs="?", default="", help="one rate")
    owning.add_argument("--group", default="", help="all rates of a group")
    owning.add_argument("--all", action="store_true", help="all rates there are")
    owning.set_defaults(run=confirm_prices)


def import_prices(arguments: argparse.Namespace) -> Exit:
    """Show what a price list would change, and with ``--yes`` take it in."""
    path: Path = arguments.file
    found = matching.preview(
        reading.read_sheet(_content(path), path.name), supplier=arguments.supplier
    )
    say(f"{path.name}: {found.sheet.how}")
    say(f"Columns: {found.how}")
    for line in _some(found.problems, _problem):
        say(line)
    if found.section_rows:
        told = ", ".join(f"{row:,}" for row in found.section_rows[:SHOWN])
        say(f"Taken as headings of groups, not as articles: row {told}")
    rows = [price_lists.article(row) for row in found.rows]
    with opened(arguments) as database:
        price_books.installed(database)
        for line in _arriving(bulk.preview_import(database, rows)):
            say(line)
        _check_whole(found, is_told=arguments.leave_out)
        if not arguments.yes:
            say(NOT_YET)
            return Exit.DONE
        _back_up(database, f"before the price list {path.name}")
        batch = bulk.apply_import(database, rows, path.name, progress=_progress)
    say("No price has changed." if batch is None else "Taken in. The command data undo undoes it.")
    return Exit.DONE


def export_prices(arguments: argparse.Namespace) -> Exit:
    """Write out whatever is sold in packs, as a table that can be taken in again."""
    path: Path = arguments.file
    price_lists.check_name(path)
    with opened(arguments) as database:
        price_books.installed(database)
        count = price_lists.write_out(database, path)
    say(f"Written: {path}, {count:,} prices")
    if count > MOST_ROWS:
        complain(f"To take it in again, split it: a list has at most {MOST_ROWS:,} rows.")
    return Exit.DONE


def uplift(arguments: argparse.Namespace) -> Exit:
    """Show what an uplift would change, and with ``--yes`` do it."""
    wanted = Uplift(_percent(arguments.percent), arguments.group)
    with opened(arguments) as database:
        price_books.installed(database)
        changes = bulk.preview(database, wanted)
        say(f"{len(changes):,} entries change.")
        for line in _some(changes, _amounts):
            say(line)
        if not arguments.yes:
            say(NOT_YET)
            return Exit.DONE
        _back_up(database, "before an uplift of prices")
        bulk.apply(database, wanted)
    say("Done. The command data undo undoes it.")
    return Exit.DONE


def undo(arguments: argparse.Namespace) -> Exit:
    """Take the newest change of prices back."""
    with opened(arguments) as database:
        price_books.installed(database)
        taken_back = bulk.undo(database)
    say(f"Taken back: {taken_back.title}")
    return Exit.DONE


def price_history(arguments: argparse.Namespace) -> Exit:
    """Print every price of whatever has a code, with the day it held from."""
    with opened(arguments) as database:
        price_books.installed(database)
        entries = catalogue.named(database, arguments.code)
        if not entries:
            raise UserMistake(
                f"the catalogue has no code '{arguments.code}'", do="look it up with data find"
            )
        for entry in entries:
            whose = f", {entry.supplier}" if entry.supplier else ""
            say(f"{entry.title} ({entry.kind.value}{whose})")
            for rate in price_books.history(database, entry.kind, entry.code, entry.supplier):
                now = rate.prices[1]
                price = "dropped" if rate.new is None else "no price" if now is None else str(now)
                say(f"  {rate.book.dated}  {price:>10}  {rate.book.why}")
    return Exit.DONE


def confirm_prices(arguments: argparse.Namespace) -> Exit:
    """Mark rates as one's own, or list those that are not yet."""
    with opened(arguments) as database:
        price_books.installed(database)
        if arguments.code or arguments.group or arguments.all:
            count = price_books.confirm(database, code=arguments.code, group=arguments.group)
            if not count:
                raise UserMistake("no rate not yet confirmed is called that", do="list them first")
            say(f"{count} confirmed as your own.")
        left = price_books.unconfirmed(database)
    for line in _some(left, _illustration):
        say(line)
    say(f"{len(left)} not yet confirmed." if left else "All rates are your own.")
    return Exit.DONE


def _content(path: Path) -> bytes:
    """Return what a file holds, and no more of it than a list may have."""
    try:
        with path.open("rb") as file:
            return file.read(reading.MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise WorldFault(
            f"the list '{path.name}' could not be read", do="check its name and folder"
        ) from error


def _percent(written: str) -> Decimal:
    try:
        return exact(written.strip().removesuffix("%").strip())
    except ValueError:
        raise UserMistake(f"'{written}' is no percentage", do="write it as 2.5") from None


def _back_up(database: Database, why: str) -> None:
    back_up(database, now=clock.now(), forced=True, why=why)


def _progress(done: int, count: int) -> None:
    if count >= LONG_WORK:
        complain(f"{done:,} of {count:,} written")


def _check_whole(found: Preview, *, is_told: bool) -> None:
    """Refuse a list with rows that cannot be taken, unless told to leave them out."""
    count = len({problem.row for problem in found.stopping})
    if count and not is_told:
        raise UserMistake(
            f"rows that cannot be taken: {count:,}; nothing is written",
            do="mend the list, or say it again with --leave-out",
        )


def _arriving(arrival: Arrival) -> Iterator[str]:
    yield f"{len(arrival.new):,} new"
    yield from _some(arrival.new, _change)
    yield f"{len(arrival.changed):,} changed"
    yield from _some(arrival.changed, _change)
    yield f"{arrival.unchanged:,} unchanged"


def _change(change: Change) -> str:
    old, new = change.prices
    was = "" if old is None else f", was {old}" if old != new else ", price as it was"
    return f"  row {change.row}  {change.new.code}  {change.new.title}  {new}{was}"


def _amounts(change: Change) -> str:
    sums = ", ".join(f"{_named(name)}{old} to {new}" for name, old, new in change.amounts)
    return f"  {change.new.code}  {change.new.title}: {sums}"


def _named(path: str) -> str:
    """Return where a sum stands in an entry, unless it is its only price."""
    is_the_price = path in {"", "price", "pack_price"}
    return "" if is_the_price else f"{path.replace('owned.', '').replace('_', ' ')} "


def _problem(problem: Problem) -> str:
    column = f", {problem.column}" if problem.column else ""
    return f"  row {problem.row}{column}: {problem.text}"


def _illustration(entry: Entry) -> str:
    price = "" if entry.price is None else f"  {entry.price}"
    kind = "" if entry.kind is Kind.SETTING else f" ({entry.kind.value})"
    return f"  {entry.code}  {entry.title}{kind}{price}"


def _some(things: Sequence[Any], line: Any) -> Iterator[str]:
    """Yield a line for each of some things, and how many more there are."""
    yield from map(line, things[:SHOWN])
    if len(things) > SHOWN:
        yield f"  and {len(things) - SHOWN:,} more"
