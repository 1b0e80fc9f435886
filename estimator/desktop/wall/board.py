"""The wall itself: one painted widget to look at, point at, and walk through by keyboard."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QAccessibleEvent,
    QFocusEvent,
    QKeyEvent,
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
from estimator.desktop.wall import hits, notes, view, wording
from estimator.desktop.wall.brickwork import KeptBrickwork
from estimator.desktop.wall.glide import Glide
from estimator.desktop.wall.picture import Picture, Shape
from estimator.desktop.wall.strokes import Strokes
from estimator.desktop.wall.view import Room, View
from estimator.masonry.region import Point

REACH_PX = 9.0
"""How near a pointer has to come to a line [px]."""
PAN_PX = 60.0
WHEEL_NOTCH = 120.0
DRAG_FROM_PX = 4
WAYS: dict[int, Point] = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
"""Arrow keys as directions on the wall."""
ZOOMS = {Qt.Key.Key_Plus: view.STEP, Qt.Key.Key_Equal: view.STEP, Qt.Key.Key_Minus: 1 / view.STEP}


class Board(QWidget):
    """Paints a picture, and says which of its marks is pointed at."""

    pointed = Signal(object)
    """The marks under the pointer or the keyboard, a frozenset; empty when there is none."""
    view_changed = Signal()
    entered = Signal(bool)
    """Whether the keyboard is on the wall."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty board."""
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(200, 160)
        self.setAccessibleName(_("The wall"))
        self.picture: Picture | None = None
        self.view: View | None = None
        self.lit: frozenset[str] = frozenset()
        self.chosen: Shape | None = None
        self.brickwork = KeptBrickwork()
        self.worth: Callable[[str], str] = lambda _mark: ""
        self._glide = Glide(self, self._look_from)
        self._is_fitted = True
        self._notes: tuple[object, notes.Notes] | None = None
        self._pressed: QPointF | None = None
        self._is_dragged = False
        LOOK.changed.connect(self._look_anew)

    # -- what is shown

    def show_picture(self, picture: Picture | None) -> None:
        """Show another picture; a view somebody chose stays while the wall is the same."""
        before, self.picture = self.picture, picture
        is_same = before is not None and picture is not None
        if not is_same or before.elevation != picture.elevation:  # type: ignore[union-attr]
            self._is_fitted = True
        if self.chosen is not None:
            self._choose(self._found(self.chosen.mark))
        self.setAccessibleDescription("" if picture is None else wording.summary(picture))
        self._keep_view()

    def light(self, marks: frozenset[str]) -> None:
        """Light up marks and let the rest fade; none lights all alike."""
        if marks != self.lit:
            self.lit = marks
            self.update()

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
        self._is_fitted = False
        middle = about or QRectF(self.rect()).center()
        wanted = view.zoomed(self._glide.end or self.view, room, factor, (middle.x(), middle.y()))
        if about is None:
            self._glide.to(self.view, wanted)
        else:
            self._look_from(wanted)

    def pan(self, by: Point) -> None:
        """Move the wall by so many pixels [px]."""
        room = self._room()
        if room is not None and self.view is not None:
            self._is_fitted = False
            self._look_from(view.panned(self.view, room, by))

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return a size at which courses are told apart."""
        return QSize(600, 560)

    def _room(self) -> Room | None:
        if self.picture is None or self.width() < 2 or self.height() < 2:
            return None
        masonry = self.picture.masonry
        return Room(masonry.bounds, self.width(), self.height(), masonry.gauge_mm)

    @staticmethod
    def _fit_of(room: Room, picture: Picture) -> View:
        return view.fitted(room, picture.work, near_per_mm=picture.near_per_mm)

    def _keep_view(self) -> None:
        room = self._room()
        self._glide.stop()
        if room is None or self.picture is None:
            self.view = None
            self.update()
        elif self._is_fitted or self.view is None:
            self._look_from(self._fit_of(room, self.picture))
        else:
            self._look_from(view.zoomed(self.view, room, 1.0, (0.0, 0.0)))

    def _look_from(self, seen: View) -> None:
        if seen != self.view:
            self.view = seen
            self.view_changed.emit()
        self.update()

    def _look_anew(self) -> None:
        self._notes = None
        self.update()

    # -- what is pointed at

    def _found(self, mark: str) -> Shape | None:
        if self.picture is None:
            return None
        shapes = hits.in_order(self.picture)
        return next((one for one in shapes if one.mark == mark), None)

    def _choose(self, shape: Shape | None, *, aloud: bool = False) -> None:
        """Take up a mark: light it, label it, and say it where the keyboard chose it."""
        if shape == self.chosen:
            return
        self.chosen = shape
        marks: frozenset[str] = frozenset()
        if shape is not None and self.picture is not None:
            marks = hits.along_with(self.picture, shape)
        self.pointed.emit(marks)
        if shape is not None and aloud:
            self._say(". ".join(part for part in self._words(shape) if part))
            self._bring_near(shape)
        self.update()

    def _words(self, shape: Shape) -> tuple[str, str]:
        return wording.said(shape), self.worth(shape.mark)

    def _say(self, sentence: str) -> None:
        self.setAccessibleDescription(sentence)
        changed = QAccessible.Event.DescriptionChanged
        QAccessible.updateAccessibility(QAccessibleEvent(self, changed))
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, sentence))

    def _bring_near(self, shape: Shape) -> None:
        """Move the wall so that a mark chosen by keyboard is in sight."""
        if self.view is None:
            return
        x, y = self.view.at(*hits.middle_of(shape))
        inside = QRectF(self.rect()).adjusted(40, 40, -40, -40)
        across = max(inside.left() - x, 0.0) + min(inside.right() - x, 0.0)
        up = max(inside.top() - y, 0.0) + min(inside.bottom() - y, 0.0)
        if across or up:
            self.pan((across, up))

    def _step(self, forward: bool) -> bool:  # noqa: FBT001 - Qt asks it so
        """Take up the next mark, or the one before; false at the end of them."""
        order = () if self.picture is None else hits.in_order(self.picture)
        marks = [one.mark for one in order]
        if self.chosen is None:
            place = 0 if forward else len(order) - 1
        else:
            place = marks.index(self.chosen.mark) + (1 if forward else -1)
        if not 0 <= place < len(order):
            self._choose(None)
            return False
        self._choose(order[place], aloud=True)
        return True

    # -- hands and keys

    def focusNextPrevChild(self, forward: bool) -> bool:  # noqa: N802, FBT001 - Qt's own
        """Walk through the marks by Tab, and leave after the last."""
        return self._step(forward) or super().focusNextPrevChild(forward)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Zoom, move, or take up a mark."""
        key = event.key()
        if key in ZOOMS:
            self.zoom(ZOOMS[Qt.Key(key)])
        elif key == Qt.Key.Key_0:
            self.fit()
        elif key in WAYS and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            x, y = WAYS[key]
            self.pan((-x * PAN_PX, y * PAN_PX))
        elif key in WAYS:
            self._go(WAYS[key])
        elif key == Qt.Key.Key_Escape and self.chosen is not None:
            self._choose(None)
        else:
            super().keyPressEvent(event)

    def _go(self, way: Point) -> None:
        if self.picture is None or self.chosen is None:
            self._step(True)
            return
        found = hits.toward(self.picture, self.chosen, way)
        if found is not None:
            self._choose(found, aloud=True)

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
        if self._pressed is not None and event.buttons() & Qt.MouseButton.LeftButton:
            by = here - self._pressed
            if self._is_dragged or by.manhattanLength() >= DRAG_FROM_PX:
                self._is_dragged = True
                self._pressed = here
                self.setCursor(Qt.CursorShape.ClosedHandCursor)
                self.pan((by.x(), by.y()))
        elif self.picture is not None and self.view is not None:
            place = self.view.place(here.x(), here.y())
            self._choose(hits.nearest(self.picture, place, REACH_PX / self.view.per_mm))

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let go of the wall."""
        self._pressed = None
        self.unsetCursor()

    def mouseDoubleClickEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Go back to all the work."""
        self.fit()

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Point at nothing."""
        super().leaveEvent(event)
        self._choose(None)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Say that keys go to the wall now."""
        super().focusInEvent(event)
        self.entered.emit(True)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Point at nothing."""
        super().focusOutEvent(event)
        self.entered.emit(False)
        self._choose(None)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fit anew, or keep what was looked at."""
        super().resizeEvent(event)
        self._keep_view()

    # -- paint

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint brickwork, marks and words."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.picture is None or self.view is None:
            self._paint_empty(painter)
        else:
            self._paint_wall(painter, self.picture, self.view)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(LOOK.colour("act"), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_wall(self, painter: QPainter, picture: Picture, seen: View) -> None:
        ratio = self.devicePixelRatioF()
        painter.drawPixmap(0, 0, self.brickwork.pixmap(picture, seen, self.size(), ratio))
        strokes = Strokes(painter, seen)
        if self.lit:
            veil = LOOK.colour("paper")
            painter.setOpacity(0.42)
            painter.fillRect(self.rect(), veil)
            painter.setOpacity(1.0)
        strokes.all(picture, self.lit)
        if self.chosen is not None:
            strokes.halo(self.chosen)
            strokes.one(self.chosen)
        notes.paint(painter, self._placed(picture, seen))
        if self.chosen is not None:
            words = self._words(self.chosen)
            notes.paint_note(painter, notes.beside(self.chosen, seen, QRectF(self.rect()), words))

    def _placed(self, picture: Picture, seen: View) -> notes.Notes:
        key = (picture, seen, self.size(), LOOK.scale)
        if self._notes is None or self._notes[0] != key:
            placed = notes.laid_out(picture, seen, self.width(), self.height())
            self._notes = (key, placed)
        return self._notes[1]

    def _paint_empty(self, painter: QPainter) -> None:
        """Say what comes here, calmly."""
        painter.setPen(LOOK.colour("muted"))
        painter.setFont(LOOK.font(15))
        where = self.rect().adjusted(24, 24, -24, -24)
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(where, flags, _("The wall is drawn here from the first answer on."))
