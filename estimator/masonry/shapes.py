"""What the screen and the paper both draw: the bricks of a wall as rectangles in millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Region


class Face(NamedTuple):
    """One brick as it shows in the wall, or the part of it that an edge leaves [mm].

    A named tuple and no dataclass: a wall has thousands, made anew for each drawing.
    """

    course: int
    number: int
    """Number of the brick in its course, as ``Rhythm`` counts them."""
    left: float
    bottom: float
    right: float
    top: float


def brick_faces(coursing: Coursing, region: Region) -> tuple[Face, ...]:
    """Return the bricks that show in a region, lowest course first and each from left to right.

    Each course is cut where the region's edges are at its mid-height, so a brick under a raking
    verge has an upright end, and one cut by an opening shows as a piece on either side. For drawing
    only: areas and lengths are measured in ``joints``, which cuts exactly [mm].

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> for face in brick_faces(wall, Region.rectangle(0, 0, 450, 75)):
    ...     print(face.course, face.number, face.left, face.bottom, face.right, face.top)
    1 0 0.0 10.0 215.0 75.0
    1 1 225.0 10.0 440.0 75.0
    """
    stretches = stretches_of(coursing, region)
    return tuple(face for one in stretches for face in faces_in(coursing, *one))


def stretches_of(coursing: Coursing, region: Region) -> Iterator[tuple[int, float, float]]:
    """Yield each course of a region from the lowest, with where each part of it begins and ends.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> list(stretches_of(wall, Region.rectangle(0, 0, 450, 150)))
    [(1, 0.0, 450.0), (2, 0.0, 450.0)]
    """
    if not region:
        return
    _, low, _, high = region.bounds
    for course in range(coursing.course_at(low), coursing.course_at(high) + 1):
        # One level for the whole course keeps every drawn brick a rectangle.
        level = coursing.course_bottom(course) + coursing.face_height_mm / 2
        for start, end in region.spans_at(level):
            yield course, start, end


def faces_in(coursing: Coursing, course: int, start: float, end: float) -> tuple[Face, ...]:
    """Return the bricks of a course between two places, from left to right [mm].

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> [face.right for face in faces_in(wall, 1, 0, 450)]
    [215.0, 440.0]
    """
    bottom = coursing.course_bottom(course)
    top = bottom + coursing.face_height_mm
    return tuple(
        Face(course, number, max(left, start), bottom, min(right, end), top)
        for number, left, right in coursing.rhythm(course).faces_between(start, end)
    )
