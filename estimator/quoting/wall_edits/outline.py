"""The wall itself: its size, gable, corners, ends, courses, ground and movement joints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Literal

from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import (
    change,
    change_survey,
    elevation,
    numbered,
    tenth_mm,
    whole_mm,
    whole_point,
)
from estimator.survey.survey import Elevation, Ground, WallEnd

End = Literal["left", "right"]
JOINTS_APART_MM = 10.0
"""Two movement joints nearer than this are one; house rule [mm]."""


def set_size(
    work: Work, side: str, *, width_mm: float | None = None, height_mm: float | None = None
) -> Edit:
    """Give a wall another width or height; a gable stays a gable, its eaves at the height.

    The left end and the foot stay where they are. A ridge stays as far above the eaves as it was,
    and divides the width as it did; any other outline is stretched.

    Raises:
        UserMistake: when something on the wall would be left outside it.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> set_size(plain_wall(), "front", width_mm=6000).after.survey.elevations[0].outline[1]
    (6000.0, 0.0)
    """
    old = elevation(work, side)
    left, bottom, right, top = bounds_of(old.outline)
    gable = gable_of(old.outline)
    width = right - left if width_mm is None else _length(width_mm, "the width")
    if height_mm is None:
        height = (gable[0] if gable else top) - bottom
    else:
        height = _length(height_mm, "the height")
    if gable:
        eaves, ridge, ridge_at = gable
        at = whole_mm(left + (ridge_at - left) * width / (right - left))
        new = _gable((left, bottom, left + width, bottom + height), ridge - eaves, at)
    else:
        across, up = width / (right - left), height / (top - bottom)
        new = tuple(
            whole_point((left + (x - left) * across, bottom + (y - bottom) * up))
            for x, y in old.outline
        )
    about = _about(side, width=width_mm, height=height_mm)
    return change(work, side, Step.WALL, about, outline=new)


def set_gable(
    work: Work, side: str, *, eaves_mm: float, ridge_mm: float, ridge_at_mm: float | None = None
) -> Edit:
    """Give a wall a gable: heights above its foot, the ridge so far along from its left end [mm].

    Raises:
        UserMistake: for a ridge that is not above the eaves, or beside the wall.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = set_gable(plain_wall(), "front", eaves_mm=2700, ridge_mm=4000)
    >>> gable_of(edit.after.survey.elevations[0].outline)
    (2700.0, 4000.0, 2250.0)
    """
    left, bottom, right, _top = bounds_of(elevation(work, side).outline)
    eaves, ridge = _length(eaves_mm, "the height of the eaves"), whole_mm(ridge_mm, "the ridge")
    if ridge <= eaves:
        raise UserMistake(
            "the ridge must be higher than the eaves", do=f"the eaves are {eaves:,.0f} mm up"
        )
    at = whole_mm((left + right) / 2 if ridge_at_mm is None else left + ridge_at_mm, "the ridge")
    if not left <= at <= right:
        raise UserMistake(
            "the ridge would be beside the wall", do=f"the wall is {right - left:,.0f} mm wide"
        )
    new = _gable((left, bottom, right, bottom + eaves), ridge - eaves, at)
    return change(work, side, Step.WALL, f"{side}/gable", outline=new)


def drop_gable(work: Work, side: str) -> Edit:
    """Take the gable off a wall, down to the eaves.

    Raises:
        UserMistake: where there is none, or something on it would be left outside.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = set_gable(plain_wall(), "front", eaves_mm=2700, ridge_mm=4000)
    >>> len(drop_gable(edit.after, "front").after.survey.elevations[0].outline)
    4
    """
    old = elevation(work, side).outline
    gable = gable_of(old)
    if gable is None:
        raise UserMistake("this wall has no gable", do="set its height instead")
    left, bottom, right, _top = bounds_of(old)
    return change(work, side, Step.WALL, outline=rectangle(left, bottom, right, gable[0]))


def set_outline(work: Work, side: str, outline: Sequence[Point]) -> Edit:
    """Give a wall any outline, corner by corner in order round it.

    Raises:
        UserMistake: for one whose sides cross, or that would leave something outside.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = set_outline(plain_wall(), "front", ((0, 0), (4500, 0), (0, 2700)))
    >>> edit.about
    'front/outline'
    """
    new = tuple(whole_point(point) for point in outline)
    return change(work, side, Step.WALL, f"{side}/outline", outline=new)


def move_corner(work: Work, side: str, number: int, point: Point) -> Edit:
    """Move one corner of a wall, counted from 1 in the order of its outline.

    Raises:
        UserMistake: when the sides would cross, or something would be left outside.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> move_corner(plain_wall(), "front", 3, (4500, 2400)).after.survey.elevations[0].outline[2]
    (4500.0, 2400.0)
    """
    old = elevation(work, side).outline
    numbered(old, number, "corner")
    new = (*old[: number - 1], whole_point(point), *old[number:])
    return change(work, side, Step.WALL, f"{side}/corner/{number}", outline=new)


def set_brickwork(work: Work, side: str, **fields: Any) -> Edit:
    """Say what a wall is laid with: fields of ``Brickwork``; a ratio goes with its bond.

    Marked bricks keep their course and place, as they were counted on the wall.

    Raises:
        UserMistake: when something on the wall would not fit its courses any more.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = set_brickwork(plain_wall(), "front", bond="english")
    >>> edit.after.survey.elevations[0].brickwork.bond
    'english'
    """
    old = elevation(work, side).brickwork
    if fields.get("bond", old.bond) != old.bond:
        fields.setdefault("ratio", 0)
    for name in ("bed_usual_mm", "bed_least_mm", "perpend_mm"):
        if fields.get(name) is not None:
            fields[name] = tenth_mm(fields[name], "the joint")
    about = "/".join((side, "brickwork", *sorted(fields)))
    return change(work, side, Step.WALL, about, brickwork=replace(old, **fields))


def set_end(work: Work, side: str, end: End, how: WallEnd, returns_to: str = "") -> Edit:
    """Say what a wall does at one end, and which side lies round the quoin there.

    The side round the quoin is told of it too, unless it has a return of its own there.

    Raises:
        UserMistake: for a return where there is no quoin, or to no other side.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> set_end(plain_wall(), "front", "left", WallEnd.STOPPED).after.survey.elevations[0].left_end
    <WallEnd.STOPPED: 'stopped end'>
    """
    if returns_to and how is not WallEnd.QUOIN:
        raise UserMistake("only a quoin has a return", do="make this end a quoin first")
    edit = change(work, side, Step.WALL, **{f"{end}_end": how, f"{end}_return": returns_to})
    if not returns_to:
        return edit
    other, far = elevation(work, returns_to), opposite(end)
    if other.id == side:
        raise UserMistake("a wall cannot return to itself", do="choose another side")
    if not getattr(other, f"{far}_return"):
        told = with_return(other, far, side)
        sides = tuple(told if one is other else one for one in edit.after.survey.elevations)
        edit = change_survey(edit.after, Step.WALL, elevations=sides)
    return _checked(edit)


def set_ground(
    work: Work, side: str, *, datum_height_mm: float | None = None, ground: Ground | None = None
) -> Edit:
    """Say how high the datum is above the ground, and what the ground is like [mm].

    Raises:
        UserMistake: for a height no wall has.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = set_ground(plain_wall(), "front", datum_height_mm=600)
    >>> edit.after.survey.elevations[0].datum_height_mm
    600.0
    """
    old = elevation(work, side)
    height = old.datum_height_mm if datum_height_mm is None else whole_mm(datum_height_mm)
    about = _about(side, datum=datum_height_mm)
    return change(work, side, Step.WALL, about, datum_height_mm=height, ground=ground or old.ground)


def set_damp_course(work: Work, side: str, level_mm: float | None) -> Edit:
    """Say at which level the damp course lies, or that it was not seen [mm].

    Raises:
        UserMistake: for a level above the wall.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> set_damp_course(plain_wall(), "front", 150).after.survey.elevations[0].damp_course_mm
    150.0
    """
    level = None if level_mm is None else whole_mm(level_mm, "the damp course")
    about = "" if level is None else f"{side}/damp_course"
    return change(work, side, Step.WALL, about, damp_course_mm=level)


def add_movement_joint(work: Work, side: str, x: float) -> Edit:
    """Put a movement joint into a wall [mm].

    Raises:
        UserMistake: for one beside the wall, or where there is one already.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = add_movement_joint(plain_wall(), "front", 2000)
    >>> edit.after.survey.elevations[0].movement_joints_mm
    (2000.0,)
    """
    old = elevation(work, side)
    new = (*old.movement_joints_mm, _joint(old, x, old.movement_joints_mm))
    return change(work, side, Step.WALL, movement_joints_mm=new)


def move_movement_joint(work: Work, side: str, number: int, x: float) -> Edit:
    """Move a movement joint, counted from 1 in the order they were put in [mm].

    Raises:
        UserMistake: for a place beside the wall, or where there is one already.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = add_movement_joint(plain_wall(), "front", 2000).after
    >>> move_movement_joint(work, "front", 1, 2100).after.survey.elevations[0].movement_joints_mm
    (2100.0,)
    """
    old = elevation(work, side)
    joints = old.movement_joints_mm
    numbered(joints, number, "movement joint")
    others = (*joints[: number - 1], *joints[number:])
    new = (*joints[: number - 1], _joint(old, x, others), *joints[number:])
    about = f"{side}/movement_joint/{number}"
    return change(work, side, Step.WALL, about, movement_joints_mm=new)


def remove_movement_joint(work: Work, side: str, number: int) -> Edit:
    """Take a movement joint out of a wall.

    Raises:
        UserMistake: when there is none of that number.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = add_movement_joint(plain_wall(), "front", 2000).after
    >>> remove_movement_joint(work, "front", 1).after.survey.elevations[0].movement_joints_mm
    ()
    """
    joints = elevation(work, side).movement_joints_mm
    numbered(joints, number, "movement joint")
    new = (*joints[: number - 1], *joints[number:])
    return change(work, side, Step.WALL, movement_joints_mm=new)


def set_ornament(work: Work, side: str, text: str) -> Edit:
    """Write down what else is on the wall: pipes, meters, climbers.

    Raises:
        UserMistake: for more text than a note holds.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> set_ornament(plain_wall(), "front", "gas meter").after.survey.elevations[0].ornament
    'gas meter'
    """
    return change(work, side, Step.WALL, f"{side}/ornament", ornament=text)


def rectangle(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """Return a plain outline, corner by corner from the lower left.

    >>> rectangle(0, 0, 9, 5)
    ((0, 0), (9, 0), (9, 5), (0, 5))
    """
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def bounds_of(outline: Sequence[Point]) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of an outline [mm].

    >>> bounds_of(((0, 0), (9, 0), (4, 5)))
    (0, 0, 9, 5)
    """
    across, up = zip(*outline, strict=True)
    return min(across), min(up), max(across), max(up)


