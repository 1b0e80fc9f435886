"""Where each thing on the wall can be taken hold of, and the edit a moved handle stands for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from estimator.desktop.wall.tools import snaps, spoken
from estimator.desktop.wall.tools.found import name_of, number_of
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Patch, Trial
from estimator.drawing.courses import Box
from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work
from estimator.quoting.wall_edits import areas, bars, cracks, openings, outline, thin_beds
from estimator.quoting.wall_edits.changing import elevation, known, whole_point
from estimator.survey.survey import BedRun, Crack, CrackRun, HandWork, Opening, TracedRun
from estimator.survey.wall import Wall, ring_of
from estimator.takeoff.lines import Bar

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting


def _stay(place: Point) -> Point:
    return place


@dataclass(frozen=True, slots=True)
class Grip:
    """A place to take hold of, and what moving it means."""

    at: Point
    edit: Callable[[Work, Point], Edit]
    snap: Callable[[Point], Point] = _stay
    ink: Ink = Ink.ACT


def of(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
    """Return the handles of what a mark stands for, in order; none where it has none."""
    make = _HANDLES.get(_kind(mark))
    return () if make is None or drafting.elevation is None else make(drafting, mark)


def whole(drafting: Drafting, mark: str) -> Grip | None:
    """Return the handle by which a thing is moved as a whole; None where it cannot be."""
    make = _WHOLE.get(_kind(mark))
    return None if make is None or drafting.elevation is None else make(drafting, mark)


def pitch(drafting: Drafting) -> tuple[float, float]:
    """Return how far it is from perpend to perpend, and from course to course [mm]."""
    coursing = drafting.wall.coursing
    rhythm = coursing.rhythm(1)
    return rhythm.repeat_mm / len(rhythm.faces_mm), coursing.gauge_mm


def words(drafting: Drafting, mark: str) -> str:
    """Return the size of what is dragged, as it is now."""
    kind = _kind(mark)
    if kind == "bar":
        bar = bar_of(drafting, mark)
        return "" if bar is None else spoken.bar(bar)
    if kind == "area":
        area = next((one for one in drafting.plain.areas if one.id == name_of(mark, kind)), None)
        return "" if area is None else spoken.area(area.outline)
    if kind == "crack":
        crack = _crack(drafting, mark)
        return "" if crack is None else spoken.crack(crack, drafting.wall.coursing)
    return spoken.place(drafting.plain, kind, name_of(mark, kind))


def frame(drafting: Drafting) -> tuple[Ghost, ...]:
    """Return the frame round what is selected, where its handles alone do not tell it."""
    mark, wall = drafting.selection, drafting.elevation
    kind = _kind(mark)
    if wall is None or drafting.shown is None:
        return ()
    if kind == "opening":
        one = _opening(drafting, mark)
        return () if one is None else (Trial(tuple(ring_of(one)), is_closed=True, is_dashed=False),)
    if kind == "area":
        area = next((one for one in drafting.plain.areas if one.id == name_of(mark, kind)), None)
        return (
            () if area is None else (Trial(tuple(area.outline), is_closed=True, is_dashed=False),)
        )
    if kind == "brick":
        brick = next((one for one in drafting.shown.bricks if one.mark == mark), None)
        return () if brick is None else (Patch(brick.box),)
    line = _line(drafting, mark)
    return (Trial(line, is_dashed=False, width_px=3.5),) if line else ()


def box(drafting: Drafting) -> Box | None:
    """Return the box round the handles of what is selected; None where it has no place [mm]."""
    grips = of(drafting, drafting.selection) if drafting.selection else ()
    if not grips:
        return None
    across, up = [grip.at[0] for grip in grips], [grip.at[1] for grip in grips]
    return min(across), min(up), max(across), max(up)


def _line(drafting: Drafting, mark: str) -> tuple[Point, ...]:
    """Return the line that lights up a part of the wall itself; empty for any other mark."""
    kind, (left, bottom, right, top) = _kind(mark), drafting.wall.gross.bounds
    number, wall = number_of(mark, kind), drafting.plain
    damp = None if drafting.shown is None else drafting.shown.masonry.damp_course
    if kind == "outline" and 1 <= number <= len(wall.outline):
        return wall.outline[number - 1], wall.outline[number % len(wall.outline)]
    if kind == "joint" and 1 <= number <= len(wall.movement_joints_mm):
        x = wall.movement_joints_mm[number - 1]
        return (x, bottom), (x, top)
    if kind == "damp" and damp is not None:
        return (left, damp), (right, damp)
    return ()


def bar_of(drafting: Drafting, mark: str) -> Bar | None:
    """Return the measured bar a mark stands for; None where it is not there any more."""
    measure = drafting.measure()
    found = () if measure is None else measure.bars
    return next((one for one in found if one.id == mark), None)


def after(drafting: Drafting, mark: str, before: Work, edit: Edit) -> str:
    """Return the mark a thing has after an edit of it: a bar may have another number then."""
    if _kind(mark) != "bar":
        return mark
    was = {one.id: one for wall in before.survey.elevations for one in wall.bars}
    side = drafting.side_id
    made = [
        one.id
        for wall in edit.after.survey.elevations
        if wall.id == side
        for one in wall.bars
        if was.get(one.id) != one and one.work is not HandWork.LEFT_OUT
    ]
    measure = drafting.measure()
    found = () if measure is None else measure.bars
    return next(
        (bar.id for bar in found if bar.elevation == side and bar.hand in made and bar.hand), mark
    )


def _kind(mark: str) -> str:
    return (*mark.split("/"), "", "")[1]


def _reach(drafting: Drafting) -> float:
    return snaps.SNAP_PX / drafting.per_mm


def _to_joint(drafting: Drafting) -> Callable[[Point], Point]:
    # The wall as it was when the handle was taken: it does not change while a mark on it moves.
    return partial(_joint, drafting.wall, _reach(drafting))


def _joint(wall: Wall, reach: float, place: Point) -> Point:
    return snaps.to_joint(wall, place, reach)


# -- cracks


def _crack(drafting: Drafting, mark: str) -> Crack | None:
    name = name_of(mark, "crack")
    return next((one for one in drafting.plain.cracks if one.id == name), None)


def _crack_points(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
    crack = _crack(drafting, mark)
    if crack is None:
        return ()
    run = cracks.as_traced(crack.run, drafting.wall.coursing)
    snap = _to_joint(drafting)
    return tuple(
        Grip(point, partial(_move_point, drafting.side_id, crack.id, number), snap, Ink.CRACK)
        for number, point in enumerate(run.points, 1)
    )


def _move_point(side: str, crack: str, number: int, work: Work, to: Point) -> Edit:
    """Move a point; put on the one beside it, it is taken out."""
    points = cracks.points_of(work, side, crack)
    beside = (*points[max(number - 2, 0) : number - 1], *points[number : number + 1])
    if whole_point(to) in beside:
        return cracks.drop_point(work, side, crack, number)
    return cracks.move_point(work, side, crack, number, to)


def _whole_crack(drafting: Drafting, mark: str) -> Grip | None:
    crack = _crack(drafting, mark)
    if crack is None:
        return None
    start = cracks.as_traced(crack.run, drafting.wall.coursing).points[0]
    gauge = drafting.wall.coursing.gauge_mm
    return Grip(start, partial(_move_crack, drafting.side_id, crack, start, gauge), ink=Ink.CRACK)


def _move_crack(side: str, crack: Crack, start: Point, gauge: float, work: Work, to: Point) -> Edit:
    by = to[0] - start[0], to[1] - start[1]
    run = _moved(crack.run, by, round(by[1] / gauge))
    return cracks.change_crack(work, side, crack.id, run=run, widths=())


def _moved(run: CrackRun, by: Point, courses: int) -> CrackRun:
    if isinstance(run, TracedRun):
        return replace(run, points=tuple((x + by[0], y + by[1]) for x, y in run.points))
    course = max(run.course + courses, 1)
    if isinstance(run, BedRun):
        return BedRun(course, run.from_mm + by[0], run.to_mm + by[0])
    return replace(run, x_mm=run.x_mm + by[0], course=course)


# -- bars


def _bar_ends(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
    bar = bar_of(drafting, mark)
    if bar is None:
        return ()
    ends = (("from_mm", bar.left_mm, bar.right_mm), ("to_mm", bar.right_mm, bar.left_mm))
    return tuple(
        Grip(
            (x, bar.y_mm),
            partial(_move_end, drafting.side_id, bar, name),
            partial(_along, other),
            Ink.BAR,
        )
        for name, x, other in ends
    )


def _move_end(side: str, bar: Bar, name: str, work: Work, to: Point) -> Edit:
    return bars.take_over(work, side, bar, **{name: to[0]})  # type: ignore[arg-type]


def _along(start: float, place: Point) -> Point:
    return snaps.along(start, place[0]), place[1]


def _whole_bar(drafting: Drafting, mark: str) -> Grip | None:
    bar = bar_of(drafting, mark)
    if bar is None:
        return None
    move = partial(_move_bar, drafting.side_id, bar, drafting.wall.coursing)
    return Grip((bar.left_mm, bar.y_mm), move, partial(_along, bar.left_mm), Ink.BAR)


def _move_bar(side: str, bar: Bar, coursing: Coursing, work: Work, to: Point) -> Edit:
    course = max(snaps.bed_at(coursing, to[1]), 1)
    right = to[0] + bar.face_mm
    return bars.take_over(work, side, bar, course=course, from_mm=to[0], to_mm=right)


# -- areas


def _corners(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
    name = name_of(mark, "area")
    area = next((one for one in drafting.plain.areas if one.id == name), None)
    if area is None:
        return ()
    snap = partial(_edge, drafting.wall, _reach(drafting))
    return tuple(
        Grip(point, partial(_move_area_corner, drafting.side_id, name, number), snap)
        for number, point in enumerate(area.outline)
    )


def _move_area_corner(side: str, area: str, number: int, work: Work, to: Point) -> Edit:
    """Move a corner; the two beside it come along where they lay level with it or plumb."""
    old = known(elevation(work, side).areas, area, "area").outline
    if number >= len(old):
        raise UserMistake("this corner is no longer there", do="choose another")
    was, new = old[number], list(old)
    new[number] = to
    for beside in ((number - 1) % len(old), (number + 1) % len(old)):
        x, y = old[beside]
        if len(old) == 4:
            new[beside] = (to[0] if x == was[0] else x, to[1] if y == was[1] else y)
    return areas.change_area(work, side, area, new)


def _edge(wall: Wall, reach: float, place: Point) -> Point:
    """Return a place moved to the edge of a course and to a perpend that is within reach [mm]."""
    coursing = wall.coursing
    x = snaps.to_joint(wall, place, reach)[0]
    level = round(place[1] / coursing.gauge_mm) * coursing.gauge_mm
    return x, level if abs(level - place[1]) <= reach else round(place[1])


def _whole_area(drafting: Drafting, mark: str) -> Grip | None:
    name = name_of(mark, "area")
    area = next((one for one in drafting.plain.areas if one.id == name), None)
    if area is None:
        return None
    snap = partial(_edge, drafting.wall, _reach(drafting))
    move = partial(_move_area, drafting.side_id, name, area.outline)
    return Grip(area.outline[0], move, snap)


def _move_area(side: str, area: str, old: tuple[Point, ...], work: Work, to: Point) -> Edit:
    by = to[0] - old[0][0], to[1] - old[0][1]
    return areas.change_area(work, side, area, [(x + by[0], y + by[1]) for x, y in old])


# -- openings


def _opening(drafting: Drafting, mark: str) -> Opening | None:
    name = name_of(mark, "opening")
    return next((one for one in drafting.plain.openings if one.id == name), None)


def _sides(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
    one = _opening(drafting, mark)
    if one is None:
        return ()
    right, top = one.left_mm + one.width_mm, one.bottom_mm + one.height_mm
    middle = (one.left_mm + right) / 2, (one.bottom_mm + top) / 2
    places = (
        ("left", (one.left_mm, middle[1])),
        ("right", (right, middle[1])),
        ("bottom", (middle[0], one.bottom_mm)),
        ("top", (middle[0], top)),
    )
    snap = partial(_reveal, drafting.wall, _reach(drafting))
    return tuple(
        Grip(at, partial(_move_side, drafting.side_id, one, which), snap) for which, at in places
    )


def _move_side(side: str, one: Opening, which: str, work: Work, to: Point) -> Edit:
    right, top = one.left_mm + one.width_mm, one.bottom_mm + one.height_mm
    fields = {
        "left": {"left_mm": to[0], "width_mm": right - to[0]},
        "right": {"width_mm": to[0] - one.left_mm},
        "bottom": {"bottom_mm": to[1], "height_mm": top - to[1]},
        "top": {"height_mm": to[1] - one.bottom_mm},
    }[which]
    return openings.change_opening(work, side, one.id, **fields)


def _reveal(wall: Wall, reach: float, place: Point) -> Point:
    """Return a place moved to where bricks end, along and up, within reach [mm]."""
    coursing = wall.coursing
    course = max(coursing.course_at(place[1]), 1)
    found = []
    for one in (course, course + 1):
        rhythm = coursing.rhythm(one)
        face = rhythm.face_at(place[0])
        found += [end for number in (face, face + 1) for end in rhythm.face_span(number)]
    x = min(found, key=lambda end: abs(end - place[0]))
    levels = (coursing.course_top(course), coursing.course_top(course - 1))
    y = min(levels, key=lambda level: abs(level - place[1]))
    return (
        x if abs(x - place[0]) <= reach else round(place[0]),
        y if abs(y - place[1]) <= reach else round(place[1]),
    )


def _whole_opening(drafting: Drafting, mark: str) -> Grip | None:
    one = _opening(drafting, mark)
    if one is None:
        return None
    snap = partial(_reveal, drafting.wall, _reach(drafting))
    move = partial(_move_opening, drafting.side_id, one.id)
    return Grip((one.left_mm, one.bottom_mm), move, snap)


def _move_opening(side: str, opening: str, work: Work, to: Point) -> Edit:
    return openings.move_opening(work, side, opening, *to)


# -- the wall itself


def _side_ends(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
    number, ring = number_of(mark, "outline"), drafting.plain.outline
    if not 1 <= number <= len(ring):
        return ()
    snap = partial(_edge, drafting.wall, _reach(drafting))
    corners = (number, number % len(ring) + 1)
    return tuple(
        Grip(ring[one - 1], partial(_move_corner, drafting.side_id, one), snap) for one in corners
    )


def _move_corner(side: str, number: int, work: Work, to: Point) -> Edit:
    return outline.move_corner(work, side, number, to)


def _whole_side(drafting: Drafting, mark: str) -> Grip | None:
    number, ring = number_of(mark, "outline"), drafting.plain.outline
    if not 1 <= number <= len(ring):
        return None
    one, two = ring[number - 1], ring[number % len(ring)]
    middle = (one[0] + two[0]) / 2, (one[1] + two[1]) / 2
    snap = partial(_edge, drafting.wall, _reach(drafting))
    move = partial(_move_outline_side, drafting.side_id, number - 1, ring, middle)
    return Grip(middle, move, snap)


def _move_outline_side(
    side: str, number: int, ring: tuple[Point, ...], middle: Point, work: Work, to: Point
) -> Edit:
    """Move a side square to itself: an upright one along the wall, any other up and down."""
    new = list(ring)
    ends = number, (number + 1) % len(ring)
    is_upright = ring[ends[0]][0] == ring[ends[1]][0]
    by = (to[0] - middle[0], 0.0) if is_upright else (0.0, to[1] - middle[1])
    for place in ends:
        new[place] = new[place][0] + by[0], new[place][1] + by[1]
    return outline.set_outline(work, side, new)


def _whole_joint(drafting: Drafting, mark: str) -> Grip | None:
    number, joints = number_of(mark, "joint"), drafting.plain.movement_joints_mm
    if not 1 <= number <= len(joints):
        return None
    _left, bottom, _right, top = drafting.wall.gross.bounds
    snap = _to_joint(drafting)
    move = partial(_move_joint, drafting.side_id, number)
    return Grip((joints[number - 1], (bottom + top) / 2), move, snap)


def _move_joint(side: str, number: int, work: Work, to: Point) -> Edit:
    return outline.move_movement_joint(work, side, number, to[0])


def _whole_damp(drafting: Drafting, _mark: str) -> Grip | None:
    picture = drafting.shown
    if picture is None or picture.masonry.damp_course is None:
        return None
    left, _bottom, right, _top = drafting.wall.gross.bounds
    snap = _to_joint(drafting)
    level = picture.masonry.damp_course
    return Grip(((left + right) / 2, level), partial(_move_damp, drafting.side_id), snap)


def _move_damp(side: str, work: Work, to: Point) -> Edit:
    return outline.set_damp_course(work, side, to[1])


# -- thin beds


def _thin_ends(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
    number, beds = number_of(mark, "thin"), drafting.plain.thin_beds
    if not 1 <= number <= len(beds):
        return ()
    bed = beds[number - 1]
    y = drafting.wall.coursing.bed_middle(bed.course)
    ends = (("from_mm", bed.from_mm, bed.to_mm), ("to_mm", bed.to_mm, bed.from_mm))
    return tuple(
        Grip((x, y), partial(_move_thin, drafting.side_id, number, name), partial(_along, other))
        for name, x, other in ends
    )


def _move_thin(side: str, number: int, name: str, work: Work, to: Point) -> Edit:
    return thin_beds.change_thin(work, side, number, **{name: to[0]})


def _alone(make: Callable[[Drafting, str], Grip | None]) -> Callable[..., tuple[Grip, ...]]:
    """Return the handles of what has one only, by which it is moved as a whole."""

    def handles(drafting: Drafting, mark: str) -> tuple[Grip, ...]:
        grip = make(drafting, mark)
        return () if grip is None else (grip,)

    return handles


_HANDLES: dict[str, Callable[[Drafting, str], tuple[Grip, ...]]] = {
    "crack": _crack_points,
    "bar": _bar_ends,
    "area": _corners,
    "opening": _sides,
    "outline": _side_ends,
    "joint": _alone(_whole_joint),
    "damp": _alone(_whole_damp),
    "thin": _thin_ends,
}
_WHOLE: dict[str, Callable[[Drafting, str], Grip | None]] = {
    "crack": _whole_crack,
    "bar": _whole_bar,
    "area": _whole_area,
    "opening": _whole_opening,
    "outline": _whole_side,
    "joint": _whole_joint,
    "damp": _whole_damp,
}
