"""Rows of the check page: a label, what stands on the paper, and a way to change it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QPushButton, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words

LABEL_WIDTH = 84
"""Of the labels, so that what they are about stands in one line. [px]"""
STACKED_FROM = 1.4
"""Scale from which a label stands over its words: side by side they would have no room."""

PIECE = 13
"""Letters of a word that always have room on one line."""


class Row(QWidget):
    """A label at the left, words beside it, and a quiet button where they can be changed."""

    def __init__(
        self, label: str, *, change: str = "", act: Callable[[], object] | None = None
    ) -> None:
        """Make a row; ``change`` is what a screen reader says of its button."""
        super().__init__()
        self.label = words(label, role="second")
        self.label.setContentsMargins(0, 6, 0, 0)
        self.label.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.value = words()
        self.under = words(role="second")
        self.problem = words(tone="stop")
        self._body = QWidget()
        beside = QVBoxLayout(self._body)
        beside.setContentsMargins(0, 5, 0, 5)
        beside.setSpacing(0)
        for part in (self.value, self.under, self.problem):
            beside.addWidget(part)
            # Only once it has a parent: a label shown on its own is a window for a moment.
            part.setVisible(part is self.value)
        beside.addStretch(1)
        self.button: QPushButton | None = None
        if act is not None:
            self.button = quiet_button(_("Change"))
            self.button.setAccessibleName(change)
            self.button.clicked.connect(lambda _ticked=False: act())
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnStretch(1, 1)
        self._place()
        LOOK.changed.connect(self._place)

    def say(self, text: str, under: str = "") -> None:
        """Show what stands on the paper."""
        self.value.setText(breakable(text))
        self.value.setVisible(bool(text))
        self.under.setText(breakable(under))
        self.under.setVisible(bool(under))

    def complain(self, text: str) -> None:
        """Show what is missing, or nothing."""
        self.problem.setText(text)
        self.problem.setVisible(bool(text))

    def _place(self) -> None:
        """Put the words beside their label, or under it where type is large."""
        stacked = LOOK.scale >= STACKED_FROM
        self.label.setFixedWidth(LOOK.px(LABEL_WIDTH))
        for part in filter(None, (self.label, self._body, self.button)):
            self._grid.removeWidget(part)
        self._grid.addWidget(self.label, 0, 0)
        if stacked:
            self._grid.addWidget(self._body, 1, 0, 1, 3)
        else:
            self._grid.addWidget(self._body, 0, 1)
        if self.button is not None:
            self._grid.addWidget(self.button, 0, 2, Qt.AlignmentFlag.AlignTop)


def breakable(text: str) -> str:
    """Return text whose longest words may break too, such as an address of mail.

    One word that cannot would make the whole page as wide as itself, and cut all else off.

    >>> len(breakable("W" * 60).split("\u200b")), breakable("14 Tarn Street")
    (5, '14 Tarn Street')
    """
    parts = [
        "\u200b".join(part[at : at + PIECE] for at in range(0, len(part), PIECE))
        for part in text.split(" ")
    ]
    return " ".join(parts)
