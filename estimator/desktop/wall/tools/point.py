"""Pointing: look at a mark, select it, take hold of what can be moved."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.tools import found, handles, removal
from estimator.desktop.wall.tools.ghosts import Ghost
from estimator.desktop.wall.tools.grips import Grips
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point


class PointTool(Tool):
    """Selects what is pressed, moves what is selected, and the wall where nothing is."""

    name = "point"
    points_at_marks = True
    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self, drafting: Drafting) -> None:
        """Begin with nothing held."""
        super().__init__(drafting)
        self._grips = Grips(self)

    def cancel(self) -> bool:
        """Give a drag up."""
        return self._grips.cancel()

    def back(self) -> bool:
        """Take what is selected off the wall."""
        mark = self.drafting.selection
        if not removal.can_remove(self.drafting, mark):
            return False
        if self.finish_with(lambda: removal.removed(self.drafting, self.work, mark)):
            self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Take hold of a handle, or of the whole of what is selected; else select what is there."""
        if self._grips.take_hold(place):
            return True
        mark = found.mark_at(self.drafting, place)
        if mark and mark == self.drafting.selection and not found.name_of(mark, "crack"):
            return self._grips.take_hold_of_all(place)
        self.drafting.select(mark)
        return False

    def draw(self, place: Point) -> None:
        """Drag what is held."""
        self._grips.draw(place)

    def release(self, place: Point) -> None:
        """Let it go where it is."""
        self._grips.release(place)

    # -- by keys

    def key(self, key: int, *, shifted: bool) -> bool:
        """Walk through all that can be selected, or through the handles of what is."""
        if key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            return self._select_next(1 if key == Qt.Key.Key_PageDown else -1)
        if key == Qt.Key.Key_H:
            picked = self._grips.pick_next()
            self.drafting.ghosts_changed.emit()
            return picked
        return False

    def _select_next(self, way: int) -> bool:
        marks = found.every(self.drafting)
        if not marks:
            return False
        selection = self.drafting.selection
        at = marks.index(selection) if selection in marks else (-1 if way > 0 else 0)
        self.drafting.select(marks[(at + way) % len(marks)])
        return True

    def nudge(self, way: Point, *, fine: bool) -> bool:
        """Move what is selected a joint on, or a millimetre."""
        return self._grips.nudge(way, fine=fine)

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return the handles of what is selected."""
        return self._grips.ghosts()

    def hint(self) -> str:
        """Return what pointing does, or how what is selected is moved."""
        mark = self.drafting.selection
        if handles.of(self.drafting, mark) and not removal.can_remove(self.drafting, mark):
            return _("Drag a handle, or Ctrl and an arrow moves it · H next handle")
        if handles.of(self.drafting, mark):
            return _(
                "Drag a handle, or Ctrl and an arrow moves it · H next handle · Delete removes it"
            )
        return _("Point at a price to light its marks; click a mark to change it")
