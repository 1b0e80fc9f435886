"""Days as people say them: today, Friday, 27 Nov, 27/11, 27 November 2026; gone by, or to come."""

from __future__ import annotations

import datetime
import re

from estimator.desktop.language import _
from estimator.notices import UserMistake

A_DAY = datetime.timedelta(days=1)
A_YEAR = datetime.timedelta(days=364)
SHORTEST_NAME = 3
"""Letters of the name of a day that tell it from the others."""
MONTHS = (
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
)  # fmt: skip
IN_FIGURES = re.compile(r"(\d{1,2})[/. -](\d{1,2})[/. -](?P<year>\d{4}|\d{2})")
WITHOUT_YEAR = re.compile(r"(\d{1,2})/(\d{1,2})(?P<year>)")
IN_WORDS = re.compile(r"(\d{1,2})(?:st|nd|rd|th|\.)? ?(?:of )?([a-z]{3,9})\.? ?(\d{4}|\d{2})?")
NAMED = re.compile(r"(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]? +(?=\d)")
"""The name of a weekday before its date, which tells nothing more."""


def read_day(text: str, *, today: datetime.date) -> datetime.date | None:
    """Return a day, whatever day that is, the last such up to one without a year; None for none.

    >>> read_day("7 dec", today=datetime.date(2027, 11, 24))
    datetime.date(2026, 12, 7)
    """
    bare = text.strip().lower()
    if bare == _("today"):
        return today
    if bare == _("yesterday"):
        return today - A_DAY
    try:
        return datetime.date.fromisoformat(bare)
    except ValueError:
        pass
    bare = NAMED.sub("", bare, count=1)
    if match := WITHOUT_YEAR.fullmatch(bare) or IN_FIGURES.fullmatch(bare):
        return _made(match[1], int(match[2]), match["year"] or "", today)
    match = IN_WORDS.fullmatch(bare)
    if match and match[2][:3] in MONTHS:
        return _made(match[1], MONTHS.index(match[2][:3]) + 1, match[3] or "", today)
    return None


def up_to(
    today: datetime.date, found: datetime.date | None, text: str, *, do: str
) -> datetime.date:
    """Return a day that was typed, where it is one and not still to come.

    Args:
        today: The last day it may be.
        found: What was read of it.
        text: What was typed.
        do: What to type where it is still to come.

    Raises:
        UserMistake: where it is neither.
    """
    if found is None:
        raise UserMistake(
            _("“{text}” is no day").format(text=text.strip()),
            do=_("type it like 25 Nov 2026 or 25/11/2026"),
            field="date",
        )
    if found > today:
        raise UserMistake(_("That day is still to come"), do=do, field="date")
    return found


def day_gone(text: str, *, today: datetime.date) -> datetime.date:
    """Return a day up to today; the last such day without a year, or by the name of a weekday.

    Raises:
        UserMistake: for what is no day, or one still to come.

    >>> day_gone("Friday", today=datetime.date(2026, 11, 28)).isoformat()
    '2026-11-27'
    >>> day_gone("30/11", today=datetime.date(2026, 11, 28)).isoformat()
    '2025-11-30'
    """
    bare = text.strip().lower()
    named = weekday_of(bare)
    if named is not None:
        return today - (today.weekday() - named) % 7 * A_DAY
    found = today + A_DAY if bare == _("tomorrow") else read_day(bare, today=today)
    return up_to(today, found, text, do=_("type today or a day before"))


def coming_day(text: str, *, today: datetime.date) -> datetime.date:
    """Return a day; without a year the next such day, by the name of a weekday the next of those.

    Raises:
        UserMistake: for what is no day.

    >>> coming_day("7 Jan", today=datetime.date(2026, 11, 25)).isoformat()
    '2027-01-07'
    >>> coming_day("Monday", today=datetime.date(2026, 11, 25)).isoformat()
    '2026-11-30'
    """
    bare = text.strip().lower()
    if bare == _("tomorrow"):
        return today + A_DAY
    named = weekday_of(bare)
    if named is not None:
        return today + ((named - today.weekday() - 1) % 7 + 1) * A_DAY
    is_about_now = bare in ("", _("today"), _("yesterday"))
    found = read_day(bare or _("today"), today=today if is_about_now else today + A_YEAR)
    if found is None:
        raise UserMistake(
            _("“{text}” is no day").format(text=text.strip()),
            do=_("type it like 7 Dec, Monday or 7/12/2026"),
            field="date",
        )
    return found


def weekday_of(bare: str) -> int | None:
    """Return which day of the week its name or three letters of it mean, from Monday as 0.

    >>> weekday_of("fri"), weekday_of("t")
    (4, None)
    """
    if len(bare) < SHORTEST_NAME:
        return None
    names = [name.lower() for name in weekday_names()]
    return next((place for place, name in enumerate(names) if name.startswith(bare)), None)


def weekday_names() -> tuple[str, ...]:
    """Return the days of the week, from Monday on."""
    return (
        _("Monday"),
        _("Tuesday"),
        _("Wednesday"),
        _("Thursday"),
        _("Friday"),
        _("Saturday"),
        _("Sunday"),
    )


def _made(day: str, month: int, year: str, today: datetime.date) -> datetime.date | None:
    full = int(year) + (2000 if len(year) == 2 else 0) if year else today.year
    try:
        found = datetime.date(full, month, int(day))
        if not year and found > today:
            found = found.replace(year=full - 1)
    except ValueError:
        return None
    return found
