"""The wall itself: one painted widget to look at, point at, and walk through by keyboard."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QAccessibleEvent,
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import hits, notes, wording
from estimator.desktop.wall.brickwork import KeptBrickwork
from estimator.desktop.wall.lookout import WAYS, Lookout
from estimator.desktop.wall.strokes import Strokes
from estimator.desktop.wall.view import View
from estimator.drawing.shapes import Picture, Shape
from estimator.masonry.region import Point

REACH_PX = 9.0
"""How near a pointer has to come to a line [px]."""
TO_PRICE = (Qt.Key.Key_M, Qt.Key.Key_Return, Qt.Key.Key_Enter)
"""Keys that go from a mark to its price: M for money."""
IN_SIGHT_PX = 40
"""How far from the edge a mark chosen by keyboard is brought [px]."""


class Board(Lookout):
    """Paints a picture, and says which of its marks is pointed at."""

    pointed = Signal(object)
    """The marks under the pointer or the keyboard, a frozenset; empty when there is none."""
    entered = Signal(bool)
    """Whether the keyboard is on the wall."""
    price_wanted = Signal(str)
    """The keyboard wants to go from a mark to its price."""
    let_go = Signal()
    """The marks walked through are to be let go."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty board."""
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(_("The wall"))
        self.lit: frozenset[str] = frozenset()
        self.walked: frozenset[str] = frozenset()
        """The marks the keyboard walks through: those of a price line; empty for all."""
        self.chosen: Shape | None = None
        self.brickwork = KeptBrickwork()
        self.worth: Callable[[str], str] = lambda _mark: ""
        self._notes: tuple[object, notes.Notes] | None = None
        self._words_kept = notes.KeptNotes()
        LOOK.changed.connect(self._look_anew)

    # -- what is shown

    def show_picture(self, picture: Picture | None) -> None:
        """Show another picture, and keep pointing at what is still on it."""
        self.look_at(picture)
        if self.chosen is not None:
            self.choose(self._found(self.chosen.mark))
        self.setAccessibleDescription("" if picture is None else wording.summary(picture))

    def light(self, marks: frozenset[str]) -> None:
        """Light up marks and let the rest fade; none lights all alike."""
        if marks != self.lit:
            self.lit = marks
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

    def meant_by(self, mark: str) -> frozenset[str]:
        """Return the marks meant by one: a crack means its perpends too; none for none."""
        shape = self._found(mark)
        if shape is None or self.picture is None:
            return frozenset((mark,)) if mark else frozenset()
        return hits.along_with(self.picture, shape)

    def walk(self, marks: frozenset[str], *, start: str = "") -> None:
        """Walk through some marks alone, and take up the first of them or the one given."""
        self.walked = marks
        order = self._order()
        if marks and order:
            self.choose(next((one for one in order if one.mark == start), order[0]), aloud=True)

    def _order(self) -> tuple[Shape, ...]:
        """Return what the keyboard walks through."""
        if self.picture is None:
            return ()
        order = hits.in_order(self.picture)
        if not self.walked:
            return order
        kept = [one for one in order if self.walked & hits.along_with(self.picture, one)]
        return tuple(kept) or order

    def choose(self, shape: Shape | None, *, aloud: bool = False) -> None:
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
        inside = QRectF(self.rect()).adjusted(IN_SIGHT_PX, IN_SIGHT_PX, -IN_SIGHT_PX, -IN_SIGHT_PX)
        across = max(inside.left() - x, 0.0) + min(inside.right() - x, 0.0)
        up = max(inside.top() - y, 0.0) + min(inside.bottom() - y, 0.0)
        if across or up:
            self.pan((across, up))

    def _step(self, forward: bool) -> bool:  # noqa: FBT001 - Qt asks it so
        """Take up the next mark, or the one before; false at the end of them."""
        order = self._order()
        marks = [one.mark for one in order]
        if self.chosen is None or self.chosen.mark not in marks:
            place = 0 if forward else len(order) - 1
        else:
            place = marks.index(self.chosen.mark) + (1 if forward else -1)
        if not 0 <= place < len(order):
            self.choose(None)
            return False
        self.choose(order[place], aloud=True)
        return True

    # -- hands and keys

    def focusNextPrevChild(self, forward: bool) -> bool:  # noqa: N802, FBT001 - Qt's own
        """Walk through the marks by Tab, and leave after the last."""
        return self._step(forward) or super().focusNextPrevChild(forward)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take up the next mark that way, let go of one, or leave the key to the view."""
        key, is_shifted = event.key(), event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        if key in WAYS and not is_shifted:
            self._go(WAYS[key])
        elif key in TO_PRICE and self.chosen is not None:
            self.price_wanted.emit(self.chosen.mark)
        elif key == Qt.Key.Key_Escape and (self.walked or (self.lit and self.chosen is None)):
            self.let_go.emit()
        elif key == Qt.Key.Key_Escape and self.chosen is not None:
            self.choose(None)
        else:
            super().keyPressEvent(event)

    def _go(self, way: Point) -> None:
        if self.picture is None or self.chosen is None:
            self._step(True)
            return
        found = hits.toward(self.picture, self.chosen, way, self._order())
        if found is not None:
            self.choose(found, aloud=True)

    def point_at(self, spot: QPointF) -> None:
        """Take up what is under the pointer."""
        if self.picture is not None and self.view is not None:
            place = self.view.place(spot.x(), spot.y())
            self.choose(hits.nearest(self.picture, place, REACH_PX / self.view.per_mm))

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Point at nothing."""
        super().leaveEvent(event)
        self.choose(None)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Say that keys go to the wall now."""
        super().focusInEvent(event)
        self.entered.emit(True)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Point at nothing."""
        super().focusOutEvent(event)
        self.entered.emit(False)
        self.choose(None)

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
        self.paint_under(painter, seen)
        strokes = Strokes(painter, seen)
        if self.lit:
            veil = LOOK.colour("paper")
            painter.setOpacity(0.42)
            painter.fillRect(self.rect(), veil)
            painter.setOpacity(1.0)
        strokes.all(picture, self.lit)
        if self.chosen is not None:
            strokes.halos((self.chosen,))
            strokes.one(self.chosen)
        self._words_kept.paint(painter, self._placed(picture, seen), self.size(), ratio)
        if self.chosen is not None:
            words = self._words(self.chosen)
            notes.paint_note(painter, notes.beside(self.chosen, seen, QRectF(self.rect()), words))
        self.paint_over(painter, seen)

    def paint_under(self, painter: QPainter, seen: View) -> None:
        """Paint what lies between brickwork and marks; a board to look at has nothing there."""

    def paint_over(self, painter: QPainter, seen: View) -> None:
        """Paint what lies over everything; a board to look at has nothing there."""

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
