"""A photograph drawn anew as it would be seen from square in front of the wall."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage, QPainter, QPainterPath, QPolygonF, QTransform

from estimator.desktop.wall.photos.levels import Levels
from estimator.drawing.courses import Box
from estimator.masonry.region import Point
from estimator.survey.photo import Squared

MOST_PIXELS = 6_000_000
MOST_SIDE_PX = 4_000
FINER = 1.25
"""How much finer than the photograph the flat picture is, so that nothing is lost."""
SHALLOWEST = 0.2
"""Of the depth at the middle of the points: further off a photograph shows next to nothing."""


@dataclass(frozen=True, slots=True)
class Flat:
    """A picture of the wall in millimetres."""

    levels: Levels
    box: Box
    """Left, bottom, right and top on the wall [mm]."""


def transform_of(matrix: tuple[float, ...]) -> QTransform:
    """Return nine numbers by rows as Qt takes them, which are those by columns."""
    a, b, c, d, e, f, g, h, i = matrix
    return QTransform(a, d, g, b, e, h, c, f, i)


def flat(image: QImage, squared: Squared, room: Box) -> Flat | None:
    """Return a photograph seen square, as far as it shows a part of the wall; safe in any thread.

    Args:
        image: The kept picture.
        squared: How it lies on the wall.
        room: The part of the wall that is wanted. [mm]
    """
    corners = _shown(squared)
    if len(corners) < 3:
        return None
    across, up = [x for x, _y in corners], [y for _x, y in corners]
    box = (
        max(room[0], min(across)),
        max(room[1], min(up)),
        min(room[2], max(across)),
        min(room[3], max(up)),
    )
    wide, high = box[2] - box[0], box[3] - box[1]
    if wide <= 1 or high <= 1:
        return None
    per_mm = _fineness(squared, wide, high)
    size = max(math.ceil(wide * per_mm), 1), max(math.ceil(high * per_mm), 1)
    drawn = QImage(*size, QImage.Format.Format_ARGB32_Premultiplied)
    drawn.fill(Qt.GlobalColor.transparent)
    painter = QPainter(drawn)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    edge = QPainterPath()
    edge.addPolygon(
        QPolygonF([QPointF((x - box[0]) * per_mm, (box[3] - y) * per_mm) for x, y in corners])
    )
    painter.setClipPath(edge)
    # From the picture to the wall, and from there to pixels counted down from its top.
    down = QTransform(per_mm, 0, 0, -per_mm, -box[0] * per_mm, box[3] * per_mm)
    painter.setTransform(transform_of(squared.wall_matrix) * down)
    painter.drawImage(0, 0, image)
    painter.end()
    right = box[0] + size[0] / per_mm
    return Flat(Levels.of(drawn), (box[0], box[3] - size[1] / per_mm, right, box[3]))


def _fineness(squared: Squared, wide: float, high: float) -> float:
    """Return how many pixels to draw to a millimetre [px/mm]."""
    finest = 0.0
    for place in squared.hull:
        (a, b), (c, d) = squared.view.slopes(place).by_wall
        finest = max(finest, math.sqrt(abs(a * d - b * c)))
    most = min(math.sqrt(MOST_PIXELS / (wide * high)), MOST_SIDE_PX / max(wide, high))
    return min(finest * FINER, most)


def _shown(squared: Squared) -> list[Point]:
    """Return the corners on the wall of what the photograph shows, cut off before the horizon."""
    wide, high = float(squared.width_px), float(squared.height_px)
    ring = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
    near: list[Point] = []
    for one, two in zip(ring, [*ring[1:], ring[0]], strict=True):
        here, there = (_depth(squared, corner) - SHALLOWEST for corner in (one, two))
        if here >= 0:
            near.append(one)
        if here * there < 0:
            share = here / (here - there)
            near.append((one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share))
    return [squared.to_wall(corner) for corner in near]


def _depth(squared: Squared, seen: Point) -> float:
    _a, _b, _c, _d, _e, _f, g, h, i = squared.wall_matrix
    return g * seen[0] + h * seen[1] + i
