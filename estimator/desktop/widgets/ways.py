"""Buttons in a row while there is room, and one under the other when there is not."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QSizePolicy, QWidget

from estimator.desktop.theme.look import LOOK

GAP = 8


class Ways(QWidget):
    """Ways on from a paper, or from a block; large type in a narrow column clips none of them."""

    def __init__(self, *buttons: QWidget, is_spread: bool = True) -> None:
        """Put buttons beside each other.

        Args:
            buttons: In their order.
            is_spread: Whether they share the width; otherwise they stand at the left.
        """
        super().__init__()
        self._buttons: list[QWidget] = []
        self._is_spread = is_spread
        self._line = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(GAP)
        self._line.setSizeConstraint(QBoxLayout.SizeConstraint.SetNoConstraint)
        for one in buttons:
            self.add(one)
        if not is_spread:
            self._line.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self._break)

    def add(self, button: QWidget) -> None:
        """Put another one at the right."""
        where = Qt.AlignmentFlag(0) if self._is_spread else Qt.AlignmentFlag.AlignLeft
        self._line.insertWidget(len(self._buttons), button, 0, where)
        self._buttons.append(button)

    def look_again(self) -> None:
        """Break the row or mend it, after what stands in it changed."""
        self._break()
        self.updateGeometry()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room they need as they stand now."""
        hints = [one.sizeHint() for one in self._buttons if not one.isHidden()]
        talls = [one.height() for one in hints]
        if self._line.direction() is QBoxLayout.Direction.TopToBottom:
            return QSize(self._widest(), sum(talls) + GAP * max(len(talls) - 1, 0))
        return QSize(self._wide(), max(talls, default=0))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be no wider than the widest of them."""
        return QSize(self._widest(), self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Break the row or mend it."""
        super().resizeEvent(event)
        self._break()

    def _wide(self) -> int:
        shown = [one for one in self._buttons if not one.isHidden()]
        return sum(one.sizeHint().width() for one in shown) + GAP * max(len(shown) - 1, 0)

    def _widest(self) -> int:
        shown = [one for one in self._buttons if not one.isHidden()]
        return max((one.sizeHint().width() for one in shown), default=0)

    def _break(self) -> None:
        way = QBoxLayout.Direction
        wanted = way.LeftToRight if self._wide() <= self.width() else way.TopToBottom
        if wanted is not self._line.direction():
            self._line.setDirection(wanted)
            self.updateGeometry()
