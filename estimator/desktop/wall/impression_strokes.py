"""Paints what will show over the brickwork: old work weathered, new mortar and bricks fresh."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QLinearGradient,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QPolygonF,
    QRegion,
)

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import brickwork
from estimator.desktop.wall.brickwork import brick_colours, mixed
from estimator.desktop.wall.view import View
from estimator.drawing.courses import Masonry
from estimator.drawing.impression import Impression, SeenBrick
from estimator.drawing.shapes import BrickState
from estimator.masonry.region import Point, Trapezoid

FINE_FROM_PX, FINER = 9.0, 3
"""Courses lower than this are painted so many times larger and drawn together again, so that old
joints and new keep their true tone instead of dropping out [px]."""
LEAST_CRACK_PX = 1.2
SHADE_PX, SHADE = 1.8, 0.28
"""How much wider than the crack its shade is, and how dark [px]."""
STEP_MM, AWAY_MM = 34.0, 2.2
"""How often a crack changes its way inside a joint, and how far [mm]."""
PATCH_ACROSS, PATCH_UP = 0.6, 0.62
"""How much of a face a patch covers in the drawing."""
SEED = 1897


class KeptImpression:
    """The wall with its work as a picture of the screen's size, painted when it has changed."""

    def __init__(self) -> None:
        self._key: tuple[object, ...] = ()
        self._view = View(0.0, 0.0, 1.0)
        self._pixmap = QPixmap()
        self.painted = 0
        """How often it was painted."""

    def paint(self, painter: QPainter, masonry: Masonry, seen: Impression, view: View) -> None:
        """Paint the wall as it will look, anew where anything of it has changed."""
        key = _key_of(painter, masonry, seen)
        if key != self._key or view != self._view:
            self._key, self._view = key, view
            device = painter.device()
            size = QSize(device.width(), device.height())
            self._pixmap = _painted(masonry, seen, view, size, device.devicePixelRatio())
            self.painted += 1
        painter.drawPixmap(0, 0, self._pixmap)

    def paint_moving(
        self, painter: QPainter, masonry: Masonry, seen: Impression, view: View
    ) -> bool:
        """Paint what was kept, moved to another view: quick, and not sharp.

        False where there is nothing to move.
        """
        if self._key != _key_of(painter, masonry, seen):
            return False
        left, top = view.at(self._view.left_mm, self._view.top_mm)
        share = view.per_mm / self._view.per_mm
        painter.save()
        painter.fillRect(painter.viewport(), LOOK.colour("paper"))
        painter.translate(left, top)
        painter.scale(share, share)
        painter.drawPixmap(0, 0, self._pixmap)
        painter.restore()
        return True


def _key_of(painter: QPainter, masonry: Masonry, seen: Impression) -> tuple[object, ...]:
    device = painter.device()
    size = (device.width(), device.height(), device.devicePixelRatio())
    return (id(seen), masonry, size, LOOK.scheme, LOOK.scale)


def _painted(masonry: Masonry, seen: Impression, view: View, size: QSize, ratio: float) -> QPixmap:
    is_small = masonry.gauge_mm * view.per_mm < FINE_FROM_PX
    finer = FINER if is_small else 1
    large = QPixmap(size * ratio * finer)
    large.setDevicePixelRatio(ratio)
    large.fill(LOOK.colour("paper"))
    painter = QPainter(large)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint(painter, masonry, seen, replace(view, per_mm=view.per_mm * finer), finer=finer)
    painter.end()
    if not is_small:
        return large
    keep, way = Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation
    small = large.scaled(size * ratio, keep, way)
    small.setDevicePixelRatio(ratio)
    return small


