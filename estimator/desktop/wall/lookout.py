"""A window on the wall: fitted at first, then zoomed and moved by wheel, hand and keys."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import view
from estimator.desktop.wall.glide import Glide
from estimator.desktop.wall.view import Room, View
from estimator.drawing.courses import Box
from estimator.drawing.shapes import Picture
from estimator.masonry.region import Point

PAN_PX = 60.0
WHEEL_NOTCH = 120.0
DRAG_FROM_PX = 4
AROUND_PX = (44, 78, 64, 30)
"""Room left, below, right and above a wall that is pulled larger, its dimensions in it [px]."""
AROUND_MOST = (0.1, 0.2, 0.14, 0.1)
"""The most of a small board that room may take; house rule."""
MOVES = Qt.MouseButton.LeftButton | Qt.MouseButton.MiddleButton
"""Buttons that move the wall: the middle one always, the left where nothing is taken hold of."""
WAYS: dict[int, Point] = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
"""Arrow keys as directions on the wall."""
ZOOMS = {Qt.Key.Key_Plus: view.STEP, Qt.Key.Key_Equal: view.STEP, Qt.Key.Key_Minus: 1 / view.STEP}


class Lookout(QWidget):
    """Keeps the view of a picture; what is painted in it is left to the board."""

    view_changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with nothing to see."""
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(200, 160)
        self.picture: Picture | None = None
        self.view: View | None = None
        self._glide = Glide(self, self._look_from)
        self.keeps_still: Callable[[], bool] = _never
        """Whether the view must not follow what is shown, since a hand pulls at it."""
        self._is_around = False
        self._is_fitted = True
        self._fitted_for: tuple[Box | None, float] | None = None
        """The work the view was fitted to and how near; None once somebody moved or zoomed."""
        self._pressed: QPointF | None = None
        self._is_dragged = False

    @property
    def is_moving(self) -> bool:
        """Whether the view is on its way to another."""
        return self._glide.end is not None

    def look_at(self, picture: Picture | None) -> None:
        """Look at another picture; a view somebody chose stays while the wall is the same."""
        before, self.picture = self.picture, picture
        if before is None or picture is None or before.elevation != picture.elevation:
            self._is_fitted = True
        self._keep_view()

    def show_around(self, *, around: bool) -> None:
        """Show the whole wall with room round it, or as much as the work on it asks for."""
        if around != self._is_around:
            self._is_around = around
            self.fit()

    def fit(self) -> None:
        """Show all the work, as large as it goes."""
        room = self._room()
        self._is_fitted = True
        if room is not None and self.picture is not None:
            self._glide.to(self.view, self._fit_of(room, self.picture))

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Look from nearer or further, about a pixel or the middle."""
        room = self._room()
        if room is None or self.view is None:
            return
        self._is_fitted, self._fitted_for = False, None
        spot = about or QRectF(self.rect()).center()
        wanted = view.zoomed(self._glide.end or self.view, room, factor, (spot.x(), spot.y()))
        if about is None:
            self._glide.to(self.view, wanted)
        else:
            self._glide.stop()
            self._look_from(wanted)

    def pan(self, by: Point) -> None:
        """Move the wall by so many pixels [px]."""
        room = self._room()
        if room is not None and self.view is not None:
            self._is_fitted, self._fitted_for = False, None
            self._look_from(view.panned(self.view, room, by))

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return a size at which courses are told apart."""
        return QSize(600, 560)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Zoom, fit or move."""
        key = event.key()
        if key in ZOOMS:
            self.zoom(ZOOMS[Qt.Key(key)])
        elif key == Qt.Key.Key_0:
            self.fit()
        elif key in WAYS and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            x, y = WAYS[key]
            self.pan((-x * PAN_PX, y * PAN_PX))
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Zoom about the pointer; two fingers on a pad move the wall instead."""
        fine = event.pixelDelta()
        if not fine.isNull() and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.pan((fine.x(), fine.y()))
        elif event.angleDelta().y():
            self.zoom(view.STEP ** (event.angleDelta().y() / WHEEL_NOTCH), event.position())
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take hold of the wall."""
        self._pressed, self._is_dragged = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Drag the wall, or point at what is under the pointer."""
        here = event.position()
        if self._pressed is None or not event.buttons() & MOVES:
            self.point_at(here)
            return
        by = here - self._pressed
        if self._is_dragged or by.manhattanLength() >= DRAG_FROM_PX:
            self._is_dragged, self._pressed = True, here
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self.pan((by.x(), by.y()))

    def point_at(self, spot: QPointF) -> None:
        """Take note of what is under the pointer; the board knows what that is."""

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802, ARG002 - Qt's name
        """Let go of the wall."""
        self._pressed = None
        self.unsetCursor()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802, ARG002 - Qt's name
        """Go back to all the work."""
        self.fit()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fit anew, or keep what was looked at."""
        super().resizeEvent(event)
        self._keep_view()

    def _room(self) -> Room | None:
        if self.picture is None or self.width() < 2 or self.height() < 2:
            return None
        masonry = self.picture.masonry
        bounds = masonry.bounds
        if self._is_around:
            bounds = _around(bounds, self.width(), self.height())
        return Room(bounds, self.width(), self.height(), masonry.gauge_mm)

    def _keep_view(self) -> None:
        if self.view is not None and self.picture is not None and self.keeps_still():
            self.update()
            return
        room = self._room()
        self._glide.stop()
        if room is None or self.picture is None:
            self.view = None
            self.update()
        elif self._is_fitted or self.view is None:
            self._look_from(self._fit_of(room, self.picture))
        else:
            self._look_from(view.zoomed(self.view, room, 1.0, (0.0, 0.0)))

    def _fit_of(self, room: Room, picture: Picture) -> View:
        work = None if self._is_around else picture.work
        self._fitted_for = work, picture.near_per_mm
        return view.fitted(room, work, near_per_mm=picture.near_per_mm)

    def _fit_again(self) -> None:
        """Show in another room what the view was fitted to, unless somebody moved or zoomed it."""
        room = self._room()
        if room is not None and self._fitted_for is not None:
            work, near_per_mm = self._fitted_for
            self._glide.stop()
            self._look_from(view.fitted(room, work, near_per_mm=near_per_mm))

    def _look_from(self, seen: View) -> None:
        if seen != self.view:
            self.view = seen
            self.view_changed.emit()
        self.update()


def _around(bounds: Box, width: int, height: int) -> Box:
    """Return the bounds of a wall with room round it, on a board so large [px], in mm."""
    left, bottom, right, top = bounds
    sizes = (width, height, width, height)
    wanted = zip(AROUND_PX, AROUND_MOST, sizes, strict=True)
    before, below, after, above = (min(LOOK.px(px), most * size) for px, most, size in wanted)
    across, up = (
        (width - before - after) / (right - left),
        (height - below - above) / (top - bottom),
    )
    per_mm = max(min(across, up), 1e-6)
    return (
        left - before / per_mm,
        bottom - below / per_mm,
        right + after / per_mm,
        top + above / per_mm,
    )


def _never() -> bool:
    return False
