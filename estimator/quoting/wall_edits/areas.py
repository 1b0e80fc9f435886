"""Areas to be repointed: freehand, as a panel of whole courses, or out to the next edges."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import (
    change,
    elevation,
    fresh_id,
    known,
    swapped,
    whole_mm,
    whole_point,
)
from estimator.quoting.wall_edits.outline import bounds_of, rectangle
from estimator.survey.ranges import settled
from estimator.survey.survey import Area
from estimator.survey.wall import wall_of
from estimator.takeoff.panel import to_next_edges
from estimator.takeoff.rules import Rules, shipped
from estimator.takeoff.side import side_of
from estimator.takeoff.stretches import Box as TakenBox

Box = tuple[float, float, float, float]
"""Left, bottom, right and top [mm]."""


def add_area(work: Work, side: str, outline: Sequence[Point]) -> Edit:
    """Draw an area to repoint freehand, corner by corner in order round it.

    Raises:
        UserMistake: for one whose sides cross, or that holds no brickwork.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = add_area(plain_wall(), "front", [(300, 300), (900, 300), (700, 900)])
    >>> edit.after.survey.elevations[0].areas[0].id
    'area'
    """
    old = elevation(work, side)
    name = fresh_id("area", {one.id for one in old.areas})
    new = Area(name, tuple(whole_point(point) for point in outline))
    return change(work, side, Step.AREA, areas=(*old.areas, _fair(new)))


def add_panel(work: Work, side: str, box: Box) -> Edit:
    """Draw a panel to repoint, moved out to whole courses and to the nearest perpends.

    Raises:
        UserMistake: for one that holds no brickwork.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = add_panel(plain_wall(), "front", (300, 160, 900, 480))
    >>> edit.after.survey.elevations[0].areas[0].outline[0]
    (333.0, 150.0)
    """
    return add_area(work, side, rectangle(*snapped(work, side, box)))


def to_the_openings(work: Work, side: str, box: Box, *, usual: Rules | None = None) -> Edit:
    """Draw a panel to repoint out to the next edges, as the rule sets out one that is not drawn.

    Args:
        work: What is known and offered.
        side: Id of the elevation.
        box: Left, bottom, right and top of what must be in it [mm].
        usual: The firm's rules; those shipped when left out.

    Raises:
        UserMistake: for one that holds no brickwork.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = to_the_openings(plain_wall(), "front", (300, 160, 900, 480))
    >>> edit.after.survey.elevations[0].areas[0].outline[0]
    (0.0, 0.0)
    """
    around = grown(work, side, box, usual=usual)
    return add_area(work, side, rectangle(*around))


def change_area(work: Work, side: str, area: str, outline: Sequence[Point]) -> Edit:
    """Give an area to repoint another outline.

    Raises:
        UserMistake: for one whose sides cross, or that holds no brickwork.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = add_panel(plain_wall(), "front", (300, 160, 900, 480)).after
    >>> change_area(work, "front", "area", [(0, 0), (900, 0), (0, 900)]).about
    'front/area/area'
    """
    old = elevation(work, side)
    one = known(old.areas, area, "area")
    new = _fair(replace(one, outline=tuple(whole_point(point) for point in outline)))
    about = f"{side}/area/{area}"
    return change(work, side, Step.AREA, about, areas=swapped(old.areas, one, new))


def remove_area(work: Work, side: str, area: str) -> Edit:
    """Take an area to repoint off the wall.

    Raises:
        UserMistake: when it is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = add_panel(plain_wall(), "front", (300, 160, 900, 480)).after
    >>> remove_area(work, "front", "area").after.survey.elevations[0].areas
    ()
    """
    old = elevation(work, side)
    one = known(old.areas, area, "area")
    return change(work, side, Step.AREA, areas=swapped(old.areas, one))


def snapped(work: Work, side: str, box: Box) -> Box:
    """Return a box out to whole courses and to the nearest perpends, within the wall [mm].

    Raises:
        UserMistake: when there is no such side, or its places are no numbers.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> snapped(plain_wall(), "front", (300, 160, 900, 480))
    (333.0, 150.0, 895.0, 525.0)
    """
    wall = wall_of(elevation(work, side))
    left, bottom, right, top = _fair_box(box)
    low, high = wall.coursing.course_at(bottom), wall.coursing.course_at(top - 1)
    ends = wall.gross.bounds
    left = max(_perpend(wall.coursing, left, (low, high), ends[0]), ends[0])
    right = min(_perpend(wall.coursing, right, (low, high), ends[2]), ends[2])
    foot = max(wall.coursing.bed_bottom(low), ends[1])
    head = min(wall.coursing.course_top(high), ends[3])
    return whole_mm(left), whole_mm(foot), whole_mm(right), whole_mm(head)


def grown(work: Work, side: str, box: Box, *, usual: Rules | None = None) -> Box:
    """Return a box out to the next openings, ends and movement joints, within the wall [mm].

    However far off they are: the rule's reach is for panels nobody asked for.

    Raises:
        UserMistake: when there is no such side, or its places are no numbers.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> grown(plain_wall(), "front", (300, 160, 900, 480))
    (0.0, 0.0, 4500.0, 2700.0)
    """
    one = elevation(work, side)
    rules = work.rules(usual or shipped())
    ends = bounds_of(one.outline)
    anywhere = replace(rules, panel_reach_mm=(ends[2] - ends[0]) + (ends[3] - ends[1]))
    out = to_next_edges(side_of(settled(one), anywhere, ""), TakenBox(*_fair_box(box)))
    return (
        whole_mm(max(out.left, ends[0])),
        whole_mm(max(out.bottom, ends[1])),
        whole_mm(min(out.right, ends[2])),
        whole_mm(min(out.top, ends[3])),
    )


def _perpend(coursing: Coursing, x: float, courses: tuple[int, int], end: float) -> float:
    """Return the perpend nearest to a place in any of some courses, or the wall's end."""
    low, high = courses
    ways = range(low, min(high, low + len(coursing.rhythms) - 1) + 1)
    rhythms = [coursing.rhythm(course) for course in ways]
    found = [rhythm.perpend_after(rhythm.nearest_perpend(x)) for rhythm in rhythms]
    return min([*found, end], key=lambda place: abs(place - x))


def _fair_box(box: Iterable[float]) -> Box:
    x0, y0, x1, y1 = (whole_mm(value, "the area") for value in box)
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def _fair(area: Area) -> Area:
    if len(area.outline) < 3:
        raise UserMistake("an area has three corners or more", do="draw another")
    return area
