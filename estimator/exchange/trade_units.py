"""The units of suppliers' lists: the trade's words for them, and packs said in words.

A word stands for so many of a unit this program counts in: a tonne is 1,000 kg, a dozen is 12. The
codes are those of UN/ECE Recommendation 20. A container (a bag, a tub) is no measure by itself:
what is in it has to be said.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from estimator.units import Unit

CUBIC_METRE = "m³"
CODES = {unit.symbol: unit.code for unit in Unit} | {CUBIC_METRE: "MTQ"}
"""UN/ECE Recommendation 20 code of every unit a price can be for."""
ONE = Decimal(1)

_WORDS = {
    ("m", ONE): "m metre metres meter meters lm linm lin.m mtr mtrs",
    ("m", Decimal("0.001")): "mm millimetre millimetres",
    ("m", Decimal("0.01")): "cm centimetre centimetres",
    ("m²", ONE): "m² m2 sqm sq.m metre² m^2",
    (CUBIC_METRE, ONE): "m³ m3 cum cu.m cube m^3",
    (
        "nr",
        ONE,
    ): "nr no nos no. nr. number each ea ea. pc pcs piece pieces unit units single",
    ("nr", Decimal(2)): "pair pairs pr",
    ("nr", Decimal(12)): "dozen doz dz",
    ("nr", Decimal(100)): "100 hundred",
    ("nr", Decimal(1000)): "1000 1,000 thousand thou mille",
    ("L", ONE): "l ltr ltrs litre litres liter liters lt",
    ("L", Decimal("0.001")): "ml millilitre millilitres",
    ("kg", ONE): "kg kgs kilo kilos kilogram kilograms",
    ("kg", Decimal("0.001")): "g gr gram grams gramme grammes",
    ("kg", Decimal(1000)): "t te tonne tonnes mt",
    ("h", ONE): "h hr hrs hour hours",
    ("day", ONE): "day days",
    ("week", ONE): "week weeks wk wks",
    ("visit", ONE): "visit visits",
    ("item", ONE): "item items sum",
}
_BOX_WORDS = "box boxes bx pack packs packet packets pk pkt set sets carton ctn case"
_TUB_WORDS = (
    "bag bags sack sacks tub tubs tin tins drum drums bucket buckets pail tube tubes cartridge "
    "cartridges sausage bottle bottles can cans roll rolls coil coils length lengths pallet "
    "pallets dumpy"
)
BOXES = frozenset(_BOX_WORDS.split())
"""Containers of things that are counted."""
TUBS = frozenset(_TUB_WORDS.split())
"""Containers of what is weighed, poured or measured."""
LOOSE_UNITS = frozenset({"each", "ea", "ea.", "unit", "units", "item", "items", *BOXES, *TUBS})
"""Words that say one is sold, and not how much is in it."""


@dataclass(frozen=True, slots=True)
class Pack:
    """How much is sold for one price."""

    size: Decimal
    """Units in the pack [unit]."""
    unit: str
    """Symbol of the unit."""

    def times(self, count: Decimal) -> Pack:
        """Return so many of this pack as one.

        >>> Pack(Decimal("0.31"), "L").times(Decimal(12))
        Pack(size=Decimal('3.72'), unit='L')
        """
        return Pack(self.size * count, self.unit)


SINGLE = Pack(ONE, "nr")
_UNITS = {
    word: Pack(size, symbol) for (symbol, size), words in _WORDS.items() for word in words.split()
}
_NUMBER = r"(?<![0-9.,])([0-9]{1,7}(?:\.[0-9]{1,6})?)"
_MEASURES = "|".join(sorted(map(re.escape, _UNITS), key=len, reverse=True))
_MEASURED = re.compile(rf"(?:{_NUMBER}\s*[x×]\s*)?{_NUMBER}\s*({_MEASURES})(?![a-z0-9²³^/])")
_FILLED = re.compile(
    rf"(?:{_NUMBER}\s*[x×]\s*)?{_NUMBER}\s*(kgs?|g|l|ltrs?|lit(?:re|er)s?|ml|tonnes?)(?![a-z0-9²³^/])"
)
"""In a description only weights and volumes are packs: a length there is a dimension."""
_ROLLED = re.compile(rf"{_NUMBER}\s*(m|mtrs?|metres?)\s+(?:roll|coil)s?\b")
_BOX = "|".join(sorted(BOXES, key=len, reverse=True))
_BOXED = re.compile(rf"\b(?:{_BOX})\s*(?:of|/|x|×)?\s*{_NUMBER}(?![a-z0-9²³/])")
_PER_BOX = re.compile(rf"{_NUMBER}\s*(?:per|/|-)?\s*(?:{_BOX})\b")
_PER = re.compile(r"^(?:per|a|/)\s*")


@lru_cache(maxsize=256)
def plain(text: str) -> str:
    """Return the words of a unit cell as they are looked up.

    >>> plain(" Per  Tonne. ")
    'tonne'
    """
    words = " ".join(text.replace("\u00a0", " ").lower().split())
    return _PER.sub("", words).rstrip(".")


def unit_of(text: str) -> Pack | None:
    """Return how much of which unit a word stands for, or nothing where it is unknown.

    >>> unit_of("Tonne"), unit_of("m2").unit, unit_of("furlong")
    (Pack(size=Decimal('1000'), unit='kg'), 'm²', None)
    """
    return _UNITS.get(plain(text))


def is_container(text: str) -> bool:
    """Tell whether a word names a container, or just one of something.

    >>> is_container("Bag"), is_container("kg")
    (True, False)
    """
    return plain(text) in LOOSE_UNITS


def holds_things(text: str) -> bool:
    """Tell whether a word names a container whose contents are counted.

    >>> holds_things("box"), holds_things("bag")
    (True, False)
    """
    return plain(text) in BOXES


def pack_in_cell(text: str) -> Pack | None:
    """Return the pack said in a cell about packs or units: "25kg bag", "box of 100", "12 x 310ml".

    >>> pack_in_cell("25kg bag"), pack_in_cell("box of 100").unit, pack_in_cell("12 x 310ml").size
    (Pack(size=Decimal('25'), unit='kg'), 'nr', Decimal('3.720'))
    """
    return _only((*_measured(_MEASURED, text.lower()), *_boxed(text.lower())))


def pack_in_title(text: str) -> Pack | None:
    """Return the one pack said in a description; where more than one could be meant, none is.

    >>> pack_in_title("Lime mortar NHL 3.5, 25kg bag").size, pack_in_title("Bar 6mm x 10m")
    (Decimal('25'), None)
    """
    lower = text.lower()
    if not any(letter.isdigit() for letter in lower):
        return None
    filled = _measured(_FILLED, lower)
    return _only((*filled, *_rolled(lower), *(() if filled else _boxed(lower))))


def _measured(pattern: re.Pattern[str], text: str) -> tuple[Pack, ...]:
    return tuple(
        _UNITS[word].times(Decimal(size) * Decimal(count or 1))
        for count, size, word in pattern.findall(text)
    )


def _rolled(text: str) -> tuple[Pack, ...]:
    return tuple(Pack(Decimal(size), "m") for size, _word in _ROLLED.findall(text))


def _boxed(text: str) -> tuple[Pack, ...]:
    sizes = {*_BOXED.findall(text), *_PER_BOX.findall(text)}
    return tuple(Pack(Decimal(size), "nr") for size in sorted(sizes))


def _only(packs: tuple[Pack, ...]) -> Pack | None:
    found = {pack for pack in packs if pack.size > 0}
    return found.pop() if len(found) == 1 else None
