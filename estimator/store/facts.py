"""Small facts about the file itself."""

from __future__ import annotations

from sqlalchemy import insert, select

from estimator.store.tables import Facts
from estimator.store.within import Place, reading, writing


def once(place: Place, name: str) -> bool:
    """Return True the first time a name is asked about, and remember that it was.

    Raises:
        WorldFault: when the disk would not take it.
    """
    with reading(place) as connection:
        known = connection.scalar(select(Facts.value).where(Facts.name == name))
    if known is not None:
        return False
    with writing(place) as connection:
        connection.execute(insert(Facts).values(name=name, value="1"))
    return True
