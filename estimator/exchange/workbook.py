"""Workbooks (XLSX and ODS) into cells of text, once the guard has looked them through."""

from __future__ import annotations

import datetime
import io
from typing import TYPE_CHECKING

from estimator.exchange import headings
from estimator.exchange.price_list import MOST_COLUMNS, MOST_LETTERS, MOST_ROWS
from estimator.exchange.workbook_guard import (
    BROKEN,
    LESS,
    MOST_LINES,
    MOST_SHEETS,
    SAVE_AGAIN,
    looked_through,
)
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from python_calamine import CalamineSheet, CalamineWorkbook

Kept = int | float | str | bool | datetime.time | datetime.date | datetime.timedelta
"""What a workbook keeps in a cell."""
Cells = tuple[tuple[str, ...], ...]
Places = frozenset[tuple[int, int]]


def table(data: bytes) -> tuple[Cells, str, Places]:
    """Return the cells of the sheet that looks like a price list, its name, and its numbers.

    The first sheet with headings is taken, or else the first that holds anything.

    Raises:
        UserMistake: for a workbook that is broken, empty or past the limits.
    """
    # Loaded only here: a start of the program need not wait for it.
    from python_calamine import CalamineError, load_workbook  # noqa: PLC0415

    safe = looked_through(data)
    try:
        with load_workbook(io.BytesIO(safe)) as book:
            return _best_sheet(book)
    except (CalamineError, OSError, ValueError) as error:
        raise UserMistake(BROKEN, do=SAVE_AGAIN) from error


def _best_sheet(book: CalamineWorkbook) -> tuple[Cells, str, Places]:
    names = book.sheet_names
    if len(names) > MOST_SHEETS:
        raise UserMistake(f"this workbook has more than {MOST_SHEETS} sheets", do=LESS)
    first: tuple[Cells, str, Places] | None = None
    for position, name in enumerate(names):
        cells, numbers = _cells(book.get_sheet_by_index(position))
        told = f"sheet '{name}'" + (f" of {len(names)}" if len(names) > 1 else "")
        if headings.find(cells) is not None:
            return cells, told, numbers
        if cells and first is None:
            first = cells, told, numbers
    if first is None:
        raise UserMistake("this workbook has nothing in it", do="ask the supplier for it again")
    return first


def _cells(sheet: CalamineSheet) -> tuple[Cells, Places]:
    """Return a sheet as text, with the places of its numbers."""
    if sheet.end is None:
        return (), frozenset()
    if sheet.end[0] >= MOST_LINES:
        raise UserMistake(f"this workbook has more than {MOST_ROWS:,} rows", do=LESS)
    if sheet.end[1] >= MOST_COLUMNS:
        raise UserMistake(f"this workbook has more than {MOST_COLUMNS} columns", do=LESS)
    kept = sheet.to_python(skip_empty_area=False)
    cells = tuple(tuple(map(as_text, row)) for row in kept)
    for number, row in enumerate(cells, start=1):
        if max(map(len, row)) > MOST_LETTERS:
            raise UserMistake(
                f"a cell in row {number} has more than {MOST_LETTERS:,} letters", do="shorten it"
            )
    return cells, frozenset(
        (at, column)
        for at, row in enumerate(kept)
        for column, value in enumerate(row)
        if isinstance(value, int | float) and not isinstance(value, bool)
    )


def as_text(value: Kept) -> str:
    """Return what a workbook keeps as the text its reader sees, numbers with a point.

    Fifteen digits are what spreadsheets keep, so sums off by a binary hair come out clean.

    >>> as_text(1001.0), as_text(0.1 + 0.2), as_text(1e-05), as_text(True)
    ('1001', '0.3', '0.00001', 'yes')
    """
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return _figure(value)
    return str(value)


def _figure(value: float) -> str:
    short = f"{value:.15g}"
    if "e" not in short:
        return short
    # Neither a price nor a pack is that large; as it stands it is told as no number.
    return f"{value:.15f}".rstrip("0").rstrip(".") if abs(value) < 1 else short
