"""Many rates at once: dearer by so much per cent, or as a supplier's list has them.

First what would change is shown, then it is applied: one price book, one batch, all or nothing, and
one undo gives back the catalogue as it was.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from sqlalchemy import Connection, func, select

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.store import book_parts, book_rows
from estimator.store.book_parts import SOLD, Entry, Kind
from estimator.store.book_rows import Batch, ChangeSet, Progress
from estimator.store.database import Database
from estimator.store.tables import CatalogueItems

LEAST_PERCENT, MOST_PERCENT = Decimal(-90), Decimal(500)
"""An uplift beyond these is taken for a slip of the pen; a house rule."""
BOUGHT_SETTINGS = frozenset({"access", "travel", "preliminaries"})
"""Settings that hold prices paid to others. Pay and the minimum charge rise only if named."""


@dataclass(frozen=True, slots=True)
class Change:
    """One entry before and after."""

    old: Entry | None
    """Nothing where the entry is new."""
    new: Entry
    row: int = 0
    """Row of the list it came from, counted from 1."""

    @property
    def prices(self) -> tuple[Money | None, Money]:
        """The price before and after [£]."""
        return (self.old.price if self.old else None), (self.new.price or Money(0))

    @property
    def amounts(self) -> tuple[tuple[str, Decimal | None, Decimal], ...]:
        """Every sum in it that changes: where it stands, before and after [£]."""
        before: Mapping[str, Decimal] = self.old.amounts if self.old else {}
        return tuple(
            (name, before.get(name), after)
            for name, after in self.new.amounts.items()
            if before.get(name) != after
        )


@dataclass(frozen=True, slots=True)
class Uplift:
    """How much dearer, and what."""

    percent: Decimal
    """Below nothing makes cheaper [%]."""
    group: str = ""
    """The one group meant, in any case of letters; all that is bought when empty."""


@dataclass(frozen=True, slots=True)
class Article:
    """One thing as a supplier sells it."""

    code: str
    """The supplier's own; where there is none, the title tells it from others."""
    title: str
    unit: str
    unit_code: str
    """UN/ECE Recommendation 20 code of the unit."""
    pack: str
    """What a pack is called; empty leaves it as it is."""
    pack_size: Decimal
    """Units in one pack [unit]."""
    price: Money
    """Price of one pack."""
    supplier: str = ""
    group: str = ""
    notes: str = ""
    row: int = 0
    """Row of the list it came from, counted from 1."""

    @property
    def key(self) -> tuple[str, str]:
        """What makes it the same article in the supplier's next list."""
        return self.supplier, self.code or self.title


@dataclass(frozen=True, slots=True)
class Arrival:
    """What taking a list in would do."""

    new: tuple[Change, ...]
    changed: tuple[Change, ...]
    unchanged: int


def preview(database: Database, uplift: Uplift) -> tuple[Change, ...]:
    """Return what an uplift would change; nothing is written.

    Raises:
        UserMistake: for a percentage out of bounds, or a group with no prices in it.
    """
    with database.reading() as connection:
        return _uplifted(connection, uplift)


def apply(database: Database, uplift: Uplift, *, at: datetime | None = None) -> Batch:
    """Make an uplift, as one price book.

    Raises:
        UserMistake: as ``preview``, or when the engine could not price with the result.
    """
    with database.writing() as connection:
        changes = _uplifted(connection, uplift)
        if not changes:
            raise UserMistake("no price changes by that", do="choose a larger percentage")
        whose = uplift.group or "all that is bought"
        why = f"{whose} {uplift.percent:+f} per cent"
        entries = [change.new for change in changes]
        return book_rows.supersede(connection, ChangeSet("uplift", why, entries), at=at)


def preview_import(database: Database, rows: Sequence[Article]) -> Arrival:
    """Return what taking a supplier's list in would do; nothing is written.

    Raises:
        UserMistake: for a row that cannot be kept, or two rows with one code.
    """
    with database.reading() as connection:
        return _arriving(connection, rows)


def apply_import(
    database: Database,
    rows: Sequence[Article],
    title: str,
    *,
    progress: Progress | None = None,
    at: datetime | None = None,
) -> Batch | None:
    """Take a supplier's list in, all of it or nothing; return nothing where it changes nothing.

    Args:
        database: The file.
        rows: The list.
        title: What it is called, such as the name of its file.
        progress: Told how far it has come; raising from it undoes everything.
        at: When; now when not said.

    Raises:
        UserMistake: as ``preview_import``, or when the engine could not price with the result.
    """
    with database.writing() as connection:
        arrival = _arriving(connection, rows)
        entries = [change.new for change in (*arrival.changed, *arrival.new)]
        if not entries:
            return None
        change = ChangeSet("import", title, entries)
        return book_rows.supersede(connection, change, at=at, progress=progress)


def undo(database: Database, batch: int | None = None, *, at: datetime | None = None) -> Batch:
    """Take the newest change back, as if it had never been; return what was taken back.

    Args:
        database: The file.
        batch: The change meant, to be sure that it is the newest; the newest when not said.
        at: When; now when not said.

    Raises:
        UserMistake: when there is nothing to take back, or something rests on it.
    """
    with database.writing() as connection:
        batches = book_rows.all_batches(connection)
        standing = [one for one in batches if one.undone_at is None]
        meant = [one for one in batches if one.id == batch] if batch is not None else standing
        if not meant:
            raise UserMistake("there is no change of prices to take back", do="change some first")
        book_rows.take_back(connection, meant[-1], at or book_rows.today())
        return meant[-1]


