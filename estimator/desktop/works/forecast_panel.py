"""A quiet place to type what a forecast says, a line a day, and what follows from it by mortar."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from estimator.contract.works import Expected
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.language import _, in_full
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import words
from estimator.desktop.works import forecast_typed, wording
from estimator.desktop.works.state import Works
from estimator.notices import UserMistake
from estimator.works.forecast import MortarDays, Wanted

MOST = 40
DAY_WIDE = 84


class DayRow(QWidget):
    """One day, and its weather as it was forecast."""

    changed = Signal()

    def __init__(self, on: datetime.date, *, is_today: bool) -> None:
        """Ask for the weather of a day."""
        super().__init__()
        self.on = on
        label = _("Tonight") if is_today else wording.day(on)
        self.label = words(label, role="second", wrap=False)
        self.editor = QLineEdit()
        self.editor.setMaxLength(MOST)
        self.editor.setPlaceholderText(_("3°, dry, or 3 to 9, rain"))
        self.editor.setAccessibleName(_("Forecast for {day}").format(day=label))
        self.echo = words(role="second", tone="done")
        self.problem = words(tone="stop")
        self.editor.textEdited.connect(self._typed)
        beside = QVBoxLayout()
        beside.setSpacing(2)
        for part in (self.editor, self.echo, self.problem):
            beside.addWidget(part)
        self.echo.hide()
        self.problem.hide()
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 2, 0, 2)
        layout.setSpacing(8)
        layout.addWidget(self.label, 0, Qt.AlignmentFlag.AlignTop)
        layout.addLayout(beside, 1)
        LOOK.changed.connect(self._fit)
        self._fit()

    def read(self) -> Expected | None:
        """Return the weather; None for none, and where something is wrong it is said."""
        text, problem, understood, found = self.editor.text(), "", "", None
        if text.strip():
            try:
                found = forecast_typed.expected(text, self.on)
                understood = forecast_typed.understood(found)
            except UserMistake as mistake:
                problem = in_full(mistake)
        for label, said in ((self.problem, problem), (self.echo, understood)):
            label.setText(said)
            label.setVisible(bool(said))
        return found

    @property
    def is_wrong(self) -> bool:
        """Whether something is typed that is no forecast."""
        return bool(self.problem.text())

    def _typed(self, _typed: str) -> None:
        self.changed.emit()

    def _fit(self) -> None:
        self.label.setMinimumWidth(LOOK.px(DAY_WIDE))
        # On one line with what is typed beside it.
        self.label.setMinimumHeight(self.editor.sizeHint().height())


class ForecastPanel(QWidget):
    """Closed until it is wanted, unless something is typed."""

    changed = Signal()

    def __init__(self) -> None:
        """Ask for nothing yet."""
        super().__init__()
        self.open = quiet_button(_("Type what the forecast says"))
        self.lead = words(
            _("The least and greatest temperature of day and night, and whether it rains."),
            role="second",
        )
        self.later = words(role="second")
        self.rows: dict[datetime.date, DayRow] = {}
        self.said = words()
        self.caution = CautionBox()
        self.end = words(
            _("A forecast is no promise. The thermometer on the wall decides on the day."),
            role="second",
        )
        self._typed: dict[str, str] = {}
        self._is_open = False
        self._today = datetime.date.min
        self._wanted = Wanted()
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self.open.clicked.connect(self._opened)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 6, 0, 6)
        layout.setSpacing(4)
        layout.addWidget(self.open, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addWidget(self.lead)
        layout.addLayout(self._rows)
        for part in (self.later, self.caution, self.said, self.end):
            layout.addWidget(part)
        self._look()

    def begin(self, expected: Sequence[Expected], today: datetime.date) -> None:
        """Begin with the forecast kept with the plan, as far as it is of days to come."""
        self._today = today
        coming = (one for one in expected if one.on >= today)
        self._is_open = False
        self.show_told({one.on.isoformat(): forecast_typed.shown(one) for one in coming})

    def told(self) -> dict[str, str]:
        """Return all that is typed, by day."""
        return dict(self._typed)

    def show_told(self, told: Mapping[str, str]) -> None:
        """Show what was typed, by day."""
        self._typed = {str(day): str(text) for day, text in told.items()}
        for day, row in self.rows.items():
            row.editor.setText(self._typed.get(day.isoformat(), ""))
            row.read()
        self._look()

    def read(self) -> tuple[Expected, ...]:
        """Return the weather of the days that could be read; beside others it is said why not."""
        for row in self.rows.values():
            row.read()
        found = (_read(text, datetime.date.fromisoformat(day)) for day, text in self._typed.items())
        known = (one for one in found if one is not None and one.on >= self._today)
        return tuple(sorted(known, key=lambda one: one.on))

    @property
    def is_wrong(self) -> bool:
        """Whether something is typed that is no forecast."""
        return any(row.is_wrong for row in self.rows.values())

    def show_works(self, works: Works) -> None:
        """Ask for the days the works want a forecast for, and say what follows from it."""
        self._wanted = works.forecast
        for day in [day for day in self.rows if day not in works.forecast.days]:
            gone = self.rows.pop(day)
            self._rows.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        for place, day in enumerate(works.forecast.days):
            if day not in self.rows:
                row = self.rows[day] = DayRow(day, is_today=day == self._today)
                row.editor.setText(self._typed.get(day.isoformat(), ""))
                row.read()
                row.changed.connect(self._row_changed)
                self._rows.insertWidget(place, row)
        self.rows = {day: self.rows[day] for day in works.forecast.days}
        self._say(works.weather)
        self._look()

    def _say(self, judged: Sequence[MortarDays]) -> None:
        against, fine = wording.weather(judged)
        self.caution.say("\n".join(against))
        self.said.setText("\n".join(fine))

    def _row_changed(self) -> None:
        for day, row in self.rows.items():
            text = row.editor.text()
            if text:
                self._typed[day.isoformat()] = text
            else:
                self._typed.pop(day.isoformat(), None)
        self.changed.emit()

    def _opened(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self._is_open = True
        self._look()
        first = next(iter(self.rows.values()), None)
        if first is not None:
            first.editor.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _look(self) -> None:
        days, again = self._wanted.days, self._wanted.look_again
        is_typed = any(day.isoformat() in self._typed for day in days)
        is_open = bool(days) and (self._is_open or is_typed)
        self.open.setVisible(bool(days) and not is_open)
        self.lead.setVisible(is_open)
        for row in self.rows.values():
            row.setVisible(is_open)
        self.later.setVisible(again is not None)
        if again is not None:
            text = _("From {date} on, type here what the forecast says: it reaches the works then.")
            self.later.setText(text.format(date=agreed_wording.day_of_week(again)))
        self.said.setVisible(is_open and bool(self.said.text()))
        self.end.setVisible(is_open)


def _read(text: str, on: datetime.date) -> Expected | None:
    try:
        return forecast_typed.expected(text, on)
    except UserMistake:
        return None
