"""Handles of what is selected, and what becomes of it when one of them is dragged."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from estimator.desktop.wall.tools import handles
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Said, Spot
from estimator.desktop.wall.tools.handles import Grip
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits.changing import during

if TYPE_CHECKING:
    from estimator.desktop.wall.tools.tool import Tool

REACH_PX = 11.0
"""How near a press has to come to a handle [px]."""
APART_PX = 18.0
"""Handles nearer than this to one before them are left out until one looks nearer [px]."""


@dataclass(frozen=True, slots=True)
class _Hold:
    """One drag: which handle, from where, and its number for undo."""

    grip: Grip
    number: int
    """Its place among the handles; -1 for the thing as a whole."""
    start: Point
    gesture: int


class Grips:
    """The handles of what is selected, for one tool."""

    def __init__(self, tool: Tool) -> None:
        """Belong to a tool."""
        self._tool = tool
        self._hold: _Hold | None = None
        self._at: Point | None = None
        self._picked: tuple[str, int] = ("", -1)
        self._now = ""
        """The mark of what is dragged, as long as it is: bars are numbered anew when one moves."""

    @property
    def is_held(self) -> bool:
        """Whether one of them is being dragged."""
        return self._hold is not None

    @property
    def picked(self) -> int:
        """Which handle the keyboard moves; -1 for the thing as a whole."""
        mark, number = self._picked
        return number if mark == self._mark else -1

    @property
    def _mark(self) -> str:
        return self._now or self._tool.drafting.selection

    def take_hold(self, place: Point) -> bool:
        """Take hold of the handle at a place; false where there is none."""
        reach = REACH_PX / self._tool.drafting.per_mm
        shown = [
            (math.dist(place, grip.at), number, grip)
            for number, grip in self._shown(handles.of(self._tool.drafting, self._mark))
        ]
        near = min(shown, key=lambda one: one[0], default=None)
        if near is None or near[0] > reach:
            return False
        self._begin(near[2], near[1], place)
        return True

    def take_hold_of_all(self, place: Point) -> bool:
        """Take hold of the thing as a whole; false where it cannot be moved so."""
        grip = handles.whole(self._tool.drafting, self._mark)
        if grip is None:
            return False
        self._begin(grip, -1, place)
        return True

    def draw(self, place: Point) -> None:
        """Try out what the drag makes of it."""
        if self._hold is not None:
            self._at = place
            self._follow(self._tool.attempt(lambda: self._edit(place)))

    def release(self, place: Point) -> bool:
        """Do what the drag made of it; false for one let go where it began, which does nothing."""
        hold = self._hold
        if hold is None:
            return False
        still = 2.0 / self._tool.drafting.per_mm
        if math.dist(place, hold.start) <= still:
            self.cancel()
            return False
        self._finish(lambda: self._edit(place))
        self._hold, self._now = None, ""
        return True

    def cancel(self) -> bool:
        """Give the drag up; false where there is none."""
        was, self._hold, self._now = self._hold, None, ""
        if was is not None:
            self._tool.trouble = ""
            self._tool.drafting.try_out(None)
        return was is not None

    # -- by keys

    def pick_next(self) -> bool:
        """Let the keyboard move the next handle; false where there is none."""
        count = len(handles.of(self._tool.drafting, self._mark))
        if not count:
            return False
        following = self.picked + 1
        self._picked = (self._mark, following if following < count else -1)
        return True

    def nudge(self, way: Point, *, fine: bool) -> bool:
        """Move the picked handle, or the thing as a whole, a joint or a millimetre that way."""
        drafting = self._tool.drafting
        grips = handles.of(drafting, self._mark)
        grip = grips[self.picked] if 0 <= self.picked < len(grips) else None
        grip = grip or handles.whole(drafting, self._mark)
        if grip is None:
            return False
        if fine:
            to = grip.at[0] + way[0], grip.at[1] + way[1]
        elif self.picked >= 0:
            to = self._tool.step(grip.at, way)
        else:
            across, up = handles.pitch(drafting)
            to = grip.at[0] + way[0] * across, grip.at[1] + way[1] * up
        picked = self.picked
        self._finish(lambda: grip.edit(self._tool.work, to))
        self._picked = (self._tool.drafting.selection, picked)
        return True

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return the handles there is room for, the held one filled, and what the drag makes."""
        drafting, held = self._tool.drafting, self._hold
        grips = handles.of(drafting, self._mark)
        shown: list[Ghost] = []
        for number, grip in self._shown(grips):
            is_held = number == (held.number if held is not None else self.picked)
            shown.append(Mark(grip.at, Spot.HELD if is_held else Spot.HANDLE, grip.ink))
        if held is not None and self._at is not None:
            words = self._tool.trouble or handles.words(drafting, self._mark)
            ink = Ink.STOP if self._tool.trouble else Ink.ACT
            if words:
                shown.append(Said(self._at, words, ink))
        return shown

    def _begin(self, grip: Grip, number: int, place: Point) -> None:
        self._hold = _Hold(grip, number, place, self._tool.drafting.gesture())
        self._picked = (self._mark, number)
        self._at = None

    def _finish(self, make: Callable[[], Edit]) -> None:
        """Do it, and keep what was moved selected."""
        before = self._tool.work
        mark = self._tool.drafting.selection
        edit = self._tool.finish_with(make)
        if edit is not None:
            drafting = self._tool.drafting
            now = handles.after(drafting, mark, before, edit)
            if mark.startswith(f"{drafting.side_id}/bar/"):
                # Another bar may have the old number now: whoever shows it has to look anew.
                drafting.select("")
            drafting.select(now)

    def _follow(self, edit: Edit | None) -> None:
        """Keep hold of what moved under another mark."""
        drafting = self._tool.drafting
        if edit is not None:
            mark = handles.after(drafting, drafting.selection, self._tool.work, edit)
            self._now = mark if mark != drafting.selection else ""

    def _edit(self, place: Point) -> Edit:
        hold = self._hold
        if hold is None:
            raise RuntimeError("nothing is held")
        by = place[0] - hold.start[0], place[1] - hold.start[1]
        wanted = hold.grip.at[0] + by[0], hold.grip.at[1] + by[1]
        to = hold.grip.snap(wanted)
        return during(hold.grip.edit(self._tool.work, to), hold.gesture)

    def _shown(self, grips: Sequence[Grip]) -> list[tuple[int, Grip]]:
        """Return the handles there is room for with their numbers, both ends before all others."""
        apart = APART_PX / self._tool.drafting.per_mm
        numbers = range(len(grips))
        first = dict.fromkeys((*numbers[:1], *numbers[-1:], *numbers))
        shown: list[int] = []
        for number in first:
            at = grips[number].at
            if all(math.dist(at, grips[other].at) >= apart for other in shown):
                shown.append(number)
        return [(number, grips[number]) for number in sorted(shown)]
