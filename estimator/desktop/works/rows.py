"""Rows of a list by their keys, made a few at a turn so that a long list holds nothing up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Generic, TypeVar

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

W = TypeVar("W", bound=QWidget)
T = TypeVar("T")
AT_ONCE = 4
"""Rows made in one turn of the window; house rule."""


class Rows(QObject, Generic[W, T]):
    """Keeps a row to each key, in order; what is known already is only told anew."""

    grown = Signal()
    """The last rows were made."""

    def __init__(
        self,
        layout: QVBoxLayout,
        make: Callable[[str], W],
        tell: Callable[[W, T], object],
        parent: QObject,
    ) -> None:
        """Begin with none.

        Args:
            layout: Holds these rows and nothing else.
            make: Makes the row of a key.
            tell: Shows what is known on a row.
            parent: Who it belongs to.
        """
        super().__init__(parent)
        self._layout, self._make, self._tell = layout, make, tell
        self._wanted: dict[str, T] = {}
        self.rows: dict[str, W] = {}
        self._turn = QTimer(self)
        self._turn.setSingleShot(True)
        self._turn.setInterval(0)
        self._turn.timeout.connect(self._some)

    def show(self, wanted: Mapping[str, T]) -> None:
        """List other rows; those that are new come in the turns that follow."""
        for key in [key for key in self.rows if key not in wanted]:
            row = self.rows.pop(key)
            self._layout.removeWidget(row)
            row.hide()
            row.deleteLater()
        for key, row in self.rows.items():
            if self._wanted[key] != wanted[key]:
                self._tell(row, wanted[key])
        self._wanted = dict(wanted)
        if list(self.rows) != [key for key in wanted if key in self.rows]:
            self._order()
        self._turn.start()

    def all(self) -> dict[str, W]:
        """Return every row, made by now."""
        if len(self.rows) < len(self._wanted):
            self._grow(len(self._wanted))
        return self.rows

    def _some(self) -> None:
        self._grow(AT_ONCE)
        if len(self.rows) < len(self._wanted):
            self._turn.start()

    def _grow(self, most: int) -> None:
        missing = [key for key in self._wanted if key not in self.rows][:most]
        if not missing:
            return
        for key in missing:
            row = self._make(key)
            self._tell(row, self._wanted[key])
            self.rows[key] = row
        is_in_order = list(self.rows) == [key for key in self._wanted if key in self.rows]
        if is_in_order:
            for key in missing:
                self._layout.addWidget(self.rows[key])
        else:
            self._order()
        for key in missing:
            # Styled now, a few at a time, and not all at once when they are first seen.
            parts: list[QWidget] = [self.rows[key], *self.rows[key].findChildren(QWidget)]
            for part in parts:
                part.ensurePolished()
        self.grown.emit()

    def _order(self) -> None:
        rows = {key: self.rows[key] for key in self._wanted if key in self.rows}
        for row in rows.values():
            self._layout.removeWidget(row)
        for row in rows.values():
            self._layout.addWidget(row)
        self.rows = rows
