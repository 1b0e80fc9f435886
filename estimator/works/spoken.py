"""Days in words, the same in every language the machine may be set to."""

from __future__ import annotations

import datetime

MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July", "August"),
    *("September", "October", "November", "December"),
)
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def month(number: int) -> str:
    """Return a month's name by its number from 1.

    >>> month(11)
    'November'
    """
    return MONTHS[number - 1]


def day(date: datetime.date) -> str:
    """Return a day as it is said.

    >>> day(datetime.date(2026, 12, 29))
    'Tuesday 29 December 2026'
    """
    return f"{WEEKDAYS[date.weekday()]} {date.day} {month(date.month)} {date.year}"
