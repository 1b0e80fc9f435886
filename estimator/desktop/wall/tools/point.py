"""Pointing: look at a mark, select it, take hold of what can be moved."""

from __future__ import annotations

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.tools import found
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point


class PointTool(Tool):
    """Selects what is pressed, and moves the wall where nothing is."""

    name = "point"
    points_at_marks = True
    cursor = Qt.CursorShape.ArrowCursor

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Select what is there."""
        mark = found.mark_at(self.drafting, place)
        self.drafting.select(mark)
        return False

    def hint(self) -> str:
        """Return what pointing does."""
        return _("Point at a price to light its marks; click a mark to change it")
