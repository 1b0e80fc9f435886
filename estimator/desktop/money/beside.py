"""Two things side by side while there is room, and one under the other when there is not."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QLabel, QSizePolicy, QWidget

from estimator.desktop.theme.look import LOOK


class Beside(QWidget):
    """Large type in a narrow column would clip a line of two parts; this breaks it instead."""

    def __init__(self, first: QWidget, second: QWidget, *, gap: int = 8) -> None:
        """Put the first at the left and the second at the right, both on one foot."""
        super().__init__()
        self._parts = (first, second)
        self._gap = gap
        self._line = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(gap)
        self._line.setSizeConstraint(QBoxLayout.SizeConstraint.SetNoConstraint)
        self._line.addWidget(first, 1)
        self._line.addWidget(second)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        LOOK.changed.connect(self._break)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room both need as they stand now."""
        shown = self._shown()
        wide = sum(map(_width_of, shown)) + self._gap
        talls = [_height_of(part, self.width()) for part in shown]
        if self.is_broken:
            return QSize(wide, sum(talls) + self._gap)
        return QSize(wide, max(talls, default=0))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least room: words break where they must, a button does not."""
        buttons = [part for part in self._shown() if not isinstance(part, QLabel)]
        wide = max((part.minimumSizeHint().width() for part in buttons), default=0)
        return QSize(wide, self.sizeHint().height())

    def _shown(self) -> list[QWidget]:
        return [part for part in self._parts if not part.isHidden()]

    @property
    def is_broken(self) -> bool:
        """Whether the second stands under the first."""
        return self._line.direction() is QBoxLayout.Direction.TopToBottom

    def look_again(self) -> None:
        """Break the line or mend it, after what stands in it changed."""
        self._break()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Break the line or mend it."""
        super().resizeEvent(event)
        self._break()

    def _break(self) -> None:
        shown = self._shown()
        needed = sum(map(_width_of, shown)) + self._gap
        way = QBoxLayout.Direction
        wanted = way.LeftToRight if needed <= self.width() else way.TopToBottom
        wraps = False
        for part in shown:
            if isinstance(part, QLabel):
                wraps = _width_of(part) > self.width() > 0
                if part.wordWrap() != wraps:
                    part.setWordWrap(wraps)
        if wanted is not self._line.direction() or wraps:
            self._line.setDirection(wanted)
            self.updateGeometry()


def _width_of(part: QWidget) -> int:
    """Return how wide a part is on one line [px]."""
    if isinstance(part, QLabel):
        part.ensurePolished()
        return part.fontMetrics().horizontalAdvance(part.text()) + 1
    return part.sizeHint().width()


def _height_of(part: QWidget, width: int) -> int:
    if isinstance(part, QLabel) and part.wordWrap():
        return part.heightForWidth(width)
    return part.sizeHint().height()
