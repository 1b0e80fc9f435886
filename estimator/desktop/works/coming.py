"""A field for a day to come, as people say it: tomorrow, Monday, 7 Dec, 7/12/2026."""

from __future__ import annotations

import datetime

from estimator.desktop.agreed import wording
from estimator.desktop.inputs.days import coming_day
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.words import words
from estimator.notices import UserMistake

MOST = 20


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
