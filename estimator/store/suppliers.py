"""Who sells what is bought: the firm's own habit, part of no price book and no contract.

A setting holds the name for each material, and the newest changes, so that each is taken back.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select

from estimator.notices import UserMistake
from estimator.store import book_rows, clock, settings
from estimator.store.book_parts import Kind
from estimator.store.clock import Clock
from estimator.store.tables import CatalogueItems, CatalogueRates
from estimator.store.typed import kept
from estimator.store.within import Place, reading, writing
from estimator.works.suppliers import MOST_LETTERS, distinct, folded, tidy

SUPPLIERS = "suppliers"
"""Name of the setting."""
MOST_CHANGES = 50
"""Changes that can be taken back, the newest; a house rule."""


@dataclass(frozen=True, slots=True)
class SupplierChange:
    """One change of who sells something."""

    at: str
    """When, as ISO 8601 text."""
    material: str
    """Key in the price book."""
    title: str
    """What it was called then."""
    now: str
    """Who sells it from then on; empty for the merchant."""
    before: Mapping[str, str]
    """The names this one took the place of, by material; empty where nobody was named."""

    @property
    def moment(self) -> datetime:
        """When."""
        return datetime.fromisoformat(self.at)


def bought_from(place: Place) -> dict[str, str]:
    """Return who sells a material, by its key; those of the merchant are not in it."""
    return _held(place)[0]


def last_change(place: Place) -> SupplierChange | None:
    """Return the newest change that stands, or nothing."""
    changes = _held(place)[1]
    return changes[-1] if changes else None


def names(place: Place) -> tuple[str, ...]:
    """Return every supplier named so far, and everyone whose price list was taken in, by name."""
    of_lists = (
        select(CatalogueItems.supplier)
        .where(CatalogueItems.kind == Kind.ITEM.value, CatalogueItems.supplier != "")
        .distinct()
    )
    with reading(place) as connection:
        listed = connection.scalars(of_lists).all()
    return tuple(sorted(distinct([*bought_from(place).values(), *listed]), key=folded))


def on_lists(place: Place, material: str) -> tuple[str, ...]:
    """Return whose price lists have an article of a material's code, the newest list first."""
    with reading(place) as connection:
        book = book_rows.numbered(connection, None)
        wanted = book_rows.rates_in(book.id).where(
            CatalogueItems.kind == Kind.ITEM.value, CatalogueItems.code == material
        )
        newest = wanted.order_by(CatalogueRates.book_id.desc(), CatalogueItems.supplier)
        return distinct(one.supplier for one in book_rows.entries_for(connection, newest))


def keep(
    place: Place, material: str, title: str, name: str, *, now: Clock = clock.now
) -> SupplierChange | None:
    """Keep who sells a material; return nothing where that changes nothing.

    A name that stands elsewhere in other capitals is written as it is there; written anew where it
    stands itself, it is written so everywhere.

    Args:
        place: The file.
        material: Key in the price book.
        title: What it is called.
        name: As typed; empty for the merchant.
        now: Gives the time.

    Raises:
        UserMistake: for a name too long, or one that no file can hold.
    """
    wanted = tidy(kept(name, "the supplier's name"))
    if len(wanted) > MOST_LETTERS:
        raise UserMistake(
            f"the supplier's name has {len(wanted)} letters",
            why=f"a heading of the buying list has room for {MOST_LETTERS}",
            do="shorten it",
        )
    with writing(place) as connection:
        held, changes = _held(connection)
        same = {key: had for key, had in held.items() if folded(had) == folded(wanted)}
        if same and material not in same:
            wanted = next(iter(same.values()))
        before = {
            key: held.get(key, "") for key in (material, *same) if held.get(key, "") != wanted
        }
        if not before:
            return None
        change = SupplierChange(now().isoformat(), material, title, wanted, before)
        stands = {**held, **dict.fromkeys(before, wanted)}
        _write(connection, stands, (*changes, change)[-MOST_CHANGES:], now)
        return change


def undo(place: Place, *, now: Clock = clock.now) -> SupplierChange:
    """Take the newest change back, as if it had never been; return what was taken back.

    Raises:
        UserMistake: when there is none.
    """
    with writing(place) as connection:
        held, changes = _held(connection)
        if not changes:
            raise UserMistake("there is no supplier to take back", do="name one first")
        _write(connection, {**held, **changes[-1].before}, changes[:-1], now)
        return changes[-1]


def _held(place: Place) -> tuple[dict[str, str], tuple[SupplierChange, ...]]:
    told: dict[str, Any] = json.loads(settings.load(place, SUPPLIERS) or "{}")
    changes = tuple(SupplierChange(**one) for one in told.get("changes", ()))
    return dict(told.get("bought_from", {})), changes


def _write(
    place: Place, held: Mapping[str, str], changes: tuple[SupplierChange, ...], now: Clock
) -> None:
    told = {
        "bought_from": {key: name for key, name in held.items() if name},
        "changes": [asdict(one) for one in changes],
    }
    settings.keep(place, SUPPLIERS, json.dumps(told, ensure_ascii=False), now=now)
