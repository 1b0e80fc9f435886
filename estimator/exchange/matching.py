"""A sheet's rows into priced rows, with whatever is wrong told row by row; nothing is written."""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields
from decimal import Decimal

from estimator.exchange import figures, formula_guard, headings, packs
from estimator.exchange.figures import Reading
from estimator.exchange.packs import Said, Sold, shown
from estimator.exchange.price_list import MOST_ROWS, Matching, Preview, PriceRow, Problem, Sheet
from estimator.exchange.reading import SIGNS, decimal_sign
from estimator.exchange.trade_units import Pack
from estimator.money import PENNY, Money
from estimator.notices import UserMistake

MOST_PRICE = Money.of(100_000)
"""A dearer pack is taken for a slip of the pen; a house rule."""
ROUNDS_QUIETLY = Decimal(1)
"""From this price up, a part of a penny is rounded and told; below it, it would change too much."""
LETTERS = {"code": 100, "title": 500, "supplier": 200, "group": 200, "notes": 5_000}
"""Most letters a text of a row may have."""
UNPRINTABLE = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]")
KEPT_NOWHERE = re.compile("[\ud800-\udfff\ufffe\uffff]")
NEGATIVE = re.compile(r"[-−–(].*[0-9]|.*[0-9]\s*[-−–]$")
BELOW_NOTHING = "has a price below nothing; write what one pack costs"


@dataclass(frozen=True, slots=True)
class _List:
    """What all rows of one list have in common."""

    sheet: Sheet
    matching: Matching
    sign: str
    supplier: str
    unit_in_heading: Pack | None

    def cell(self, row: Sequence[str], column: int | None) -> str:
        return row[column] if column is not None and column < len(row) else ""

    def sign_at(self, at: int, column: int | None) -> str:
        """The decimal sign of one cell: what a workbook keeps as a number has a point here."""
        return "." if (at, column) in self.sheet.numbers else self.sign

    def heading(self, name: str) -> str:
        """The heading of the column that holds something, or our own name for it."""
        column = getattr(self.matching, name)
        row = self.matching.heading_row
        found = self.cell(self.sheet.cells[row - 1], column).strip() if row else ""
        return shown(found) or name.replace("_", " ")


def preview(sheet: Sheet, matching: Matching | None = None, supplier: str = "") -> Preview:
    """Return what would be taken from a sheet, by the columns given or else by its headings.

    Raises:
        UserMistake: where no headings are found or given, or a column given is not there.

    >>> cells = (("Item", "Price", "Unit"), ("Lime", "9.50", "25kg bag"), ("Sand", "", "t"))
    >>> found = preview(Sheet(cells, ""))
    >>> found.rows[0].pack_size, found.rows[0].unit, str(found.rows[0].price)
    (Decimal('25'), 'kg', '9.50')
    >>> found.problems[0].text
    'has no price; write one, or delete the row'
    """
    chosen = _checked(sheet, matching or headings.find(sheet.cells))
    sign = decimal_sign(sheet, chosen)
    heading = sheet.cells[chosen.heading_row - 1] if chosen.heading_row else ()
    priced = heading[chosen.price] if chosen.price < len(heading) else ""
    common = _List(
        sheet, chosen, sign, supplier, headings.unit_in(priced) if not sheet.ours else None
    )
    rows, problems, sections = _read(common)
    if headings.with_tax(priced):
        problems.append(_with_tax(common))
    doubled = dict(_doubled(rows))
    problems += doubled.values()
    return Preview(
        sheet,
        chosen,
        tuple(row for row in rows if row.row not in doubled),
        tuple(sorted(problems, key=lambda problem: problem.row)),
        tuple(sections),
        _words(common),
    )


def _checked(sheet: Sheet, matching: Matching | None) -> Matching:
    """Return columns that are all there."""
    if matching is None:
        raise UserMistake(
            "no row of this list has headings for a description and a price",
            do="say which column holds what",
        )
    given = [getattr(matching, each.name) for each in fields(matching)[:-1]]
    columns = [column for column in given if column is not None]
    width = max(map(len, sheet.cells), default=0)
    if any(not 0 <= column < width for column in columns):
        raise UserMistake(f"this list has {width} columns", do="choose columns that are there")
    if len(set(columns)) < len(columns):
        raise UserMistake("one column was chosen for two things", do="choose another")
    if not 0 <= matching.heading_row <= len(sheet.cells):
        raise UserMistake("the row of headings is not in this list", do="choose another")
    return matching


