"""Cracks: traced point by point along the joints or through the bricks, and measured for width."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import count, pairwise
from typing import Any

from estimator.masonry.coursing import Coursing
from estimator.masonry.crack import Along, CrackPath
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import (
    change,
    elevation,
    known,
    numbered,
    swapped,
    tenth_mm,
    whole_point,
)
from estimator.survey.asked_wall import LETTERS
from estimator.survey.limits import COUNTS
from estimator.survey.questions import question
from estimator.survey.ranges import Range, Told, settled
from estimator.survey.survey import Crack, CrackRun, TracedRun, WidthAt
from estimator.survey.wall import coursing_of, path_of

WIDTHS_APART_MM = 30.0
"""A width measured nearer than this to another takes its place; house rule [mm]."""


def trace(
    work: Work,
    side: str,
    points: Sequence[Point],
    *,
    cuts: Iterable[int] = (),
    width_mm: float | None = None,
) -> Edit:
    """Draw a crack through points; its width stays a range until it is measured.

    Args:
        work: What is known and offered.
        side: Id of the elevation.
        points: Places it runs through; between them it follows the joints [mm].
        cuts: Legs that cut through bricks, by number from 1.
        width_mm: Width at the widest [mm].

    Raises:
        UserMistake: for a point off the wall, or fewer than two.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = trace(plain_wall(), "front", [(500, 80), (900, 455)])
    >>> edit.after.survey.elevations[0].cracks[0].id
    'a'
    """
    old = elevation(work, side)
    taken = {one.id for one in old.cracks} | {one.crack for one in work.survey.readings}
    width: Told | None = question("width").unknown if width_mm is None else _width(width_mm)
    run = _run(points, cuts)
    new = Crack(_letter(taken), run, Range(0.0, 0.0, 0.0) if width is None else width)
    return change(work, side, Step.CRACK, cracks=(*old.cracks, new))


def move_point(work: Work, side: str, crack: str, number: int, point: Point) -> Edit:
    """Move one point of a crack, counted from 1; a crack told by its steps is plain from then on.

    Raises:
        UserMistake: for a place off the wall.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> move_point(work, "front", "a", 2, (950, 455)).about
    'front/crack/a/point/2'
    """
    one, run = _traced(work, side, crack)
    numbered(run.points, number, "point")
    points = (*run.points[: number - 1], whole_point(point), *run.points[number:])
    return _rerun(work, side, one, replace(run, points=points), f"point/{number}")


def insert_point(work: Work, side: str, crack: str, after: int, point: Point) -> Edit:
    """Put a point into a crack after another, counted from 1; both new legs cut as the old did.

    Raises:
        UserMistake: for a place off the wall, or after the last point.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> points_of(insert_point(work, "front", "a", 1, (700, 300)).after, "front", "a")[1]
    (700.0, 300.0)
    """
    one, run = _traced(work, side, crack)
    if not 1 <= after < len(run.points):
        raise UserMistake(f"there is no leg {after}", do="extend the crack beyond its end instead")
    points = (*run.points[:after], whole_point(point), *run.points[after:])
    cuts = {leg + (leg > after) for leg in run.cuts} | {
        after + 1 for leg in run.cuts if leg == after
    }
    return _rerun(work, side, one, replace(run, points=points, cuts=tuple(sorted(cuts))), "")


def drop_point(work: Work, side: str, crack: str, number: int) -> Edit:
    """Take a point out of a crack; the leg left over cuts bricks if either did that met there.

    Raises:
        UserMistake: when only its two ends are left.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (700, 300), (900, 455)]).after
    >>> points_of(drop_point(work, "front", "a", 2).after, "front", "a")
    ((500.0, 80.0), (900.0, 455.0))
    """
    one, run = _traced(work, side, crack)
    numbered(run.points, number, "point")
    if len(run.points) <= 2:
        raise UserMistake("a crack has two ends", do="take the whole crack off instead")
    points = (*run.points[: number - 1], *run.points[number:])
    # The leg that ended here and the one that began here become one.
    legs = {leg - (leg >= number) for leg in run.cuts if number > 1 or leg != 1}
    cuts = tuple(sorted(leg for leg in legs if 1 <= leg < len(points)))
    if number == len(run.points):
        cuts = tuple(sorted(leg for leg in run.cuts if leg < len(points)))
    return _rerun(work, side, one, replace(run, points=points, cuts=cuts), "")


def cut_leg(work: Work, side: str, crack: str, leg: int, *, cuts: bool) -> Edit:
    """Say that one leg of a crack cuts through bricks, or that it follows the joints.

    Raises:
        UserMistake: when it has no such leg.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> cut_leg(work, "front", "a", 1, cuts=True).after.survey.elevations[0].cracks[0].run.cuts
    (1,)
    """
    one, run = _traced(work, side, crack)
    if not 1 <= leg < len(run.points):
        raise UserMistake(f"there is no leg {leg}", do="choose another")
    legs = set(run.cuts) | {leg} if cuts else set(run.cuts) - {leg}
    return _rerun(work, side, one, replace(run, cuts=tuple(sorted(legs))), "")


def extend(
    work: Work, side: str, crack: str, point: Point, *, cuts: bool = False, at_start: bool = False
) -> Edit:
    """Draw a crack on to one more point, from its last or its first.

    Raises:
        UserMistake: for a place off the wall.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> points_of(extend(work, "front", "a", (1200, 700)).after, "front", "a")[2]
    (1200.0, 700.0)
    """
    one, run = _traced(work, side, crack)
    place = whole_point(point)
    if at_start:
        points, legs = (
            (place, *run.points),
            {leg + 1 for leg in run.cuts} | ({1} if cuts else set()),
        )
    else:
        points, legs = (*run.points, place), {*run.cuts, *([len(run.points)] if cuts else [])}
    return _rerun(work, side, one, replace(run, points=points, cuts=tuple(sorted(legs))), "")


def change_crack(work: Work, side: str, crack: str, **fields: Any) -> Edit:
    """Say something else of a crack: fields of ``Crack`` but its id.

    A width at the widest is given to the widest of the widths measured along it.

    Raises:
        UserMistake: when it would not agree with the wall, or with another width.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> change_crack(work, "front", "a", width_mm=3).after.survey.elevations[0].cracks[0].width_mm
    3.0
    """
    old = elevation(work, side)
    one: Crack = known(old.cracks, crack, "crack")
    if "id" in fields:
        raise TypeError("a crack keeps its id")
    width = fields.get("width_mm")
    if width is not None and not isinstance(width, Range):
        fields["width_mm"] = _width(width)
        if "widths" not in fields and one.widths:
            fields["widths"] = _widest(one, fields["width_mm"])
    new = replace(one, **fields)
    about = "/".join((side, "crack", crack, *sorted(fields)))
    return change(work, side, Step.CRACK, about, cracks=swapped(old.cracks, one, new))


def remove_crack(work: Work, side: str, crack: str) -> Edit:
    """Take a crack off a wall; what was read of it at watched points is kept.

    Raises:
        UserMistake: when it is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> remove_crack(work, "front", "a").after.survey.elevations[0].cracks
    ()
    """
    old = elevation(work, side)
    one = known(old.cracks, crack, "crack")
    return change(work, side, Step.CRACK, cracks=swapped(old.cracks, one))


def set_width(work: Work, side: str, crack: str, x_mm: float, y_mm: float, width_mm: float) -> Edit:
    """Write down how wide a crack is at the place of it nearest to a point [mm].

    Near a width written down before, the new one takes its place. The widest counts.

    Raises:
        UserMistake: for a point more than a brick away from the crack.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> set_width(work, "front", "a", 500, 90, 2.5).after.survey.elevations[0].cracks[0].width_mm
    2.5
    """
    old = elevation(work, side)
    one: Crack = known(old.cracks, crack, "crack")
    coursing = coursing_of(old.brickwork)
    asked = whole_point((x_mm, y_mm))
    at = whole_point(nearest_on(path_of(settled(one), coursing), asked))
    if math.dist(at, asked) > coursing.brick.length_mm + coursing.perpend_mm:
        raise UserMistake(f"this place is not on crack {crack}", do="point at the crack")
    kept = [
        width for width in one.widths if math.dist((width.x_mm, width.y_mm), at) > WIDTHS_APART_MM
    ]
    widths = (*kept, WidthAt(*at, _width(width_mm)))
    return _rewidth(work, side, one, widths, f"{side}/crack/{crack}/width/{at[0]:g}/{at[1]:g}")


def drop_width(work: Work, side: str, crack: str, number: int) -> Edit:
    """Strike a width out, counted from 1; the last one stays the width of the crack.

    Raises:
        UserMistake: when there is none of that number.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> work = set_width(work, "front", "a", 500, 90, 2.5).after
    >>> drop_width(work, "front", "a", 1).after.survey.elevations[0].cracks[0].widths
    ()
    """
    one: Crack = known(elevation(work, side).cracks, crack, "crack")
    width = numbered(one.widths, number, "width")
    return _rewidth(work, side, one, swapped(one.widths, width), "")


def points_of(work: Work, side: str, crack: str) -> tuple[Point, ...]:
    """Return the points of a crack that can be moved, in the order they are numbered [mm].

    Raises:
        UserMistake: when it is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = trace(plain_wall(), "front", [(500, 80), (900, 455)]).after
    >>> points_of(work, "front", "a")
    ((500.0, 80.0), (900.0, 455.0))
    """
    return _traced(work, side, crack)[1].points


def as_traced(run: CrackRun, coursing: Coursing) -> TracedRun:
    """Return a crack as one drawn through its corners, which takes the same way on the joints.

    >>> from estimator.survey.survey import BedRun, Brickwork
    >>> as_traced(BedRun(3, 100, 900), coursing_of(Brickwork())).points
    ((100.0, 155.0), (900.0, 155.0))
    """
    if isinstance(run, TracedRun):
        if not run.through_bricks:
            return run
        return TracedRun(run.points, cuts=tuple(range(1, len(run.points))))
    path = path_of(Crack("", settled(run), 0.0), coursing)
    return through_corners(path)


def through_corners(path: CrackPath) -> TracedRun:
    """Return the crack drawn through the corners of a path, its legs through bricks cut.

    >>> from estimator.survey.survey import BedRun, Brickwork
    >>> path = path_of(Crack("a", BedRun(3, 100, 900), 2.0), coursing_of(Brickwork()))
    >>> through_corners(path).cuts
    ()
    """
    points = list(path.points[:1])
    cuts = []
    for piece, after in zip(path.pieces, (*path.pieces[1:], None), strict=True):
        # Pieces that go straight on the same way are one leg.
        goes_on = (
            after is not None
            and after.along is piece.along is not Along.BED
            and _is_straight(points[-1], piece.end, after.end)
        )
        if goes_on:
            continue
        points.append(piece.end)
        if piece.along is Along.BRICK:
            cuts.append(len(points) - 1)
    placed = [whole_point(point) for point in points]
    return TracedRun(tuple(placed), cuts=tuple(cuts))


def nearest_on(path: CrackPath, point: Point) -> Point:
    """Return the place of a crack nearest to a point [mm].

    >>> from estimator.survey.survey import BedRun, Brickwork
    >>> path = path_of(Crack("a", BedRun(3, 100, 900), 2.0), coursing_of(Brickwork()))
    >>> nearest_on(path, (50, 300))
    (100.0, 155.0)
    """
    found = [_on_leg(start, end, point) for start, end in pairwise(path.points)]
    return min(found, key=lambda place: math.dist(place, point), default=point)


def _on_leg(start: Point, end: Point, point: Point) -> Point:
    along = (end[0] - start[0], end[1] - start[1])
    length = along[0] ** 2 + along[1] ** 2
    ahead = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
    share = min(max(ahead / length, 0.0), 1.0) if length else 0.0
    return start[0] + share * along[0], start[1] + share * along[1]


def _is_straight(one: Point, two: Point, three: Point) -> bool:
    turn = (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])
    return abs(turn) < 1e-6


def _traced(work: Work, side: str, crack: str) -> tuple[Crack, TracedRun]:
    old = elevation(work, side)
    one: Crack = known(old.cracks, crack, "crack")
    return one, as_traced(one.run, coursing_of(old.brickwork))


def _rerun(work: Work, side: str, crack: Crack, run: TracedRun, what: str) -> Edit:
    _check_count(run.points)
    new = replace(crack, run=run)
    cracks = swapped(elevation(work, side).cracks, crack, new)
    about = f"{side}/crack/{crack.id}/{what}" if what else ""
    return change(work, side, Step.CRACK, about, cracks=cracks)


def _rewidth(work: Work, side: str, crack: Crack, widths: tuple[WidthAt, ...], about: str) -> Edit:
    widest = max((one.width_mm for one in widths), default=None)
    new = replace(crack, widths=widths, width_mm=crack.width_mm if widest is None else widest)
    cracks = swapped(elevation(work, side).cracks, crack, new)
    return change(work, side, Step.WIDTH, about, cracks=cracks)


def _widest(crack: Crack, width: float) -> tuple[WidthAt, ...]:
    """Return the widths of a crack with another widest one."""
    widest = max(one.width_mm for one in crack.widths)
    others = [one.width_mm for one in crack.widths if one.width_mm < widest]
    if others and max(others) > width:
        raise UserMistake(
            f"crack {crack.id} is {max(others):g} mm wide at another place",
            do="change that width, or strike it out",
        )
    return tuple(
        replace(one, width_mm=width) if one.width_mm == widest else one for one in crack.widths
    )


def _run(points: Sequence[Point], cuts: Iterable[int]) -> TracedRun:
    placed = tuple(whole_point(point) for point in points)
    _check_count(placed)
    legs = tuple(sorted(set(cuts)))
    if legs and not (legs[0] >= 1 and legs[-1] < len(placed)):
        raise UserMistake("there is no such leg to cut", do=f"the crack has {len(placed) - 1:,}")
    return TracedRun(placed, cuts=legs)


def _check_count(points: Sequence[Point]) -> None:
    least, most = COUNTS["points"]
    if len(points) < least:
        raise UserMistake("a crack has two ends", do="draw it on to another point")
    if len(points) > most:
        raise UserMistake(f"a crack has {most:,} points at the most", do="draw it as two cracks")


def _letter(taken: set[str]) -> str:
    """Return the next letter no crack has, and numbers after the last."""
    free = next((name for name in LETTERS if name not in taken), "")
    return free or next(f"crack-{number}" for number in count(27) if f"crack-{number}" not in taken)


def _width(value: float) -> float:
    return tenth_mm(value, "the width")
