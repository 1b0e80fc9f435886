"""Rows of price books and rates, read and written inside one transaction.

The rate of an entry in a book is its newest one at or before that book; a book holds only what it
changed. ``supersede`` is the only way rates are written after the first book, and ``take_back`` the
only way they go: both whole, or not at all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, delete, func, insert, select, tuple_, update

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.store import book_parts
from estimator.store.book_parts import ENGINE, Entry, Kind, Parts
from estimator.store.clock import now
from estimator.store.tables import (
    Batches,
    CatalogueItems,
    CatalogueRates,
    IssuedPapers,
    PriceBooks,
)
from estimator.store.typed import new_uid

AT_ONCE = 2_000
"""Rows written between two signs of progress, and codes looked up at a time."""
Progress = Callable[[int, int], None]
"""Told how many rows of how many are written; raising from it stops and undoes everything."""
KINDS = {kind.value: kind for kind in Kind}

_BOOK = tuple(PriceBooks.__table__.c)
_BATCH = tuple(Batches.__table__.c)
_ENTRY = (
    *(CatalogueItems.kind, CatalogueItems.code, CatalogueRates.title, CatalogueItems.supplier),
    *(CatalogueRates.grouping, CatalogueRates.unit, CatalogueRates.unit_code),
    *(CatalogueRates.pack, CatalogueRates.pack_size, CatalogueRates.price_pence),
    *(CatalogueRates.dated, CatalogueRates.source, CatalogueRates.notes, CatalogueRates.body),
    CatalogueRates.confirmed,
)
"""Columns in the order of the fields of ``Entry``."""


@dataclass(frozen=True, slots=True)
class Book:
    """One price book, without its rates."""

    id: int
    uid: str
    title: str
    dated: str
    why: str
    made_at: datetime
    supersedes: int | None


@dataclass(frozen=True, slots=True)
class Batch:
    """One accepted change of rates, which one undo takes back."""

    id: int
    kind: str
    title: str
    book: int | None
    """The price book it made; nothing once it is undone."""
    made_at: datetime
    undone_at: datetime | None


@dataclass(frozen=True, slots=True)
class ChangeSet:
    """What is to stand differently in the next price book."""

    kind: str
    why: str
    entries: Sequence[Entry] = ()
    dropped: Sequence[Entry] = ()
    title: str = ""
    """Title of the book from here on; as before when empty."""
    dated: str = ""
    """ISO 8601 date of its rates; the day it is made when empty."""
    keeps_dates: bool = False
    """True where the rates hold from when they did before, as none of them changes."""


def today() -> datetime:
    """Return the time with the day people here have, which in summer is not always that of UTC."""
    return now().astimezone()


def newest(connection: Connection) -> Book | None:
    """Return the newest price book, or nothing in a file that has none yet."""
    row = connection.execute(select(*_BOOK).order_by(PriceBooks.id.desc()).limit(1)).first()
    return None if row is None else Book(*row)


def all_books(connection: Connection) -> tuple[Book, ...]:
    """Return every price book, oldest first."""
    return tuple(Book(*row) for row in connection.execute(select(*_BOOK).order_by(PriceBooks.id)))


def all_batches(connection: Connection) -> tuple[Batch, ...]:
    """Return every accepted change, oldest first, those taken back too."""
    rows = connection.execute(select(*_BATCH).order_by(Batches.id))
    return tuple(Batch(*row) for row in rows)


def numbered(connection: Connection, book: int | None) -> Book:
    """Return the price book with a number, or the newest one where none is named.

    Raises:
        UserMistake: when there is no such book.
    """
    if book is None:
        found = newest(connection)
    else:
        row = connection.execute(select(*_BOOK).where(PriceBooks.id == book)).first()
        found = None if row is None else Book(*row)
    if found is None:
        raise UserMistake(
            "the file has no price book" if book is None else f"there is no price book {book}",
            do="take one in first" if book is None else "choose one of those listed",
        )
    return found


def rates_in(book: int) -> Select[*tuple[Any, ...]]:
    """Return the question for every entry as a book has it; the asker narrows and orders it."""
    later = CatalogueRates.__table__.alias("later")
    holds = (
        select(func.max(later.c.book_id))
        .where(later.c.item_id == CatalogueItems.id, later.c.book_id <= book)
        .scalar_subquery()
    )
    return (
        select(*_ENTRY)
        .select_from(CatalogueItems)
        .join(
            CatalogueRates,
            (CatalogueRates.item_id == CatalogueItems.id) & (CatalogueRates.book_id == holds),
        )
        .where(CatalogueRates.dropped == 0)
    )


def entries_for(connection: Connection, question: Select[*tuple[Any, ...]]) -> tuple[Entry, ...]:
    """Return the entries that a question finds."""
    return tuple(_entry(row) for row in connection.execute(question))


def whole(connection: Connection, book: int, *, kinds: Iterable[Kind] = Kind) -> tuple[Entry, ...]:
    """Return all entries of some kinds in a book, in the order they first came."""
    wanted = rates_in(book).where(CatalogueItems.kind.in_([kind.value for kind in kinds]))
    return entries_for(connection, wanted.order_by(CatalogueItems.id))


def document_of(connection: Connection, book: Book, *, indent: int | None = 1) -> str:
    """Return a book as the text of a price book file."""
    entries = whole(connection, book.id, kinds=ENGINE)
    confirmed = all(entry.confirmed for entry in entries)
    return book_parts.put_together(Parts(book.title, book.dated, confirmed, entries), indent=indent)


def changes_of(
    connection: Connection, key: tuple[str, str, str]
) -> tuple[tuple[Book, Entry | None], ...]:
    """Return what an entry is in each book that changed it, nothing where it is dropped."""
    kind, supplier, code = key
    question = (
        select(CatalogueRates.dropped, *_ENTRY, *_BOOK)
        .select_from(CatalogueItems)
        .join(CatalogueRates, CatalogueRates.item_id == CatalogueItems.id)
        .join(PriceBooks, PriceBooks.id == CatalogueRates.book_id)
        .where(
            CatalogueItems.kind == kind,
            CatalogueItems.supplier == supplier,
            CatalogueItems.code == code,
        )
        .order_by(PriceBooks.id)
    )
    start, end = 1, 1 + len(_ENTRY)
    return tuple(
        (_book(row[end:]), None if row[0] else _entry(row[start:end]))
        for row in connection.execute(question)
    )


def first(connection: Connection, parts: Parts, why: str, moment: datetime) -> Book:
    """Write the first price book of a file."""
    change = ChangeSet("", why, parts.entries, title=parts.title, dated=parts.dated)
    made = _next_book(connection, None, change, moment)
    _write(connection, made, _rates(change, made))
    return made


def supersede(
    connection: Connection,
    change: ChangeSet,
    *,
    at: datetime | None = None,
    progress: Progress | None = None,
) -> Batch:
    """Make the next price book, which differs from the newest one by a set of changes.

    Raises:
        UserMistake: when there is no book yet, or the engine could not price with the result.
    """
    moment = at or today()
    before = numbered(connection, None)
    made = _next_book(connection, before, change, moment)
    _write(connection, made, _rates(change, made), progress)
    if any(entry.kind is not Kind.ITEM for entry in (*change.entries, *change.dropped)):
        price_book.read(document_of(connection, made, indent=None))
    batch = Batch(_next_id(connection, Batches.id), change.kind, change.why, made.id, moment, None)
    connection.execute(
        insert(Batches).values(
            id=batch.id, kind=batch.kind, title=batch.title, book_id=made.id, made_at=moment
        )
    )
    return batch


def take_back(connection: Connection, batch: Batch, moment: datetime) -> None:
    """Take back the newest change: its book, its rates, and the entries that came with it.

    Raises:
        UserMistake: when it is not the newest, or a paper that went out was priced with it.
    """
    newest_book = numbered(connection, None)
    if batch.book is None or batch.book != newest_book.id:
        raise UserMistake(
            f"'{batch.title}' cannot be taken back",
            why="it was taken back already" if batch.undone_at else "later changes rest on it",
            do="take back the newest change first",
        )
    paper = connection.execute(
        select(IssuedPapers.number).where(IssuedPapers.book_id == batch.book).limit(1)
    ).scalar()
    if paper is not None:
        raise UserMistake(
            f"'{batch.title}' cannot be taken back",
            why=f"{paper} went out priced with it",
            do="change the prices again instead; earlier papers keep theirs",
        )
    connection.execute(
        update(Batches).where(Batches.id == batch.id).values(book_id=None, undone_at=moment)
    )
    _remove(connection, batch.book)


def _remove(connection: Connection, book: int) -> None:
    connection.execute(delete(CatalogueRates).where(CatalogueRates.book_id == book))
    bare = ~select(1).where(CatalogueRates.item_id == CatalogueItems.id).exists()
    connection.execute(delete(CatalogueItems).where(bare))
    connection.execute(delete(PriceBooks).where(PriceBooks.id == book))


def _next_book(
    connection: Connection, before: Book | None, change: ChangeSet, moment: datetime
) -> Book:
    """Write the row of the next book."""
    made = Book(
        _next_id(connection, PriceBooks.id),
        new_uid(),
        change.title or (before.title if before else ""),
        change.dated or moment.date().isoformat(),
        change.why,
        moment,
        before.id if before else None,
    )
    connection.execute(
        insert(PriceBooks).values(
            id=made.id,
            uid=made.uid,
            title=made.title,
            dated=made.dated,
            why=made.why,
            made_at=made.made_at,
            supersedes_id=made.supersedes,
        )
    )
    return made


def _next_id(connection: Connection, column: Any) -> int:
    # Nobody else writes while this transaction lasts, so ids can be given out here; rows then go
    # in by the thousand without asking back for each.
    return (connection.execute(select(func.max(column))).scalar() or 0) + 1


@dataclass(frozen=True, slots=True)
class _Rate:
    """One entry as it is to stand in a book."""

    entry: Entry
    dated: str
    dropped: bool


def _rates(change: ChangeSet, book: Book) -> list[_Rate]:
    return [
        _Rate(entry, entry.dated if change.keeps_dates else book.dated, dropped)
        for entries, dropped in ((change.entries, False), (change.dropped, True))
        for entry in entries
    ]


def _write(
    connection: Connection, book: Book, rates: Sequence[_Rate], progress: Progress | None = None
) -> None:
    """Write the rates of a book, and the entries that are new with it."""
    known = _ids(connection, [rate.entry.key for rate in rates])
    following = _next_id(connection, CatalogueItems.id)
    fresh: list[dict[str, Any]] = []
    for rate in rates:
        if rate.entry.key not in known:
            known[rate.entry.key] = following + len(fresh)
            fresh.append(_item_row(rate.entry, known[rate.entry.key], book.made_at))
    written = [_rate_row(rate, known[rate.entry.key], book) for rate in rates]
    done, count = 0, len(fresh) + len(written)
    for table, rows in ((CatalogueItems, fresh), (CatalogueRates, written)):
        for start in range(0, len(rows), AT_ONCE):
            some = rows[start : start + AT_ONCE]
            connection.execute(insert(table), some)
            done += len(some)
            if progress is not None:
                progress(done, count)


def _ids(
    connection: Connection, keys: Sequence[tuple[str, str, str]]
) -> dict[tuple[str, str, str], int]:
    """Return the ids of the entries that the file knows already."""
    table = CatalogueItems
    found: dict[tuple[str, str, str], int] = {}
    for start in range(0, len(keys), AT_ONCE):
        wanted = tuple_(table.kind, table.supplier, table.code).in_(keys[start : start + AT_ONCE])
        for row in connection.execute(
            select(table.kind, table.supplier, table.code, table.id).where(wanted)
        ):
            found[row[0], row[1], row[2]] = row[3]
    return found


def _item_row(entry: Entry, number: int, moment: datetime) -> dict[str, Any]:
    return {
        "id": number,
        "kind": entry.kind.value,
        "code": entry.code,
        "supplier": entry.supplier,
        "made_at": moment,
    }


def _rate_row(rate: _Rate, item: int, book: Book) -> dict[str, Any]:
    entry = rate.entry
    return {
        "item_id": item,
        "book_id": book.id,
        "title": entry.title,
        "grouping": entry.group,
        "unit": entry.unit,
        "unit_code": entry.unit_code,
        "pack": entry.pack,
        "pack_size": entry.pack_size,
        "price_pence": None if entry.price is None else entry.price.pence,
        "dated": rate.dated,
        "source": entry.source,
        "notes": entry.notes,
        "body": entry.body,
        "confirmed": int(entry.confirmed),
        "dropped": int(rate.dropped),
    }


def _book(row: Sequence[Any]) -> Book:
    return Book(*row)


def _entry(row: Sequence[Any]) -> Entry:
    kind, code, title, supplier, group, unit, unit_code, pack, size, pence, *rest = row
    price = None if pence is None else Money(pence)
    dated, source, notes, body, confirmed = rest
    return Entry(
        KINDS[kind],
        code,
        title,
        supplier,
        group,
        unit,
        unit_code,
        pack,
        size,
        price,
        dated,
        source,
        notes,
        body,
        bool(confirmed),
    )
