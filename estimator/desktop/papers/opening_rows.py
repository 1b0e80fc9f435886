"""Rows of a block that open something, each told by its name."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.papers.wrapped_line import WrappedLine


class OpeningRows(QWidget):
    """A row to each name; pressed, it is told by its name."""

    asked = Signal(str)

    def __init__(self) -> None:
        """Begin without rows."""
        super().__init__()
        self.rows: dict[str, WrappedLine] = {}
        self._told: tuple[tuple[str, str], ...] = ()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)

    def show_rows(self, told: tuple[tuple[str, str], ...]) -> None:
        """Show other rows, each by its name and its words; the keyboard stays where it was."""
        if told == self._told:
            return
        self._told = told
        at = next((name for name, row in self.rows.items() if row.hasFocus()), "")
        for row in self.rows.values():
            self._layout.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.rows = {}
        for name, text in told:
            row = WrappedLine(text)
            row.clicked.connect(lambda _ticked=False, name=name: self.asked.emit(name))
            self._layout.addWidget(row)
            self.rows[name] = row
        if at in self.rows:
            self.rows[at].setFocus()
