"""Dimensions on the board, in rows along its foot and its right edge, as a mason sketches them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from estimator.desktop.language import _, counted
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.view import View
from estimator.documents.formats import plain
from estimator.drawing.courses import Box
from estimator.drawing.dimensions import Dimension, Saying, Side, dimensions_of
from estimator.drawing.shapes import Picture

WORD_PX, ROW_PX, PAD_PX, TICK_PX = 12, 21.0, 5.0, 4.0
MOST_ROWS = 4
"""Rows at each edge; more than that would hide the wall they are of."""


def _length(length_mm: float) -> str:
    return plain(round(length_mm))


def _rise(length_mm: float, courses: int) -> str:
    many = counted("{n} course", "{n} courses", courses)
    return _("{length} · {courses}").format(length=_length(length_mm), courses=many)


def _spaced(steps: int, courses: int) -> str:
    many = counted("{n} course", "{n} courses", courses)
    return _("{steps} × {courses}").format(steps=steps, courses=many)


def _bars(length_mm: float, count: int) -> str:
    return _("{count} × {length}").format(count=count, length=_length(length_mm))


@dataclass(frozen=True, slots=True)
class Rows:
    """Dimensions laid out for one view of one picture."""

    below: tuple[Dimension, ...]
    right: tuple[Dimension, ...]
    foot: float
    """Where the rows below begin, down the board [px]."""
    edge: float
    """Where the rows at the right begin, across the board [px]."""
    has_room: bool
    """Whether they hide nothing of the wall."""


def laid_out(picture: Picture, view: View, size: QSize) -> Rows:
    """Lay out the dimensions of what is seen of a wall."""
    metrics = QFontMetricsF(LOOK.font(WORD_PX))
    row, pad = ROW_PX * LOOK.scale, PAD_PX * LOOK.scale
    saying = Saying(_length, _rise, _spaced, _bars)

    def words_mm(words: str) -> float:
        return metrics.horizontalAdvance(words) / view.per_mm

    found = dimensions_of(picture, saying, words_mm)
    below: tuple[Dimension, ...] = ()
    right: tuple[Dimension, ...] = ()
    deep = wide = 0.0
    # What is seen beside the rows decides how many there are; twice is enough for it to settle.
    for _turn in range(2):
        box = _seen(view, size, (wide, deep))
        below = _close_up([one for one in found if one.side is Side.BELOW], (box[0], box[2]))
        right = _close_up([one for one in found if one.side is Side.RIGHT], (box[1], box[3]))
        deep = row * _count(below) + 2 * pad if below else 0.0
        wide = row * _count(right) + 2 * pad if right else 0.0
    low, far = view.at(0, picture.masonry.bounds[1])[1], view.at(picture.masonry.wall[2], 0)[0]
    foot, edge = min(low, size.height() - deep), min(far + pad, size.width() - wide)
    has_room = low <= size.height() - deep and far + pad <= size.width() - wide
    return Rows(below, right, foot, edge, has_room)


def _close_up(found: Sequence[Dimension], seen: tuple[float, float]) -> tuple[Dimension, ...]:
    """Return those wholly seen, in rows from the wall outward with none left empty."""
    kept = [one for one in found if seen[0] <= one.span[0] and one.span[1] <= seen[1]]
    rows = {row: number for number, row in enumerate(sorted({one.row for one in kept}))}
    placed = (replace(one, row=rows[one.row]) for one in kept)
    return tuple(one for one in placed if one.row < MOST_ROWS)


def _count(placed: Sequence[Dimension]) -> int:
    return max((one.row for one in placed), default=-1) + 1


def _seen(view: View, size: QSize, taken: tuple[float, float]) -> Box:
    """Return what is seen beside the rows [mm]."""
    left, bottom = view.place(-1, size.height() - taken[1] + 1)
    right, top = view.place(size.width() - taken[0] + 1, -1)
    return left, bottom, right, top


def paint(painter: QPainter, view: View, rows: Rows, size: QSize) -> None:
    """Paint dimensions on a quiet ground."""
    row, pad = ROW_PX * LOOK.scale, PAD_PX * LOOK.scale
    ground = QColor(LOOK.colour("paper"))
    ground.setAlphaF(0.9)
    if rows.right:
        painter.fillRect(QRectF(rows.edge, 0, size.width() - rows.edge, rows.foot), ground)
    if rows.below:
        painter.fillRect(QRectF(0, rows.foot, size.width(), size.height() - rows.foot), ground)
    painter.setFont(LOOK.font(WORD_PX))
    for one in rows.below:
        y = rows.foot + pad + (one.row + 0.5) * row
        low, high = (view.at(x, 0)[0] for x in one.span)
        _line(painter, QPointF(low, y), QPointF(high, y), one.words)
    for one in rows.right:
        x = rows.edge + pad + (one.row + 0.5) * row
        low, high = (view.at(0, y)[1] for y in one.span)
        painter.save()
        painter.translate(x, low)
        painter.rotate(-90)
        _line(painter, QPointF(0, 0), QPointF(low - high, 0), one.words)
        painter.restore()


def _line(painter: QPainter, start: QPointF, end: QPointF, words: str) -> None:
    """Paint a thin line with slanting ticks, its words in the middle of it."""
    metrics, tick = QFontMetricsF(painter.font()), TICK_PX * LOOK.scale
    painter.setPen(QPen(LOOK.colour("muted"), 1.0 * LOOK.scale))
    painter.drawLine(start, end)
    slant = QPointF(tick, -tick)
    painter.setPen(QPen(LOOK.colour("ink"), 1.4 * LOOK.scale))
    painter.drawLines([QLineF(at - slant, at + slant) for at in (start, end)])
    wide, high = metrics.horizontalAdvance(words) + 6 * LOOK.scale, metrics.height()
    middle = (start + end) / 2
    box = QRectF(middle.x() - wide / 2, middle.y() - high / 2, wide, high)
    painter.fillRect(box, LOOK.colour("paper"))
    painter.setPen(LOOK.colour("ink"))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
