"""A store is given the file, or a transaction under way that several stores share."""

from __future__ import annotations

from contextlib import AbstractContextManager, nullcontext

from sqlalchemy import Connection

from estimator.store.database import Database

Place = Database | Connection
"""Where to look or write: the file itself, or a transaction that somebody else will end."""


def reading(place: Place) -> AbstractContextManager[Connection]:
    """Look at the file, or go on looking in a transaction under way."""
    return place.reading() if isinstance(place, Database) else nullcontext(place)


def writing(place: Place) -> AbstractContextManager[Connection]:
    """Change the file in a transaction of its own, or as a part of one under way."""
    return place.writing() if isinstance(place, Database) else nullcontext(place)
