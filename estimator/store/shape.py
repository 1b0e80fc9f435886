"""The shape of a file: its tables, indexes, guards and views, and whether they are all ours.

A file from somebody else could carry triggers or views that act when it is used. So what it holds
is compared with what our own migrations make, and anything more, less or different is refused.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from pathlib import Path

from sqlalchemy import StaticPool, create_engine

from estimator.store import migrations

KEPT_BY_SQLITE = {"sqlite_stat1", "sqlite_stat4", "sqlite_sequence"}
"""Tables SQLite makes for itself; nobody else can use such names."""

STORED = Path(__file__).parent / "migrations" / "shapes.json"
"""The shapes of every version, written by ``python -m estimator.store.shape``."""

Shape = dict[tuple[str, str], str]
"""By kind and name: a hash of the words that made it, spaces and quotation marks aside."""


def shape_of(raw: sqlite3.Connection) -> Shape:
    """Return what a file is made of."""
    shape = {}
    virtual = set()
    for kind, name, words in raw.execute("SELECT type, name, sql FROM sqlite_schema"):
        if words is not None and str(words).upper().startswith("CREATE VIRTUAL TABLE"):
            virtual.add(str(name))
        plain = " ".join(str(words or "").replace('"', "").split())
        shape[(str(kind), str(name))] = hashlib.sha256(plain.encode()).hexdigest()[:32]
    # The word indexes keep tables of their own, whose words differ between versions of SQLite.
    for kind, name in shape:
        if kind == "table" and any(name.startswith(f"{one}_") for one in virtual):
            shape[(kind, name)] = "kept by a word index"
    return {key: words for key, words in shape.items() if not _is_kept_by_sqlite(*key)}


def own_shape(version: int) -> Shape:
    """Return what a file of some version is made of.

    Making one takes a quarter of a second, so the shapes are stored. They are believed only while
    the scripts are those they were made from; else a file is made in memory and looked at.
    """
    stored = json.loads(STORED.read_text(encoding="utf-8")) if STORED.exists() else {}
    if stored.get("scripts") != migrations.fingerprint():
        return made_shape(version)
    return {
        (kind, name): words
        for kind, things in stored["versions"][str(version)].items()
        for name, words in things.items()
    }


def made_shape(version: int) -> Shape:
    """Return what a new file of some version is made of, by making one in memory."""
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


def store_shapes() -> None:
    """Write down the shapes of every version, for the scripts as they are."""
    versions: dict[int, dict[str, dict[str, str]]] = {}
    for version in range(1, migrations.HEAD + 1):
        for (kind, name), words in sorted(made_shape(version).items()):
            versions.setdefault(version, {}).setdefault(kind, {})[name] = words
    told = {"scripts": migrations.fingerprint(), "versions": versions}
    STORED.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


def _is_kept_by_sqlite(kind: str, name: str) -> bool:
    """Tell whether SQLite made it: its statistics, and the index behind a constraint."""
    if kind == "table":
        return name in KEPT_BY_SQLITE
    return kind == "index" and name.startswith("sqlite_autoindex_")


if __name__ == "__main__":
    store_shapes()