def _words(common: _List) -> str:
    """Say which column was taken for what, and how its numbers were read."""
    matched = [
        f"{each.name.replace('_', ' ')}: {common.heading(each.name)}"
        for each in fields(common.matching)[:-1]
        if getattr(common.matching, each.name) is not None
    ]
    return f"{'; '.join(matched)}; decimals begun by {SIGNS[common.sign]}"


def _with_tax(common: _List) -> Problem:
    return Problem(
        common.matching.heading_row,
        common.heading("price"),
        "these prices hold VAT; if you reclaim it, choose the column without, or ask for one",
        stops=False,
    )


def _read(common: _List) -> tuple[list[PriceRow], list[Problem], list[int]]:
    """Return the rows, the problems and the rows that head a section."""
    rows: list[PriceRow] = []
    problems: list[Problem] = []
    sections: list[int] = []
    start, group = common.matching.heading_row, ""
    heading = common.sheet.cells[start - 1] if start else ()
    for at, row in enumerate(common.sheet.cells[start:], start):
        filled = [cell for cell in row if cell.strip()]
        if not filled or row == heading:
            continue
        if len(filled) == 1 and _heads_a_section(common, row, filled[0]):
            group = _tidy(filled[0])[: LETTERS["group"]]
            sections.append(at + 1)
            problems += _maybe_a_row(common, at)
            continue
        found, wrong = _row(common, at, group)
        problems += wrong
        if found is not None:
            rows.append(found)
    if len(rows) > MOST_ROWS:
        raise UserMistake(f"this list has more than {MOST_ROWS:,} rows", do="split it in two")
    return rows, problems, sections


def _heads_a_section(common: _List, row: Sequence[str], only: str) -> bool:
    """Tell whether the one text in a row heads a section; a price by itself does not."""
    if common.sheet.ours or common.cell(row, common.matching.price).strip():
        return False
    return not UNPRINTABLE.search(only) and any(letter.isalpha() for letter in only)


def _maybe_a_row(common: _List, at: int) -> Iterator[Problem]:
    """Tell of a heading that could as well be a description without its price.

    A list with codes leaves no doubt: what is sold has one.
    """
    row, matching = common.sheet.cells[at], common.matching
    if matching.code is None and common.cell(row, matching.title).strip():
        text = "has no price, so it is taken as the heading of a group"
        yield _problem(common, at, "price", text, stops=False)


def _row(common: _List, at: int, group: str) -> tuple[PriceRow | None, list[Problem]]:
    """Return one priced row, or what is wrong with it."""
    row, matching = common.sheet.cells[at], common.matching
    problems = [*_ragged(common, at)]
    texts: dict[str, str] = {}
    for name, most in LETTERS.items():
        texts[name] = text = _text(common, common.cell(row, getattr(matching, name)))
        if len(text) > most or not text.isprintable():
            problems += _text_problems(common, at, (name, text, most))
    if not texts["title"].strip():
        problems.append(_problem(common, at, "title", "has no description; write one"))
    price = _price(common, at, problems)
    pack = _pack(common, at, texts["title"], problems)
    if price is None or pack is None or any(problem.stops for problem in problems):
        return None, problems
    return PriceRow(
        row=at + 1,
        code=texts["code"],
        title=texts["title"],
        unit=pack.unit,
        pack_size=pack.size,
        price=price,
        supplier=texts["supplier"] or common.supplier,
        group=texts["group"] or group,
        notes=texts["notes"],
    ), problems


def _problem(common: _List, at: int, name: str, text: str, *, stops: bool = True) -> Problem:
    return Problem(at + 1, common.heading(name), text, stops=stops)


def _ragged(common: _List, at: int) -> Iterator[Problem]:
    """Tell of a row with more cells than headings, in which every cell may stand one off."""
    start = common.matching.heading_row
    width = len(common.sheet.cells[start - 1]) if start else len(common.sheet.cells[at])
    if any(cell.strip() for cell in common.sheet.cells[at][width:]):
        count = len(common.sheet.cells[at])
        yield Problem(
            at + 1,
            "",
            f"has {count} cells under {width} headings; put texts with commas in quotation marks",
        )


