"""A supplier's file into a sheet: text tables and workbooks, told apart by what is in them."""

from __future__ import annotations

from types import MappingProxyType

from estimator.exchange import csv_text, figures, headings, workbook
from estimator.exchange.packs import shown
from estimator.exchange.price_list import HEADINGS, Matching, Sheet
from estimator.notices import UserMistake

MOST_BYTES = 10_000_000
"""Largest file read [byte]."""
SIGNS = MappingProxyType({".": "a point", ",": "a comma", "": "a sign nothing here settles"})
"""What begins the decimals, in words."""
ARCHIVE = b"PK"
_OTHERS = (
    (b"%PDF", "is a PDF", "ask the supplier for a spreadsheet or CSV"),
    (b"\xd0\xcf\x11\xe0", "is an old or locked workbook", "save it as .xlsx or CSV, unlocked"),
    (b"SQLite format 3\x00", "is a database", "choose the supplier's list"),
    (b"\x1f\x8b", "is packed", "unpack it first"),
    (b"\x89PNG", "is a picture", "ask the supplier for a spreadsheet or CSV"),
    (b"\xff\xd8\xff", "is a picture", "ask the supplier for a spreadsheet or CSV"),
    (b"{\\rtf", "is a letter", "ask the supplier for a spreadsheet or CSV"),
)


def read_sheet(data: bytes, name: str) -> Sheet:
    r"""Return the cells of a price list, and in words what was found out about its file.

    Raises:
        UserMistake: for what is no list, is broken, or is past the limits.

    >>> read_sheet(b"Code,Description,Price\nA1,Lime,9.50\n", "list.csv").how
    'CSV in UTF-8, cells parted by commas, decimals begun by a point, headings in row 1'
    """
    name = shown(name)
    if not data:
        raise UserMistake(f"'{name}' is empty", do="ask the supplier for the list again")
    if len(data) > MOST_BYTES:
        raise UserMistake(
            f"'{name}' is larger than {MOST_BYTES // 1_000_000} MB",
            do="delete pictures and sheets that are not needed, or save it as CSV",
        )
    for start, what, do in _OTHERS:
        if data.startswith(start):
            raise UserMistake(f"'{name}' {what}", do=do)
    return _from_workbook(data) if data.startswith(ARCHIVE) else _from_text(data)


def _from_workbook(data: bytes) -> Sheet:
    cells, told, numbers = workbook.table(data)
    return _understood(cells, f"workbook, {told}", numbers)


def _from_text(data: bytes) -> Sheet:
    text, letters = csv_text.decoded(data)
    rows, parted = csv_text.table(text)
    if not rows:
        raise UserMistake("this file has nothing in it", do="ask the supplier for the list again")
    cells = tuple(rows)
    return _understood(cells, f"CSV in {letters}, cells parted by {parted}", frozenset())


def _understood(
    cells: tuple[tuple[str, ...], ...], how: str, numbers: frozenset[tuple[int, int]]
) -> Sheet:
    """Return a sheet with its decimal sign and its headings told too."""
    matching = headings.find(cells)
    ours = cells[0] == HEADINGS
    if ours:
        return Sheet(cells, f"{how}, a catalogue of this program", numbers, ours=True)
    sheet = Sheet(cells, how, numbers)
    if matching is None:
        return Sheet(cells, f"{how}, headings not found", numbers)
    sign = decimal_sign(sheet, matching)
    figures_told = f"decimals begun by {SIGNS[sign]}"
    if not sign and any(column == matching.price for _row, column in numbers):
        figures_told = "prices kept as numbers"
    told = f"{how}, {figures_told}, headings in row {matching.heading_row}"
    return Sheet(cells, told, numbers)


def decimal_sign(sheet: Sheet, matching: Matching) -> str:
    r"""Return the sign that begins decimals, settled by the prices, else by the pack sizes.

    >>> sheet = read_sheet(b"Item;Price\nLime;9,50\n", "list.csv")
    >>> decimal_sign(sheet, Matching(None, 0, None, None, 1, heading_row=1))
    ','
    """
    if sheet.ours:
        return "."
    for column in (matching.price, matching.pack_size):
        texts = (
            row[column]
            for at, row in enumerate(sheet.cells[matching.heading_row :], matching.heading_row)
            if column is not None and column < len(row) and (at, column) not in sheet.numbers
        )
        sign = figures.decimal_sign(texts)
        if sign:
            return sign
    return ""
