"""The line over the ladder, painted by hand: it changes with every mark that is pointed at."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from estimator.desktop.theme.look import LOOK

TEXT_PX, TALL, GAP = 13, 24, 8
MIDDLE = int(Qt.AlignmentFlag.AlignVCenter)
AT_RIGHT = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight)


class LadderHead(QWidget):
    """Says whose prices stand below, or what is pointed at carries of them.

    No label: a label's new text has all rows below laid out anew, which takes longer than to
    light them.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with nothing to say."""
        super().__init__(parent)
        self.text = self.beside = ""
        self.is_pointed = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self.updateGeometry)

    def say(self, text: str, beside: str = "", *, pointed: bool = False) -> None:
        """Say something at the left and at the right; ``pointed`` where it is of marks."""
        now = (text, beside, pointed)
        if now != (self.text, self.beside, self.is_pointed):
            self.text, self.beside, self.is_pointed = now
            self.setAccessibleName(text)
            self.setToolTip(text)
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for one line."""
        return QSize(LOOK.px(120), LOOK.px(TALL))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint both, the left one cut short where it has no room."""
        painter = QPainter(self)
        font = LOOK.font(TEXT_PX, strong=self.is_pointed)
        painter.setFont(font)
        painter.setPen(LOOK.colour("act" if self.is_pointed else "muted"))
        metrics, taken = QFontMetrics(font), 0
        if self.beside:
            taken = metrics.horizontalAdvance(self.beside) + LOOK.px(GAP)
            painter.drawText(self.rect(), AT_RIGHT, self.beside)
        room = self.width() - taken
        said = metrics.elidedText(self.text, Qt.TextElideMode.ElideRight, room)
        painter.drawText(self.rect().adjusted(0, 0, -taken, 0), MIDDLE, said)
        painter.end()
