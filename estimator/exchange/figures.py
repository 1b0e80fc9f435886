"""Numbers as people write them, read strictly: a shape is known, or the text is no number."""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from enum import Enum

LONGEST = 30
"""No price or pack is written with more letters."""
CURRENCY = re.compile(r"^(?:£|€|\$|GBP|EUR|USD)|(?:£|€|\$|GBP|EUR|USD)$")
SPACES = dict.fromkeys(map(ord, "\u00a0\u2007\u2009\u202f"), " ")
"""Spaces that spreadsheets part thousands with."""
GROUPED = "[1-9][0-9]{0,2}(?:%s[0-9]{3})+"
WHOLE = "|".join(("[0-9]+", GROUPED % " ", GROUPED % "'", GROUPED % "’"))
SHAPES = {
    ".": re.compile(rf"[+-]?(?:(?:{WHOLE}|{GROUPED % ','})(?:\.[0-9]+)?|\.[0-9]+)"),
    ",": re.compile(rf"[+-]?(?:(?:{WHOLE}|{GROUPED % '[.]'})(?:,[0-9]+)?|,[0-9]+)"),
}
"""Every way a number is written, by the sign that begins its decimals."""
EITHER_WAY = re.compile(r"[+-]?[1-9][0-9]{0,2}[.,][0-9]{3}")
"""Decimals or thousands: nothing in the number itself tells."""
PENCE = re.compile(r"[0-9]+(?:\.[0-9]+)?p")
PLAIN = re.compile(r"[0-9]+")


class Reading(Enum):
    """Why a text gave no number."""

    NO_NUMBER = "is no number"
    UNSURE = "can be read in two ways"


def bare(text: str) -> str:
    """Return a number's text without currency sign and outer spaces.

    >>> bare(" £ 1,234.50 "), bare("12,50 €")
    ('1,234.50', '12,50')
    """
    if PLAIN.fullmatch(text):
        return text
    text = text.translate(SPACES).strip()
    return CURRENCY.sub("", text).strip()


def decimal_sign(texts: Iterable[str]) -> str:
    """Return the sign that begins the decimals in a column, or nothing where none settles it.

    The greater number of clear cases decides; as many of the one as of the other decide nothing.

    >>> decimal_sign(["1.234,50", "7,5", "1.234"]), decimal_sign(["1,234", "12"])
    (',', '')
    """
    points = commas = 0
    for text in texts:
        vote = _vote(bare(text))
        points += vote == "."
        commas += vote == ","
    return "." if points > commas else "," if commas > points else ""


def _vote(text: str) -> str:
    """Return the decimal sign one number shows beyond doubt."""
    if not text or len(text) > LONGEST or text.isalnum() or EITHER_WAY.fullmatch(text):
        return ""
    fits = [sign for sign, shape in SHAPES.items() if shape.fullmatch(text)]
    return fits[0] if len(fits) == 1 else ""


def number(text: str, sign: str) -> Decimal | Reading:
    """Return the number a text stands for, where decimals begin with the sign given.

    With no sign given, only what reads the same either way is a number.

    >>> number("£1,234.50", "."), number("1.234", ","), number("1,234", "")
    (Decimal('1234.50'), Decimal('1234'), <Reading.UNSURE: 'can be read in two ways'>)
    >>> number("1e5", "."), number("٣", ".")
    (<Reading.NO_NUMBER: 'is no number'>, <Reading.NO_NUMBER: 'is no number'>)
    """
    text = bare(text)
    if len(text) > LONGEST:
        return Reading.NO_NUMBER
    if sign:
        return _by_shape(text, sign)
    found = {_by_shape(text, each) for each in SHAPES} - {Reading.NO_NUMBER}
    if len(found) > 1:
        return Reading.UNSURE
    return found.pop() if found else Reading.NO_NUMBER


def _by_shape(text: str, sign: str) -> Decimal | Reading:
    if PLAIN.fullmatch(text):
        return Decimal(text)
    if sign == "." and PENCE.fullmatch(text):
        return Decimal(text[:-1]).scaleb(-2)
    if not SHAPES[sign].fullmatch(text):
        return Reading.NO_NUMBER
    # Whatever is neither digit, sign nor decimal sign parts thousands and may go.
    digits = re.sub(rf"[^0-9+\-{re.escape(sign)}]", "", text)
    return Decimal(digits.replace(",", "."))
