"""The first wall of a job: dragged as large as it is, or begun with a usual size."""

from __future__ import annotations

import math
from collections.abc import Sequence

from estimator.desktop.language import _
from estimator.desktop.wall.particulars.typed import in_bricks, in_courses, in_metres
from estimator.desktop.wall.tools import beginning
from estimator.desktop.wall.tools.ghosts import Ghost, Patch, Said
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point

STILL_PX = 3.0
"""Moved less than this, a press is a click [px]."""


class FirstWall:
    """What the wall tool does while nobody has told or drawn anything."""

    def __init__(self, tool: Tool) -> None:
        """Belong to a tool."""
        self._tool = tool
        self._start: Point | None = None
        self._at: Point | None = None

    @property
    def is_wanted(self) -> bool:
        """Whether there is no wall anybody told of or drew."""
        return beginning.is_blank(self._tool.work)

    @property
    def is_held(self) -> bool:
        """Whether it is being dragged."""
        return self._start is not None

    def press(self, place: Point) -> None:
        """Begin to drag it."""
        self._start = self._at = place

    def draw(self, place: Point) -> None:
        """Drag it."""
        self._at = place

    def release(self) -> None:
        """Put it on the board: as large as it was dragged, or of a usual size."""
        size = self._size()
        self.begin() if size is None else self.begin(size)
        self.drop()

    def drop(self) -> None:
        """Give up what is dragged."""
        self._start = self._at = None

    def begin(self, size: Point = (beginning.WIDTH_MM, beginning.HEIGHT_MM)) -> None:
        """Put a bare wall of a size on the board [mm]."""
        tool = self._tool
        tool.finish_with(lambda: beginning.begin_wall(tool.work, tool.side, size))

    def _size(self) -> Point | None:
        """Return what is dragged in whole bricks and courses; None for a click [mm]."""
        start, at, drafting = self._start, self._at, self._tool.drafting
        if start is None or at is None or drafting.elevation is None:
            return None
        if math.dist(start, at) * drafting.per_mm <= STILL_PX:
            return None
        return beginning.whole_bricks(drafting.elevation, start, at)

    def ghosts(self) -> Sequence[Ghost]:
        """Return the box that is dragged, with its size."""
        size, start, at = self._size(), self._start, self._at
        if size is None or start is None or at is None:
            return ()
        (width, height), coursing = size, self._tool.drafting.wall.coursing
        left = start[0] if at[0] >= start[0] else start[0] - width
        bottom = start[1] if at[1] >= start[1] else start[1] - height
        words = _("{width} · {bricks}\n{height} · {courses}").format(
            width=in_metres(width),
            bricks=in_bricks(width, coursing),
            height=in_metres(height),
            courses=in_courses(height, coursing),
        )
        box = (left, bottom, left + width, bottom + height)
        return Patch(box), Said(at, words)
