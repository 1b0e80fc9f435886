"""Room for a bar in a bed: where brickwork runs through, and what ends it on each side."""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from estimator.masonry.region import NEAR_MM
from estimator.survey.survey import WallEnd
from estimator.survey.wall import top_of
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Stretch

SKIN_MM = 1e-3
"""How far inside the bed its lower and upper face are looked at."""
EDGE_MM = 1.0
"""A wall's end is drawn within this of the outermost point of its outline."""


class Stop(Enum):
    """What ends the room for a bar."""

    OPENING = "opening"
    MOVEMENT_JOINT = "movement joint"
    QUOIN = "quoin"
    END = "end of the wall"
    RUNS_ON = "wall runs on"


ENDS = {
    WallEnd.CONTINUES: (Stop.RUNS_ON, "wall that runs on"),
    WallEnd.QUOIN: (Stop.QUOIN, "quoin"),
    WallEnd.STOPPED: (Stop.END, "end of the wall"),
    WallEnd.MOVEMENT_JOINT: (Stop.MOVEMENT_JOINT, "movement joint"),
}
"""What the end of a drawn wall does to a bar, and what it is called."""


class Limit(NamedTuple):
    """One end of the room in a bed."""

    x: float
    stop: Stop
    name: str
    """What it is called: ``window``, ``end of the wall``."""


class Room(NamedTuple):
    """A stretch of one bed with brickwork all through it."""

    left: Limit
    right: Limit

    def meets(self, span: Stretch) -> bool:
        """Whether a stretch of the bed lies in it, at least in part."""
        return span[0] <= self.right.x + NEAR_MM and span[1] >= self.left.x - NEAR_MM


def rooms_in(side: Side, course: int) -> tuple[Room, ...]:
    """Return the room in the bed under a course, from left to right.

    >>> from estimator.survey.survey import Elevation, Opening
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> window = Opening("w", 900, 300, 600, 600)
    >>> outline = ((0, 0), (2400, 0), (2400, 900), (0, 900))
    >>> wall = Elevation("f", "Front", outline, openings=(window,))
    >>> [(room.left.x, room.right.x) for room in rooms_in(side_of(wall, shipped(), ""), 6)]
    [(0.0, 900), (1500, 2400.0)]
    """
    bottom, top = side.coursing.bed_bottom(course), side.coursing.course_bottom(course)
    cuts = _openings_in(side, bottom, top)
    cuts += [
        ((x, x), Stop.MOVEMENT_JOINT, "movement joint") for x in side.elevation.movement_joints_mm
    ]
    cuts.sort(key=lambda cut: cut[0])
    rooms = []
    for left, right in _courses_of_brick(side, bottom, top):
        start = _end(side, left, leftmost=True)
        for (cut_left, cut_right), stop, name in cuts:
            if cut_right < left or cut_left > right:
                continue
            if cut_left - start.x > NEAR_MM:
                rooms.append(Room(start, Limit(cut_left, stop, name)))
            if cut_right >= start.x:
                start = Limit(cut_right, stop, name)
        if right - start.x > NEAR_MM:
            rooms.append(Room(start, _end(side, right, leftmost=False)))
    return tuple(rooms)


def _openings_in(side: Side, bottom: float, top: float) -> list[tuple[Stretch, Stop, str]]:
    """Return the openings, sills and lintels that cut a bed anywhere in its thickness."""
    found = []
    for one in side.elevation.openings:
        left, right, head = one.left_mm, one.left_mm + one.width_mm, top_of(one)
        if one.bottom_mm - one.sill_mm < top and head > bottom:
            found.append(((left, right), Stop.OPENING, one.kind))
        if one.lintel_mm > 0 and head < top and head + one.lintel_mm > bottom:
            more = one.lintel_bearing_mm
            found.append(((left - more, right + more), Stop.OPENING, "lintel"))
    return found


def _courses_of_brick(side: Side, bottom: float, top: float) -> list[Stretch]:
    """Return the stretches inside the outline over the whole thickness of a bed."""
    parts = side.wall.gross.parts
    if len(parts) == 1 and parts[0].is_upright:
        # Most walls are drawn as one rectangle.
        inside = parts[0].bottom <= bottom + SKIN_MM and top - SKIN_MM < parts[0].top
        return [(parts[0].left_bottom, parts[0].right_bottom)] if inside else []
    lower = side.wall.gross.spans_at(bottom + SKIN_MM)
    upper = side.wall.gross.spans_at(top - SKIN_MM)
    if lower == upper:
        return list(lower)
    both = [(max(one[0], two[0]), min(one[1], two[1])) for one in lower for two in upper]
    return sorted(span for span in both if span[1] - span[0] > NEAR_MM)


def _end(side: Side, x: float, *, leftmost: bool) -> Limit:
    """Return what an end of the outline is: as told for the outermost, else a verge."""
    bounds, elevation = side.wall.gross.bounds, side.elevation
    outermost = bounds[0] if leftmost else bounds[2]
    if abs(x - outermost) > EDGE_MM:
        return Limit(x, Stop.END, "verge")
    return Limit(x, *ENDS[elevation.left_end if leftmost else elevation.right_end])
