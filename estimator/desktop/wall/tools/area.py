"""Draws an area to repoint: a panel, out to the openings, or freehand."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.choices import FREEHAND, OPENINGS, PANEL
from estimator.desktop.wall.tools import snaps, spoken
from estimator.desktop.wall.tools.found import mark_at, name_of
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Said, Spot, Trial
from estimator.desktop.wall.tools.grips import Grips
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import areas

WAYS: dict[int, str] = {
    Qt.Key.Key_1: PANEL,
    Qt.Key.Key_2: OPENINGS,
    Qt.Key.Key_3: FREEHAND,
}
"""Keys that choose how an area is drawn."""
LEAST_MM = 40.0
"""A box smaller than this is a press [mm]."""


class AreaTool(Tool):
    """Draws an area to repoint: a panel, out to the openings, or freehand."""

    name = "area"
    keeps = ("area",)

    def __init__(self, drafting: Drafting) -> None:
        """Begin with a panel of whole courses."""
        super().__init__(drafting)
        self.way = PANEL
        """How the next area is drawn: a panel, out to the openings, or freehand."""
        self._grips = Grips(self)
        self._start: Point | None = None
        self._at: Point | None = None
        self._points: list[Point] = []

    @property
    def is_stroked(self) -> bool:  # type: ignore[override]
        """Whether it is drawn from press to release: so is a panel, and a corner that is held."""
        return self.way == PANEL or self._grips.is_held

    def take(self, way: str) -> None:
        """Choose how the next area is drawn."""
        self.cancel()
        self.way = way
        self.drafting.ghosts_changed.emit()

    def cancel(self) -> bool:
        """Give up what is half drawn."""
        was = self._start is not None or bool(self._points)
        self._start, self._points, self.trouble = None, [], ""
        if was or self.drafting.is_trying:
            self.drafting.try_out(None)
        return self._grips.cancel() or was

    def back(self) -> bool:
        """Take the last corner back, or the selected area off the wall."""
        if self._points:
            self._points.pop()
            self._preview()
            return True
        area = name_of(self.drafting.selection, "area")
        if not any(one.id == area for one in self.drafting.plain.areas):
            return False
        if self.finish_with(lambda: areas.remove_area(self.work, self.side, area)):
            self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Take hold of a corner, begin a box, set a corner, or fill out to the openings."""
        if self._grips.take_hold(place):
            return True
        self._at = place
        if self.way == FREEHAND:
            self._set_corner(self._snapped(place))
        elif self.way == PANEL:
            self._start = place
        else:
            self._start = None
        return True

    def draw(self, place: Point) -> None:
        """Pull the box, or the corner that is held."""
        if self._grips.is_held:
            self._grips.draw(place)
            return
        self._at = place
        if self._start is not None:
            self._preview()

    def release(self, place: Point) -> None:
        """Do it; a press alone selects the area that is there."""
        if self._grips.is_held:
            self._grips.release(place)
            return
        self._at = place
        start, way = self._start, self.way
        if way == OPENINGS:
            self._finish(self._edit)
        elif way == PANEL and start is not None:
            if math.dist(start, place) >= LEAST_MM:
                self._finish(self._edit)
            else:
                self._select(place)
        self._start = None

    def hover(self, place: Point) -> None:
        """Show what a press would make."""
        self._at = place
        if self.way == OPENINGS or self._points:
            self._preview()

    def leave(self) -> None:
        """Show nothing that is not begun."""
        self._at = None
        if self._start is None and not self._points and self.drafting.is_trying:
            self.drafting.try_out(None)

    def double(self, place: Point) -> bool:
        """Close a freehand area."""
        if self.way == FREEHAND and self._points:
            self._close()
        return True

    def press_right(self, place: Point) -> bool:
        """Close a freehand area."""
        return self.double(place)

    def _select(self, place: Point) -> None:
        mark = mark_at(self.drafting, place)
        self.drafting.select(mark if name_of(mark, "area") else "")

    def _set_corner(self, at: Point) -> None:
        """Set a corner of a freehand area; on the first or the last one it closes."""
        reach = snaps.SNAP_PX / self.drafting.per_mm
        closing = self._points[:1] + self._points[-1:]
        if self._points and any(math.dist(at, one) <= reach for one in closing):
            self._close()
        else:
            self._points.append(at)
            self._preview()

    def _close(self) -> None:
        points = tuple(self._points)
        self._finish(lambda: areas.add_area(self.work, self.side, points))
        self._points = []

    def _snapped(self, place: Point) -> Point:
        return snaps.to_joint(self.drafting.wall, place, snaps.SNAP_PX / self.drafting.per_mm)

    def _edit(self) -> Edit:
        """Return what would be made of the box, or of the place, as it is."""
        at = self._at or (0.0, 0.0)
        start = self._start or at
        box = (*map(min, start, at), *map(max, start, at))
        if self.way == PANEL:
            return areas.add_panel(self.work, self.side, box)  # type: ignore[arg-type]
        return areas.to_the_openings(self.work, self.side, box)  # type: ignore[arg-type]

    def _preview(self) -> None:
        """Try out what is half drawn, once it holds something."""
        if self.way == FREEHAND:
            points = (*self._points, *([self._snapped(self._at)] if self._at else []))
            if len(set(points)) > 2:
                self.attempt(lambda: areas.add_area(self.work, self.side, points))
            elif self.drafting.is_trying:
                self.drafting.try_out(None)
        else:
            self.attempt(self._edit)

    def _finish(self, make: Callable[[], Edit]) -> None:
        """Do an edit and select the area it made."""
        before = {one.id for one in self.work.survey.elevations[self.drafting.side].areas}
        if self.finish_with(make) is None:
            return
        new = [one.id for one in self.drafting.plain.areas if one.id not in before]
        if new:
            self.drafting.select(f"{self.side}/area/{new[0]}")

    # -- by keys

    def step(self, place: Point, way: Point) -> Point:
        """Return the next joint that way, on the wall [mm]."""
        return snaps.on_wall(self.drafting.wall, super().step(place, way))

    def key(self, key: int, *, shifted: bool) -> bool:
        """Choose a way to draw by its number."""
        if key not in WAYS:
            return False
        self.take(WAYS[key])
        return True

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return all areas drawn, the one being drawn, and its size."""
        shown: list[Ghost] = [
            Trial(one.outline, Ink.ACT, is_closed=True, width_px=2)
            for one in self.drafting.plain.areas
        ]
        shown += self._grips.ghosts()
        shown += [Mark(point) for point in self._points]
        if self._at is None:
            return shown
        if self.trouble:
            return (*shown, Said(self._at, self.trouble, Ink.STOP))
        if self.way == FREEHAND:
            at = self._snapped(self._at)
            shown.append(Mark(at, Spot.HELD))
            if len(self._points) == 1:
                shown.append(Trial((self._points[0], at)))
        if self.drafting.is_trying and not self._grips.is_held and self.drafting.plain.areas:
            shown.append(Said(self._at, spoken.area(self.drafting.plain.areas[-1].outline)))
        return shown

    def hint(self) -> str:
        """Return how the next area is drawn."""
        ways = {
            PANEL: _("Drag a box: it goes out to whole courses"),
            OPENINGS: _("Click: it goes out to the next openings and ends"),
            FREEHAND: _("Click its corners; on the last one again to close"),
        }
        return _("{how} · 1 panel · 2 to the openings · 3 freehand").format(how=ways[self.way])
