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


def rows(raw: sqlite3.Connection, table: str) -> list[list[Any]]:
    """Return the rows of a table in order, with bytes as their hexadecimal digits."""
    found = raw.execute(f"SELECT * FROM {table} ORDER BY 1, 2").fetchall()
    return [[one.hex() if isinstance(one, bytes) else one for one in row] for row in found]


def dump(raw: sqlite3.Connection) -> dict[str, list[list[Any]]]:
    """Return everything people put into an open file."""
    return {table: rows(raw, table) for table in BUSINESS}


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
