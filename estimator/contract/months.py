"""Months counted on from a day."""

from __future__ import annotations

import calendar
import datetime

MONTHS_A_YEAR = 12


def months_after(day: datetime.date, months: int) -> datetime.date:
    """Return the same day so many months later, or the last of a shorter month.

    >>> months_after(datetime.date(2026, 11, 30), 3).isoformat()
    '2027-02-28'
    """
    years, month = divmod(day.month - 1 + months, MONTHS_A_YEAR)
    year = day.year + years
    last = calendar.monthrange(year, month + 1)[1]
    return datetime.date(year, month + 1, min(day.day, last))
