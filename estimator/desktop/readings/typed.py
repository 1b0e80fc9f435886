"""What is typed about a reading: a day as people write it, and a width to a tenth."""

from __future__ import annotations

import datetime
import re

from estimator.desktop.language import _
from estimator.exchange import figures
from estimator.notices import UserMistake
from estimator.survey.limits import NUMBERS

WIDTHS = NUMBERS["crack width"]
MONTHS = (
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
)  # fmt: skip
IN_FIGURES = re.compile(r"(\d{1,2})[/. -](\d{1,2})[/. -](?P<year>\d{4}|\d{2})")
WITHOUT_YEAR = re.compile(r"(\d{1,2})/(\d{1,2})(?P<year>)")
IN_WORDS = re.compile(r"(\d{1,2})(?:st|nd|rd|th|\.)? ?(?:of )?([a-z]{3,9})\.? ?(\d{4}|\d{2})?")
NAMED = re.compile(r"(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]? +(?=\d)")
"""The name of a weekday before its date, which tells nothing more."""
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
    found = _day(text.strip().lower(), today)
    if found is None:
        raise UserMistake(
            _("“{text}” is no day").format(text=text.strip()),
            do=_("type it like 25 Nov 2026 or 25/11/2026"),
            field="date",
        )
    if found > today:
        raise UserMistake(
            _("That day is still to come"), do=_("type the day it was read"), field="date"
        )
    return found


def read_day(text: str, *, today: datetime.date) -> datetime.date | None:
    """Return the last such day up to one, whatever day that is; None for what is no day.

    >>> read_day("7 dec", today=datetime.date(2027, 11, 24))
    datetime.date(2026, 12, 7)
    """
    return _day(text.strip().lower(), today)


def _day(text: str, today: datetime.date) -> datetime.date | None:
    if text == _("today"):
        return today
    if text == _("yesterday"):
        return today - datetime.timedelta(days=1)
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        pass
    text = NAMED.sub("", text, count=1)
    if match := WITHOUT_YEAR.fullmatch(text) or IN_FIGURES.fullmatch(text):
        return _made(match[1], int(match[2]), match["year"] or "", today)
    match = IN_WORDS.fullmatch(text)
    if match and match[2][:3] in MONTHS:
        return _made(match[1], MONTHS.index(match[2][:3]) + 1, match[3] or "", today)
    return None


def _made(day_: str, month: int, year: str, today: datetime.date) -> datetime.date | None:
    full = int(year) + (2000 if len(year) == 2 else 0) if year else today.year
    try:
        found = datetime.date(full, month, int(day_))
        if not year and found > today:
            found = found.replace(year=full - 1)
    except ValueError:
        return None
    return found


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
