"""A day that was, as people say it: today, yesterday, Friday, 27 Nov, 27/11."""

from __future__ import annotations

import datetime

from estimator.desktop.agreed import wording
from estimator.desktop.language import _
from estimator.desktop.readings import typed
from estimator.notices import UserMistake

A_DAY = datetime.timedelta(days=1)
SHORTEST_NAME = 3
"""Letters of the name of a day that tell it from the others."""


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
    found = today + A_DAY if bare == _("tomorrow") else typed.read_day(bare, today=today)
    if found is None:
        raise UserMistake(
            _("“{text}” is no day").format(text=text.strip()),
            do=_("type it like 25 Nov 2026 or 25/11/2026"),
            field="date",
        )
    if found > today:
        raise UserMistake(
            _("That day is still to come"), do=_("type today or a day before"), field="date"
        )
    return found


def weekday_of(bare: str) -> int | None:
    """Return which day of the week its name or three letters of it mean, from Monday as 0.

    >>> weekday_of("fri"), weekday_of("t")
    (4, None)
    """
    if len(bare) < SHORTEST_NAME:
        return None
    names = [name.lower() for name in wording.weekday_names()]
    return next((place for place, name in enumerate(names) if name.startswith(bare)), None)
