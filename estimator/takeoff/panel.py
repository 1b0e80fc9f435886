"""Which area is repointed: what was drawn, or else a panel round each crack out to the next edge.

A repair shows least where it ends at an edge the eye expects: an opening, a corner, a movement
joint. So a panel that was not drawn runs from the work to such an edge where one is near, and to
whole courses and one brick beyond the work where none is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from estimator.masonry.joints import Joints, joints_in
from estimator.masonry.region import Point, Region
from estimator.survey.wall import top_of
from estimator.takeoff.bands import Bands
from estimator.takeoff.brickwork import LaidBrick
from estimator.takeoff.lines import Bar, Mark
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Box, clipped

HAIR_MM = 1e-6
"""Nearer than this is the same place."""


@dataclass(frozen=True)
class Panel:
    """The area of one side that is raked out and repointed."""

    side: Side
    outline: Region
    """As drawn or set out, openings and what lies outside the wall not yet taken out."""
    net: Region
    """The brickwork in it."""
    marks: tuple[Mark, ...]
    words: str
    is_drawn: bool
    """Whether it was drawn; one that was not holds all cracks and their bars."""
    corners: tuple[tuple[Point, ...], ...]
    """The areas it was drawn or set out as, corner by corner [mm]."""

    @property
    def parts(self) -> int:
        """Areas it was set out from [nr]."""
        return len(self.corners)

    @cached_property
    def joints(self) -> Joints:
        """All the joints in it, exact."""
        return joints_in(self.side.coursing, self.net)

    @cached_property
    def bands(self) -> Bands:
        """Its brickwork, band by band."""
        return Bands(self.net)


@dataclass(frozen=True, slots=True)
class Edges:
    """Where a repair may end unseen, with what is there."""

    uprights: tuple[tuple[float, str], ...]
    levels: tuple[tuple[float, str], ...]


class Grown(NamedTuple):
    """A box grown to the next edges, with what it ends at on the left and on the right."""

    box: Box
    at_left: str
    at_right: str

    def overlaps(self, other: Grown) -> bool:
        """Whether two boxes have an area in common; an edge is none."""
        one, two = self.box, other.box
        return (
            min(one.right, two.right) - max(one.left, two.left) > HAIR_MM
            and min(one.top, two.top) - max(one.bottom, two.bottom) > HAIR_MM
        )

    def joined(self, other: Grown) -> Grown:
        """Return one box round both."""
        left = self if self.box.left <= other.box.left else other
        right = self if self.box.right >= other.box.right else other
        return Grown(self.box.joined(other.box), left.at_left, right.at_right)

    def words(self, side: Side) -> str:
        """Say how large it is on the wall and where it ends."""
        bounds, box = side.wall.gross.bounds, self.box
        width = min(box.right, bounds[2]) - max(box.left, bounds[0])
        height = min(box.top, bounds[3]) - max(box.bottom, bounds[1])
        ends = f"from {self.at_left} to {self.at_right}"
        if self.at_left == self.at_right:
            ends = f"{self.at_left} on both sides"
        return f"{width / 1000:.2f} m wide and {height / 1000:.2f} m high, {ends}"


def panel_of(side: Side, bars: Sequence[Bar], bricks: Sequence[LaidBrick]) -> Panel | None:
    """Return the panel to be repointed, or None where nothing is drawn and nothing hidden.

    >>> from estimator.survey.survey import Crack, Elevation, StraightRun
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> crack = Crack("a", StraightRun(1570, 3, 9), 2.0)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> side = side_of(Elevation("f", "Front", outline, cracks=(crack,)), shipped(), "")
    >>> panel_of(side, (), ()).words
    '0.45 m wide and 0.90 m high, a brick beyond the work on both sides'
    """
    if side.elevation.areas:
        outline = Region.of(*(area.outline for area in side.elevation.areas))
        net = side.wall.net.within(outline)
        marks = tuple(side.mark("area", area.id) for area in side.elevation.areas)
        corners = tuple(area.outline for area in side.elevation.areas)
        drawn = Panel(side, outline, net, marks, "as drawn", is_drawn=True, corners=corners)
        return drawn if net else None
    boxes = _seeds(side, bars, bricks)
    if not boxes:
        return None
    edges = _edges(side)
    apart = _made_one([_grown(side, box, edges) for box in boxes])
    kept = [one.box for one in apart]
    if len(kept) == 1:
        outline, net = Region.rectangle(*kept[0]), clipped(side.wall.net, kept[0])
        words = apart[0].words(side)
    else:
        outline = Region.of(*(box.corners for box in kept))
        net = side.wall.net.within(outline)
        words = f"in {len(kept)} parts, each out to the next edge"
    return (
        Panel(
            side,
            outline,
            net,
            (side.mark("area", "panel"),),
            words,
            is_drawn=False,
            corners=tuple(box.corners for box in kept),
        )
        if net
        else None
    )


def to_next_edges(side: Side, box: Box) -> Box:
    """Return a box grown to the next edges, as a panel round such work is set out.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> outline = ((0, 0), (900, 0), (900, 750), (0, 750))
    >>> to_next_edges(side_of(Elevation("f", "F", outline), shipped(), ""), Box(300, 200, 500, 400))
    Box(left=0.0, bottom=0.0, right=900.0, top=750.0)
    """
    return _grown(side, box, _edges(side)).box


def _seeds(side: Side, bars: Sequence[Bar], bricks: Sequence[LaidBrick]) -> list[Box]:
    """Return a box round each crack with its bars, and round each brick away from them."""
    boxes = []
    for laid in side.cracks:
        box = laid.box
        for bar in bars:
            if laid.crack.id in bar.cracks:
                box = box.joined(side.bed_box(bar.course, (bar.left_mm, bar.right_mm)))
        boxes.append(box)
    for brick in bricks:
        if not any(box.holds(brick.box) for box in boxes):
            boxes.append(brick.box)
    return boxes


def _edges(side: Side) -> Edges:
    """Return the edges of openings, sills and lintels, the wall's ends and the movement joints."""
    left, bottom, right, top = side.wall.gross.bounds
    uprights = [(left, "the left end"), (right, "the right end")]
    levels = [(bottom, "the foot of the wall"), (top, "the top of the wall")]
    uprights += [(x, "the movement joint") for x in side.elevation.movement_joints_mm]
    for one in side.elevation.openings:
        uprights += [
            (one.left_mm, f"the {one.kind}"),
            (one.left_mm + one.width_mm, f"the {one.kind}"),
        ]
        levels += [
            (one.bottom_mm - one.sill_mm, f"the {one.kind}"),
            (top_of(one), f"the {one.kind}"),
        ]
        if one.lintel_mm > 0:
            levels.append((top_of(one) + one.lintel_mm, "the lintel"))
    return Edges(tuple(uprights), tuple(levels))


