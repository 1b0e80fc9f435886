"""The board under a hand: presses go to the tool, and nothing slips while something is held."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import dimension_strokes, notes
from estimator.desktop.wall.dimension_strokes import Rows
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.notes import Notes
from estimator.desktop.wall.photos.table import PhotoTable
from estimator.desktop.wall.tools import ghosts, handles
from estimator.desktop.wall.tools.ghosts import Mark, Spot
from estimator.desktop.wall.tools.held import Held
from estimator.desktop.wall.view import View
from estimator.drawing.courses import Box
from estimator.drawing.shapes import Picture
from estimator.masonry.region import Point

IN_SIGHT_PX = 40.0
"""How far from the edge the cross of the keyboard is kept [px]."""


class HandBoard(PhotoTable):
    """A board whose presses go to the tool in hand, and that paints what it shows."""

    hovered = Signal()
    """The tool is over another place, where it may do something else."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Lie under a hand."""
        super().__init__(drafting.album, parent)
        self.drafting = drafting
        self.cross: Point | None = None
        """Where the keyboard is on the wall, None until it has been used with a tool [mm]."""
        self._is_held = self._is_stroking = False
        self._hovered: Point | None = None
        self.dimensions: bool | None = None
        """Whether dimensions are shown; None where the tool in hand and the room decide."""
        self._rows: tuple[object, Rows] | None = None
        self._settled_for = self.size()
        """The size the view was last fitted into."""
        drafting.picture_changed.connect(self.show_picture)
        drafting.ghosts_changed.connect(self.update)
        drafting.tool_changed.connect(self._take_up)
        drafting.tool_changed.connect(self._stay)
        drafting.selected.connect(self._stay)
        self.view_changed.connect(self._tell_view)

    @property
    def tool(self) -> Held:
        """The tool in hand."""
        return self.drafting.tool

    def _tell_view(self) -> None:
        self.drafting.view = self.view
        self.drafting.size = (float(self.width()), float(self.height()))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Keep what is seen, what is selected in sight, and say how much that is."""
        super().resizeEvent(event)
        self._tell_view()
        if not self._is_held:
            self._fit_in()
            self._bring_selected_near()

    def _take_up(self, tool: Held) -> None:
        self._is_held = self._is_stroking = False
        self.cross = self._hovered = None
        self.setCursor(tool.cursor)
        if not tool.points_at_marks and self.isVisible():
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        if not tool.points_at_marks:
            self.choose(None)
        self.update()

    # -- by hand

    def _place(self, event: QMouseEvent) -> Point | None:
        if self.view is None or self.picture is None:
            return None
        return self.view.place(event.position().x(), event.position().y())

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Give a press to the tool; what it leaves takes hold of the wall."""
        place = self._place(event)
        self._drop_stroke()
        self.cross = None
        if place is not None and self._press(event, place):
            self.drafting.ghosts_changed.emit()
            return
        super().mousePressEvent(event)

    def _press(self, event: QMouseEvent, place: Point) -> bool:
        """Give a press to the tool; false where it has no use for it."""
        shifted = self._note_shift(event.modifiers())
        if event.button() == Qt.MouseButton.RightButton:
            return self.tool.press_right(place)
        if event.button() != Qt.MouseButton.LeftButton:
            return False
        if event.modifiers() & Qt.KeyboardModifier.AltModifier and self.tool.press_aside(place):
            return True
        # Held from now on: what is selected may take room below, and the wall must not slip.
        self._is_held = True
        self._is_held = self.tool.press(place, shifted=shifted)
        if not self._is_held:
            self._settle_view()
        return self._is_held

    def _note_shift(self, modifiers: Qt.KeyboardModifier) -> bool:
        """Tell the tool whether Shift is held."""
        self.tool.is_shifted = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
        return self.tool.is_shifted

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Draw along, move the wall, or hold the tool over a place."""
        place = self._place(event)
        self._note_shift(event.modifiers())
        if self._is_held and place is not None:
            self.tool.draw(place)
            self.update()
            return
        super().mouseMoveEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let go."""
        place = self._place(event)
        if self._is_held and event.button() == Qt.MouseButton.LeftButton:
            self._is_held = False
            if place is not None:
                self.tool.release(place)
            self._settle_view()
            self.drafting.ghosts_changed.emit()
            return
        super().mouseReleaseEvent(event)
        self.setCursor(self.tool.cursor)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Give a double press to the tool, or show all the work."""
        place = self._place(event)
        if place is None or not self.tool.double(place):
            super().mouseDoubleClickEvent(event)
        self.drafting.ghosts_changed.emit()

    def point_at(self, spot: QPointF) -> None:
        """Hold the tool over a place; marks are named where the tool only points."""
        if self.tool.points_at_marks:
            super().point_at(spot)
        if self.view is not None:
            self._hovered = self.view.place(spot.x(), spot.y())
            self.tool.hover(self._hovered)
            self.hovered.emit()
            self.update()

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Take the tool off the wall."""
        super().leaveEvent(event)
        self._hovered = None
        self.tool.leave()
        self.update()

    def _drop_stroke(self) -> None:
        """Give up a stroke drawn by keys."""
        if self._is_stroking:
            self._is_stroking = False
            self.tool.cancel()

    def _bring_place_near(self, place: Point) -> None:
        if self.view is None:
            return
        x, y = self.view.at(*place)
        across = max(IN_SIGHT_PX - x, 0.0) + min(self.width() - IN_SIGHT_PX - x, 0.0)
        up = max(IN_SIGHT_PX - y, 0.0) + min(self.height() - IN_SIGHT_PX - y, 0.0)
        if across or up:
            self.pan((across, up))

    # -- a view that stays still under a hand

    def _keep_view(self) -> None:
        """Leave the view where it is while something is held: nothing may slip under the hand."""
        if not self._is_held or self.view is None:
            super()._keep_view()

    def _settle_view(self) -> None:
        """Take the room there is now that nothing is held."""
        if self._settled_for != self.size():
            self._keep_view()
            self._fit_in()
            self._bring_selected_near()

    def _fit_in(self) -> None:
        """Where a tool draws and its sizes take room below, keep all in sight that was fitted."""
        if not self.tool.points_at_marks:
            self._fit_again()

    def _bring_selected_near(self) -> None:
        """Have all of what is selected in sight; from further off only where there is no room."""
        self._settled_for = self.size()
        box = handles.box(self.drafting)
        if box is None or self.view is None:
            return
        room = (box[2] - box[0]) * self.view.per_mm, (box[3] - box[1]) * self.view.per_mm
        free = self.width() - 2 * IN_SIGHT_PX, self.height() - 2 * IN_SIGHT_PX
        least = min(have / max(need, 1.0) for have, need in zip(free, room, strict=True))
        if 0.0 < least < 1.0:
            self.zoom(least, QPointF(*self.view.at(*_middle_of(box))))
        for corner in (box[:2], box[2:]):
            self._bring_place_near(corner)

    def _stay(self, _what: object = None) -> None:
        """Fit the view no more by itself, now that somebody works on the wall."""
        if self.drafting.selection or not self.tool.points_at_marks:
            self._is_fitted = False

    # -- paint

    @property
    def _are_shown(self) -> bool:
        return self._rows is not None and self._shows_dimensions(self._rows[1])

    def show_dimensions(self, *, on: bool) -> None:
        """Show dimensions, or hide them, whatever tool is in hand."""
        self.dimensions = on
        self._rows = None
        self.update()

    def _placed(self, picture: Picture, seen: View) -> Notes:
        """Return the words on the drawing; while something is tried out they stay."""
        if self.drafting.is_trying and self._notes is not None:
            return self._notes[1]
        rows = self._dimensioned(seen)
        if rows is None:
            return super()._placed(picture, seen)
        key = (picture, seen, rows.edge, rows.foot, LOOK.scale)
        if self._notes is None or self._notes[0] != key:
            self._notes = key, notes.laid_out(picture, seen, rows.edge, rows.foot)
        return self._notes[1]

    def _shows_dimensions(self, rows: Rows) -> bool:
        """Whether dimensions are wanted: by D, else with the wall tool, or where there is room."""
        if self.dimensions is not None:
            return self.dimensions
        return self.tool.name == "wall" or (self.tool.points_at_marks and rows.has_room)

    def _dimensioned(self, seen: View) -> Rows | None:
        """Return the dimensions to be shown, laid out; None where there are none."""
        if self.picture is None or self.dimensions is False:
            return None
        key = (self.picture, seen, self.size(), LOOK.scale)
        if self._rows is None or self._rows[0] != key:
            # While something is dragged they stay as they were, unless they tell of the drag.
            is_still = self.drafting.is_trying and self.tool.name != "wall"
            if self._rows is None or not is_still:
                self._rows = key, dimension_strokes.laid_out(self.picture, seen, self.size())
        rows = self._rows[1]
        return rows if self._shows_dimensions(rows) else None

    def paint_over(self, painter: QPainter, seen: View) -> None:
        """Paint dimensions, what is half drawn, and the cross of the keyboard."""
        rows = self._dimensioned(seen)
        if rows is not None:
            dimension_strokes.paint(painter, seen, rows, self.size())
        ghosts.paint(painter, seen, handles.frame(self.drafting))
        ghosts.paint(painter, seen, self.tool.ghosts())
        if self.cross is not None:
            ghosts.paint(painter, seen, (Mark(self.cross, Spot.CROSS),))


def _middle_of(box: Box) -> Point:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
