"""The catalogue as a table other programs open, and which reads back to exactly the same rows."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator
from decimal import Decimal

from estimator.exchange.formula_guard import guarded
from estimator.exchange.price_list import HEADINGS, PriceRow

SHEET_TITLE = "Catalogue"
_NOT_IN_XML = re.compile("[\x00-\x08\x0b-\x1f]|_(?=x[0-9A-Fa-f]{4}_)")
"""Letters a workbook can only hold spelled out, and texts that look spelled out already."""
_NO_LETTERS = str.maketrans(dict.fromkeys("\ufffe\uffff", "\ufffd"))
"""Two code points Unicode keeps from ever being letters, and XML has no way to spell."""


def to_csv(rows: Iterable[PriceRow]) -> bytes:
    r"""Return a catalogue as CSV: RFC 4180, UTF-8 with the mark by which spreadsheets know it.

    Raises:
        UnicodeEncodeError: for half a letter, which no file can hold.

    >>> to_csv([]).decode("utf-8-sig")
    'Code,Title,Unit,Pack size,Price,Supplier,Group,Notes\r\n'
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_MINIMAL)
    writer.writerow(HEADINGS)
    writer.writerows(
        [cell if isinstance(cell, str) else f"{cell:f}" for cell in _cells(row)] for row in rows
    )
    return out.getvalue().encode("utf-8-sig")


def to_xlsx(rows: Iterable[PriceRow]) -> bytes:
    """Return a catalogue as a workbook: texts are texts whatever they begin with, numbers numbers.

    >>> to_xlsx([])[:2]
    b'PK'
    """
    # Loaded only here: it takes longer than everything else of an export.
    from openpyxl import Workbook  # noqa: PLC0415
    from openpyxl.cell import WriteOnlyCell  # noqa: PLC0415

    book = Workbook(write_only=True)
    sheet = book.create_sheet(SHEET_TITLE)
    sheet.append(HEADINGS)
    for row in rows:
        cells = []
        for value in _cells(row):
            # A workbook keeps binary numbers whatever is handed over; fifteen digits come back.
            kept = _spelled(value) if isinstance(value, str) else float(value)
            cell = WriteOnlyCell(sheet, value=kept)
            cell.data_type = "s" if isinstance(value, str) else "n"
            cells.append(cell)
        sheet.append(cells)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _cells(row: PriceRow) -> Iterator[str | Decimal]:
    """Return a row's cells in the order of the headings; texts guarded, numbers as they are."""
    yield guarded(row.code)
    yield guarded(row.title)
    yield guarded(row.unit)
    yield row.pack_size
    yield row.price.pounds
    yield guarded(row.supplier)
    yield guarded(row.group)
    yield guarded(row.notes)


def _spelled(text: str) -> str:
    """Return a text with letters XML cannot hold spelled out (ISO/IEC 29500-1, ST_Xstring)."""
    return _NOT_IN_XML.sub(lambda found: f"_x{ord(found[0]):04X}_", text.translate(_NO_LETTERS))
