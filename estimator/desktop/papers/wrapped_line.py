"""A line of a list that can be taken up, and wraps."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QPushButton, QSizePolicy, QVBoxLayout

from estimator.desktop.widgets.words import words


class WrappedLine(QPushButton):
    """A line that can be taken up, with words that wrap where a button's own would be cut off."""

    def __init__(self, text: str) -> None:
        """Say something."""
        super().__init__()
        # Only so does Enter press it.
        self.setAutoDefault(True)
        self.setProperty("role", "row")
        self.setAccessibleName(text)
        self._words = words(text)
        self._words.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(7, 5, 7, 5)
        layout.addWidget(self._words)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as large as the words."""
        return self._words.sizeHint() + QSize(14, 10)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be no smaller than the words at their narrowest."""
        return self._words.minimumSizeHint() + QSize(14, 10)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Be as high as the words are at a width."""
        return self._words.heightForWidth(width - 14) + 10
