"""What of the wall lies at a place: a mark, or a part of the wall itself."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from estimator.desktop.wall import hits
from estimator.desktop.wall.tools import snaps
from estimator.drawing.courses import Box
from estimator.drawing.shapes import LegShape, Picture
from estimator.masonry.region import Point, Region

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting

REACH_PX = 9.0
"""How near a pointer has to come to a line [px]."""


def mark_at(drafting: Drafting, place: Point) -> str:
    """Return the mark of what lies at a place; empty for nothing but wall."""
    picture = drafting.shown
    if picture is None or drafting.elevation is None:
        return ""
    reach = REACH_PX / drafting.per_mm
    shape = hits.nearest_line(picture, place, reach) or hits.brick_at(picture, place)
    if shape is not None:
        return shape.mark
    near = min(_lines(drafting, picture, place), default=None)
    if near is not None and near[0] <= reach:
        return near[1]
    return next(_round(drafting, picture, place), "")


def every(drafting: Drafting) -> tuple[str, ...]:
    """Return all that can be selected, in the order the keyboard walks through it."""
    picture, wall = drafting.shown, drafting.elevation
    if picture is None or wall is None:
        return ()
    shapes = hits.in_order(picture)
    marks = [one.mark for one in shapes if not isinstance(one, LegShape)]
    marks += [f"{wall.id}/area/{one.id}" for one in wall.areas]
    marks += [f"{wall.id}/thin/{number}" for number, _one in enumerate(wall.thin_beds, 1)]
    marks += [f"{wall.id}/opening/{one.id}" for one in wall.openings]
    joints = enumerate(wall.movement_joints_mm, 1)
    marks += [f"{wall.id}/joint/{number}" for number, _x in joints]
    marks += [f"{wall.id}/damp"] if picture.masonry.damp_course is not None else []
    marks += [f"{wall.id}/outline/{number}" for number, _corner in enumerate(wall.outline, 1)]
    return tuple(dict.fromkeys(marks))


def name_of(mark: str, kind: str) -> str:
    """Return the id in a mark of a kind; empty for any other.

    >>> name_of("front/area/a1", "area"), name_of("front/area/a1", "crack")
    ('a1', '')
    """
    _side, found, rest = (*mark.split("/", 2), "", "")[:3]
    return rest if found == kind else ""


def number_of(mark: str, kind: str) -> int:
    """Return the number in a mark of a kind; 0 for any other.

    >>> number_of("front/thin/2", "thin"), number_of("front/thin/2", "joint")
    (2, 0)
    """
    name = name_of(mark, kind)
    return int(name) if name.isdecimal() else 0


def _lines(drafting: Drafting, picture: Picture, place: Point) -> Iterator[tuple[float, str]]:
    """Yield how far thin beds, openings, joints, damp course and outline are, with their marks."""
    wall, side = drafting.plain, drafting.side_id
    for number, bed in enumerate(picture.thin_beds, 1):
        ends = (bed.left, bed.y), (bed.right, bed.y)
        yield snaps.onto(place, ends)[0], f"{side}/thin/{number}"
    for one, hole in zip(wall.openings, picture.masonry.holes, strict=False):
        yield snaps.onto(place, _ring(hole.box))[0], f"{side}/opening/{one.id}"
    for number, x in enumerate(wall.movement_joints_mm, 1):
        yield abs(place[0] - x), f"{side}/joint/{number}"
    if picture.masonry.damp_course is not None:
        yield abs(place[1] - picture.masonry.damp_course), f"{side}/damp"
    ring = (*wall.outline, wall.outline[0])
    for number, ends in enumerate(pairwise(ring), 1):
        yield snaps.onto(place, ends)[0], f"{side}/outline/{number}"


def _round(drafting: Drafting, picture: Picture, place: Point) -> Iterator[str]:
    """Yield the marks of what a place lies inside of."""
    wall, side = drafting.plain, drafting.side_id
    for one, hole in zip(wall.openings, picture.masonry.holes, strict=False):
        if _holds(hole.box, place):
            yield f"{side}/opening/{one.id}"
    for area in wall.areas:
        if Region.of(area.outline).holds(place):
            yield f"{side}/area/{area.id}"
    shape = hits.area_at(picture, place)
    if shape is not None:
        yield shape.mark


def _ring(box: Box) -> tuple[Point, ...]:
    left, bottom, right, top = box
    return (left, bottom), (right, bottom), (right, top), (left, top), (left, bottom)


def _holds(box: Box, place: Point) -> bool:
    return box[0] <= place[0] <= box[2] and box[1] <= place[1] <= box[3]
