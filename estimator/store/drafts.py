"""Drafts: what is half typed, kept so that nothing typed is lost."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.dialects.sqlite import insert

from estimator.store import clock
from estimator.store.clock import Clock
from estimator.store.tables import Drafts
from estimator.store.typed import kept
from estimator.store.within import Place, reading, writing


@dataclass(frozen=True, slots=True)
class Draft:
    """Something half typed, as JSON, under the name of the form it belongs to."""

    key: str
    document: str
    changed_at: datetime


def keep(place: Place, key: str, document: str, *, now: Clock = clock.now) -> None:
    """Keep a draft over the one that was there.

    Raises:
        UserMistake: for a text that no file can hold.
    """
    values = {"document": kept(document, "the draft"), "changed_at": now()}
    wanted = insert(Drafts).values(key=key, **values)
    with writing(place) as connection:
        connection.execute(wanted.on_conflict_do_update(index_elements=["key"], set_=values))


def load(place: Place, key: str) -> str | None:
    """Return a draft, or None where there is none of that name."""
    with reading(place) as connection:
        return connection.scalar(select(Drafts.document).where(Drafts.key == key))


def drop(place: Place, key: str) -> None:
    """Throw a draft away; nothing happens when there is none."""
    with writing(place) as connection:
        connection.execute(delete(Drafts).where(Drafts.key == key))


def every(place: Place) -> tuple[Draft, ...]:
    """Return all drafts by name."""
    wanted = select(Drafts.key, Drafts.document, Drafts.changed_at).order_by(Drafts.key)
    with reading(place) as connection:
        return tuple(
            Draft(row.key, row.document, row.changed_at) for row in connection.execute(wanted)
        )
