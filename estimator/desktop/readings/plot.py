"""Widths against time, painted by hand: each point has its own shape and its name at the end."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from estimator.desktop.language import _
from estimator.desktop.readings.series import Series, day_of
from estimator.desktop.theme.look import LOOK
from estimator.documents import formats

LEFT, TOP, RIGHT, BOTTOM = 44, 12, 64, 28
"""Room round the plot for its words. [px]"""
MARK = 5
STEPS_MM = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
MOST_LINES = 5
SIDES = (0, 4, 3, 6)
"""Shapes of the marks: round, then corners."""


def ticks(low: float, high: float) -> tuple[float, ...]:
    """Return the widths that lines are drawn at, from a round one below to a round one above [mm].

    >>> ticks(2.0, 2.3)
    (2.0, 2.1, 2.2, 2.3)
    >>> ticks(2.0, 2.0)
    (1.9, 2.0, 2.1)
    """
    if high - low < STEPS_MM[0]:
        low, high = max(low - STEPS_MM[0], 0.0), high + STEPS_MM[0]
    step = next((one for one in STEPS_MM if (high - low) / one <= MOST_LINES), STEPS_MM[-1])
    first, last = math.floor(round(low / step, 6)), math.ceil(round(high / step, 6))
    return tuple(round(place * step, 1) for place in range(first, last + 1))


class ReadingsPlot(QWidget):
    """Millimetres up, days across; no line says what is safe."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with nothing to draw."""
        super().__init__(parent)
        self._series: tuple[Series, ...] = ()
        self._ticks: tuple[float, ...] = ()
        self._days = (datetime.date.min, datetime.date.min)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room to tell a tenth from the next."""
        return QSize(LOOK.px(400), LOOK.px(200))

    def show_series(self, series: Sequence[Series]) -> None:
        """Draw these readings."""
        self._series = tuple(series)
        readings = [reading for one in series for reading in one.readings]
        if readings:
            widths = [reading.width_mm for reading in readings]
            self._ticks = ticks(min(widths), max(widths))
            days = [day_of(reading) for reading in readings]
            self._days = (min(days), max(days))
        self.setAccessibleName(
            _("Readings in millimetres against time; the table below has the figures.")
        )
        self.update()

    def place(self, day: datetime.date, width_mm: float) -> QPointF:
        """Return where a reading is drawn [px]."""
        box = self._box()
        whole = (self._days[1] - self._days[0]).days
        along = (day - self._days[0]).days / whole if whole else 0.5
        inset = LOOK.px(2 * MARK)
        low, high = self._ticks[0], self._ticks[-1]
        up = (width_mm - low) / (high - low)
        return QPointF(
            box.left() + inset + along * (box.width() - inset), box.bottom() - up * box.height()
        )

    def _box(self) -> QRectF:
        px = LOOK.px
        return QRectF(self.rect()).adjusted(px(LEFT), px(TOP), -px(RIGHT), -px(BOTTOM))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ground lines, the days, and a line through each point's readings."""
        if not self._series:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(LOOK.font(12))
        self._paint_ticks(painter)
        self._paint_days(painter)
        for number, one in enumerate(self._series):
            self._paint_series(painter, one, SIDES[number % len(SIDES)])
        painter.end()

    def _paint_ticks(self, painter: QPainter) -> None:
        box, metrics = self._box(), QFontMetrics(LOOK.font(12))
        for tick in self._ticks:
            level = self.place(self._days[0], tick).y()
            painter.setPen(QPen(LOOK.colour("rule"), 1))
            painter.drawLine(QPointF(box.left(), level), QPointF(box.right(), level))
            painter.setPen(LOOK.colour("muted"))
            text = _("{width} mm").format(width=f"{tick:.1f}")
            wide = metrics.horizontalAdvance(text)
            painter.drawText(QPointF(box.left() - wide - LOOK.px(6), level + LOOK.px(4)), text)

    def _paint_days(self, painter: QPainter) -> None:
        box, metrics = self._box(), QFontMetrics(LOOK.font(12))
        painter.setPen(LOOK.colour("muted"))
        foot = box.bottom() + LOOK.px(20)
        first, last = (formats.date(day.isoformat()) for day in self._days)
        if self._days[0] == self._days[1]:
            wide = metrics.horizontalAdvance(first)
            painter.drawText(QPointF(box.center().x() - wide / 2, foot), first)
            return
        painter.drawText(QPointF(box.left(), foot), first)
        wide = metrics.horizontalAdvance(last)
        painter.drawText(QPointF(box.right() - wide, foot), last)

    def _paint_series(self, painter: QPainter, series: Series, sides: int) -> None:
        places = [self.place(day_of(one), one.width_mm) for one in series.readings]
        painter.setPen(QPen(LOOK.colour("crack"), LOOK.px(2)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF(places))
        painter.setBrush(LOOK.colour("paper"))
        for place in places:
            _mark(painter, place, sides)
        painter.setPen(LOOK.colour("ink"))
        room = QRectF(places[-1].x() + LOOK.px(10), places[-1].y() - 20, LOOK.px(RIGHT - 10), 40)
        name = QFontMetrics(LOOK.font(12)).elidedText(
            series.point, Qt.TextElideMode.ElideRight, int(room.width())
        )
        painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter), name)


def _mark(painter: QPainter, place: QPointF, sides: int) -> None:
    reach = LOOK.px(MARK)
    if sides == 0:
        painter.drawEllipse(place, reach, reach)
        return
    turns = [math.tau * (n / sides) - math.pi / 2 for n in range(sides)]
    corners = [place + QPointF(math.cos(t), math.sin(t)) * reach * 1.2 for t in turns]
    painter.drawPolygon(QPolygonF(corners))