def paint(
    painter: QPainter, masonry: Masonry, seen: Impression, view: View, *, finer: float = 1.0
) -> None:
    """Paint a wall as it will look; ``finer`` times larger than it will be shown."""
    brickwork.paint(painter, masonry, view, frozenset())
    _weather(painter, masonry, view)
    painter.save()
    painter.translate(-view.left_mm * view.per_mm, view.top_mm * view.per_mm)
    painter.scale(view.per_mm, -view.per_mm)
    painter.setPen(Qt.PenStyle.NoPen)
    for number, brick in enumerate(seen.bricks):
        _brick(painter, brick, random.Random(SEED + number))
    painter.setBrush(LOOK.colour("new_mortar"))
    upright = [_rect(one.part) for one in seen.joints if one.part.is_upright]
    if upright:
        painter.drawRects(upright)
    for one in seen.joints:
        if not one.part.is_upright:
            painter.drawPolygon(_polygon(one.part))
    _cracks(painter, seen, view.per_mm / finer)
    painter.restore()


def _rect(part: Trapezoid) -> QRectF:
    wide = part.right_bottom - part.left_bottom
    return QRectF(part.left_bottom, part.bottom, wide, part.top - part.bottom)


def _polygon(part: Trapezoid) -> QPolygonF:
    return QPolygonF(
        [
            QPointF(part.left_bottom, part.bottom),
            QPointF(part.right_bottom, part.bottom),
            QPointF(part.right_top, part.top),
            QPointF(part.left_top, part.top),
        ]
    )


def _weather(painter: QPainter, masonry: Masonry, view: View) -> None:
    """Darken all brickwork by what years outside leave on it, less where the drawing fades."""
    left, foot, right, top = masonry.wall
    more_left, _low, more_right, more_up = masonry.fades
    base = foot if masonry.ground is None else masonry.ground
    grime, clear = LOOK.colour("weathered"), QColor(Qt.GlobalColor.white)
    painter.save()
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Multiply)
    painter.setPen(Qt.PenStyle.NoPen)
    if masonry.is_square:
        # Whole pixels: clipping along a path costs more than all bricks do.
        painter.setClipRegion(_brickwork_region(masonry, view))
    else:
        painter.setClipPath(_brickwork_path(masonry, view))
    painter.fillRect(_box(view, left, base, right, top), grime)
    for start, end, away in (
        ((left - more_left, base, left, top), (left, top), (left - more_left, top)),
        ((right, base, right + more_right, top), (right, top), (right + more_right, top)),
        ((left, top, right, top + more_up), (left, top), (left, top + more_up)),
    ):
        if end != away:
            fade = QLinearGradient(QPointF(*view.at(*end)), QPointF(*view.at(*away)))
            fade.setColorAt(0.0, mixed(grime, clear, brickwork.FADED))
            fade.setColorAt(0.6, clear)
            painter.fillRect(_box(view, *start), fade)
    painter.restore()


def _brickwork_region(masonry: Masonry, view: View) -> QRegion:
    """Return all that is brickwork of a wall with upright ends, in whole pixels."""
    left, foot, right, top = masonry.wall
    more_left, _low, more_right, more_up = masonry.fades
    base = foot if masonry.ground is None else masonry.ground
    box = _box(view, left - more_left, base, right + more_right, top + more_up)
    whole = QRegion(box.toAlignedRect())
    for hole in _holes(masonry, view):
        whole -= QRegion(hole.toAlignedRect())
    return whole


def _brickwork_path(masonry: Masonry, view: View) -> QPainterPath:
    """Return all that is brickwork of a gable."""
    left, foot, right, _top = masonry.wall
    base = foot if masonry.ground is None else masonry.ground
    whole, holes = QPainterPath(), QPainterPath()
    whole.addPolygon(QPolygonF([QPointF(*view.at(*one)) for one in masonry.outline]))
    whole.closeSubpath()
    whole.addRect(_box(view, left, base, right, foot))
    for hole in _holes(masonry, view):
        holes.addRect(hole)
    return whole.subtracted(holes.simplified())