def _grown(side: Side, box: Box, edges: Edges) -> Grown:
    """Return a box grown to the next edge on each side."""
    rules, coursing = side.rules, side.coursing
    reach, margin = rules.panel_reach_mm, rules.panel_margin_mm
    beyond = "a brick beyond the work"
    # An edge that an upright crack itself runs along cannot be where its panel ends on both sides.
    along = box.left if box.right - box.left <= HAIR_MM else None
    uprights = [edge for edge in edges.uprights if along is None or abs(edge[0] - along) > HAIR_MM]
    left, at_left = _next(box.left, uprights, -reach) or (box.left - margin, beyond)
    right, at_right = _next(box.right, uprights, reach) or (box.right + margin, beyond)
    more = rules.panel_margin_courses
    # The top of one course is the foot of the next: a hair tells which of them is meant.
    low, high = coursing.course_at(box.bottom + HAIR_MM), coursing.course_at(box.top - HAIR_MM)
    bottom = _next(box.bottom, edges.levels, -reach) or (coursing.bed_bottom(low - more), "")
    top = _next(box.top, edges.levels, reach) or (coursing.course_top(high + more), "")
    return Grown(Box(left, bottom[0], right, top[0]), at_left, at_right)


def _next(
    start: float, edges: Sequence[tuple[float, str]], reach: float
) -> tuple[float, str] | None:
    """Return the nearest edge outwards within reach; a reach below 0 goes down or left."""
    way = 1 if reach > 0 else -1
    ahead = [edge for edge in edges if -HAIR_MM <= (edge[0] - start) * way <= abs(reach)]
    return min(ahead, key=lambda edge: (edge[0] - start) * way, default=None)


def _made_one(boxes: Sequence[Grown]) -> list[Grown]:
    """Return boxes that lie apart, those that overlap joined until none do any more."""
    apart: list[Grown] = []
    for box in dict.fromkeys(boxes):
        found = box
        while near := [one for one in apart if one.overlaps(found)]:
            for one in near:
                apart.remove(one)
                found = found.joined(one)
        apart.append(found)
    return sorted(apart)
