"""What is typed about a reading: a day as people write it, and a width to a tenth."""

from __future__ import annotations

import datetime

from estimator.desktop.inputs import days
from estimator.desktop.language import _
from estimator.exchange import figures
from estimator.notices import UserMistake
from estimator.survey.limits import NUMBERS

WIDTHS = NUMBERS["crack width"]
DECIMALS = "."


def day(text: str, *, today: datetime.date) -> datetime.date:
    """Return a day; day before month, as in Britain, and this year's last such day without a year.

    Raises:
        UserMistake: for what is no day, or one still to come.

    >>> day("4/3/2026", today=datetime.date(2026, 11, 25)).isoformat()
    '2026-03-04'
    >>> day("1 Dec", today=datetime.date(2026, 11, 25)).isoformat()
    '2025-12-01'
    """
    found = days.read_day(text, today=today)
    return days.up_to(today, found, text, do=_("type the day it was read"))


def width_mm(text: str) -> float:
    """Return a width to a tenth of a millimetre [mm].

    Raises:
        UserMistake: for what is no width.

    >>> width_mm("2.3"), width_mm("2.3 mm")
    (2.3, 2.3)
    """
    bare = text.strip().lower().removesuffix("mm").strip()
    number = figures.number(bare, DECIMALS)
    if isinstance(number, figures.Reading) or not WIDTHS.allows(float(number)):
        raise UserMistake(
            _("“{text}” is no width").format(text=text.strip()),
            do=_("type {bounds}, such as 2.3").format(bounds=WIDTHS.words),
            field="width",
        )
    tenths = number * 10
    if tenths != tenths.to_integral_value():
        raise UserMistake(
            _("A caliper reads to a tenth here"),
            do=_("type one decimal, such as 2.3"),
            field="width",
        )
    return float(number)
