"""The board one draws on: keys go to the tool in hand, and move a cross over the wall."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QWidget

from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.hand_board import HandBoard
from estimator.desktop.wall.lookout import WAYS
from estimator.desktop.wall.photos import dropping
from estimator.masonry.region import Point

TAKES = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
BACK = (Qt.Key.Key_Backspace, Qt.Key.Key_Delete)


class DrawingBoard(HandBoard):
    """A board whose wall can be drawn on by mouse and by keyboard."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Lie under a hand and a keyboard."""
        super().__init__(drafting, parent)
        self.letter: Callable[[str], bool] = _no_tool
        """Takes up the tool a letter stands for."""

    # -- by keys

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Give a key to the tool, then to the view and the marks."""
        shifted = self._note_shift(event.modifiers())
        if event.key() == Qt.Key.Key_Shift:
            self.tool.is_shifted = True
            self._hover_again()
        elif dropping.key(self.drafting.album, event):
            event.accept()
        elif not self._nudge(event) and not self._take_key(event.key(), shifted=shifted):
            super().keyPressEvent(event)
        self.drafting.ghosts_changed.emit()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Note that Shift was let go."""
        super().keyReleaseEvent(event)
        if event.key() == Qt.Key.Key_Shift:
            self.tool.is_shifted = False
            self._hover_again()

    def _hover_again(self) -> None:
        """Show what the tool would do now that Shift has changed."""
        if self._hovered is not None and not self._is_held:
            self.tool.hover(self._hovered)
            self.update()

    def _nudge(self, event: QKeyEvent) -> bool:
        """Move what is selected a joint on, or a millimetre; false for any other key."""
        held = event.modifiers()
        if event.key() not in WAYS or not held & Qt.KeyboardModifier.ControlModifier:
            return False
        fine = bool(held & Qt.KeyboardModifier.ShiftModifier)
        return self.tool.nudge(WAYS[event.key()], fine=fine)

    def _take_key(self, key: int, *, shifted: bool) -> bool:
        """Give a key to the tool first; false leaves it to the marks and the view."""
        if self.view is None:
            return False
        if self.tool.key(key, shifted=shifted):
            return True
        if key == Qt.Key.Key_Escape:
            self._is_held = self._is_stroking = False
            return self.tool.cancel() or self._put_down()
        if key in BACK:
            return self.tool.back()
        if key == Qt.Key.Key_D:
            self.show_dimensions(on=not self._are_shown)
            return True
        is_letter = Qt.Key.Key_A <= key <= Qt.Key.Key_Z
        return (is_letter and self.letter(chr(key))) or self._move_key(key, shifted=shifted)

    def _move_key(self, key: int, *, shifted: bool) -> bool:
        """Move the cross, or press where it is; a tool that points leaves that to the marks."""
        if self.tool.points_at_marks:
            return False
        if key in WAYS and not shifted:
            self._move_cross(WAYS[key])
        elif key in TAKES:
            self._press_at_cross(shifted=shifted)
        else:
            return False
        return True

    def _put_down(self) -> bool:
        """Go back to pointing, or let go of what is selected; false where neither was so."""
        if not self.tool.points_at_marks:
            return self.letter("P")
        was_selected = bool(self.drafting.selection)
        self.drafting.select("")
        return was_selected

    def _move_cross(self, way: Point) -> None:
        """Move the cross a joint on."""
        start = self.cross or self._hovered or self.tool.start_place()
        self.cross = self._hovered = self.tool.step(start, way)
        self._bring_place_near(self.cross)
        if self._is_stroking:
            self.tool.draw(self.cross)
        else:
            self.tool.hover(self.cross)

    def _press_at_cross(self, *, shifted: bool) -> None:
        """Press the tool where the cross is, and let it go; a stroke lasts until the next press."""
        if self.cross is None:
            self.cross = self._hovered or self.tool.start_place()
        if self._is_stroking:
            self._is_stroking = False
            self.tool.release(self.cross)
        elif self.tool.press(self.cross, shifted=shifted):
            self._is_stroking = self.tool.is_stroked
            if not self._is_stroking:
                self.tool.release(self.cross)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Take the cross off the wall."""
        super().focusOutEvent(event)
        self._drop_stroke()
        self.cross = None
        self.update()


def _no_tool(_letter: str) -> bool:
    return False