def _tidy(text: str) -> str:
    """Return a text with single spaces and letters in their composed form."""
    joined = " ".join(text.split())
    return joined if joined.isascii() else unicodedata.normalize("NFC", joined)


def _text(common: _List, cell: str) -> str:
    if not cell or common.sheet.ours:
        return formula_guard.unguarded(cell)
    return _tidy(formula_guard.unguarded(cell.strip()))


def _text_problems(common: _List, at: int, named: tuple[str, str, int]) -> Iterator[Problem]:
    name, text, most = named
    if len(text) > most:
        yield _problem(common, at, name, f"has more than {most:,} letters; shorten it")
    # Our own catalogue gives back what was kept, but for what can be kept nowhere.
    if (KEPT_NOWHERE if common.sheet.ours else UNPRINTABLE).search(text):
        yield _problem(common, at, name, "has a letter that cannot be printed; type it anew")


def _price(common: _List, at: int, problems: list[Problem]) -> Money | None:
    """Return the price of a row, telling what is wrong with it."""
    written = common.cell(common.sheet.cells[at], common.matching.price).strip()
    amount = figures.number(written, common.sign_at(at, common.matching.price))
    wrong = _wrong_price(written, amount, common.sign)
    if wrong or isinstance(amount, Reading):
        problems.append(_problem(common, at, "price", wrong))
        return None
    price = Money.of(amount)
    if price.pounds != amount:
        rounded = f"{shown(written)} is finer than a penny, so {price} is taken"
        problems.append(_problem(common, at, "price", rounded, stops=False))
    return price


def _wrong_price(written: str, amount: Decimal | Reading, sign: str) -> str:
    """Say what is wrong with a price, or nothing."""
    if not written:
        return "has no price; write one, or delete the row"
    if amount is Reading.UNSURE:
        return f"'{shown(written)}' can be read in two ways; write pounds and pence, as in 1234.00"
    if isinstance(amount, Decimal):
        return _outside_bounds(written, amount)
    if NEGATIVE.match(written):
        return BELOW_NOTHING
    of_list = f"; decimals in this list begin with {SIGNS[sign]}" if sign else ""
    return f"'{shown(written)}' is no price{of_list}; write a figure such as 12.50"


def _outside_bounds(written: str, amount: Decimal) -> str:
    if amount < 0:
        return BELOW_NOTHING
    if amount == 0:
        return "has a price of nothing; write what one pack costs"
    if amount > MOST_PRICE.pounds:
        return f"costs more than {MOST_PRICE.pounds:,.0f}; look whether a decimal sign is missing"
    if amount < ROUNDS_QUIETLY and amount % PENNY:
        return f"'{shown(written)}' is finer than a penny; write the price of a larger pack"
    return ""


def _pack(common: _List, at: int, title: str, problems: list[Problem]) -> Pack | None:
    """Return what one price buys, telling what is wrong or was taken on trust."""
    row, matching = common.sheet.cells[at], common.matching
    unit = _text(common, common.cell(row, matching.unit))
    size = common.cell(row, matching.pack_size).strip()
    sold: Sold
    if common.sheet.ours:
        sold = packs.plain(unit, size)
    else:
        said = Said(unit, size, title, common.unit_in_heading)
        sold = packs.sold_as(said, common.sign_at(at, matching.pack_size))
    if sold.remark:
        name = "unit" if sold.about_unit or matching.pack_size is None else "pack_size"
        stops = sold.pack is None
        problems.append(_problem(common, at, name, sold.remark, stops=stops))
    return sold.pack


def _doubled(rows: Iterable[PriceRow]) -> Iterator[tuple[int, Problem]]:
    """Tell of every row whose code another row of the same supplier has too."""
    by_code: defaultdict[tuple[str, str], list[PriceRow]] = defaultdict(list)
    for row in rows:
        if row.code:
            by_code[row.supplier.casefold(), row.code.casefold()].append(row)
    for same in by_code.values():
        numbers = [str(row.row) for row in same]
        for row in same if len(same) > 1 else ():
            others = ", ".join(number for number in numbers if number != str(row.row))
            text = f"has the code '{shown(row.code)}', as row {shown(others)} has; keep one"
            yield row.row, Problem(row.row, "code", text)
