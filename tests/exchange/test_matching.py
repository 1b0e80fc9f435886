"""From cells to priced rows: columns, numbers, units, packs, and what is told of the rest."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimator.exchange.matching import preview
from estimator.exchange.price_list import Matching, Preview, PriceRow, Sheet
from estimator.exchange.reading import read_sheet
from estimator.money import Money
from estimator.notices import UserMistake


def previewed(text: str, supplier: str = "") -> Preview:
    return preview(read_sheet(text.encode(), "list.csv"), supplier=supplier)


def only(text: str) -> PriceRow:
    found = previewed(text)
    assert not found.problems
    (row,) = found.rows
    return row


def told(text: str) -> str:
    """What is said of the only problem of a list, which stops the only row."""
    found = previewed(text)
    assert not found.rows
    (problem,) = found.problems
    assert problem.stops
    return problem.text


def test_a_plain_list_is_read() -> None:
    row = only(
        "Code,Description,Unit,Pack size,Price,Group,Notes\nL1,Lime,kg,25,9.50,Limes,dry store\n"
    )
    assert row == PriceRow(2, "L1", "Lime", "kg", Decimal(25), Money(950), "", "Limes", "dry store")


def test_rows_above_the_headings_are_passed_over() -> None:
    row = only("Sample Merchant,,\nprices ex VAT,,\n,,\nStock code,Details,Net £\nA,Sand,3\n")
    assert (row.row, row.code, row.title, row.price) == (5, "A", "Sand", Money(300))


def test_a_row_with_one_text_names_the_group_below_it() -> None:
    found = previewed("Code,Description,Price\nLIMES,,\nA,Lime,9.50\nSANDS,,\nB,Sand,3.00\n")
    assert [row.group for row in found.rows] == ["LIMES", "SANDS"]
    assert found.section_rows == (2, 4)


def test_the_supplier_given_stands_where_the_list_names_none() -> None:
    text = "Description,Price,Supplier\nLime,9.50,\nSand,3.00,Other\n"
    rows = previewed(text, "Sample Merchant").rows
    assert [row.supplier for row in rows] == ["Sample Merchant", "Other"]


def test_the_net_column_is_taken_before_the_one_with_tax() -> None:
    row = only("Description,Price inc VAT,Net price\nLime,12.00,10.00\n")
    assert row.price == Money(1000)


def test_prices_with_tax_are_told() -> None:
    found = previewed("Description,Price inc VAT\nLime,12.00\n")
    assert len(found.rows) == 1
    assert "hold VAT" in found.problems[0].text
    assert not found.problems[0].stops


@pytest.mark.parametrize(
    ("unit", "pack", "title", "size", "symbol"),
    [
        ("kg", "", "Lime", "1", "kg"),
        ("bag", "", "Lime 25kg bag", "25", "kg"),
        ("each", "1", "Lime 25 kg", "25", "kg"),
        ("bag", "25", "Lime 25kg", "25", "kg"),
        ("25kg bag", "", "Lime", "25", "kg"),
        ("tonne", "", "Sand", "1000", "kg"),
        ("per 1000", "", "Bricks", "1000", "nr"),
        ("each", "", "Bar 6mm x 10m", "1", "nr"),
        ("box", "100", "Ties", "100", "nr"),
        ("", "box of 100", "Ties", "100", "nr"),
        ("box", "", "Ties, box of 50", "50", "nr"),
        ("", "12 x 310ml", "Mastic", "3.72", "L"),
        ("each", "380ml", "Resin", "0.38", "L"),
        ("m", "10", "Bar", "10", "m"),
        ("roll", "", "Membrane 20m roll", "20", "m"),
        ("M2", "", "Mesh", "1", "m²"),
        ("pair", "", "Gloves", "2", "nr"),
        ("", "", "Lime", "1", "nr"),
    ],
)
def test_packs_are_understood(unit: str, pack: str, title: str, size: str, symbol: str) -> None:
    row = only(f'Description,Unit,Pack,Price\n"{title}",{unit},{pack},9.50\n')
    assert (row.pack_size, row.unit) == (Decimal(size), symbol)


@pytest.mark.parametrize(
    ("unit", "pack", "title", "said"),
    [
        ("furlong", "", "Bar", "'furlong' is no unit known here"),
        ("bag", "25", "Lime", "a bag of 25 of what is not said"),
        ("bag", "40", "Lime 25kg", "can be read in two ways"),
        ("25kg bag", "40", "Lime", "can be read in two ways"),
        ("m", "25kg", "Bar", "can be read in two ways"),
        ("kg", "lots", "Lime", "'lots' is no pack"),
        ("kg", "0", "Lime", "a pack of 0 kg is not possible"),
        ("kg", "5000000", "Lime", "a pack of 5000000 kg is not possible"),
        ("kg", '"1,234"', "Lime", "'1,234' can be read in two ways"),
    ],
)
def test_packs_in_doubt_are_told(unit: str, pack: str, title: str, said: str) -> None:
    assert said in told(f"Description,Unit,Pack,Price\n{title},{unit},{pack},9\n")


def test_a_tub_of_nobody_knows_what_counts_as_one_and_is_told() -> None:
    found = previewed("Description,Unit,Price\nGrout,tub,31.20\n")
    assert (found.rows[0].unit, found.rows[0].pack_size) == ("nr", 1)
    assert "what a tub holds is not said" in found.problems[0].text


def test_the_heading_of_the_prices_names_the_unit() -> None:
    row = only("Description,£ per tonne\nSharp sand,48.00\n")
    assert (row.unit, row.pack_size) == ("kg", 1000)


@pytest.mark.parametrize(
    ("price", "said"),
    [
        ("", "has no price"),
        ("POA", "'POA' is no price"),
        ("-3.00", "below nothing"),
        ("(3.00)", "below nothing"),
        ("0.00", "a price of nothing"),
        ("250000.00", "costs more than 100,000"),
        ("NaN", "is no price"),
        ("Infinity", "is no price"),
        ("1e5", "is no price"),
        ("1_000", "is no price"),
        ("٣.٥٠", "is no price"),
        ('"12,50,00"', "is no price"),
        ("0.004", "finer than a penny"),
        ('"1,234"', "can be read in two ways"),
        ("9" * 40, "is no price"),
    ],
)
def test_a_price_that_cannot_be_taken_is_told(price: str, said: str) -> None:
    assert said in told(f"Code,Description,Price\nA,Lime,{price}\n")


@pytest.mark.parametrize(
    ("price", "pence"),
    [
        ("£1,234.50", 123450),
        ("GBP 7", 700),
        (" 12.50 ", 1250),
        ("45p", 45),
        (".5", 50),
        ("1 234.50", 123450),
        ("1’234.50", 123450),
    ],
)
def test_prices_as_people_write_them(price: str, pence: int) -> None:
    row = only(f'Description,Price\nLime,"{price}"\n')
    assert row.price == Money(pence)


def test_the_rest_of_the_list_settles_the_decimal_sign() -> None:
    english = previewed('Item,Price\nLime,"1,234"\nSand,9.50\n')
    german = previewed("Item;Price\nLime;1.234\nSand;9,50\nGrit;1.234,50\n")
    assert [row.price.pence for row in english.rows] == [123400, 950]
    assert [row.price.pence for row in german.rows] == [123400, 950, 123450]


def test_a_price_against_the_rest_of_the_list_is_told() -> None:
    found = previewed('Item,Price\nLime,9.50\nSand,3.20\nGrit,"4,80"\n')
    assert [row.price.pence for row in found.rows] == [950, 320]
    assert "decimals in this list begin with a point" in found.problems[0].text


def test_parts_of_a_penny_are_rounded_and_told() -> None:
    found = previewed("Item,Price\nLime,12.3456\n")
    assert found.rows[0].price == Money(1235)
    assert found.problems[0].text == "12.3456 is finer than a penny, so 12.35 is taken"


def test_two_rows_with_one_code_are_both_left_out() -> None:
    found = previewed("Code,Item,Price\nA,Lime,9\nB,Sand,3\na,Lime,8\n")
    assert [row.code for row in found.rows] == ["B"]
    assert [problem.row for problem in found.problems] == [2, 4]


def test_a_row_with_too_many_cells_is_told() -> None:
    found = previewed("Code,Item,Price\nA,Lime,9\nB,Sand, sharp,3\nC,Grit,4\n")
    assert [row.code for row in found.rows] == ["A", "C"]
    assert any("has 4 cells under 3 headings" in problem.text for problem in found.problems)


def test_columns_can_be_chosen_against_the_headings() -> None:
    sheet = read_sheet(b"Code,Item,Price,Trade\nA,Lime,9.00,7.00\n", "list.csv")
    found = preview(sheet, Matching(0, 1, None, None, 2, heading_row=1))
    assert found.rows[0].price == Money(900)


@pytest.mark.parametrize(
    "matching",
    [Matching(0, 1, None, None, 9), Matching(0, 1, None, None, 1), Matching(-1, 0, None, None, 1)],
)
def test_columns_that_are_not_there_are_refused(matching: Matching) -> None:
    with pytest.raises(UserMistake):
        preview(Sheet((("a", "b", "c"),), ""), matching)


def test_a_list_without_headings_is_refused() -> None:
    with pytest.raises(UserMistake, match="no row of this list has headings"):
        previewed("A,Lime,9.00\nB,Sand,3.00\n")


@pytest.mark.parametrize("letter", ["\x00", "\x07", "\ud800", "\x9d"])
def test_letters_nobody_can_print_are_told(letter: str) -> None:
    found = preview(Sheet((("Item", "Price"), (f"Li{letter}me", "9.00")), ""))
    assert not found.rows
    assert "cannot be printed" in found.problems[0].text


def test_a_heading_that_could_be_a_row_is_told() -> None:
    found = previewed("Description,Price\nLime,9.50\nSand,\nGrit,4.80\n")
    assert [row.group for row in found.rows] == ["", "Sand"]
    assert found.problems[0].text == "has no price, so it is taken as the heading of a group"
