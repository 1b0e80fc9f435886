"""Words at the left and a figure at the right, one row under the other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.widgets.words import figures, hairline, words


@dataclass(frozen=True, slots=True)
class Figure:
    """One row."""

    text: str
    amount: str
    note: str = ""
    """Under the words, quietly."""
    is_sum: bool = False
    """Struck off and strong."""


class FigureRows(QWidget):
    """Rows that are read, not taken up."""

    def __init__(self) -> None:
        """Begin without rows."""
        super().__init__()
        self._told: tuple[Figure, ...] | None = None
        self._rows: list[QWidget] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 4, 0, 4)
        self._layout.setSpacing(4)

    @property
    def told(self) -> tuple[Figure, ...]:
        """What is shown."""
        return self._told or ()

    def show_rows(self, rows: Iterable[Figure]) -> None:
        """Show other rows."""
        told = tuple(rows)
        if told == self._told:
            return
        self._told = told
        for row in self._rows:
            self._layout.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows = []
        for one in told:
            self._add(one)

    def _add(self, one: Figure) -> None:
        if one.is_sum:
            self._put(hairline())
        role = "strong" if one.is_sum else "text"
        row = QWidget()
        beside = QHBoxLayout(row)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(12)
        beside.addWidget(words(one.text, role=role), 1)
        beside.addWidget(figures(one.amount, role=role), 0, Qt.AlignmentFlag.AlignTop)
        self._put(row)
        if one.note:
            self._put(words(one.note, role="second"))

    def _put(self, row: QWidget) -> None:
        self._rows.append(row)
        self._layout.addWidget(row)
