"""The top line of a form: what the thing is, and a few words about it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel

from estimator.desktop.theme.look import LOOK

GAP, HIGH = 8, 30
"""Between the two, and the height of a line of buttons beside them [px]."""


class Heading(QFrame):
    """Two labels on one line, the second of which wraps where there is little room."""

    def __init__(self, title: QLabel, told: QLabel) -> None:
        """Hold both."""
        super().__init__()
        self._title, self._told = title, told
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(LOOK.px(GAP))
        row.addWidget(title)
        row.addWidget(told, 1)
        told.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def hasHeightForWidth(self) -> bool:  # noqa: N802 - Qt's name
        """Return that it grows as its words break."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return how high it is when so wide [px]."""
        room = max(width - self._title.sizeHint().width() - LOOK.px(GAP), 1)
        told = self._told.heightForWidth(room) if self._told.text() else 0
        return max(LOOK.px(HIGH), told, self._title.sizeHint().height())

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return how wide it is with all its words on one line."""
        told = QFontMetrics(self._told.font()).horizontalAdvance(self._told.text())
        width = self._title.sizeHint().width() + LOOK.px(GAP) + told + LOOK.px(GAP)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least it can do with: its first words, and the longest beside them."""
        beside = self._told.minimumSizeHint().width()
        return QSize(self._title.sizeHint().width() + LOOK.px(GAP) + beside, LOOK.px(HIGH))
