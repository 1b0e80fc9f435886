"""The catalogue out and in again: the same rows, and nothing a spreadsheet would run.

Lead letters after OWASP, CSV injection, and ASVS 5.0 §1.2.10 (reliability table, row 23).
"""

from __future__ import annotations

import csv
import io
import random
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.exchange.catalogue_out import to_csv, to_xlsx
from estimator.exchange.formula_guard import LEADS, guarded, unguarded
from estimator.exchange.matching import preview
from estimator.exchange.price_list import HEADINGS, PriceRow
from estimator.exchange.reading import read_sheet
from estimator.money import Money
from tests.exchange import made_up

TEXT_COLUMNS = ("code", "title", "supplier", "group", "notes")
"""The unit is a text too, but one of a fixed few."""
Out = Callable[[Iterable[PriceRow]], bytes]
FORMATS = pytest.mark.parametrize("out", [to_csv, to_xlsx])
ROW = PriceRow(2, "L1", "Lime", "kg", Decimal(25), Money(950), "Sample", "Limes", "dry")


def back(data: bytes) -> tuple[PriceRow, ...]:
    found = preview(read_sheet(data, "catalogue"))
    assert not found.problems
    return found.rows


def cells_in(data: bytes) -> list[list[object]]:
    """The cells as another reader sees them; of a workbook, with the kind of each."""
    if data.startswith(b"PK"):
        sheet = openpyxl.load_workbook(io.BytesIO(data)).active
        assert sheet is not None
        return [[(cell.data_type, cell.value) for cell in row] for row in sheet.iter_rows()]
    return [list(row) for row in csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""))]


@FORMATS
def test_1000_random_rows_come_back_the_same(out: Out) -> None:
    rows = made_up.rows(1000, random.Random(23))
    assert list(back(out(rows))) == rows


@FORMATS
@pytest.mark.parametrize("column", TEXT_COLUMNS)
@pytest.mark.parametrize("lead", LEADS)
def test_no_text_can_run_and_each_comes_back(out: Out, column: str, lead: str) -> None:
    row = replace(ROW, **{column: f"{lead}cmd|' /C calc'!A0"})
    data = out([row])
    cell = cells_in(data)[1][TEXT_COLUMNS_AT[column]]
    written = cell[1] if isinstance(cell, tuple) else cell
    assert written is not None
    assert str(written).startswith("'")
    assert not isinstance(cell, tuple) or cell[0] == "s"
    assert back(data) == (row,)


TEXT_COLUMNS_AT = {name: HEADINGS.index(name.capitalize()) for name in TEXT_COLUMNS}


def test_numbers_stay_numbers_in_a_workbook() -> None:
    cells = cells_in(to_xlsx([ROW]))[1]
    assert cells[3:5] == [("n", 25), ("n", 9.5)]


def test_csv_is_as_rfc_4180_and_known_by_its_mark() -> None:
    data = to_csv([replace(ROW, notes='6" bolster, steel')])
    assert data.startswith(b"\xef\xbb\xbfCode,Title,")
    assert data.endswith(b'"6"" bolster, steel"\r\n')
    assert data.count(b"\r\n") == 2


@FORMATS
def test_an_empty_catalogue_comes_back_empty(out: Out) -> None:
    assert back(out([])) == ()


@given(st.text())
def test_taking_the_guard_off_gives_any_text_back(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(LEADS)


keepable = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\ufffe\uffff"), max_size=40
)


@FORMATS
@given(texts=st.lists(keepable, min_size=5, max_size=5))
def test_any_text_comes_back(out: Out, texts: Sequence[str]) -> None:
    code, title, supplier, group, notes = texts
    row = replace(ROW, code=code, title=f"x{title}", supplier=supplier, group=group, notes=notes)
    assert back(out([row])) == (row,)