def _uplifted(connection: Connection, uplift: Uplift) -> tuple[Change, ...]:
    if not LEAST_PERCENT <= uplift.percent <= MOST_PERCENT:
        raise UserMistake(
            f"{uplift.percent:+f} per cent is out of bounds",
            do=f"choose from {LEAST_PERCENT} to {MOST_PERCENT}",
        )
    entries = book_rows.whole(connection, book_rows.numbered(connection, None).id)
    priced = [entry for entry in entries if _is_meant(entry, uplift.group) and entry.amounts]
    if not priced:
        raise UserMistake(
            f"no prices are in the group '{uplift.group}'" if uplift.group else "no prices to lift",
            do="choose one of the groups of the catalogue",
        )
    changes = (Change(entry, book_parts.multiplied(entry, uplift.percent)) for entry in priced)
    return tuple(change for change in changes if change.new != change.old)


def _is_meant(entry: Entry, group: str) -> bool:
    if group:
        return entry.group.casefold() == group.casefold()
    is_bought = entry.kind in {*SOLD, Kind.PLANT}
    return is_bought or (entry.kind is Kind.SETTING and entry.code in BOUGHT_SETTINGS)


def _arriving(connection: Connection, rows: Sequence[Article]) -> Arrival:
    _check(rows)
    known = _known(connection, rows)
    changes = [_arrived(article, known.get(article.key)) for article in rows]
    return Arrival(
        tuple(change for change in changes if change.old is None),
        tuple(change for change in changes if change.old not in {None, change.new}),
        sum(change.old == change.new for change in changes),
    )


def _check(rows: Iterable[Article]) -> None:
    """Refuse what could not be kept, or would be kept twice."""
    seen: dict[tuple[str, str], int] = {}
    for article in rows:
        where = f"row {article.row}"
        if not article.key[1].strip():
            raise UserMistake(f"{where} has neither code nor title", do="write one")
        if article.price.pence < 0:
            raise UserMistake(f"{where} has a price below nothing", do="write what a pack costs")
        if article.pack_size <= 0:
            raise UserMistake(f"{where} has nothing in its pack", do="write how much is in it")
        if article.key in seen:
            raise UserMistake(
                f"rows {seen[article.key]} and {article.row} are both '{article.key[1]}'",
                do="keep one of them",
            )
        seen[article.key] = article.row


def _known(connection: Connection, rows: Sequence[Article]) -> dict[tuple[str, str], Entry]:
    """Return what the newest book has of the articles of a list, by supplier and code."""
    book = book_rows.numbered(connection, None)
    # As one parameter: a list may have more rows than a statement may have parameters.
    codes = func.json_each(json.dumps([article.key[1] for article in rows])).table_valued("value")
    wanted = book_rows.rates_in(book.id).where(
        CatalogueItems.kind.in_([kind.value for kind in SOLD]),
        CatalogueItems.supplier.in_(sorted({article.supplier for article in rows})),
        CatalogueItems.code.in_(select(codes.c.value)),
    )
    entries = book_rows.entries_for(connection, wanted)
    # Where two kinds share a code, what the engine prices with comes first.
    in_order = sorted(entries, key=lambda entry: SOLD.index(entry.kind), reverse=True)
    return {(entry.supplier, entry.code): entry for entry in in_order}


def _arrived(article: Article, old: Entry | None) -> Change:
    """Return what becomes of an entry when an article of its code arrives."""
    supplier, code = article.key
    old_or_new = old or Entry(Kind.ITEM, code, article.title, supplier)
    # A list without some column says nothing about it: what is known stays.
    told = replace(
        old_or_new,
        title=article.title or old_or_new.title,
        group=article.group or old_or_new.group,
        unit=article.unit,
        unit_code=article.unit_code or book_parts.code_of(article.unit),
        pack=article.pack or old_or_new.pack,
        pack_size=_size(article.pack_size, old_or_new.pack_size),
        price=article.price,
        source=old_or_new.source or "supplier",
        notes=article.notes or old_or_new.notes,
        confirmed=True,
    )
    new = told if told.kind is Kind.ITEM else _priced_with(told)
    # A price merely repeated confirms nothing: the catalogue may have been written out and read
    # back with its illustrations in it.
    if old is not None and not old.confirmed and replace(new, confirmed=False) == old:
        new = old
    return Change(old, new, article.row)


def _priced_with(told: Entry) -> Entry:
    """Return an entry of the engine's with what a list says of it written into its body."""
    body = json.loads(told.body)
    price = str(told.price or Money(0))
    if told.kind is Kind.BAR:
        return book_parts.with_body(told, {**body, "price": _as_written(price, body["price"])})
    said = {
        "title": told.title,
        "unit": told.unit,
        "pack": told.pack,
        "pack_size": told.pack_size,
        "pack_price": _as_written(price, body["pack_price"]),
    }
    return book_parts.with_body(told, {**body, **said})


def _as_written(price: str, before: object) -> object:
    """Return a price as it stands in a body already, where it is the same."""
    return before if Decimal(str(before)) == Decimal(price) else price


def _size(size: Decimal, before: str) -> str:
    """Return a pack size as text: as before where it is the same."""
    if before and Decimal(before) == size:
        return before
    return f"{size.normalize():f}"
