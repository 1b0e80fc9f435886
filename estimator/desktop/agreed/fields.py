"""Fields of the forms that follow a quotation: a choice, a tick, a day."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Generic, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.agreed import wording
from estimator.desktop.inputs.days import day_gone
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.written import Written
from estimator.desktop.wall.particulars.field import Chooser
from estimator.desktop.widgets.words import words
from estimator.exchange import figures
from estimator.notices import UserMistake

T = TypeVar("T")
MOST_OF_A_DAY = 20
MOST_POUNDS = Decimal(10_000_000)
"""More than that was mistyped; house rule. [£]"""


class Picked(QWidget, Generic[T]):
    """A label over a list of which one is taken."""

    changed = Signal()

    def __init__(self, label: str, choices: Mapping[T, str]) -> None:
        """Offer choices: what each means, and its words."""
        super().__init__()
        self._values: list[T] = []
        self.list = Chooser()
        self.list.setAccessibleName(label)
        # Long words are cut short in the field and whole in the list, and never widen the column.
        self.list.setSizeAdjustPolicy(
            Chooser.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.list.setMinimumContentsLength(6)
        self.list.activated.connect(lambda _place: self.changed.emit())
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 6, 0, 6)
        layout.setSpacing(4)
        layout.addWidget(words(label, role="second"))
        layout.addWidget(self.list)
        self.offer(choices)

    def offer(self, choices: Mapping[T, str]) -> None:
        """Offer other choices, the one taken staying so where it is among them."""
        before = self.value if self._values else None
        self._values = list(choices)
        self.list.clear()
        self.list.addItems(list(choices.values()))
        if before in self._values:
            self.pick(before)

    @property
    def value(self) -> T:
        """What is taken."""
        return self._values[max(self.list.currentIndex(), 0)]

    @property
    def values(self) -> tuple[T, ...]:
        """What can be taken."""
        return tuple(self._values)

    def pick(self, value: T) -> None:
        """Take one."""
        if value in self._values:
            self.list.setCurrentIndex(self._values.index(value))

    def take_focus(self) -> None:
        """Put the keyboard here."""
        self.list.setFocus(Qt.FocusReason.ShortcutFocusReason)


class Ticked(QWidget):
    """A tick, and words beside it that wrap."""

    changed = Signal()

    def __init__(self, text: str, *, ticked: bool = False) -> None:
        """Say what is so when it is ticked."""
        super().__init__()
        self.box = QCheckBox()
        self.box.setChecked(ticked)
        self.box.setAccessibleName(text)
        self.words = words(text)
        self.under = words(role="second")
        beside = QVBoxLayout()
        beside.setContentsMargins(0, 5, 0, 5)
        beside.setSpacing(0)
        beside.addWidget(self.words)
        beside.addWidget(self.under)
        self.under.hide()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        row.addWidget(self.box, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(beside, 1)
        self.box.toggled.connect(lambda _on: self.changed.emit())

    def say(self, text: str, under: str = "") -> None:
        """Say other words."""
        self.words.setText(text)
        self.under.setText(under)
        self.under.setVisible(bool(under))
        self.box.setAccessibleName(text)
        self.box.setAccessibleDescription(under)

    @property
    def is_on(self) -> bool:
        """Whether it is ticked."""
        return self.box.isChecked()

    def tick(self, *, on: bool) -> None:
        """Tick it, or not; told to nobody."""
        before = self.box.blockSignals(True)
        self.box.setChecked(on)
        self.box.blockSignals(before)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take a press on the words for one on the tick."""
        self.box.click()


class DayField(Written):
    """A day as people write it; what it was taken for stands under it."""

    def __init__(self, label: str) -> None:
        """Begin with today."""
        super().__init__(label, most=MOST_OF_A_DAY)
        self.echo = words(role="second", tone="done")
        layout = self.layout()
        assert layout is not None
        layout.addWidget(self.echo)
        self.echo.hide()
        self.show_text(_("today"))

    def read(self, today: datetime.date) -> datetime.date | None:
        """Return the day typed, or None and say what is wrong with it."""
        self.complain("")
        self.echo.hide()
        try:
            day = day_gone(self.text or _("today"), today=today)
        except UserMistake as mistake:
            self.complain(in_full(mistake))
            return None
        if self.text != wording.day(day):
            self.echo.setText(_("= {date}").format(date=wording.day_of_week(day)))
            self.echo.show()
        return day


def pounds(text: str) -> Decimal | None:
    """Return a sum as it was typed, None for what is none, or more than any repair comes to.

    >>> pounds("£1,250.50"), pounds("lots"), pounds("999999999999")
    (Decimal('1250.50'), None, None)
    """
    found = figures.number(figures.bare(text), ".")
    return found if isinstance(found, Decimal) and abs(found) <= MOST_POUNDS else None


def amount_in(field: Written, wrong: str) -> Decimal | None:
    """Return a number typed, nought for nothing; None, and what is wrong said, for what is none."""
    found = pounds(field.text) if field.text.strip() else Decimal(0)
    is_number = found is not None and found >= 0
    field.complain("" if is_number else wrong)
    return found if is_number else None
