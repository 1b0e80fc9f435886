"""Finding the headings of a list, and guessing from their words which column holds what."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from estimator.exchange.price_list import HEADING_ROWS, HEADINGS, Matching
from estimator.exchange.trade_units import Pack, unit_of

_SURE = {
    "code": "code|item code|product code|stock code|part no|part number|part|sku|ref|reference"
    "|item no|item number|article|article no|cat no|catalogue no|catalogue number|order code"
    "|product no|product ref|item ref|supplier code|prod code|stock no",
    "title": "description|title|product description|item description|product|product name|item name"
    "|name|material|details|goods|full description",
    "unit": "unit|units|uom|u o m|unit of measure|unit of sale|sales unit|selling unit|per|sold by"
    "|sold in|price per|u m|measure",
    "pack_size": "pack size|pack|pack qty|packsize|qty|quantity|box qty|per pack|qty per pack"
    "|contents|pack quantity|units per pack|bag size|min qty",
    "price": "price|net price|net|nett|nett price|unit price|cost|cost price|trade price|trade|rate"
    "|your price|price each|each|list price|price ex vat|price excl vat|price exc vat|ex vat"
    "|selling price|customer price|gbp|£|amount|price net|unit cost",
    "supplier": "supplier|merchant|supplier name|sold from",
    "group": "group|category|section|range|product group|type|family|department",
    "notes": "notes|note|remarks|remark|comments|comment",
}
_LIKELY = {
    "code": r"\b(?:code|sku|ref|part no)\b",
    "title": r"\b(?:description|product|title)\b",
    "unit": r"\b(?:uom|unit)\b",
    "pack_size": r"\b(?:pack|qty|quantity)\b",
    "price": r"\b(?:price|cost|net|nett|rate)\b|£",
    "supplier": r"\bsupplier\b",
    "group": r"\b(?:category|group)\b",
    "notes": r"\b(?:notes?|remarks?|comments?)\b",
}
SURE_WORDS = {name: frozenset(words.split("|")) for name, words in _SURE.items()}
LIKELY_WORDS = {name: re.compile(words) for name, words in _LIKELY.items()}
_NET = re.compile(r"\b(?:nett?|ex|excl?|your|trade)\b")
_GROSS = re.compile(r"\b(?:inc|incl|including|gross|rrp|retail|was|old)\b")
_WITH_TAX = re.compile(r"\b(?:inc|incl|including|gross)\b.*(?:\bvat\b|\btax\b)|\bgross\b")
_UNIT_IN_PRICE = re.compile(r"(?:\bper\b|/|\ba\b)\s*(?P<unit>[^\s()/]+)")
_NO_WORD = re.compile(r"[^\w£²³/%]+|_")
LONGEST_HEADING = 60


def find(cells: Sequence[Sequence[str]]) -> Matching | None:
    """Return the matching by the best row of headings near the top, or nothing where none is.

    Rows of addresses and dates above the headings are passed over; of two rows that name as many
    columns the upper is taken.

    >>> found = find([["Prices from May"], ["Code", "Description", "£"], ["A1", "Lime", "9.50"]])
    >>> found.heading_row, found.code, found.title, found.price
    (2, 0, 1, 2)
    """
    best: Matching | None = None
    most = 0
    for number, row in enumerate(cells[:HEADING_ROWS], start=1):
        columns = guess(row)
        if "title" in columns and "price" in columns and len(columns) > most:
            best, most = matching_of(columns, number), len(columns)
    return best


def matching_of(columns: Mapping[str, int], heading_row: int) -> Matching:
    """Return a matching from columns by name.

    Raises:
        KeyError: where there is no title or no price.

    >>> matching_of({"title": 0, "price": 1}, 1).price
    1
    """
    return Matching(
        code=columns.get("code"),
        title=columns["title"],
        unit=columns.get("unit"),
        pack_size=columns.get("pack_size"),
        price=columns["price"],
        supplier=columns.get("supplier"),
        group=columns.get("group"),
        notes=columns.get("notes"),
        heading_row=heading_row,
    )


def guess(row: Sequence[str]) -> dict[str, int]:
    """Return which column a row of headings says holds what.

    >>> guess(["Item", "Description", "Price inc VAT", "Net price", "UOM"])
    {'code': 0, 'title': 1, 'price': 3, 'unit': 4}
    """
    if tuple(row[: len(HEADINGS)]) == HEADINGS:
        return {heading.lower().replace(" ", "_"): at for at, heading in enumerate(HEADINGS)}
    worded = [_worded(cell) for cell in row]
    scored = sorted(
        (-_score(name, words), at, name)
        for at, words in enumerate(worded)
        if words
        for name in SURE_WORDS
        if _score(name, words)
    )
    found: dict[str, int] = {}
    for _score_of_it, at, name in scored:
        if name not in found and at not in found.values():
            found[name] = at
    _settle_item(worded, found)
    return dict(sorted(found.items(), key=lambda each: each[1]))


def _settle_item(worded: Sequence[str], found: dict[str, int]) -> None:
    """Take a column headed "item" for the code beside a description, else for the description."""
    if "item" not in worded or worded.index("item") in found.values():
        return
    for name in ("title", "code"):
        if name not in found:
            found[name] = worded.index("item")
            return


def _worded(cell: str) -> str:
    if len(cell) > LONGEST_HEADING:
        return ""
    return " ".join(_NO_WORD.sub(" ", cell.lower().replace("(s)", "s")).split())


def _score(name: str, words: str) -> int:
    """Tell how surely a heading names a column: 0 not at all, more for surer."""
    bare = words.removesuffix(" £").removeprefix("£ ") if name == "price" else words
    score = 10 if bare in SURE_WORDS[name] else 4 if LIKELY_WORDS[name].search(words) else 0
    if name == "price" and score:
        score += 2 * bool(_NET.search(words)) - 3 * bool(_GROSS.search(words))
    return score


def with_tax(heading: str) -> bool:
    """Tell whether a heading says that its prices hold VAT.

    >>> with_tax("Price inc. VAT"), with_tax("Price ex VAT")
    (True, False)
    """
    return bool(_WITH_TAX.search(_worded(heading)))


def unit_in(heading: str) -> Pack | None:
    """Return the unit a price heading names: "£ per tonne", "Price/m".

    >>> unit_in("Price per 1000").size, unit_in("Price each").unit, unit_in("Price")
    (Decimal('1000'), 'nr', None)
    """
    words = _worded(heading)
    if re.search(r"\beach\b", words):
        return unit_of("each")
    named = _UNIT_IN_PRICE.search(words)
    return unit_of(named["unit"]) if named else None