def gable_of(outline: Sequence[Point]) -> tuple[float, float, float] | None:
    """Return the levels of eaves and ridge and where the ridge is, or None for no plain gable.

    >>> gable_of(((0, 0), (9, 0), (9, 5), (4, 8), (0, 5)))
    (5, 8, 4)
    """
    left, bottom, right, top = bounds_of(outline)
    ridges = [point for point in outline if point[1] == top]
    if len(outline) != 5 or len(ridges) != 1:
        return None
    others = sorted(point for point in outline if point != ridges[0])
    eaves = others[1][1]
    plain = sorted(rectangle(left, bottom, right, eaves))
    return (eaves, top, ridges[0][0]) if others == plain and eaves > bottom else None


def opposite(end: End) -> End:
    """Return the other end.

    >>> opposite("left")
    'right'
    """
    return "right" if end == "left" else "left"


def with_return(one: Elevation, end: End, other: str) -> Elevation:
    """Return an elevation with a quoin at one end, round which another lies.

    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> with_return(wall, "left", "side").left_end
    <WallEnd.QUOIN: 'quoin'>
    """
    if end == "left":
        return replace(one, left_end=WallEnd.QUOIN, left_return=other)
    return replace(one, right_end=WallEnd.QUOIN, right_return=other)


def _gable(box: tuple[float, float, float, float], rise: float, at: float) -> tuple[Point, ...]:
    left, bottom, right, eaves = box
    return ((left, bottom), (right, bottom), (right, eaves), (at, eaves + rise), (left, eaves))


def _length(value: float, called: str) -> float:
    length = whole_mm(value, called)
    if length <= 0:
        raise UserMistake(f"{called} must be more than nothing", do="give it in millimetres")
    return length


def _joint(wall: Elevation, x: float, others: Sequence[float]) -> float:
    left, _bottom, right, _top = bounds_of(wall.outline)
    at = whole_mm(x, "the place of the joint")
    if not left < at < right:
        raise UserMistake(
            "the movement joint would be beside the wall",
            do=f"the wall runs from {left:,.0f} to {right:,.0f} mm",
        )
    if any(abs(at - other) < JOINTS_APART_MM for other in others):
        raise UserMistake("there is a movement joint already", do="choose another place")
    return at


def _about(side: str, **given: object) -> str:
    """Return what an edit of one field is about; one of several fields is a step of its own."""
    named = [name for name, value in given.items() if value is not None]
    return f"{side}/{named[0]}" if len(named) == 1 else ""


def _checked(edit: Edit) -> Edit:
    """Hold what was changed on two sides against each other."""
    made = change_survey(edit.after, Step.WALL, elevations=edit.after.survey.elevations)
    return replace(edit, after=made.after)
