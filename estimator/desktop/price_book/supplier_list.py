"""A supplier's list read and matched; runs in a worker, so that a long one holds nothing up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from estimator.exchange import headings, matching, reading
from estimator.exchange.price_list import Matching, Preview, Sheet
from estimator.notices import UserMistake, WorldFault

COLUMNS = ("title", "price", "code", "unit", "pack_size", "supplier", "group", "notes")
"""What a column can hold, the two that must be there first."""
LETTERS = 24
"""Most letters of a heading shown."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A list as it was read."""

    sheet: Sheet
    preview: Preview | None
    """Nothing while it is not known which column holds what."""
    why_not: str = ""


def read(path: Path, supplier: str, chosen: Mapping[str, int] | None, heading_row: int) -> Listed:
    """Return a list, by the columns chosen or else by its headings.

    Raises:
        UserMistake: for a file that cannot be read, or is no list.
    """
    try:
        with path.open("rb") as file:
            data = file.read(reading.MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise WorldFault(
            f"the list '{path.name}' could not be read", do="check its name and folder"
        ) from error
    sheet = reading.read_sheet(data, path.name)
    try:
        by = headings.matching_of(chosen, heading_row) if chosen is not None else None
        return Listed(sheet, matching.preview(sheet, by, supplier))
    except KeyError:
        return Listed(sheet, None, "Say which column holds the description and which the price.")
    except UserMistake as mistake:
        return Listed(sheet, None, str(mistake))


def names_of_columns(sheet: Sheet, found: Matching | None) -> tuple[str, ...]:
    """Return what each column of a sheet is called: its letter and its heading.

    >>> names_of_columns(Sheet((("Code", "Price"), ("A1", "9.50")), ""), None)
    ('A: Code', 'B: Price')
    """
    row = found.heading_row - 1 if found is not None and found.heading_row else 0
    heads: Sequence[str] = sheet.cells[row] if sheet.cells else ()
    width = max(map(len, sheet.cells), default=0)
    named = (heads[at].strip() if at < len(heads) else "" for at in range(width))
    return tuple(f"{_letter(at)}: {name[:LETTERS]}" for at, name in enumerate(named))


def columns_in(found: Matching) -> dict[str, int]:
    """Return which column holds what, by name."""
    held = {name: getattr(found, name) for name in COLUMNS}
    return {name: column for name, column in held.items() if column is not None}


def _letter(at: int) -> str:
    high, low = divmod(at, 26)
    return (chr(64 + high) if high else "") + chr(65 + low)
