"""Files broken as a whole: no lists at all, broken texts, broken workbooks."""

from __future__ import annotations

from tests.exchange.bombs import ENTITY_BOMB, shared
from tests.exchange.workbooks import ods, ods_row, packed, row, xlsx_parts

HEAD = "Code,Description,Price\n"
TEXT = f"{HEAD}L1,Lime,9.50\n"
PAIR = "the quotation marks in line"

TEXTS: tuple[tuple[str, bytes, str], ...] = (
    ("nothing", b"", "is empty"),
    ("only-a-mark", b"\xef\xbb\xbf", "has nothing in it"),
    ("only-line-ends", b"\r\n\r\n\r\n", "has nothing in it"),
    ("only-commas", b",,,\n,,,\n", "has nothing in it"),
    ("only-blanks", b"  \n  \n", "no row of this list has headings"),
    ("no-headings", b"L1,Lime,9.50\nS1,Sand,48.00\n", "no row of this list has headings"),
    ("headings-far-down", b"x,y\n" * 80 + TEXT.encode(), "no row of this list has headings"),
    ("no-price-column", b"Code,Description\nL1,Lime\n", "no row of this list has headings"),
    ("no-description-column", b"Code,Price\nL1,9.50\n", "no row of this list has headings"),
    ("one-column", b"Lime 9.50\nSand 48.00\n", "no row of this list has headings"),
    ("a-quote-not-closed", f'{HEAD}L1,"Lime,9.50\n'.encode(), f"{PAIR} 2 do not pair"),
    ("a-quote-at-the-end", f'{TEXT}S1,Sand,"'.encode(), f"{PAIR} 3 do not pair"),
    ("letters-after-a-quote", f'{HEAD}L1,"Lime" mortar,9.50\n'.encode(), f"{PAIR} 2 do not pair"),
    ("a-quote-in-the-headings", b'Code,"Description,Price\nL1,Lime,9\n', f"{PAIR} 1 do not pair"),
    ("inches-quoted-once", f'{HEAD}B1,"6" bolster",9.50\n'.encode(), f"{PAIR} 2 do not pair"),
    ("an-endless-cell", f'{HEAD}L1,"{"lime " * 30_000}'.encode(), "does not end"),
    ("a-cell-of-11000-letters", f"{HEAD}L1,{'lime ' * 2_200},9\n".encode(), "more than 10,000"),
    ("61-columns", f"{HEAD}L1,Lime,9{',x' * 58}\n".encode(), "more than 60 columns"),
    ("a-comma-too-many", f"{HEAD}L1,Lime, hydraulic,9.50\n".encode(), "has 4 cells under 3"),
    ("a-comma-too-few", f"{HEAD}L1 Lime,9.50\n".encode(), "has no price"),
    ("a-decimal-comma-unquoted", f"{HEAD}L1,Lime,9,50\n".encode(), "has 4 cells under 3"),
    ("a-nul", f"{HEAD}L1,Li\0me,9.50\n".encode(), "cannot be printed"),
    ("a-nul-in-a-price", f"{HEAD}L1,Lime,9.5\x000\n".encode(), "is no price"),
    ("utf-16-without-a-mark", TEXT.encode("utf-16-le"), "is no text"),
    ("utf-16-cut", TEXT.encode("utf-16")[:-1], "the letters of this file cannot be read"),
    ("utf-16-half-a-letter", b"\xff\xfe\x3d\xd8a\0", "the letters of this file cannot be read"),
    ("utf-8-mark-then-latin", b"\xef\xbb\xbf" + "½ bag".encode("cp1252"), "cannot be read"),
    ("no-letter-of-windows", TEXT.encode() + b"S1,S\x81nd,3\n", "the letters of this file"),
    ("utf-32", TEXT.encode("utf-32"), "no row of this list has headings"),
    ("a-pdf", b"%PDF-1.7\n%\xe2\xe3", "is a PDF"),
    (
        "an-old-workbook",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600),
        "an old or locked workbook",
    ),
    ("a-database", b"SQLite format 3\x00" + bytes(80), "is a database"),
    ("a-picture", b"\x89PNG\r\n\x1a\n" + bytes(60), "is a picture"),
    ("a-photograph", b"\xff\xd8\xff\xe0" + bytes(60), "is a picture"),
    ("a-packed-text", b"\x1f\x8b\x08" + bytes(60), "is packed"),
    ("a-letter", b"{\\rtf1 Price list}", "is a letter"),
    ("a-web-page", b"<html><table><tr><td>Price</td></tr></table></html>", "no row of this list"),
    ("json", b'[{"code": "L1", "price": 9.5}]', "no row of this list has headings"),
    ("a-program", b"\x7fELF" + bytes(80), "is no text"),
    ("zeros", bytes(500), "is no text"),
    ("a-mixed-decimal-sign", b"Item;Price\nLime;9,50\nSand;9.50\nGrit;1,234\n", "two ways"),
    (
        "a-decimal-sign-of-others",
        b"Item;Price\nLime;9,50\nSand;7,20\nGrit;9.5\n",
        "begin with a comma",
    ),
    ("thousands-or-decimals", b'Item,Price\nLime,"1,234"\n', "can be read in two ways"),
    ("two-rows-of-one-code", f"{TEXT}L1,Lime,9.50\n".encode(), "has the code 'L1', as row"),
    ("only-carriage-returns-cut", b'Item,Price\rLime,9\r"Sand', f"{PAIR} 3 do not pair"),
)

