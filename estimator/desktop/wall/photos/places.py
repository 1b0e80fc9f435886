"""Places a person can name on a photograph and on the drawing alike: counted, or snapped to."""

from __future__ import annotations

import math
from collections.abc import Iterator

from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.survey.photo_points import points_from_counting
from estimator.survey.survey import Elevation
from estimator.survey.wall import Wall, wall_of

SAME_MM = 1.0
"""Places nearer than this are one: the file keeps whole millimetres."""
PLUMB_MM = 16.0
"""A perpend so near over another is plumb with it: one and a half joints; house rule."""

Count = tuple[int, int]
"""Courses up, and bricks along."""


def counted_at(elevation: Elevation, place: Point) -> Count | None:
    """Return how a place is counted, None where it is no joint crossing that can be."""
    wall = wall_of(elevation)
    coursing = wall.coursing
    up = round((place[1] - coursing.bed_middle(1)) / coursing.gauge_mm)
    if up < 0 or abs(coursing.bed_middle(up + 1) - place[1]) > SAME_MM:
        return None
    face = coursing.rhythm(up + 1).nearest_perpend(place[0])
    for along in (max(wall.place_of(up + 1, face), 0), 0):
        found = place_counted(elevation, (up, along))
        if found is not None and abs(found[0] - place[0]) <= SAME_MM:
            return up, along
    return None


def place_counted(elevation: Elevation, count: Count) -> Point | None:
    """Return the place that is counted so, None where the wall does not reach so far [mm].

    After the last brick of a course that is the end of the wall: no joint is seen there.
    """
    try:
        x, level = points_from_counting(elevation, *count)
    except UserMistake:
        return None
    end = wall_of(elevation).gross.spans_at(level)[-1][1]
    if x <= end:
        return x, level
    up, along = count
    before = points_from_counting(elevation, up, along - 1)[0] if along > 0 else x
    joint = wall_of(elevation).coursing.perpend_mm
    return (end, level) if before < end - joint else None


def plumb_with(elevation: Elevation, courses_up: int, x: float) -> int | None:
    """Return how many bricks along a crossing lies plumb over or under a place, None for none."""
    wall = wall_of(elevation)
    rhythm = wall.coursing.rhythm(courses_up + 1)
    along = wall.place_of(courses_up + 1, rhythm.nearest_perpend(x))
    for bricks in (along, 0):
        found = place_counted(elevation, (courses_up, bricks)) if bricks >= 0 else None
        if found is not None and abs(found[0] - x) <= PLUMB_MM:
            return bricks
    return None


def nearest_known(elevation: Elevation, place: Point) -> Point:
    """Return the nearest place that is seen on photograph and drawing alike [mm].

    Joint crossings, and the corners of openings and of the wall.
    """
    wall = wall_of(elevation)
    known = [*_crossings(wall, place), *_corners(elevation)]
    return min(known, key=lambda one: math.dist(one, place))


def _crossings(wall: Wall, place: Point) -> Iterator[Point]:
    """Yield the crossings round a place: a perpend stands on a bed, or hangs from it."""
    coursing = wall.coursing
    left, bottom, right, top = wall.gross.bounds
    middle = coursing.course_at(place[1])
    for course in range(middle - 1, middle + 3):
        level = coursing.bed_middle(course)
        for standing in (course, course - 1):
            rhythm = coursing.rhythm(standing)
            x = rhythm.perpend_after(rhythm.nearest_perpend(place[0]))
            if left <= x <= right and bottom <= level <= top:
                yield x, level


def _corners(elevation: Elevation) -> Iterator[Point]:
    yield from elevation.outline
    for opening in elevation.openings:
        left, bottom = opening.left_mm, opening.bottom_mm
        for x in (left, left + opening.width_mm):
            for y in (bottom, bottom + opening.height_mm):
                yield x, y
