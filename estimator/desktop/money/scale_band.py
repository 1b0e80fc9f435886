"""A price on one scale for all options: a band from low to high, and a dot for likely."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from estimator.desktop.theme.look import LOOK
from estimator.money import NOTHING, Money

TALL = 20
TRACK = 8
DOT = 7.0
"""Heights, and the radius of the dot. [px]"""
STALE = 0.45
"""How much of its strength a band keeps while a newer one is on its way."""


class ScaleBand(QWidget):
    """Painted by hand: the track is the scale from nothing, the band is thicker than the track."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with an empty scale."""
        super().__init__(parent)
        self._low = self._likely = self._high = NOTHING
        self._end = Money.of(1000)
        self._stale = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self.updateGeometry)

    def show_range(self, low: Money, likely: Money, high: Money, *, stale: bool) -> None:
        """Show a range; one whose ends are the same is a dot alone."""
        now = (low, likely, high, stale)
        if now != (self._low, self._likely, self._high, self._stale):
            self._low, self._likely, self._high, self._stale = now
            self.update()

    def set_end(self, end: Money) -> None:
        """Set the sum at the right end of the scale."""
        if end != self._end:
            self._end = end
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the dot."""
        return QSize(LOOK.px(200), LOOK.px(TALL))

    def x_of(self, amount: Money) -> float:
        """Return where a sum stands on the scale [px]."""
        margin = LOOK.px(DOT) + 1
        share = min(max(amount.pence / self._end.pence, 0.0), 1.0)
        return margin + share * (self.width() - 2 * margin)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw track, band and dot."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        act = QColor(LOOK.colour("act"))
        act.setAlphaF(STALE if self._stale else 1.0)
        tall, middle = LOOK.px(TRACK), self.height() / 2
        self._bar(painter, (0, self.width()), tall, LOOK.colour("rule"))
        if self._high > self._low:
            ends = (self.x_of(self._low), self.x_of(self._high))
            self._bar(painter, ends, tall + 2, act)
        at = QPointF(self.x_of(self._likely), middle)
        painter.setBrush(LOOK.colour("panel"))
        painter.setPen(QPen(act, LOOK.px(3)))
        painter.drawEllipse(at, LOOK.px(DOT) - 1, LOOK.px(DOT) - 1)
        painter.end()

    def _bar(
        self, painter: QPainter, ends: tuple[float, float], tall: float, colour: QColor
    ) -> None:
        box = QRectF(ends[0], (self.height() - tall) / 2, max(ends[1] - ends[0], tall), tall)
        painter.setBrush(colour)
        painter.drawRoundedRect(box, tall / 2, tall / 2)
