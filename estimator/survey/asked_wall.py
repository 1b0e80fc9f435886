"""The wall that a caller's answers make: one elevation, laid out round its crack.

A crack is laid in a frame of its own first, with the opening it belongs to; the frame is then moved
by whole repeats of the bond until there is brickwork enough on both sides to anchor bars in. The
same answers always make the same wall.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.survey.questions import settings
from estimator.survey.ranges import Range, Told, likely
from estimator.survey.survey import (
    Answer,
    BedRun,
    Brickwork,
    Crack,
    Elevation,
    Ground,
    Mortar,
    Opening,
    SteppedRun,
    StraightRun,
    WallBuild,
    WallEnd,
)
from estimator.survey.wall import coursing_of, path_of

WALL_ID, WALL_NAME = "wall", "Wall"
LETTERS = "abcdefghijklmnopqrstuvwxyz"
MORTARS: Mapping[str, Mortar] = MappingProxyType(
    {"lime": Mortar.LIME, "cement_lime": Mortar.CEMENT_LIME, "hard": Mortar.HARD_CEMENT}
)
GROUNDS: Mapping[str, Ground] = MappingProxyType(
    {"firm": Ground.FIRM, "soft": Ground.SOFT, "roof": Ground.OVER_ROOF}
)
LEVEL, STRAIGHT, STEPPED = "level", "straight", "stepped"
UNDER, CORNER, OVER, JUNCTION = "under_window", "corner", "over_opening", "junction"

Run = SteppedRun | StraightRun | BedRun


@dataclass(frozen=True, slots=True)
class Facts:
    """What the wall is drawn from: a choice for each question about it, told sizes and counts."""

    place: str
    height: str
    shape: str
    house: str
    mortar: str
    below: str
    length_mm: Told
    """Height of the crack, or length of one along a bed. [mm]"""
    width_mm: Told
    count: int
    bricks: Told
    both_faces: Answer


@dataclass(frozen=True, slots=True)
class _Frame:
    """One crack as it lies beside its opening, in a frame of its own."""

    run: Run
    left: float
    right: float
    """How far the crack reaches [mm]."""
    across: float
    """The most it reaches along any one bed [mm]."""
    top_course: int
    opening: Opening | None


@dataclass(frozen=True, slots=True)
class _Layout:
    """A wall with its openings and runs, ready to be an elevation."""

    outline: tuple[Point, ...]
    openings: tuple[Opening, ...]
    runs: tuple[Run, ...]
    right_end: WallEnd


@lru_cache(maxsize=64)
def brickwork_of(house: str, mortar: str) -> Brickwork:
    """Return what a house of an age is usually laid with.

    >>> brickwork_of("later", "cement_lime").brick
    'uk_metric'
    """
    usual = settings("houses")[house]
    return Brickwork(
        brick=usual["brick"],
        bond=usual["bond"],
        mortar=MORTARS[mortar],
        build=WallBuild[usual["build"]],
    )


def elevation_of(facts: Facts) -> Elevation:
    """Return the wall with its cracks.

    >>> facts = Facts("under_window", "low", "stepped", "later", "cement_lime", "firm",
    ...     1350.0, 2.0, 1, 0.0, Answer.NO)
    >>> wall = elevation_of(facts)
    >>> wall.cracks[0].run.courses, wall.openings[0].kind
    (18.0, 'window')
    """
    work = brickwork_of(facts.house, facts.mortar)
    length: tuple[float, float, float]
    if facts.shape == LEVEL:
        length = (likely(facts.length_mm),) * 3
    else:
        gauge = coursing_of(work).gauge_mm
        length = _courses(facts.length_mm, gauge)
    layout = _layout(work, (facts.place, facts.height, facts.shape), length, facts.count)
    return Elevation(
        WALL_ID,
        WALL_NAME,
        layout.outline,
        brickwork=work,
        openings=layout.openings,
        right_end=layout.right_end,
        cracks=tuple(
            Crack(letter, run, facts.width_mm, facts.both_faces)
            for letter, run in zip(LETTERS, layout.runs, strict=False)
        ),
        hidden_bricks=facts.bricks,
        datum_height_mm=float(settings("datum_mm")[facts.height]),
        ground=GROUNDS[facts.below],
    )


def _courses(length: Told, gauge_mm: float) -> tuple[float, float, float]:
    """Return the whole courses crossed: fewest, likeliest and most; one at the least."""
    ends = (length.low, length.likely, length.high) if isinstance(length, Range) else (length,) * 3
    low, middle, high = (float(max(round(end / gauge_mm), 1)) for end in ends)
    return low, middle, high


@lru_cache(maxsize=4096)
def _layout(
    work: Brickwork, kind: tuple[str, str, str], length: tuple[float, float, float], count: int
) -> _Layout:
    """Lay out a wall for so many cracks of one kind, each as long as the others."""
    place, height, shape = kind
    coursing = coursing_of(work)
    if shape == LEVEL:
        frame = _level_frame(coursing, place, height, length[1])
    else:
        frame = _rising_frame(coursing, place, height, shape=shape, courses=length)
    return _set_out(coursing, frame, count, ends_right=place == JUNCTION)


def _rising_frame(
    coursing: Coursing, place: str, height: str, *, shape: str, courses: tuple[float, float, float]
) -> _Frame:
    """Lay a crack that climbs, and put its opening where the crack meets it."""
    low, middle, high = courses
    told: Told = middle if low == high else Range(low, middle, high)
    count = int(middle)
    base = _base_course(coursing, place, height, count)
    run: SteppedRun | StraightRun = StraightRun(0.0, base, told)
    if shape == STEPPED:
        # Under a window steps turn back half way down; from a corner they lead away from it.
        turn = count // 2 if place == UNDER else 0
        lean = "left" if place in (CORNER, JUNCTION) else "right"
        run = SteppedRun(0.0, base, told, lean, turn)
    points = path_of(Crack("", run, 0.0), coursing).points
    reached = [x for x, _y in points]
    opening = None
    if place == OVER:
        opening = _opening_below(coursing, base, height, right=points[0][0])
    elif place == CORNER:
        opening = _window_above(coursing, base + count, right=points[-1][0])
    elif place == UNDER:
        right = points[-1][0] + settings("wall")["sill_end_mm"]
        opening = _window_above(coursing, base + count, right=right)
    pitch = coursing.brick.length_mm + coursing.perpend_mm
    return _Frame(run, min(reached), max(reached), pitch, base + int(high) - 1, opening)


def _level_frame(coursing: Coursing, place: str, height: str, length_mm: float) -> _Frame:
    """Lay a crack along one bed, and its opening above, below or at its end."""
    sizes = settings("wall")
    sill_course = _sill_course(coursing)
    bed, opening = sill_course - 1, None
    if place == OVER:
        base = _base_course(coursing, place, height, 1)
        bed, right = base + 1, (length_mm + _width_over(height)) / 2
        opening = _opening_below(coursing, base, height, right=right)
    elif place == CORNER:
        bed = sill_course
        opening = _window_above(coursing, sill_course, right=0.0)
    elif place == UNDER:
        right = (length_mm + sizes["window_width_mm"]) / 2
        opening = _window_above(coursing, sill_course, right=right)
    return _Frame(BedRun(bed, 0.0, length_mm), 0.0, length_mm, length_mm, bed, opening)


def _sill_course(coursing: Coursing) -> int:
    """Return the course that a sill at the usual level takes the place of."""
    return int(coursing.course_at(settings("wall")["sill_top_mm"]))


def _base_course(coursing: Coursing, place: str, height: str, courses: int) -> int:
    """Return the lowest course of a crack: near the foot, or as its opening asks."""
    sizes = settings("wall")
    foot = int(sizes["foot_courses"]) + 1
    if place == OVER:
        return coursing.course_at(_top_of_opening(height)) + 1
    if place in (UNDER, CORNER):
        return max(foot, _sill_course(coursing) - courses)
    return foot


def _top_of_opening(height: str) -> float:
    sizes = settings("wall")
    top = sizes["door_height_mm"] if height == "low" else None
    return float(top or sizes["sill_top_mm"] + sizes["window_height_mm"])


def _width_over(height: str) -> float:
    sizes = settings("wall")
    return float(sizes["door_width_mm"] if height == "low" else sizes["window_width_mm"])


def _window_above(coursing: Coursing, course: int, *, right: float) -> Opening:
    """Return a window whose sill lies on the bed under a course."""
    sizes = settings("wall")
    bottom = coursing.course_bottom(course) + sizes["sill_mm"]
    width, height = float(sizes["window_width_mm"]), float(sizes["window_height_mm"])
    return Opening("w", right - width, bottom, width, height, sill_mm=float(sizes["sill_mm"]))


def _opening_below(coursing: Coursing, course: int, height: str, *, right: float) -> Opening:
    """Return a door on the ground, or a window higher up, that ends under a course."""
    sizes = settings("wall")
    top, width = coursing.bed_bottom(course), _width_over(height)
    if height == "low":
        return Opening("d", right - width, 0.0, width, top, kind="door")
    sill = float(sizes["sill_mm"])
    bottom = coursing.course_bottom(_sill_course(coursing)) + sill
    return Opening("w", right - width, bottom, width, top - bottom, sill_mm=sill)


def _set_out(coursing: Coursing, frame: _Frame, count: int, *, ends_right: bool) -> _Layout:
    """Repeat the crack, and draw the wall round all of it in whole repeats of the bond."""
    sizes = settings("wall")
    repeat = max(rhythm.repeat_mm for rhythm in coursing.rhythms)

    def whole(length_mm: float) -> float:
        return math.ceil(length_mm / repeat - 1e-6) * repeat

    # Cracks beside each other run alike, so it is along each bed that they have to be apart.
    apart = whole(frame.across + sizes["between_mm"])
    left, right = frame.left, frame.right + apart * (count - 1)
    right += sizes["end_mm"] if ends_right else sizes["beside_mm"]
    left -= sizes["beside_mm"]
    if frame.opening is not None:
        left = min(left, frame.opening.left_mm - sizes["end_mm"])
        right = max(right, frame.opening.left_mm + frame.opening.width_mm + sizes["end_mm"])
    spare = max(sizes["least_width_mm"] - (right - left), 0.0)
    # A wall that ends beside its crack grows to the other side only.
    shift = whole(spare - left if ends_right else spare / 2 - left)
    width = max(whole(right + shift), whole(sizes["least_width_mm"]))
    openings = () if frame.opening is None else (_moved_opening(frame.opening, shift),)
    tops = [one.bottom_mm + one.height_mm for one in openings]
    courses = max(frame.top_course, *(coursing.course_at(top - 1.0) for top in tops), 1)
    courses += int(sizes["head_courses"])
    high = max(courses, math.ceil(sizes["least_height_mm"] / coursing.gauge_mm)) * coursing.gauge_mm
    return _Layout(
        ((0.0, 0.0), (width, 0.0), (width, high), (0.0, high)),
        openings,
        tuple(_moved_run(frame.run, shift + apart * number) for number in range(count)),
        WallEnd.STOPPED if ends_right else WallEnd.CONTINUES,
    )


def _moved_opening(opening: Opening, by: float) -> Opening:
    return replace(opening, left_mm=opening.left_mm + by)


def _moved_run(run: Run, by: float) -> Run:
    if isinstance(run, BedRun):
        return BedRun(run.course, run.from_mm + by, run.to_mm + by)
    return replace(run, x_mm=run.x_mm + by)
