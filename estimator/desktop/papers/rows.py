"""Rows of the check page: a label, what stands on the paper, and a way to change it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words

LABEL_WIDTH = 84
"""Of the labels, so that what they are about stands in one line. [px]"""


class Row(QWidget):
    """A label at the left, words beside it, and a quiet button where they can be changed."""

    def __init__(self, label: str, *, change: str = "", act: Callable[[], object] | None = None):
        """Make a row; ``change`` is what a screen reader says of its button."""
        super().__init__()
        self.label = words(label, role="second")
        self.label.setFixedWidth(LOOK.px(LABEL_WIDTH))
        self.value = words()
        self.under = words(role="second")
        self.under.hide()
        self.problem = words(tone="stop")
        self.problem.hide()
        self.button: QPushButton | None = None
        beside = QVBoxLayout()
        beside.setSpacing(0)
        for part in (self.value, self.under, self.problem):
            beside.addWidget(part)
        beside.setContentsMargins(0, 5, 0, 5)
        self.body = beside
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(_dropped(self.label))
        row.addLayout(beside, 1)
        if act is not None:
            self.button = quiet_button(_("Change"))
            self.button.setAccessibleName(change)
            self.button.clicked.connect(lambda _ticked=False: act())
            row.addWidget(self.button, 0, Qt.AlignmentFlag.AlignTop)

    def say(self, text: str, under: str = "") -> None:
        """Show what stands on the paper."""
        self.value.setText(text)
        self.value.setVisible(bool(text))
        self.under.setText(under)
        self.under.setVisible(bool(under))

    def complain(self, text: str) -> None:
        """Show what is missing, or nothing."""
        self.problem.setText(text)
        self.problem.setVisible(bool(text))


def _dropped(label: QLabel) -> QWidget:
    """Return a label at the top of its room, level with the first line beside it."""
    holder = QWidget()
    layout = QVBoxLayout(holder)
    layout.setContentsMargins(0, 6, 0, 0)
    layout.addWidget(label)
    layout.addStretch()
    return holder
