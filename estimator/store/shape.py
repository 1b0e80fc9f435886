"""The shape of a file: its tables, indexes, guards and views, and whether they are all ours.

A file from somebody else could carry triggers or views that act when it is used. So what it holds
is compared with what our own migrations make, and anything more, less or different is refused.
"""

from __future__ import annotations

import sqlite3

from sqlalchemy import StaticPool, create_engine

from estimator.store import migrations

KEPT_BY_SQLITE = {"sqlite_stat1", "sqlite_stat4", "sqlite_sequence"}
"""Tables SQLite makes for itself; nobody else can use such names."""

Shape = dict[tuple[str, str], str]
"""By kind and name: the words that made it, spaces aside."""


def shape_of(raw: sqlite3.Connection) -> Shape:
    """Return what a file is made of."""
    shape = {}
    virtual = set()
    for kind, name, words in raw.execute("SELECT type, name, sql FROM sqlite_schema"):
        if words is not None and str(words).upper().startswith("CREATE VIRTUAL TABLE"):
            virtual.add(str(name))
        shape[(str(kind), str(name))] = " ".join(str(words or "").replace('"', "").split())
    # The word indexes keep tables of their own, whose words differ between versions of SQLite.
    for kind, name in shape:
        if kind == "table" and any(name.startswith(f"{one}_") for one in virtual):
            shape[(kind, name)] = "kept by a word index"
    return {key: words for key, words in shape.items() if not _is_kept_by_sqlite(*key)}


def own_shape(version: int) -> Shape:
    """Return what a new file of some version is made of."""
    with sqlite3.connect(":memory:", isolation_level=None) as raw:
        engine = create_engine("sqlite://", creator=lambda: raw, poolclass=StaticPool)
        with engine.connect() as connection:
            migrations.upgrade(connection, to=version)
        shape = shape_of(raw)
    engine.dispose()
    raw.close()
    return shape


def strangers_in(raw: sqlite3.Connection, version: int) -> list[str]:
    """Return what is in a file and not ours, or ours and not in it; nothing for a sound file."""
    found, own = shape_of(raw), own_shape(version)
    return [
        f"{kind} {name[:60]}"
        for kind, name in sorted(found.keys() | own.keys())
        if found.get((kind, name)) != own.get((kind, name))
    ]


def _is_kept_by_sqlite(kind: str, name: str) -> bool:
    """Tell whether SQLite made it: its statistics, and the index behind a constraint."""
    if kind == "table":
        return name in KEPT_BY_SQLITE
    return kind == "index" and name.startswith("sqlite_autoindex_")
