"""The catalogue: whatever has a rate, listed page by page and changed one edit at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Select, func, select, tuple_

from estimator.notices import UserMistake
from estimator.store import book_rows
from estimator.store.book_parts import Entry, Kind
from estimator.store.book_rows import Batch, ChangeSet
from estimator.store.database import Database
from estimator.store.tables import CatalogueItems, CatalogueRates

PAGE = 200
"""Entries of one page."""

_CODE = (CatalogueItems.kind, CatalogueItems.supplier, CatalogueItems.code)


@dataclass(frozen=True, slots=True)
class Group:
    """A group of the catalogue, and how much is in it."""

    kind: Kind
    name: str
    count: int


def entries(
    database: Database,
    kind: Kind | None = None,
    group: str | None = None,
    *,
    limit: int = PAGE,
    offset: int = 0,
    after: Entry | None = None,
) -> tuple[Entry, ...]:
    """Return a page of the newest price book, by kind, supplier and code.

    Args:
        database: The file.
        kind: The one kind wanted; all of them when not said.
        group: The one group wanted; all of them when not said.
        limit: Most entries returned.
        offset: How many to pass over: each costs a look, so for very many say after.
        after: The entry just before the page, found at once however far down.
    """
    with database.reading() as connection:
        book = book_rows.numbered(connection, None)
        wanted = _narrowed(book_rows.rates_in(book.id), kind, group).order_by(*_CODE)
        if after is not None:
            wanted = wanted.where(_beyond(after, kind))
        return book_rows.entries_for(connection, wanted.limit(limit).offset(offset))


def count(database: Database, kind: Kind | None = None, group: str | None = None) -> int:
    """Return how many entries the newest price book has of a kind or group."""
    with database.reading() as connection:
        dropped = _newest(select(CatalogueRates.item_id).where(CatalogueRates.dropped == 1))
        every = select(CatalogueItems.id).where(CatalogueItems.id.not_in(dropped))
        found = _narrowed(every, kind, group).subquery()
        return connection.execute(select(func.count()).select_from(found)).scalar_one()


def groups(database: Database) -> tuple[Group, ...]:
    """Return the groups there are, by kind and name."""
    with database.reading() as connection:
        book = book_rows.numbered(connection, None)
        named = (CatalogueItems.kind, CatalogueRates.grouping)
        question = book_rows.rates_in(book.id).with_only_columns(*named, func.count())
        rows = connection.execute(question.group_by(*named).order_by(*named))
        return tuple(Group(Kind(kind), name, number) for kind, name, number in rows)


def named(database: Database, code: str) -> tuple[Entry, ...]:
    """Return every entry with a code, of whatever kind and from whichever supplier."""
    with database.reading() as connection:
        book = book_rows.numbered(connection, None)
        wanted = book_rows.rates_in(book.id).where(
            CatalogueItems.kind.in_([kind.value for kind in Kind]), CatalogueItems.code == code
        )
        return book_rows.entries_for(connection, wanted.order_by(*_CODE))


def change(
    database: Database,
    changed: Sequence[Entry],
    why: str,
    *,
    dropped: Sequence[Entry] = (),
    at: datetime | None = None,
) -> Batch:
    """Make one accepted edit: entries changed, added and dropped, as one new price book.

    What a person has typed is their own figure, so changed entries are confirmed.

    Raises:
        UserMistake: when nothing is changed, or the engine could not price with the result.
    """
    own = [replace(entry, confirmed=True) for entry in changed]
    for entry in own:
        _check(entry)
    if not own and not dropped:
        raise UserMistake("nothing was changed", do="change a rate first")
    with database.writing() as connection:
        return book_rows.supersede(connection, ChangeSet("change", why, own, dropped), at=at)


def _check(entry: Entry) -> None:
    """Refuse an entry that could not be found or priced again."""
    if not entry.code.strip() or not entry.title.strip():
        raise UserMistake("an entry needs a code and a title", do="write both")
    if entry.price is not None and entry.price.pence < 0:
        raise UserMistake(
            f"'{entry.title}' has a price below nothing", do="write what one pack costs"
        )
    if (entry.kind is Kind.ITEM) == bool(entry.body):
        raise UserMistake(
            f"'{entry.title}' is not written as its kind is",
            do="make it anew from the price book",
        )


def _narrowed(
    question: Select[*tuple[Any, ...]], kind: Kind | None, group: str | None
) -> Select[*tuple[Any, ...]]:
    """Narrow a question to one kind and one group."""
    if kind is not None:
        question = question.where(CatalogueItems.kind == kind.value)
    if group is None:
        return question
    # One look through the rates for the group is far less than one look-up for every item.
    grouped = _newest(select(CatalogueRates.item_id).where(CatalogueRates.grouping == group))
    return question.where(CatalogueItems.id.in_(grouped))


def _newest(rates: Select[Any]) -> Select[Any]:
    """Narrow a question about rates to those that no later book replaces."""
    later = CatalogueRates.__table__.alias("later")
    newer = (later.c.item_id == CatalogueRates.item_id) & (later.c.book_id > CatalogueRates.book_id)
    return rates.where(~select(later.c.id).where(newer).exists())


def _beyond(entry: Entry, kind: Kind | None) -> ColumnElement[bool]:
    """Return the condition for what comes after an entry."""
    # With the kind known, leaving it out of the comparison lets the index go straight there.
    known = 0 if kind is None else 1
    return tuple_(*_CODE[known:]) > tuple_(*entry.key[known:])
