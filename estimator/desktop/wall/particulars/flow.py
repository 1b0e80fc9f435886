"""A layout that goes on in the next row where a row is full, as words do."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

from estimator.desktop.theme.look import LOOK

GAP, ROW_GAP = 10, 6
"""Between parts of a row, and between rows [px]."""


class Flow(QLayout):
    """Parts side by side, each as wide as it asks, in as many rows as they need."""

    def __init__(self, parent: QWidget | None = None, *, gap: int = GAP) -> None:
        """Begin with no parts."""
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:  # noqa: N802 - Qt's name
        """Take in a part, after the others."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many parts there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Return a part by its place, None beyond the last."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Take a part out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:  # noqa: N802 - Qt's name
        """Return that it never asks for more than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:  # noqa: N802 - Qt's name
        """Return that it grows as rows break."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return how high it is when so wide [px]."""
        return self._place(QRect(0, 0, width, 0), is_trial=True)

    def setGeometry(self, rect: QRect) -> None:  # noqa: N802 - Qt's name
        """Put the parts in their places."""
        super().setGeometry(rect)
        self._place(rect, is_trial=False)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least it can do with."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the size of its largest part."""
        size = QSize()
        for item in self._items:
            if not item.isEmpty():
                size = size.expandedTo(item.minimumSize())
        return size

    def _place(self, rect: QRect, *, is_trial: bool) -> int:
        """Lay the parts out, or only count how high they come [px]."""
        gap, row_gap = LOOK.px(self._gap), LOOK.px(ROW_GAP)
        x, y, row = rect.x(), rect.y(), 0
        for item in self._items:
            if item.isEmpty():
                continue
            size = item.sizeHint().boundedTo(QSize(max(rect.width(), 1), 10_000))
            if x > rect.x() and x + size.width() > rect.x() + rect.width():
                x, y, row = rect.x(), y + row + row_gap, 0
            if not is_trial:
                item.setGeometry(QRect(QPoint(x, y), size))
            x, row = x + size.width() + gap, max(row, size.height())
        return y + row - rect.y()
