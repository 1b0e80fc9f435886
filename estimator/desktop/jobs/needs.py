"""What needs you today: a few jobs, each with its reason in a sentence."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estimator.desktop.jobs import wording
from estimator.desktop.language import _, counted
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words

if TYPE_CHECKING:
    from estimator.store.attention import Needed

FEW = 3
"""Jobs shown before somebody asks for the rest."""
MOST = 12
"""Jobs shown at all; the list holds the others."""
NAME = 200
"""Room for a name, so that the reasons stand in a column. [px]"""
ENTER = {int(Qt.Key.Key_Return), int(Qt.Key.Key_Enter)}
STEPS = {int(Qt.Key.Key_Down): 1, int(Qt.Key.Key_Up): -1}


class NeedRow(QPushButton):
    """One job and why it asks for a look."""

    stepped = Signal(int)
    """An arrow was pressed: one down or one up."""

    def __init__(self, needed: Needed, today: datetime.date) -> None:
        """Name the job and say the reason."""
        super().__init__()
        self.uid = needed.job.uid
        name, why = wording.name_of(needed.job), wording.why(needed, today)
        self.setProperty("role", "row")
        self.setAutoDefault(False)
        self.setAccessibleName(f"{name}: {why}")
        who, reason = words(_short(name), role="strong", wrap=False), words(why, wrap=False)
        row = QHBoxLayout(self)
        row.setContentsMargins(LOOK.px(8), 0, LOOK.px(8), 0)
        row.setSpacing(LOOK.px(16))
        row.addWidget(who)
        row.addWidget(reason, 1)
        for label in (who, reason):
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            label.setMinimumWidth(LOOK.px(60))
        who.setFixedWidth(LOOK.px(NAME))
        self.setFixedHeight(LOOK.px(36))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take the job on Enter; the arrows walk."""
        if event.key() in ENTER:
            self.click()
        elif event.key() in STEPS:
            self.stepped.emit(STEPS[event.key()])
        else:
            super().keyPressEvent(event)


class Needs(QFrame):
    """The block above the list; it is hidden where nothing asks for a look."""

    taken = Signal(str)
    """The uid of the job to open."""
    left_down = Signal()
    """The arrow down was pressed on the last row."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin empty."""
        super().__init__(parent)
        self.setProperty("role", "card")
        self._needed: tuple[Needed, ...] = ()
        self._today = datetime.date.min
        self._shows_all = False
        self.rows: list[NeedRow] = []
        self._heading = words(_("What needs you today"), role="title")
        self._rest = quiet_button("")
        self._rest.clicked.connect(self._show_all)
        self._lines = QVBoxLayout()
        self._lines.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 12, 8, 8)
        layout.setSpacing(4)
        heading = QHBoxLayout()
        heading.setContentsMargins(8, 0, 8, 0)
        heading.addWidget(self._heading)
        layout.addLayout(heading)
        layout.addLayout(self._lines)
        layout.addWidget(self._rest, 0, Qt.AlignmentFlag.AlignLeft)
        LOOK.changed.connect(self._fill)
        self.hide()

    def show_needed(self, needed: Sequence[Needed], today: datetime.date) -> None:
        """Show the jobs that ask for a look, the most pressing first."""
        if (tuple(needed), today) != (self._needed, self._today):
            self._needed, self._today = tuple(needed), today
            self._fill()
        self.setVisible(bool(needed))

    def take_focus(self, *, last: bool = False) -> bool:
        """Put the cursor on the first or last row, if there is one."""
        if self.isHidden() or not self.rows:
            return False
        self.rows[-1 if last else 0].setFocus(Qt.FocusReason.OtherFocusReason)
        return True

    def _show_all(self) -> None:
        self._shows_all = True
        self._fill()
        self.rows[min(FEW, len(self.rows) - 1)].setFocus(Qt.FocusReason.OtherFocusReason)

    def _fill(self) -> None:
        for row in self.rows:
            self._lines.removeWidget(row)
            row.hide()
            row.deleteLater()
        shown = self._needed[: MOST if self._shows_all else FEW]
        self.rows = [NeedRow(one, self._today) for one in shown]
        for place, row in enumerate(self.rows):
            row.clicked.connect(lambda _ticked=False, uid=row.uid: self.taken.emit(uid))
            row.stepped.connect(lambda step, place=place: self._step(place + step))
            self._lines.addWidget(row)
        left = len(self._needed) - len(self.rows)
        self._rest.setVisible(left > 0 and not self._shows_all)
        self._rest.setText(counted("{n} more", "{n} more", left))

    def _step(self, place: int) -> None:
        if place >= len(self.rows):
            self.left_down.emit()
        elif place >= 0:
            self.rows[place].setFocus(Qt.FocusReason.OtherFocusReason)


def _short(name: str) -> str:
    """Return as much of a name as there is room for."""
    metrics = QFontMetrics(LOOK.font(14, strong=True))
    return metrics.elidedText(name, Qt.TextElideMode.ElideRight, LOOK.px(NAME))
