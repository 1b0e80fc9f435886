"""A day's forecast as people type it: 3°, dry, or 3 to 9, rain."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal

from estimator.contract.works import Expected
from estimator.desktop.language import _
from estimator.documents import formats
from estimator.notices import UserMistake

LEAST_C, GREATEST_C = -40, 50
"""What is beyond these is a slip of the hand here; house rule. [°C]"""
NUMBER = re.compile(r"(?<![\d.])-?\d+(?:\.\d+)?")
BETWEEN = re.compile(r"(?<=[\d°c])\s*(?:–|/|\bto\b)\s*(?=-?\d)|(?<=[\d°c])(?:-|\s+-\s+)(?=-?\d)")
"""What stands between the least and the greatest: 3 to 9, 3-9, 3/9, but not in 3 -1."""
FALLS = {
    "dry": False, "no rain": False, "showers": False, "light rain": False, "drizzle": False,
    "heavy rain": True, "rain": True, "wet": True, "snow": True, "sleet": True,
}  # fmt: skip
"""Whether no mortar is placed in it; the longer words first where one holds another."""
FILLING = re.compile(
    r"\b(?:tonight|today|night|day|by|at|least|most|min|max|low|high|degrees?|deg|c|and|then|frost)\b"
)


def expected(text: str, on: datetime.date) -> Expected:
    """Return the weather of a day as it was typed.

    Raises:
        UserMistake: for what cannot be read in one way.

    >>> one = expected("Tonight 3°, dry", datetime.date(2026, 12, 1))
    >>> str(one.least_c), one.greatest_c, one.heavy_rain
    ('3', None, False)
    >>> one = expected("-2 to 5.5, rain", datetime.date(2026, 12, 1))
    >>> str(one.least_c), str(one.greatest_c), one.heavy_rain
    ('-2', '5.5', True)
    """
    told = text.strip().lower().replace("\N{MINUS SIGN}", "-").replace("minus ", "-")
    told = BETWEEN.sub("  ", told)
    falls = []
    for words, heavy in FALLS.items():
        if re.search(rf"\b{words}\b", told):
            told = re.sub(rf"\b{words}\b", " ", told)
            falls.append(heavy)
    degrees = [Decimal(one) for one in NUMBER.findall(told)]
    rest = FILLING.sub(" ", NUMBER.sub(" ", told))
    # 3,5 may be two numbers or one.
    is_clear = not re.search(r"\d,\d", told) and not rest.strip(" ,;.:°")
    is_read = is_clear and 1 <= len(degrees) <= 2 and len(set(falls)) <= 1
    if not is_read or any(not LEAST_C <= one <= GREATEST_C for one in degrees):
        raise UserMistake(
            _("“{text}” is no forecast").format(text=text.strip()[:40]),
            do=_("type it like 3°, dry, or 3 to 9, rain"),
        )
    greatest = max(degrees) if len(degrees) > 1 else None
    return Expected(on, min(degrees), greatest, any(falls))


def shown(one: Expected) -> str:
    """Return a day's weather as it would be typed.

    >>> shown(Expected(datetime.date(2026, 12, 1), Decimal("-2"), Decimal("5.5"), True))
    '-2 to 5.5°, rain'
    """
    least, falls = formats.plain(one.least_c), _("rain") if one.heavy_rain else _("dry")
    if one.greatest_c is None:
        return _("{least}°, {falls}").format(least=least, falls=falls)
    greatest = formats.plain(one.greatest_c)
    return _("{least} to {greatest}°, {falls}").format(least=least, greatest=greatest, falls=falls)


def understood(one: Expected) -> str:
    """Return what a forecast was taken for."""
    least = formats.plain(one.least_c)
    falls = _("heavy rain") if one.heavy_rain else _("no heavy rain")
    return _("= {least} °C at the least, {falls}").format(least=least, falls=falls)
