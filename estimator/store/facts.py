"""Small facts about the file itself."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.dialects.sqlite import insert

from estimator.store.tables import Facts
from estimator.store.within import Place, reading, writing


def once(place: Place, name: str) -> bool:
    """Return True the first time a name is asked about, and remember that it was.

    Raises:
        WorldFault: when the disk would not take it.
    """
    if load(place, name) is not None:
        return False
    keep(place, name, "1")
    return True


def keep(place: Place, name: str, value: str) -> None:
    """Keep a fact over what it was; one that is so already costs no change of the file.

    Raises:
        WorldFault: when the disk would not take it.
    """
    if load(place, name) == value:
        return
    wanted = insert(Facts).values(name=name, value=value)
    with writing(place) as connection:
        connection.execute(
            wanted.on_conflict_do_update(index_elements=["name"], set_={"value": value})
        )


def load(place: Place, name: str) -> str | None:
    """Return a fact, or None where it is not known."""
    with reading(place) as connection:
        return connection.scalar(select(Facts.value).where(Facts.name == name))