GOOD_ROWS = row(1, "Code", "Description", "Price") + row(2, "L1", "Lime", "9.50")
GOOD_PARTS = xlsx_parts(GOOD_ROWS)
GOOD_XLSX = packed(GOOD_PARTS, squeezed=False)
BROKEN = "this workbook is damaged or locked"


def with_rows(rows: str, strings: str = "") -> bytes:
    return packed(xlsx_parts(rows, shared=strings), squeezed=False)


def changed(name: str, old: str, new: str) -> bytes:
    """The good workbook with a piece of one part changed."""
    content = GOOD_PARTS[name]
    assert isinstance(content, str)
    assert old in content
    return packed(GOOD_PARTS | {name: content.replace(old, new)}, squeezed=False)


def without(name: str) -> bytes:
    kept = {key: content for key, content in GOOD_PARTS.items() if key != name}
    return packed(kept, squeezed=False)


def cell(attributes: str, inside: str = "<v>1</v>") -> bytes:
    return with_rows(f'<row r="1"><c {attributes}>{inside}</c></row>')


def opened(table: str, before: str = "") -> bytes:
    return ods(table, before=before, squeezed=False)


SHEET = "xl/worksheets/sheet1.xml"
NO_HEADINGS = "no row of this list has headings"
WORKBOOKS: tuple[tuple[str, bytes, str], ...] = (
    ("cut-in-half.xlsx", GOOD_XLSX[: len(GOOD_XLSX) // 2], BROKEN),
    ("cut-at-the-end.xlsx", GOOD_XLSX[:-30], BROKEN),
    ("only-its-first-letters.xlsx", b"PK\x03\x04", BROKEN),
    ("only-its-end.xlsx", b"PK\x05\x06" + bytes(18), "an archive and no workbook"),
    ("an-archive-of-letters.zip", packed({"a.txt": "hello"}, squeezed=False), "an archive and no"),
    ("a-letter.docx", packed({"[Content_Types].xml": "<a/>"}, squeezed=False), BROKEN),
    (
        "a-binary-workbook.xlsb",
        packed({"xl/workbook.bin": "x"}, squeezed=False),
        "of a kind not read",
    ),
    ("no-workbook-part.xlsx", without("xl/workbook.xml"), "has nothing in it"),
    ("no-sheet-part.xlsx", without(SHEET), BROKEN),
    ("a-sheet-not-closed.xlsx", changed(SHEET, "</sheetData>", ""), BROKEN),
    ("a-sheet-of-text.xlsx", packed(GOOD_PARTS | {SHEET: "Price"}, squeezed=False), BROKEN),
    ("an-empty-sheet-part.xlsx", packed(GOOD_PARTS | {SHEET: ""}, squeezed=False), BROKEN),
    ("a-nul-in-a-sheet.xlsx", changed(SHEET, "Lime", "Li\0me"), BROKEN),
    ("a-nul-spelled-out.xlsx", changed(SHEET, "Lime", "Li_x0000_me"), "cannot be printed"),
    ("a-nul-as-a-number.xlsx", changed(SHEET, "Lime", "Li&#0;me"), BROKEN),
    ("half-a-letter-as-a-number.xlsx", changed(SHEET, "Lime", "&#xD800;"), BROKEN),
    (
        "latin-letters-in-a-sheet.xlsx",
        packed(
            GOOD_PARTS | {SHEET: str(GOOD_PARTS[SHEET]).replace("Lime", "½").encode("cp1252")},
            squeezed=False,
        ),
        BROKEN,
    ),
    ("an-unknown-entity.xlsx", changed(SHEET, "Lime", "&lime;"), BROKEN),
    (
        "an-entity-declared.xlsx",
        changed(SHEET, "<worksheet", '<!DOCTYPE worksheet [<!ENTITY e "lime">]><worksheet'),
        "words that stand for others",
    ),
    (
        "an-entity-from-a-file.xlsx",
        changed(
            SHEET,
            "<worksheet",
            '<!DOCTYPE w [<!ENTITY e SYSTEM "file:///etc/hostname">]><worksheet',
        ),
        "words that stand for others",
    ),
    (
        "an-entity-bomb.xlsx",
        with_rows(GOOD_ROWS, shared("&e9;", before=ENTITY_BOMB)),
        "words that stand for others",
    ),
    ("a-cell-in-row-0.xlsx", cell('r="A0"'), BROKEN),
    ("a-cell-without-a-row.xlsx", cell('r="A"'), BROKEN),
    ("a-cell-without-a-column.xlsx", cell('r="1"'), BROKEN),
    ("a-cell-in-small-letters.xlsx", cell('r="a1"'), BROKEN),
    ("a-cell-of-another-row.xlsx", cell('r="A2"'), BROKEN),
    ("a-cell-far-to-the-right.xlsx", cell('r="XFD1"'), "more than 60 columns"),
    ("a-cell-past-all-columns.xlsx", cell('r="AAAAAAAAAAAAA1"'), BROKEN),
    (
        "a-cell-far-down.xlsx",
        with_rows('<row r="30000"><c><v>1</v></c></row>'),
        "more than 20,000 rows",
    ),
    (
        "cells-out-of-order.xlsx",
        with_rows('<row><c r="B1"><v>1</v></c><c r="A1"><v>2</v></c></row>'),
        BROKEN,
    ),
    ("rows-out-of-order.xlsx", with_rows(row(2, "Lime") + row(1, "Price")), BROKEN),
    ("a-row-twice.xlsx", with_rows(row(1, "Lime") + row(1, "Price")), BROKEN),
    ("a-row-below-nothing.xlsx", with_rows('<row r="-1"><c><v>1</v></c></row>'), BROKEN),
    ("a-row-of-letters.xlsx", with_rows('<row r="one"><c><v>1</v></c></row>'), BROKEN),
    ("a-shared-text-not-there.xlsx", cell('t="s"', "<v>99</v>"), BROKEN),
    ("a-shared-text-of-letters.xlsx", cell('t="s"', "<v>x</v>"), BROKEN),
    (
        "an-error-for-a-price.xlsx",
        changed(SHEET, "<c><v>9.50</v></c>", '<c t="e"><v>#DIV/0!</v></c>'),
        "has no price",
    ),
    (
        "a-date-for-a-price.xlsx",
        changed(SHEET, "<c><v>9.50</v></c>", '<c t="d"><v>2026-05-09</v></c>'),
        "is no price",
    ),
    (
        "yes-for-a-price.xlsx",
        changed(SHEET, "<c><v>9.50</v></c>", '<c t="b"><v>1</v></c>'),
        "'yes' is no price",
    ),
    ("a-number-without-end.xlsx", changed(SHEET, "9.50", "1e400"), "is no price"),
    ("a-huge-number.xlsx", changed(SHEET, "9.50", "9e99"), "is no price"),
    ("nothing-in-it.xlsx", with_rows(""), "has nothing in it"),
    ("no-headings.xlsx", with_rows(row(1, "Lime", "9.50")), NO_HEADINGS),
    ("nothing-in-it.ods", opened(""), "has nothing in it"),
    ("no-headings.ods", opened(ods_row("Lime", "9.50")), NO_HEADINGS),
    (
        "an-entity-declared.ods",
        opened(ods_row("&e;"), before='<!DOCTYPE office:document-content [<!ENTITY e "lime">]>'),
        "words that stand for others",
    ),
    ("rows-repeated-without-end.ods", opened(ods_row("Lime", down=1_048_576)), "20,000 rows"),
    ("cells-repeated-without-end.ods", opened(ods_row("Lime", across=16_384)), "60 columns"),
    ("repeated-below-nothing.ods", opened(ods_row("Lime", down=-1)), BROKEN),
    ("repeated-past-counting.ods", opened(ods_row("Lime", down=10**18)), BROKEN),
    (
        "locked.ods",
        packed({"mimetype": "x", "content.xml": b"\x93\x01\xf0"}, squeezed=False),
        BROKEN,
    ),
)
