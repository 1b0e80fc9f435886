"""A wall's courses: brick, bond and joints together, laid from the datum for ever in every way.

Courses are numbered from 1 upward from the datum at y = 0. Each course stands on its own bed: bed
N is the bed joint under course N. A panel of n courses therefore has n beds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from estimator.masonry.bond import Bond, CoursePattern, face_length_mm
from estimator.masonry.brick import BrickFormat
from estimator.masonry.rhythm import Rhythm


@dataclass(frozen=True)
class Coursing:
    """Brick, bond, bed thickness and perpend width of a wall [mm].

    Where two headers and a perpend are not as long as a stretcher, courses of headers drift along
    courses of stretchers away from the datum. A bricklayer takes that up in the perpends; here it
    stays, a few millimetres to the metre, so that every perpend keeps the width it was given.
    """

    brick: BrickFormat
    bond: Bond
    bed_mm: float
    perpend_mm: float

    @cached_property
    def face_height_mm(self) -> float:
        """Height of the faces in a course, which is the net height of a perpend [mm]."""
        return self.brick.width_mm if self.bond.is_on_edge else self.brick.height_mm

    @cached_property
    def gauge_mm(self) -> float:
        """Height of one course with its bed [mm]."""
        return self.face_height_mm + self.bed_mm

    def bed_bottom(self, course: int) -> float:
        """Return the underside of the bed under a course [mm]."""
        return (course - 1) * self.gauge_mm

    def bed_middle(self, course: int) -> float:
        """Return the middle of the bed under a course [mm]."""
        return self.bed_bottom(course) + self.bed_mm / 2

    def course_bottom(self, course: int) -> float:
        """Return the underside of the bricks of a course [mm]."""
        return self.bed_bottom(course) + self.bed_mm

    def course_top(self, course: int) -> float:
        """Return the top of the bricks of a course [mm]."""
        return course * self.gauge_mm

    def course_middle(self, course: int) -> float:
        """Return the level half-way up the bricks of a course [mm]."""
        return self.course_bottom(course) + self.face_height_mm / 2

    def course_at(self, y: float) -> int:
        """Return the course whose bed or bricks hold a level.

        >>> from estimator.masonry.brick import brick_format
        >>> from estimator.masonry.bond import bond
        >>> laid(brick_format("uk_metric"), bond("stretcher")).course_at(80.0)
        2
        """
        return math.floor(y / self.gauge_mm) + 1

    def nearest_bed(self, y: float) -> int:
        """Return the bed nearest to a level: that between the mid-heights of two courses.

        >>> from estimator.masonry.brick import brick_format
        >>> from estimator.masonry.bond import bond
        >>> [laid(brick_format("uk_metric"), bond("stretcher")).nearest_bed(y) for y in (40, 50)]
        [1, 2]
        """
        return self.course_at(y - self.bed_mm - self.face_height_mm / 2) + 1

    def courses_in(self, height_mm: float) -> int:
        """Return the number of courses nearest to a height."""
        return round(height_mm / self.gauge_mm)

    def rhythm(self, course: int) -> Rhythm:
        """Return the run of faces and perpends of a course."""
        rhythms = self.rhythms
        return rhythms[(course - 1) % len(rhythms)]

    @cached_property
    def rhythms(self) -> tuple[Rhythm, ...]:
        """The rhythm of each course of the bond's vertical repeat, lowest first."""
        plumbed = [self._set_out(pattern) for pattern in self.bond.courses]
        # Course 1 starts at the datum, and the others come plumb with it.
        line = plumbed[0][1]
        return tuple(Rhythm(faces, self.perpend_mm, line - at) for faces, at in plumbed)

    def _set_out(self, pattern: CoursePattern) -> tuple[tuple[float, ...], float]:
        """Return the faces of a course, and how far along them its plumbed place is [mm]."""
        faces = tuple(face_length_mm(face, self.brick) for face in pattern.faces)
        whole, part = int(pattern.plumb), pattern.plumb % 1
        before = sum(faces[:whole]) + whole * self.perpend_mm
        if part:
            return faces, before + faces[whole] + self.perpend_mm / 2
        return faces, before + faces[whole] / 2


def laid(
    brick: BrickFormat,
    bond: Bond,
    *,
    bed_mm: float | None = None,
    perpend_mm: float | None = None,
) -> Coursing:
    """Return the coursing of a wall; joints not given are the format's own [mm].

    Raises:
        ValueError: for a joint that is not positive.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> laid(brick_format("uk_metric"), bond("stretcher")).gauge_mm
    75.0
    """
    bed = brick.bed_mm if bed_mm is None else bed_mm
    perpend = brick.perpend_mm if perpend_mm is None else perpend_mm
    if bed <= 0 or perpend <= 0:
        raise ValueError("joints are thicker than nothing")
    return Coursing(brick, bond, float(bed), float(perpend))
