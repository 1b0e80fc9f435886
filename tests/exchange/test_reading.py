"""Files into sheets: letters, delimiters, decimal signs and workbooks, all told in words."""

from __future__ import annotations

import pytest

from estimator.exchange.matching import preview
from estimator.exchange.reading import MOST_BYTES, read_sheet
from estimator.notices import UserMistake
from tests.exchange.mutants import good
from tests.exchange.workbooks import ods, ods_row, packed, row, xlsx, xlsx_parts

TEXT = "Code;Description;Price\nL1;Lime ½;9,50\nS1;Sand;48,00\n"


@pytest.mark.parametrize(
    ("codec", "letters"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8"),
        ("utf-16", "UTF-16"),
        ("cp1252", "Windows-1252"),
    ],
)
def test_letters_are_found_out_and_told(codec: str, letters: str) -> None:
    sheet = read_sheet(TEXT.encode(codec), "list.csv")
    assert sheet.cells[1] == ("L1", "Lime ½", "9,50")
    assert f"CSV in {letters}, cells parted by semicolons" in sheet.how
    assert "decimals begun by a comma, headings in row 1" in sheet.how


def test_utf_16_the_other_way_round_is_read() -> None:
    data = b"\xfe\xff" + TEXT.encode("utf-16-be")
    assert read_sheet(data, "list.csv").cells[2][1] == "Sand"


@pytest.mark.parametrize(
    ("delimiter", "told"), [(",", "commas"), (";", "semicolons"), ("\t", "tabs"), ("|", "bars")]
)
def test_the_sign_between_cells_is_found_out(delimiter: str, told: str) -> None:
    lines = [("Code", "Description", "Price"), ("L1", '"Lime, dry; fine | 25kg"', "9.50")]
    text = "\n".join(delimiter.join(line) for line in lines)
    sheet = read_sheet(text.encode(), "list.csv")
    assert sheet.cells[1] == ("L1", "Lime, dry; fine | 25kg", "9.50")
    assert f"parted by {told}" in sheet.how


def test_commas_in_texts_do_not_outvote_the_semicolons() -> None:
    lines = [f"S{n};Lime, fine, dry, white;{n},50" for n in range(1, 30)]
    sheet = read_sheet("\n".join(["Code;Description;Price", *lines]).encode(), "list.csv")
    assert {len(cells) for cells in sheet.cells} == {3}


def test_a_first_line_may_name_the_sign() -> None:
    sheet = read_sheet(b"sep=;\nDescription;Price\nLime;9,50\n", "list.csv")
    assert sheet.cells[1] == ("Description", "Price")


def test_rows_are_counted_as_a_spreadsheet_counts_them() -> None:
    found = preview(read_sheet(b'Item,Price\n\n"Lime\nfine",9.50\n\nSand,3.00\n', "list.csv"))
    assert [(item.row, item.title) for item in found.rows] == [(3, "Lime fine"), (5, "Sand")]


def test_every_kind_of_good_list_gives_rows() -> None:
    assert all(preview(read_sheet(data, "list")).rows for data in good())


def test_the_sheet_with_headings_is_taken() -> None:
    parts = xlsx_parts(row(1, "Welcome"), sheets=3)
    second = str(
        xlsx_parts(row(1, "Item", "Price") + row(2, "Lime", "9.5"))["xl/worksheets/sheet1.xml"]
    )
    sheet = read_sheet(packed(parts | {"xl/worksheets/sheet2.xml": second}), "list.xlsx")
    assert sheet.cells[1] == ("Lime", "9.5")
    assert "workbook, sheet 'sheet2' of 3" in sheet.how


def test_numbers_of_a_workbook_are_in_no_doubt() -> None:
    rows = row(1, "Item", "Price") + row(2, "Lime", "1.234") + row(3, "Sand", "1234")
    found = preview(read_sheet(xlsx(rows), "list.xlsx"))
    assert [str(item.price) for item in found.rows] == ["1.23", "1234.00"]
    assert "prices kept as numbers" in found.sheet.how


def test_texts_beside_numbers_keep_their_own_decimal_sign() -> None:
    rows = row(1, "Item", "Price") + row(2, "Lime", "9,50") + row(3, "Sand", "1.25")
    found = preview(read_sheet(xlsx(rows), "list.xlsx"))
    assert [str(item.price) for item in found.rows] == ["9.50", "1.25"]


def test_formats_that_reach_to_the_end_of_a_sheet_do_no_harm() -> None:
    wide = '<row r="3"><c r="A3" s="1"/><c r="XFD3" s="1"/></row><row r="1048576"/>'
    rows = row(1, "Item", "Price") + row(2, "Lime", "9.5") + wide
    assert len(read_sheet(xlsx(rows), "list.xlsx").cells) == 2


def test_blanks_repeated_to_the_end_of_an_open_document_do_no_harm() -> None:
    blank = '<table:table-cell table:number-columns-repeated="16384"/>'
    end = f'<table:table-row table:number-rows-repeated="1048500">{blank}</table:table-row>'
    sheet = read_sheet(ods(ods_row("Item", "Price") + ods_row("Lime", "9.50") + end), "list.ods")
    assert sheet.cells == (("Item", "Price"), ("Lime", "9.50"))


def test_a_file_over_10_mb_is_refused() -> None:
    with pytest.raises(UserMistake, match="'list' is larger than 10 MB"):
        read_sheet(b" " * (MOST_BYTES + 1), "list")


def test_a_strange_file_name_is_told_without_its_strange_letters() -> None:
    with pytest.raises(UserMistake) as caught:
        read_sheet(b"", "li\x07st\n.csv")
    assert str(caught.value).startswith("'li?st .csv' is empty")
