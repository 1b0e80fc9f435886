"""Places that snap: to joints, beds and bricks of the wall on the board."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from estimator.drawing.courses import Box
from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.survey.survey import CrackedBrick, Treatment
from estimator.survey.wall import Wall

SNAP_PX = 9.0
"""How near a place has to come to a joint to snap to it [px]."""
STEP_MM = 10.0
"""Lengths drawn along a bed go by such steps [mm]; house rule."""


class BrickPlace(NamedTuple):
    """A brick by its course and its place in it, both from 1."""

    course: int
    place: int


def bed_at(coursing: Coursing, y: float) -> int:
    """Return the bed nearest to a level, by the course on it."""
    return round((y - coursing.bed_mm / 2) / coursing.gauge_mm) + 1


def nearest_perpend(coursing: Coursing, x: float, course: int) -> float:
    """Return the middle of the perpend nearest to x in a course or the one under it [mm]."""
    found = []
    for one in (course, course - 1):
        rhythm = coursing.rhythm(one)
        found.append(rhythm.perpend_after(rhythm.nearest_perpend(x)))
    return min(found, key=lambda at: abs(at - x))


def to_joint(wall: Wall, place: Point, reach_mm: float) -> Point:
    """Return a place moved into the nearest bed, and to a perpend that is within reach [mm]."""
    coursing = wall.coursing
    course = bed_at(coursing, place[1])
    x = nearest_perpend(coursing, place[0], course)
    if abs(x - place[0]) > reach_mm:
        x = _ended(wall, float(round(place[0])), reach_mm)
    return x, coursing.bed_middle(course)


def _ended(wall: Wall, x: float, reach_mm: float) -> float:
    """Return x, or the end of the wall where that is within reach [mm]."""
    left, _bottom, right, _top = wall.gross.bounds
    return next((end for end in (left, right) if abs(end - x) <= reach_mm), x)


def on_wall(wall: Wall, place: Point) -> Point:
    """Return a place kept within the box round the wall [mm]."""
    left, bottom, right, top = wall.gross.bounds
    return min(max(place[0], left), right), min(max(place[1], bottom), top)


def along(start: float, x: float) -> float:
    """Return x moved so that the length from a start goes by whole steps [mm]."""
    return start + round((x - start) / STEP_MM) * STEP_MM


def brick_at(wall: Wall, place: Point) -> BrickPlace | None:
    """Return the brick at a place, its joint and bed with it; None off the wall."""
    course = wall.coursing.course_at(place[1])
    if course < 1:
        return None
    face = wall.coursing.rhythm(course).face_at(place[0])
    at = wall.place_of(course, face)
    if at < 1:
        return None
    brick = BrickPlace(course, at)
    left, bottom, right, top = box_of(wall, brick)
    samples = ((left + (right - left) * share, (bottom + top) / 2) for share in (0.25, 0.5, 0.75))
    return brick if any(wall.net.holds(one) for one in samples) else None


def box_of(wall: Wall, brick: BrickPlace) -> Box:
    """Return the box of a brick [mm]."""
    return wall.box_of(CrackedBrick(brick.course, brick.place, Treatment.LEAVE))


def between(one: Point, two: Point, step_mm: float) -> Iterator[Point]:
    """Yield places along a line so near each other that a stroke misses nothing [mm]."""
    count = max(math.ceil(math.dist(one, two) / step_mm), 1)
    for number in range(1, count + 1):
        share = number / count
        yield one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share


def onto(place: Point, points: tuple[Point, ...]) -> tuple[float, Point]:
    """Return how far a place lies from a line through points, and the nearest place on it [mm]."""
    best = math.inf, place
    for start, end in pairwise(points):
        across, up = end[0] - start[0], end[1] - start[1]
        length = across**2 + up**2
        share = 0.0
        if length:
            share = ((place[0] - start[0]) * across + (place[1] - start[1]) * up) / length
            share = min(max(share, 0.0), 1.0)
        at = start[0] + share * across, start[1] + share * up
        best = min(best, (math.dist(place, at), at))
    return best
