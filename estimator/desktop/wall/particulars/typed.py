"""Sizes typed into the particulars: the millimetres that were meant, or why there are none."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QLocale

from estimator.desktop.inputs.sizes import Size, is_other_decimal, understood
from estimator.desktop.language import LANGUAGE, _
from estimator.masonry.coursing import Coursing

MM = 1000.0
PLAIN_MM_FROM = 100.0
"""A plain number from here on is millimetres, as on a drawing; house rule [mm]."""
METRES_BELOW = 10.0
"""A plain number with a decimal, below this, is metres; house rule."""
MINUS = "-\u2212\u2013"


class Way(Enum):
    """What a size is of, which says what bricks and courses mean in it."""

    ALONG = "along"
    """Along a course: a brick counts with its perpend."""
    UP = "up"
    """Up the wall: a course counts with its bed, and so does a brick."""
    SMALL = "small"
    """A joint, a width, a sill: a plain number is millimetres."""
    NUMBER = "number"
    """A number of something, no size."""


@dataclass(frozen=True, slots=True)
class Typed:
    """What a text came to: an amount, or a sentence of why it is none."""

    amount: float | None = None
    why: str = ""


def decimal_sign() -> str:
    """Return the decimal sign of the language on the screen."""
    return QLocale(LANGUAGE.tag).decimalPoint()


def read(text: str, way: Way, coursing: Coursing) -> Typed:
    """Return what a typed size comes to on a wall [mm].

    >>> from estimator.survey.survey import Brickwork
    >>> from estimator.survey.wall import coursing_of
    >>> read("12 courses", Way.UP, coursing_of(Brickwork())).amount
    900.0
    >>> read("20 bricks", Way.ALONG, coursing_of(Brickwork())).amount
    4500.0
    """
    said = text.strip()
    sign = -1.0 if said[:1] in MINUS and said else 1.0
    bare = said.lstrip(MINUS).strip()
    size = understood(bare, decimal=decimal_sign())
    if size is None:
        return Typed(why=_not_understood(said, way))
    found = _fitted(size, bare, way, coursing)
    return found if found.amount is None else Typed(sign * found.amount)


def _not_understood(said: str, way: Way) -> str:
    if is_other_decimal(said, decimal=decimal_sign()):
        sign = decimal_sign()
        return _("“{said}” is written with another decimal sign. Say it like “1{sign}5”.").format(
            said=said, sign=sign
        )
    sentence = {
        Way.ALONG: _("“{said}” is no size yet. Say it like “1.2 m”, “1200” or “5 bricks”."),
        Way.UP: _("“{said}” is no size yet. Say it like “1.2 m”, “1200” or “12 courses”."),
        Way.SMALL: _("“{said}” is no size yet. Say it like “10 mm” or “8”."),
        Way.NUMBER: _("“{said}” is no number yet. Say it like “3”."),
    }[way]
    return sentence.format(said=said)


def _fitted(size: Size, said: str, way: Way, coursing: Coursing) -> Typed:
    if way is Way.NUMBER:
        if size.unit not in ("nr", "brick", "course"):
            return Typed(why=_("“{said}” is a size. Say a number, like “3”.").format(said=said))
        return Typed(size.amount)
    if size.unit == "course" and way is Way.ALONG:
        return Typed(why=_("Courses are counted upward. Along the wall say bricks, m or mm."))
    if size.unit == "nr":
        return _plain(size.amount, way)
    along = coursing.brick.length_mm + coursing.perpend_mm
    brick = along if way is Way.ALONG else coursing.gauge_mm
    return Typed(size.amount * {"brick": brick, "course": coursing.gauge_mm}.get(size.unit, 1.0))


def _plain(amount: float, way: Way) -> Typed:
    """Return what a number without a unit means: as large as a drawing's, or a few metres."""
    if way is Way.SMALL or amount >= PLAIN_MM_FROM or amount == 0:
        return Typed(amount)
    if amount % 1 and amount < METRES_BELOW:
        return Typed(amount * MM)
    ask = _("{said} of what? Add m, mm, or courses.")
    if way is Way.ALONG:
        ask = _("{said} of what? Add m, mm, or bricks.")
    return Typed(why=ask.format(said=figure(amount)))


def figure(amount: float, *, least: int = 0, most: int = 1) -> str:
    """Return a number as the language writes it, with so many decimals at least and at most.

    >>> figure(1200.0), figure(4.5, least=2, most=3)
    ('1,200', '4.50')
    """
    text = f"{amount:,.{most}f}"
    whole, _point, part = text.partition(".")
    kept = part.rstrip("0").ljust(least, "0")
    if decimal_sign() == ",":
        whole = whole.replace(",", ".")
    return f"{whole}{decimal_sign()}{kept}" if kept else whole


def in_mm(amount: float) -> str:
    """Return a size in millimetres.

    >>> in_mm(1050.0), in_mm(9.5)
    ('1,050 mm', '9.5 mm')
    """
    return _("{n} mm").format(n=figure(amount))


def in_metres(amount: float) -> str:
    """Return a size in metres, to the centimetre or as finely as it is [mm].

    >>> in_metres(4500.0), in_metres(4505.0)
    ('4.50 m', '4.505 m')
    """
    return _("{n} m").format(n=figure(amount / MM, least=2, most=3))


def in_bricks(amount: float, coursing: Coursing) -> str:
    """Return how many bricks with their perpends a length is, to the half [mm].

    >>> from estimator.survey.survey import Brickwork
    >>> from estimator.survey.wall import coursing_of
    >>> in_bricks(4500.0, coursing_of(Brickwork()))
    '20 bricks'
    """
    along = coursing.brick.length_mm + coursing.perpend_mm
    number = round(amount / along * 2) / 2
    if number == 1:
        return _("1 brick")
    return _("{n} bricks").format(n=_halves(number))


def in_courses(amount: float, coursing: Coursing) -> str:
    """Return how many courses a height is, to the half [mm].

    >>> from estimator.survey.survey import Brickwork
    >>> from estimator.survey.wall import coursing_of
    >>> in_courses(2700.0, coursing_of(Brickwork()))
    '36 courses'
    """
    number = round(amount / coursing.gauge_mm * 2) / 2
    if number == 1:
        return _("1 course")
    return _("{n} courses").format(n=_halves(number))


def _halves(number: float) -> str:
    return f"{int(number)}½" if number % 1 and number > 0 else figure(number, most=0)
