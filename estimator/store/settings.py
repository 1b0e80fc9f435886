"""What the firm set: itself and its logo, its terms and rules, how its window looks.

Each setting is one JSON text under its name. They are the firm's own and hold no customer.
"""

from __future__ import annotations

from sqlalchemy import delete, select
from sqlalchemy.dialects.sqlite import insert

from estimator.store import clock
from estimator.store.clock import Clock
from estimator.store.tables import Settings
from estimator.store.typed import kept
from estimator.store.within import Place, reading, writing


def load(place: Place, key: str) -> str | None:
    """Return a setting, or None where it was never set."""
    with reading(place) as connection:
        return connection.scalar(select(Settings.document).where(Settings.key == key))


def keep(place: Place, key: str, document: str, *, now: Clock = clock.now) -> None:
    """Keep a setting over what it was.

    Raises:
        UserMistake: for a text that no file can hold.
        WorldFault: when the disk would not take it.
    """
    values = {"document": kept(document, "the setting"), "changed_at": now()}
    wanted = insert(Settings).values(key=key, **values)
    with writing(place) as connection:
        connection.execute(wanted.on_conflict_do_update(index_elements=["key"], set_=values))


def drop(place: Place, key: str) -> None:
    """Forget a setting, so that what ships holds again; nothing happens when there is none."""
    with writing(place) as connection:
        connection.execute(delete(Settings).where(Settings.key == key))


def every(place: Place) -> dict[str, str]:
    """Return all settings by name."""
    wanted = select(Settings.key, Settings.document).order_by(Settings.key)
    with reading(place) as connection:
        return {row.key: row.document for row in connection.execute(wanted)}
