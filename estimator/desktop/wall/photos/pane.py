"""A photograph to mark points on: large, with a glass under the pointer."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QDragEnterEvent,
    QDropEvent,
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.photos import dropping, glass, saying
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.photos.sheet import Sheet
from estimator.masonry.region import Point

REACH_PX = 14.0
"""How near a press has to come to a point to take it up [px]."""
DRAG_FROM_PX = 4.0
STEP_PX, FAR_PX, CROSS_STEP_PX = 1.0, 10.0, 12.0
"""What an arrow key moves a point by on the picture, with Shift, and the cross on the screen."""
NEARER = 1.25
WHEEL_NOTCH = 120.0
ZOOMS = {Qt.Key.Key_Plus: NEARER, Qt.Key.Key_Equal: NEARER, Qt.Key.Key_Minus: 1 / NEARER}
ARROWS: dict[int, Point] = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}
TAKES = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
BACK = (Qt.Key.Key_Backspace, Qt.Key.Key_Delete)


class PhotoPane(QWidget):
    """Shows the photograph whose points are being marked."""

    def __init__(self, album: Album, parent: QWidget | None = None) -> None:
        """Show what an album has in hand."""
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(200, 160)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAcceptDrops(True)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setAccessibleName(_("The photograph"))
        self.album, self.marking = album, album.marking
        self.sheet = Sheet()
        self.pointer: QPointF | None = None
        self.cross: QPointF | None = None
        """Where the keyboard is on the pane, None until it has been used [px]."""
        self._photo = ""
        self._pressed: QPointF | None = None
        self._is_panning = False
        self._gesture = 0
        self.marking.changed.connect(self._follow)
        album.changed.connect(self._follow)
        LOOK.changed.connect(self.update)
        self._follow()

    def _follow(self) -> None:
        photo = self.marking.of
        name = "" if photo is None else photo.id
        levels = None if photo is None else self.album.pictures.find(photo.picture)
        if photo is not None and (name != self._photo or levels is not self.sheet.levels):
            self.sheet.lay(levels, (photo.width_px, photo.height_px), self.size())
            self.cross = None if name != self._photo else self.cross
        self._photo = name
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return a size at which joints are told apart."""
        return QSize(600, 480)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fit anew, or keep what was looked at."""
        super().resizeEvent(event)
        self.sheet.resize(self.size())

    # -- dropped on

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802 - Qt's name
        """Welcome photographs."""
        dropping.welcome(event)

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802 - Qt's name
        """Take photographs in."""
        dropping.drop(self.album, event)

    # -- by hand

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take up the point that is there, or begin to mark or to move the picture."""
        self.cross = None
        self._pressed, self._is_panning = event.position(), False
        self._gesture += 1
        held = self._point_at(event.position())
        if event.button() == Qt.MouseButton.LeftButton and held is not None:
            self._pressed = None
            self.marking.hold(held)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Move a point, move the picture, or look through the glass."""
        here = event.position()
        self.pointer = here
        if event.buttons() and self._pressed is None:
            self.marking.move(self.sheet.spot(here), gesture=self._gesture)
        elif event.buttons() and self._pressed is not None:
            by = here - self._pressed
            if self._is_panning or math.hypot(by.x(), by.y()) >= DRAG_FROM_PX:
                self._is_panning, self._pressed = True, here
                self.setCursor(Qt.CursorShape.ClosedHandCursor)
                self.sheet.pan(by)
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Mark a point where a press did not move."""
        clicked = self._pressed is not None and not self._is_panning
        self._pressed, self._is_panning = None, False
        self.setCursor(Qt.CursorShape.CrossCursor)
        spot = self.sheet.spot(event.position())
        if clicked and event.button() == Qt.MouseButton.LeftButton and self.sheet.holds(spot):
            self.marking.add(spot)
        self.update()

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Look from nearer or further, about the pointer; two fingers move the picture."""
        fine = event.pixelDelta()
        if not fine.isNull() and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.sheet.pan(QPointF(fine))
        elif event.angleDelta().y():
            self.sheet.zoom(NEARER ** (event.angleDelta().y() / WHEEL_NOTCH), event.position())
        event.accept()
        self.update()

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Take the glass away."""
        super().leaveEvent(event)
        self.pointer = None
        self.update()

    def _point_at(self, at: QPointF) -> int | None:
        near = [
            (math.dist(self.sheet.at(one.seen).toTuple(), at.toTuple()), number)
            for number, one in enumerate(self.marking.points)
        ]
        far, number = min(near, default=(math.inf, 0))
        return number if far <= REACH_PX * LOOK.scale else None

    # -- by keys

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Move the point taken up by a pixel of the picture, or the cross, or the view."""
        shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if event.matches(QKeySequence.StandardKey.Paste):
            dropping.paste(self.album)
        elif not self._take_key(event.key(), shifted=shifted):
            super().keyPressEvent(event)
        self.update()

    def _take_key(self, key: int, *, shifted: bool) -> bool:
        if key in ARROWS:
            self._move(ARROWS[key], FAR_PX if shifted else STEP_PX)
        elif key in TAKES:
            self._mark_at_cross()
        elif key in BACK and self.marking.held is not None:
            self.marking.drop(self.marking.held)
        elif key in ZOOMS:
            about = self._middle() if self.cross is None else self.cross
            self.sheet.zoom(ZOOMS[Qt.Key(key)], about)
        elif Qt.Key.Key_0 <= key <= Qt.Key.Key_9 and self.marking.held is not None:
            self.marking.typed.emit(chr(key))
        elif key == Qt.Key.Key_0:
            self.sheet.fit()
        elif key == Qt.Key.Key_Escape:
            self._let_go()
        else:
            return False
        return True

    def _move(self, way: Point, by: float) -> None:
        """Move the point taken up; with none, the cross."""
        if self.marking.held is not None:
            self.pointer = None
            self.marking.nudge(way[0] * by, way[1] * by)
            return
        step = CROSS_STEP_PX * LOOK.scale * by / STEP_PX / (2 if by > STEP_PX else 1)
        start = self._middle() if self.cross is None else self.cross
        inside = QRectF(self.rect())
        self.cross = QPointF(
            min(max(start.x() + way[0] * step, inside.left()), inside.right()),
            min(max(start.y() + way[1] * step, inside.top()), inside.bottom()),
        )

    def _mark_at_cross(self) -> None:
        """Mark a point at the cross; one that is taken up is let go first."""
        if self.marking.held is not None:
            self.cross = self.sheet.at(self.marking.points[self.marking.held].seen)
            self.marking.hold(None)
            return
        if self.cross is None:
            self.cross = self._middle()
            return
        if self.sheet.holds(self.sheet.spot(self.cross)):
            self.marking.add(self.sheet.spot(self.cross))

    def _let_go(self) -> None:
        """Let go of the point, then of the photograph."""
        if self.marking.held is not None:
            self.marking.hold(None)
        else:
            self.marking.end()

    def _middle(self) -> QPointF:
        return QRectF(self.rect()).center()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Take the cross away."""
        super().focusOutEvent(event)
        self.cross = None
        self.update()

    # -- paint

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint the picture, its points, and the glass."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = QRectF(self.rect())
        painter.fillRect(room, LOOK.colour("paper"))
        if self.sheet.levels is None:
            self._paint_waiting(painter)
        else:
            painter.drawPixmap(0, 0, self.sheet.pixmap(self.devicePixelRatioF()))
            glass.points(painter, self.sheet, self.marking.points, self.marking.held)
            spot = self._looked_at()
            glass.banner(painter, saying.next_thing(self.marking), room, spot)
            if self.cross is not None:
                glass.cross(painter, self.cross)
            if spot is not None and self.sheet.holds(self.sheet.spot(spot)):
                glass.glass(painter, self.sheet, spot, room)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(LOOK.colour("act"), 2))
            painter.drawRect(room.adjusted(1, 1, -1, -1))
        painter.end()

    def _looked_at(self) -> QPointF | None:
        """Return where the glass is held: at the pointer, the cross, or the point taken up."""
        if self._is_panning:
            return None
        if self.pointer is not None:
            return self.pointer
        if self.marking.held is not None and self.hasFocus():
            return self.sheet.at(self.marking.points[self.marking.held].seen)
        return self.cross

    def _paint_waiting(self, painter: QPainter) -> None:
        photo = self.marking.of
        lost = photo is not None and self.album.pictures.is_lost(photo.picture)
        painter.setPen(LOOK.colour("muted"))
        painter.setFont(LOOK.font(15))
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        said = _("The photograph is being fetched…")
        if lost:
            said = _("This photograph is no longer in the file. Remove it, or add it again.")
        painter.drawText(self.rect().adjusted(24, 24, -24, -24), flags, said)
