"""Photographs painted under the drawing, square and to its scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.photos.flat import Flat
from estimator.desktop.wall.view import View
from estimator.drawing.courses import Box

THROUGH = 0.62
"""How much of a photograph shows where the drawing shows as well."""
VEIL = 0.78
"""How much of the drawn wall goes where only the photograph is to be seen."""


class Showing(Enum):
    """What is seen of the wall."""

    DRAWING = "drawing"
    BOTH = "both"
    PHOTO = "photo"


@dataclass(frozen=True, slots=True)
class Scene:
    """What photographs are painted for."""

    view: View
    wall: Box
    """The wall without its surroundings [mm]."""
    size: QSize
    ratio: float
    """Points of the screen to a pixel."""
    showing: Showing


class Underlay:
    """Keeps what was painted, so that only a moved view is painted anew."""

    def __init__(self) -> None:
        self._key: tuple[object, ...] = ()
        self._pixmap = QPixmap()
        self.painted = 0
        """How often it was painted."""

    def pixmap(self, flats: Sequence[Flat], scene: Scene) -> QPixmap:
        """Return the photographs as they lie under a view, clear where there is none."""
        key = (*(id(one) for one in flats), scene, LOOK.scheme)
        if key != self._key:
            self._key = key
            self.painted += 1
            self._pixmap = QPixmap(scene.size * scene.ratio)
            self._pixmap.setDevicePixelRatio(scene.ratio)
            self._pixmap.fill(Qt.GlobalColor.transparent)
            painter = QPainter(self._pixmap)
            _paint(painter, flats, scene)
            painter.end()
        return self._pixmap


def _paint(painter: QPainter, flats: Sequence[Flat], scene: Scene) -> None:
    seen = QRectF(0, 0, scene.size.width(), scene.size.height())
    if scene.showing is Showing.PHOTO:
        veil = QColor(LOOK.colour("paper"))
        veil.setAlphaF(VEIL)
        painter.fillRect(_on_screen(scene.view, scene.wall).intersected(seen), veil)
    # One lies on another as if on a table: through both at once neither could be read.
    for one in flats:
        one.levels.draw(painter, _on_screen(scene.view, one.box), seen=seen, ratio=scene.ratio)
    if scene.showing is Showing.BOTH:
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_DestinationIn)
        painter.fillRect(seen, QColor(0, 0, 0, round(255 * THROUGH)))


def _on_screen(view: View, box: Box) -> QRectF:
    left, top, right, bottom = view.box(box)
    return QRectF(QPointF(left, top), QPointF(right, bottom))
