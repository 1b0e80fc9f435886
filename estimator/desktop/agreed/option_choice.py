"""One option of a quotation that can be said yes to: its title and its price as it was printed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QRadioButton, QVBoxLayout

from estimator.desktop.widgets.words import retone, words


class OptionChoice(QFrame):
    """A card with a round tick; a press anywhere on it takes it."""

    def __init__(self, title: str, price: str) -> None:
        """Show an option."""
        super().__init__()
        self.setProperty("role", "card")
        self.setProperty("chosen", "false")
        self.box = QRadioButton()
        self.box.setAccessibleName(title)
        self.box.setAccessibleDescription(price)
        beside = QVBoxLayout()
        beside.setContentsMargins(0, 4, 0, 4)
        beside.setSpacing(0)
        beside.addWidget(words(title))
        beside.addWidget(words(price, role="strong"))
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        row.setSpacing(6)
        row.addWidget(self.box, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(beside, 1)
        self.box.toggled.connect(self._mark)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take this one."""
        self.box.setChecked(True)

    def _mark(self, on: bool) -> None:  # noqa: FBT001 - Qt's
        retone(self, chosen="true" if on else "false")
