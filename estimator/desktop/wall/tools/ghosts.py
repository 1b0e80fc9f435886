"""What is not on the wall yet: lines being drawn, handles to take hold of, places that snap."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.view import View
from estimator.drawing.courses import Box
from estimator.masonry.region import Point

HANDLE_PX, CROSS_PX = 9.0, 14.0
WORD_PX = 13
WIDEST_PX, AWAY_PX = 300.0, 16.0
"""How wide words beside a point may be, and how far they stand off it [px]."""


class Ink(Enum):
    """What a ghost is about, which decides its colour."""

    ACT = "act"
    CRACK = "crack"
    BAR = "bar"
    STOP = "stop"
    """What cannot be done there."""


class Spot(Enum):
    """What a marked point is."""

    HANDLE = "handle"
    """A square to take hold of."""
    HELD = "held"
    """The one that is held now."""
    CROSS = "cross"
    """Where the next click goes."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A line through points [mm]."""

    points: tuple[Point, ...]
    ink: Ink = Ink.ACT
    is_closed: bool = False
    is_dashed: bool = True
    width_px: float = 2.5


@dataclass(frozen=True, slots=True)
class Patch:
    """A box that would be marked [mm]."""

    box: Box
    ink: Ink = Ink.ACT


@dataclass(frozen=True, slots=True)
class Mark:
    """A point [mm]."""

    at: Point
    spot: Spot = Spot.HANDLE
    ink: Ink = Ink.ACT


@dataclass(frozen=True, slots=True)
class Said:
    """A few words beside a point, such as the length so far [mm]."""

    at: Point
    words: str
    ink: Ink = Ink.ACT


Ghost = Trial | Patch | Mark | Said


def paint(painter: QPainter, view: View, ghosts: Iterable[Ghost]) -> None:
    """Paint ghosts over everything else on the wall."""
    for ghost in ghosts:
        if isinstance(ghost, Trial):
            _trial(painter, view, ghost)
        elif isinstance(ghost, Patch):
            _patch(painter, view, ghost)
        elif isinstance(ghost, Mark):
            _mark(painter, view, ghost)
        else:
            _said(painter, view, ghost)


def _trial(painter: QPainter, view: View, ghost: Trial) -> None:
    path = QPainterPath()
    for number, point in enumerate(ghost.points):
        at = QPointF(*view.at(*point))
        if number:
            path.lineTo(at)
        else:
            path.moveTo(at)
    if ghost.is_closed:
        path.closeSubpath()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    width = ghost.width_px * LOOK.scale
    painter.setPen(QPen(LOOK.colour("panel"), width + 3 * LOOK.scale))
    painter.drawPath(path)
    pen = QPen(LOOK.colour(ghost.ink.value), width)
    if ghost.is_dashed:
        pen.setDashPattern([3, 2])
    painter.setPen(pen)
    painter.drawPath(path)


def _patch(painter: QPainter, view: View, ghost: Patch) -> None:
    left, top, right, bottom = view.box(ghost.box)
    colour = LOOK.colour(ghost.ink.value)
    tint = QColor(colour)
    tint.setAlphaF(0.22)
    painter.setPen(QPen(colour, 2 * LOOK.scale))
    painter.setBrush(tint)
    painter.drawRect(QRectF(left, top, right - left, bottom - top))


def _mark(painter: QPainter, view: View, ghost: Mark) -> None:
    at = QPointF(*view.at(*ghost.at))
    colour = LOOK.colour(ghost.ink.value)
    if ghost.spot is Spot.CROSS:
        reach = CROSS_PX * LOOK.scale
        for pen in (
            QPen(LOOK.colour("panel"), 4 * LOOK.scale),
            QPen(colour, 1.6 * LOOK.scale),
        ):
            painter.setPen(pen)
            painter.drawLine(at - QPointF(reach, 0), at + QPointF(reach, 0))
            painter.drawLine(at - QPointF(0, reach), at + QPointF(0, reach))
        return
    half = HANDLE_PX * LOOK.scale / 2 * (1.35 if ghost.spot is Spot.HELD else 1.0)
    painter.setPen(QPen(colour, 2 * LOOK.scale))
    painter.setBrush(colour if ghost.spot is Spot.HELD else LOOK.colour("panel"))
    painter.drawRect(QRectF(at.x() - half, at.y() - half, 2 * half, 2 * half))


def _said(painter: QPainter, view: View, ghost: Said) -> None:
    """Paint words beside a point, wrapped where they are many, and kept on the screen."""
    font = LOOK.font(WORD_PX, strong=ghost.ink is not Ink.STOP)
    painter.setFont(font)
    metrics = QFontMetricsF(font)
    edge, screen = 7.0 * LOOK.scale, painter.viewport()
    widest = min(WIDEST_PX * LOOK.scale, screen.width() - 4 * edge)
    flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
    inside = metrics.boundingRect(QRectF(0, 0, widest, 1000), flags, ghost.words)
    wide, high = inside.width() + 2 * edge, inside.height() + edge
    x, y = view.at(*ghost.at)
    away = AWAY_PX * LOOK.scale
    left = x + away if x + away + wide < screen.width() else x - away - wide
    top = y - away - high if y - away - high > 0 else y + away
    left = min(max(left, 2.0), max(screen.width() - wide - 2, 2.0))
    top = min(max(top, 2.0), max(screen.height() - high - 2, 2.0))
    box = QRectF(left, top, wide, high)
    painter.setPen(QPen(LOOK.colour(ghost.ink.value), 1.2 * LOOK.scale))
    painter.setBrush(LOOK.colour("panel"))
    painter.drawRoundedRect(box, 4 * LOOK.scale, 4 * LOOK.scale)
    painter.setPen(LOOK.colour("ink"))
    painter.drawText(box.adjusted(edge / 2, 0, -edge / 2, 0), flags, ghost.words)
