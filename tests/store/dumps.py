"""What a file holds, as plain values two of which can be compared."""

from __future__ import annotations

import hashlib
import sqlite3
from pathlib import Path
from typing import Any

BUSINESS = (
    "batches",
    "catalogue_items",
    "catalogue_rates",
    "customers",
    "drafts",
    "facts",
    "issued_papers",
    "jobs",
    "number_series",
    "numbers",
    "price_books",
    "surveys",
)
"""The tables of the first version: what must never be lost, whatever comes to lie beside them."""
LATER = ("settings", "photos", "happenings")
"""Tables of later versions; left out while empty, so that a file compares with its younger self."""
LATER_COLUMNS = {("jobs", "choices")}
"""Columns a table was given later; left out of a row where they are empty."""


def rows(raw: sqlite3.Connection, table: str) -> list[list[Any]]:
    """Return the rows of a table in order, with bytes as their hexadecimal digits."""
    found = raw.execute(f"SELECT * FROM {table} ORDER BY 1, 2")
    later = [(table, column[0]) in LATER_COLUMNS for column in found.description]
    return [
        [
            one.hex() if isinstance(one, bytes) else one
            for one, is_later in zip(row, later, strict=True)
            if one or not is_later
        ]
        for row in found
    ]


def dump(raw: sqlite3.Connection) -> dict[str, list[list[Any]]]:
    """Return everything people put into an open file."""
    there = {name for (name,) in raw.execute("SELECT name FROM sqlite_schema")}
    later = {table: rows(raw, table) for table in LATER if table in there}
    return {table: rows(raw, table) for table in BUSINESS} | {
        table: held for table, held in later.items() if held
    }


def dump_at(path: Path) -> dict[str, list[list[Any]]]:
    """Return everything people put into a closed file, whatever its version."""
    raw = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
    try:
        return dump(raw)
    finally:
        raw.close()


def sha(path: Path) -> str:
    """Return the hash of a closed file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()
