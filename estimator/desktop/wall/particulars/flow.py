"""A layout that goes on in the next row where a row is full, as words do."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

from estimator.desktop.theme.look import LOOK

GAP, ROW_GAP = 10, 6
"""Between parts of a row, and between rows [px]."""


class Flow(QLayout):
    """Parts side by side, each as wide as it asks, in as many rows as they need."""

    def __init__(
        self, parent: QWidget | None = None, *, gap: int = GAP, ends_right: bool = False
    ) -> None:
        """Begin with no parts; all but the first may stand at the right of its row."""
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap, self._ends_right = gap, ends_right
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
        y = rect.y()
        for number, row in enumerate(self._rows(max(rect.width(), 1), gap)):
            y += row_gap if number else 0
            high = max(size.height() for _item, size in row)
            wide = sum(size.width() for _item, size in row) + gap * (len(row) - 1)
            x, spare = rect.x(), max(rect.width() - wide, 0)
            for place, (item, size) in enumerate(row):
                if self._ends_right and number == 0 and place == 1:
                    x += spare
                if not is_trial:
                    down = (high - size.height()) // 2 if self._ends_right else 0
                    item.setGeometry(QRect(QPoint(x, y + down), size))
                x += size.width() + gap
            y += high
        return y - rect.y()

    def _rows(self, width: int, gap: int) -> list[list[tuple[QLayoutItem, QSize]]]:
        """Return the parts that show with their sizes, row by row [px]."""
        rows: list[list[tuple[QLayoutItem, QSize]]] = []
        left = 0
        for item in self._items:
            if item.isEmpty():
                continue
            size = item.sizeHint().boundedTo(QSize(width, 10_000))
            if item.hasHeightForWidth():
                size.setHeight(item.heightForWidth(size.width()))
            if not rows or left < size.width():
                rows.append([])
                left = width
            rows[-1].append((item, size))
            left -= size.width() + gap
        return rows
