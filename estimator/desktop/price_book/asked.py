"""What the page asks of the file; every function here runs in the file's own thread."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from estimator.desktop import kept
from estimator.desktop.price_book.bought_from import Seller, bought_words
from estimator.desktop.price_book.shelf import BOUGHT, Book, Shelf
from estimator.exchange.price_list import PriceRow
from estimator.notices import UserMistake
from estimator.office import price_lists
from estimator.pricing import price_book
from estimator.quoting.offering import Practice
from estimator.store import book_rows, bulk, catalogue, clock, price_books, search, suppliers
from estimator.store.backup import back_up
from estimator.store.book_parts import OF_LABOUR, Entry, Kind
from estimator.store.book_rows import ChangeSet
from estimator.store.bulk import Arrival, Change, Uplift
from estimator.store.database import Database
from estimator.store.price_books import Rate

PAGE = 200
"""Entries fetched at once."""
ORDER = {kind: place for place, kind in enumerate(Kind)}
"""Shelves stand in the order work is priced: labour first, bought articles last."""
MOST_FOUND = 60
"""Most entries shown for what is typed above."""


@dataclass(frozen=True, slots=True)
class Done:
    """What holds after a change."""

    practice: Practice
    told: str
    """What was done, in words."""


def book(database: Database) -> Book:
    """Return what there is in the newest price book, and how much of it is not one's own."""
    strange = Counter((one.kind, one.group) for one in price_books.unconfirmed(database))
    shelves = tuple(
        Shelf(
            one.name or _title(one.kind), one.kind, one.name, one.count, strange[one.kind, one.name]
        )
        for one in sorted(catalogue.groups(database), key=lambda one: ORDER[one.kind])
    )
    newest = price_books.current(database)
    standing = [one for one in price_books.batches(database) if one.book is not None]
    last = standing[-1] if standing and newest and standing[-1].book == newest.id else None
    text, labour = price_books.document(database), _labour(database)
    named = suppliers.last_change(database)
    if named is not None and (last is None or last.made_at < named.moment):
        return Book(shelves, text, labour, bought_words(named.title, named.now))
    return Book(shelves, text, labour, last.title if last else "", last.id if last else 0)


def _labour(database: Database) -> tuple[Entry, ...]:
    settings = catalogue.entries(database, Kind.SETTING)
    of_labour = (one for one in settings if one.code in OF_LABOUR)
    return (*catalogue.entries(database, Kind.GRADE), *of_labour)


def _title(kind: Kind) -> str:
    return {Kind.ITEM: "Articles"}.get(kind, kind.value.capitalize())


def page(
    database: Database, shelf: Shelf, start: int, after: Entry | None = None
) -> tuple[Entry, ...]:
    """Return a page of a shelf; told what stands before it, it is found at once."""
    if after is not None:
        return catalogue.entries(database, shelf.kind, shelf.group, limit=PAGE, after=after)
    return catalogue.entries(database, shelf.kind, shelf.group, limit=PAGE, offset=start)


def found(database: Database, typed: str) -> tuple[Entry, ...]:
    """Return the entries that fit what is typed, the best first."""
    entries: dict[tuple[str, str, str], Entry] = {}
    hits = search.find(database, typed, limit=MOST_FOUND, kinds=(search.Kind.ITEM,))
    for hit in hits:
        for entry in catalogue.named(database, hit.code):
            if entry.title == hit.title:
                entries[entry.key] = entry
    return tuple(entries.values())[:MOST_FOUND]


def told_of(database: Database, entry: Entry) -> tuple[tuple[Rate, ...], Seller]:
    """Return what an entry was in every book, the newest first, and who sells it."""
    history = price_books.history(database, entry.kind, entry.code, entry.supplier)[::-1]
    if entry.kind not in BOUGHT:
        return history, Seller()
    seller = Seller(
        suppliers.bought_from(database).get(entry.code, ""),
        suppliers.names(database),
        suppliers.on_lists(database, entry.code),
    )
    return history, seller


def buy_from(database: Database, entry: Entry, name: str) -> str:
    """Keep who sells something, and return in words what holds now."""
    change = suppliers.keep(database, entry.code, entry.title, name)
    return bought_words(entry.title, change.now if change else name)


def undo_seller(database: Database) -> str:
    """Take the newest change of who sells something back, and return in words what it was."""
    taken_back = suppliers.undo(database)
    return bought_words(taken_back.title, taken_back.now)


def change(database: Database, entries: Sequence[Entry], why: str) -> Done:
    """Make one accepted edit, as one new price book."""
    batch = catalogue.change(database, entries, why)
    return Done(kept.practice(database), batch.title)


def confirm(database: Database, entries: Sequence[Entry]) -> Done:
    """Mark entries as one's own figures, all in one new price book; their dates stay."""
    with database.writing() as connection:
        newest = book_rows.numbered(connection, None)
        every = price_books.unconfirmed_in(book_rows.whole(connection, newest.id))
        wanted = {entry.key for entry in entries}
        now = [replace(one, confirmed=True) for one in every if one.key in wanted]
        if not now:
            raise UserMistake("these are your own rates already", do="choose others")
        is_last = len(now) == len(every) and newest.title == price_book.shipped().title
        what = now[0].title if len(now) == 1 else f"{len(now)} rates"
        changes = ChangeSet(
            "confirm",
            f"{what} confirmed as our own",
            now,
            title=price_books.OWN_TITLE if is_last else newest.title,
            keeps_dates=True,
        )
        batch = book_rows.supersede(connection, changes)
    return Done(kept.practice(database), batch.title)


def undo(database: Database, batch: int) -> Done:
    """Take the newest change back, which must be the one meant."""
    taken_back = bulk.undo(database, batch)
    return Done(kept.practice(database), taken_back.title)


def uplifted(database: Database, percent: Decimal, group: str) -> tuple[Change, ...]:
    """Return what an uplift would change; nothing is written."""
    return bulk.preview(database, Uplift(percent, group))


def uplift(database: Database, percent: Decimal, group: str) -> Done:
    """Make an uplift, after a backup."""
    back_up(database, now=clock.now(), forced=True, why="before an uplift of prices")
    batch = bulk.apply(database, Uplift(percent, group))
    return Done(kept.practice(database), batch.title)


def arriving(database: Database, rows: Sequence[PriceRow]) -> Arrival:
    """Return what taking a list in would do; nothing is written."""
    return bulk.preview_import(database, [price_lists.article(row) for row in rows])


def take_in(
    database: Database,
    rows: Sequence[PriceRow],
    title: str,
    *,
    progress: Callable[[int, int], None],
) -> Done:
    """Take a list in, all of it or nothing, after a backup."""
    back_up(database, now=clock.now(), forced=True, why=f"before the price list {title}")
    articles = [price_lists.article(row) for row in rows]
    batch = bulk.apply_import(database, articles, title, progress=progress)
    return Done(kept.practice(database), batch.title if batch else "")


def export(database: Database, path: Path) -> int:
    """Write whatever is sold in packs out as a table, and return how many prices it has."""
    return price_lists.write_out(database, path)
