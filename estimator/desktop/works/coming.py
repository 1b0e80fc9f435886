"""A day to come, as people say it: tomorrow, Monday, 7 Dec, 7/12/2026."""

from __future__ import annotations

import datetime

from estimator.desktop.agreed import wording
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.written import Written
from estimator.desktop.readings import typed
from estimator.desktop.widgets.words import words
from estimator.notices import UserMistake

MOST = 20
A_DAY = datetime.timedelta(days=1)
A_YEAR = datetime.timedelta(days=364)
SHORTEST_NAME = 3
"""Letters of the name of a day that tell it from the others."""


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
    named = _weekday(bare)
    if named is not None:
        return today + ((named - today.weekday() - 1) % 7 + 1) * A_DAY
    if bare in ("", _("today"), _("yesterday")):
        return typed.day(bare or _("today"), today=today)
    found = typed.read_day(bare, today=today + A_YEAR)
    if found is None:
        raise UserMistake(
            _("“{text}” is no day").format(text=text.strip()),
            do=_("type it like 7 Dec, Monday or 7/12/2026"),
            field="date",
        )
    return found


def _weekday(bare: str) -> int | None:
    if len(bare) < SHORTEST_NAME:
        return None
    names = [name.lower() for name in wording.weekday_names()]
    return next((place for place, name in enumerate(names) if name.startswith(bare)), None)


class ComingDay(Written):
    """A field for a day to come; what it was taken for stands under it."""

    def __init__(self, label: str, *, hint: str = "") -> None:
        """Begin empty."""
        super().__init__(label, most=MOST, hint=hint)
        self.echo = words(role="second", tone="done")
        layout = self.layout()
        assert layout is not None
        layout.addWidget(self.echo)
        self.echo.hide()

    def read(self, today: datetime.date) -> datetime.date | None:
        """Return the day typed; None for none, and where something is wrong it is said."""
        self.complain("")
        self.echo.hide()
        if not self.text.strip():
            return None
        try:
            day = coming_day(self.text, today=today)
        except UserMistake as mistake:
            self.complain(in_full(mistake))
            return None
        self.echo.setText(_("= {date}").format(date=wording.day_of_week(day)))
        self.echo.show()
        return day
