"""What of the wall itself can be taken hold of: sides, corners, gable, ground, damp course."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import Enum
from functools import partial

from estimator.desktop.language import _
from estimator.desktop.wall.particulars.choices import ends
from estimator.desktop.wall.particulars.typed import in_bricks, in_courses, in_metres, in_mm
from estimator.drawing.courses import masonry_of
from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit, Work
from estimator.quoting.wall_edits import outline
from estimator.quoting.wall_edits.changing import elevation
from estimator.survey.survey import Elevation, WallEnd
from estimator.survey.wall import coursing_of

GROUND_STEP_MM = 25.0
"""The ground is pulled by such steps; house rule [mm]."""
LEAST_BRICKS = 2
"""Bricks a wall is wide at the least; house rule."""


class Part(Enum):
    """A part of the wall that is pulled."""

    LEFT, RIGHT = "left", "right"
    TOP_LEFT, TOP_RIGHT = "top left", "top right"
    RIDGE = "ridge"
    CORNER = "corner"
    JOINT = "joint"
    DAMP = "damp"
    GROUND = "ground"


@dataclass(frozen=True, slots=True)
class Handle:
    """A place to take hold of, what moving it means, and what it is called."""

    part: Part
    at: Point
    edit: Callable[[Work, Point], Edit]
    name: str
    number: int = 0
    """Of a corner or a joint, from 1."""


def handles(wall: Elevation, side: str) -> tuple[Handle, ...]:
    """Return the handles of a wall, from the left."""
    found = list(_of_shape(wall, side))
    left, bottom, right, top = outline.bounds_of(wall.outline)
    for number, x in enumerate(wall.movement_joints_mm, 1):
        move = partial(_move_joint, side, number)
        at = x, bottom + (top - bottom) * 0.7
        found.append(Handle(Part.JOINT, at, move, _("Movement joint"), number))
    masonry = masonry_of(wall)
    if masonry.damp_course is not None:
        at = left + (right - left) * 0.12, masonry.damp_course
        found.append(Handle(Part.DAMP, at, partial(_move_damp, side), _("Damp course")))
    ground = -wall.datum_height_mm
    at = left + (right - left) * 0.88, ground
    found.append(Handle(Part.GROUND, at, partial(_move_ground, side), _("Ground")))
    return tuple(found)


def _of_shape(wall: Elevation, side: str) -> Iterator[Handle]:
    """Yield the handles of the outline: of a plain wall or gable its sides, else its corners."""
    left, bottom, right, top = outline.bounds_of(wall.outline)
    gable = outline.gable_of(wall.outline)
    if gable is None and not is_box(wall):
        for number, point in enumerate(wall.outline, 1):
            move = partial(_move_corner, side, number)
            yield Handle(Part.CORNER, point, move, _("Corner {n}").format(n=number), number)
        return
    eaves = gable[0] if gable else top
    middle = bottom + (eaves - bottom) * 0.45
    pull = partial(_pull, side)
    yield Handle(Part.LEFT, (left, middle), partial(pull, Part.LEFT), _("Left end"))
    yield Handle(Part.TOP_LEFT, (left, eaves), partial(pull, Part.TOP_LEFT), _("Top left"))
    ridge = (gable[2], gable[1]) if gable else ((left + right) / 2, top)
    yield Handle(Part.RIDGE, ridge, partial(pull, Part.RIDGE), _("Middle of the top"))
    yield Handle(Part.TOP_RIGHT, (right, eaves), partial(pull, Part.TOP_RIGHT), _("Top right"))
    yield Handle(Part.RIGHT, (right, middle), partial(pull, Part.RIGHT), _("Right end"))


def is_box(wall: Elevation) -> bool:
    """Return whether a wall is a level rectangle."""
    left, bottom, right, top = outline.bounds_of(wall.outline)
    return sorted(wall.outline) == sorted(outline.rectangle(left, bottom, right, top))


def snapped(wall: Elevation, handle: Handle, place: Point) -> Point:
    """Return a place moved to whole bricks from the other end, and to whole courses [mm]."""
    coursing = coursing_of(wall.brickwork)
    left, _bottom, right, _top = outline.bounds_of(wall.outline)
    brick, gauge = coursing.brick.length_mm + coursing.perpend_mm, coursing.gauge_mm
    x, y = place
    level = round(y / gauge) * gauge
    if handle.part in (Part.LEFT, Part.TOP_LEFT):
        return right - max(round((right - x) / brick), LEAST_BRICKS) * brick, level
    if handle.part in (Part.RIGHT, Part.TOP_RIGHT):
        return left + max(round((x - left) / brick), LEAST_BRICKS) * brick, level
    if handle.part is Part.GROUND:
        return x, round(y / GROUND_STEP_MM) * GROUND_STEP_MM
    if handle.part is Part.DAMP:
        return x, coursing.bed_middle(round((y - coursing.bed_mm / 2) / gauge) + 1)
    return on_half_bricks(wall, place)


def on_half_bricks(wall: Elevation, place: Point) -> Point:
    """Return a place moved to half bricks from the left end, and to a whole course [mm]."""
    coursing = coursing_of(wall.brickwork)
    left = outline.bounds_of(wall.outline)[0]
    half = (coursing.brick.length_mm + coursing.perpend_mm) / 2
    level = round(place[1] / coursing.gauge_mm) * coursing.gauge_mm
    return left + round((place[0] - left) / half) * half, level


def steps(wall: Elevation, handle: Handle) -> Point:
    """Return how far one press of an arrow pulls a handle, across and up [mm]."""
    coursing = coursing_of(wall.brickwork)
    brick = coursing.brick.length_mm + coursing.perpend_mm
    halves = (Part.RIDGE, Part.CORNER, Part.JOINT)
    up = GROUND_STEP_MM if handle.part is Part.GROUND else coursing.gauge_mm
    return brick / 2 if handle.part in halves else brick, up


def words(wall: Elevation, handle: Handle) -> str:
    """Return what is said beside the hand of what it pulls."""
    coursing = coursing_of(wall.brickwork)
    left, bottom, right, top = outline.bounds_of(wall.outline)
    gable = outline.gable_of(wall.outline)
    wide, high = right - left, (gable[0] if gable else top) - bottom
    if handle.part in (Part.LEFT, Part.RIGHT):
        return _across(wide, coursing)
    if handle.part in (Part.TOP_LEFT, Part.TOP_RIGHT):
        across, up = _across(wide, coursing), _up(high, coursing)
        return _("{width}\n{height}").format(width=across, height=up)
    if handle.part is Part.RIDGE:
        return _("Top {height}").format(height=_up(top - bottom, coursing))
    return _words_of_rest(wall, handle)


def _words_of_rest(wall: Elevation, handle: Handle) -> str:
    """Return what is said of what is no part of a plain outline."""
    if handle.part is Part.GROUND:
        return _("Ground {size} below the datum").format(size=in_mm(wall.datum_height_mm))
    if handle.part is Part.DAMP:
        level = handle.at[1] if wall.damp_course_mm is None else wall.damp_course_mm
        height = level + wall.datum_height_mm
        return _("Damp course {size} above the ground").format(size=in_mm(height))
    if handle.part is Part.JOINT and handle.number <= len(wall.movement_joints_mm):
        x = wall.movement_joints_mm[handle.number - 1]
        x -= outline.bounds_of(wall.outline)[0]
        return _("Movement joint {length} from the left").format(length=in_metres(x))
    point = wall.outline[min(handle.number, len(wall.outline)) - 1]
    return _("{along} along, {up} up").format(along=in_metres(point[0]), up=in_metres(point[1]))


def _across(length: float, coursing: Coursing) -> str:
    return _("{size} · {count}").format(size=in_metres(length), count=in_bricks(length, coursing))


def _up(height: float, coursing: Coursing) -> str:
    return _("{size} · {count}").format(size=in_metres(height), count=in_courses(height, coursing))


def cycle_end(work: Work, side: str, wall: Elevation, part: Part) -> Edit:
    """Return the edit that gives an end the next thing a wall may do there."""
    is_left = part is Part.LEFT
    order = [end for end, _word in ends()]
    now = wall.left_end if is_left else wall.right_end
    how = order[(order.index(now) + 1) % len(order)]
    returns = (wall.left_return if is_left else wall.right_return) if how is WallEnd.QUOIN else ""
    return outline.set_end(work, side, "left" if is_left else "right", how, returns)


def end_words(wall: Elevation, part: Part) -> str:
    """Return what a wall does at an end, in words."""
    end = wall.left_end if part is Part.LEFT else wall.right_end
    return dict(ends())[end]


# -- what a pull makes


def _pull(side: str, part: Part, work: Work, to: Point) -> Edit:
    wall = elevation(work, side)
    left, bottom, right, top = outline.bounds_of(wall.outline)
    gable = outline.gable_of(wall.outline)
    eaves = gable[0] if gable else top
    if part is Part.RIDGE:
        return _pull_ridge(side, wall, work, to)
    if part in (Part.LEFT, Part.TOP_LEFT):
        left = min(to[0], right - 1)
    if part in (Part.RIGHT, Part.TOP_RIGHT):
        right = max(to[0], left + 1)
    rise = (gable[1] - eaves) if gable else 0.0
    if part in (Part.TOP_LEFT, Part.TOP_RIGHT):
        eaves = max(to[1], bottom + 1)
    box = outline.rectangle(left, bottom, right, eaves)
    if gable is None:
        return outline.set_outline(work, side, box)
    share = (gable[2] - outline.bounds_of(wall.outline)[0]) / _wide(wall)
    ridge = left + (right - left) * share, eaves + rise
    return outline.set_outline(work, side, (*box[:3], ridge, box[3]))


def _wide(wall: Elevation) -> float:
    left, _bottom, right, _top = outline.bounds_of(wall.outline)
    return right - left


def _pull_ridge(side: str, wall: Elevation, work: Work, to: Point) -> Edit:
    """Make a gable, pull its ridge, or push it down to the eaves."""
    left, bottom, right, top = outline.bounds_of(wall.outline)
    gable = outline.gable_of(wall.outline)
    eaves = gable[0] if gable else top
    if to[1] <= eaves:
        if gable is not None:
            return outline.drop_gable(work, side)
        lower = max(to[1], bottom + 1)
        return outline.set_outline(work, side, outline.rectangle(left, bottom, right, lower))
    at = min(max(to[0], left), right) - left
    # The ridge of a new gable stays in the middle until it is pulled aside on purpose.
    middle = (right - left) / 2
    if gable is None and abs(at - middle) < (right - left) * 0.1:
        at = middle
    return outline.set_gable(
        work, side, eaves_mm=eaves - bottom, ridge_mm=to[1] - bottom, ridge_at_mm=at
    )


def _move_corner(side: str, number: int, work: Work, to: Point) -> Edit:
    return outline.move_corner(work, side, number, to)


def _move_joint(side: str, number: int, work: Work, to: Point) -> Edit:
    return outline.move_movement_joint(work, side, number, to[0])


def _move_damp(side: str, work: Work, to: Point) -> Edit:
    return outline.set_damp_course(work, side, to[1])


def _move_ground(side: str, work: Work, to: Point) -> Edit:
    return outline.set_ground(work, side, datum_height_mm=max(-to[1], 0.0))
