"""Where a photograph lies on its pane: fitted, zoomed and moved."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap

from estimator.desktop.wall.photos.levels import Levels
from estimator.masonry.region import Point

CLOSEST = 8.0
"""Nearest view: so many pixels of the screen to one of the picture."""
FURTHEST = 0.5
"""Furthest view, against the one that fits."""


class Sheet:
    """One picture on a pane."""

    def __init__(self) -> None:
        """Begin with nothing to lay down."""
        self.levels: Levels | None = None
        self.scale = 1.0
        """Pixels of the screen to one of the picture."""
        self._whole = (1, 1)
        self._size = QSize(1, 1)
        self._corner = QPointF(0, 0)
        self._is_fitted = True
        self._key: tuple[object, ...] = ()
        self._pixmap = QPixmap()

    def lay(self, levels: Levels | None, whole: tuple[int, int], size: QSize) -> None:
        """Lay a picture down, fitted; one that only came in later keeps its view."""
        same = whole == self._whole and self.levels is None
        self.levels, self._whole, self._size = levels, whole, size
        if not same or self._is_fitted:
            self.fit()

    def resize(self, size: QSize) -> None:
        """Give it another room."""
        self._size = size
        if self._is_fitted:
            self.fit()
        else:
            self._keep_near()

    def fit(self) -> None:
        """Show the whole picture."""
        self._is_fitted = True
        self.scale = self._fitting()
        self._corner = QPointF(
            (self._size.width() - self._whole[0] * self.scale) / 2,
            (self._size.height() - self._whole[1] * self.scale) / 2,
        )

    def zoom(self, factor: float, about: QPointF) -> None:
        """Look from nearer or further, with what is at a pixel held still."""
        spot = self.spot(about)
        least = self._fitting() * FURTHEST
        self.scale = min(max(self.scale * factor, least), max(CLOSEST, least))
        self._is_fitted = False
        self._corner = about - QPointF(spot[0] * self.scale, spot[1] * self.scale)
        self._keep_near()

    def pan(self, by: QPointF) -> None:
        """Move the picture by pixels of the screen."""
        self._is_fitted = False
        self._corner = self._corner + by
        self._keep_near()

    def at(self, spot: Point) -> QPointF:
        """Return where a spot of the picture is on the screen [px]."""
        return self._corner + QPointF(spot[0] * self.scale, spot[1] * self.scale)

    def spot(self, at: QPointF) -> Point:
        """Return which spot of the picture is at a pixel of the screen [px]."""
        away = at - self._corner
        return away.x() / self.scale, away.y() / self.scale

    def holds(self, spot: Point) -> bool:
        """Whether a spot is on the picture."""
        return 0 <= spot[0] <= self._whole[0] and 0 <= spot[1] <= self._whole[1]

    @property
    def box(self) -> QRectF:
        """Where the whole picture lies [px]."""
        wide, high = self._whole
        return QRectF(self._corner, QPointF(wide * self.scale, high * self.scale) + self._corner)

    def pixmap(self, ratio: float) -> QPixmap:
        """Return what is seen of the picture, painted anew only when the view has changed."""
        key = (id(self.levels), self.scale, self._corner.toTuple(), self._size.toTuple(), ratio)
        if key != self._key and self.levels is not None:
            self._key = key
            self._pixmap = QPixmap(self._size * ratio)
            self._pixmap.setDevicePixelRatio(ratio)
            self._pixmap.fill(Qt.GlobalColor.transparent)
            painter = QPainter(self._pixmap)
            seen = QRectF(0, 0, self._size.width(), self._size.height())
            self.levels.draw(painter, self.box, seen=seen, ratio=ratio)
            painter.end()
        return self._pixmap

    def _fitting(self) -> float:
        wide, high = self._whole
        return max(min(self._size.width() / wide, self._size.height() / high), 1e-3)

    def _keep_near(self) -> None:
        """Keep the picture from being lost beyond an edge: half of the pane stays on it."""
        box, room = self.box, self._size
        middle = QPointF(room.width() / 2, room.height() / 2)
        x = min(max(middle.x(), box.left()), box.right()) - middle.x()
        y = min(max(middle.y(), box.top()), box.bottom()) - middle.y()
        self._corner = self._corner - QPointF(x, y)