def _holes(masonry: Masonry, view: View) -> Iterator[QRectF]:
    """Yield openings, sills and lintels on the screen."""
    for hole in masonry.holes:
        left, bottom, right, top = hole.box
        over = brickwork.SILL_OVER_MM if hole.sill_mm else 0.0
        yield _box(view, left, bottom, right, top)
        yield _box(view, left - over, bottom - hole.sill_mm, right + over, bottom)
        if hole.lintel_box is not None:
            yield _box(view, *hole.lintel_box)


def _box(view: View, left: float, bottom: float, right: float, top: float) -> QRectF:
    x, y, to_x, to_y = view.box((left, bottom, right, top))
    return QRectF(x, y, max(to_x - x, 0.0), max(to_y - y, 0.0))


def _brick(painter: QPainter, brick: SeenBrick, chance: random.Random) -> None:
    """Paint a brick that looks different: clean where it is new, pale where it is turned."""
    left, bottom, right, top = brick.box
    box = QRectF(left, bottom, right - left, top - bottom)
    usual, fresh = brick_colours(lighter=False)[0], LOOK.colour("new_mortar")
    old = _multiplied(usual, LOOK.colour("weathered"))
    if brick.state is BrickState.REPLACE:
        # Matched as near as can be bought: cleaner than its neighbours, each a little otherwise.
        painter.setBrush(mixed(mixed(old, usual, 0.45), fresh, 0.04 + 0.1 * chance.random()))
        painter.drawRect(box)
    elif brick.state is BrickState.TURN:
        painter.setBrush(mixed(mixed(old, usual, 0.5), fresh, 0.3))
        painter.drawRect(box)
    elif brick.state is BrickState.PATCH:
        painter.setBrush(mixed(old, fresh, 0.3))
        across, up = box.width() * (1 - PATCH_ACROSS) / 2, box.height() * (1 - PATCH_UP) / 2
        painter.drawRoundedRect(box.adjusted(across, up, -across, -up), 22, 16)


def _multiplied(one: QColor, other: QColor) -> QColor:
    return QColor.fromRgbF(
        one.redF() * other.redF(), one.greenF() * other.greenF(), one.blueF() * other.blueF()
    )


def _cracks(painter: QPainter, seen: Impression, per_mm: float) -> None:
    """Paint cracks dark, as wide as they are, and wide enough to be seen."""
    lines = [(crack.points, crack.width_mm) for crack in seen.cracks]
    for brick in seen.bricks:
        if brick.state is BrickState.CRACKED:
            left, bottom, right, top = brick.box
            middle = (left + right) / 2
            lines.append((((middle, bottom), (middle, top)), 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    dark = LOOK.colour("gap")
    for number, (points, width_mm) in enumerate(lines):
        path = _path(tuple(_rough(points, random.Random(SEED + number))))
        wide = max(width_mm, LEAST_CRACK_PX / per_mm)
        for more, strength in ((SHADE_PX / per_mm, SHADE), (0.0, 1.0)):
            colour = QColor(dark)
            colour.setAlphaF(strength)
            pen = QPen(colour, wide + more)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            painter.setPen(pen)
            painter.drawPath(path)


def _rough(points: Sequence[Point], chance: random.Random) -> Iterator[Point]:
    """Yield a line that wavers a little, as a crack does; always the same for the same crack."""
    yield points[0]
    for (x, y), (to_x, to_y) in pairwise(points):
        length = math.dist((x, y), (to_x, to_y))
        steps = int(length / STEP_MM)
        for step in range(1, steps + 1):
            share = step / (steps + 1)
            away = chance.uniform(-AWAY_MM, AWAY_MM)
            across = (-(to_y - y) / length * away, (to_x - x) / length * away)
            yield x + (to_x - x) * share + across[0], y + (to_y - y) * share + across[1]
        yield to_x, to_y


def _path(points: Sequence[Point]) -> QPainterPath:
    path = QPainterPath(QPointF(*points[0]))
    for point in points[1:]:
        path.lineTo(QPointF(*point))
    return path
