"""Bed and perpend lengths in any region, by laying the courses and clipping them.

Two routes to the same figures. ``joints_in`` lays every course and clips it to the region exactly.
``per_square_metre`` divides out the bond's repeat. On whole repeats they agree to the last bit
that matters; in a real region with edges and openings only the first is right.

Perpends are measured net, between the beds, so that length times thickness is the area of mortar
without counting a crossing twice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import NEAR_MM, Region, Trapezoid
from estimator.masonry.rhythm import Cover, Everything, Stretch

MM_PER_M = 1000.0
MM2_PER_M2 = 1_000_000.0


@dataclass(frozen=True, slots=True)
class Joints:
    """The joints in a region."""

    area_m2: float
    """Net area of the region [m²]."""
    bed_m: float
    """Length of bed joint: its area divided by its thickness [m]."""
    perpend_m: float
    """Net length of perpend [m]."""
    perpends: float
    """Number of perpends, parts counted as parts [nr]."""
    bed_mm: float
    perpend_mm: float

    @property
    def joint_m(self) -> float:
        """All joint, beds and perpends [m]."""
        return self.bed_m + self.perpend_m

    @property
    def joint_area_m2(self) -> float:
        """Area of mortar on the face [m²]."""
        return (self.bed_m * self.bed_mm + self.perpend_m * self.perpend_mm) / MM_PER_M

    def mortar_litres(self, depth_mm: float) -> float:
        """Volume of all the joints to a depth [L].

        >>> round(Joints(1, 13.3333, 3.8519, 59.26, 10, 10).mortar_litres(20), 3)
        3.437
        """
        return self.joint_area_m2 * depth_mm

    def __add__(self, other: Joints) -> Joints:
        if (self.bed_mm, self.perpend_mm) != (other.bed_mm, other.perpend_mm):
            raise ValueError("joints of different thickness are not added")
        return Joints(
            self.area_m2 + other.area_m2,
            self.bed_m + other.bed_m,
            self.perpend_m + other.perpend_m,
            self.perpends + other.perpends,
            self.bed_mm,
            self.perpend_mm,
        )


@lru_cache(maxsize=256)
def per_square_metre(coursing: Coursing) -> Joints:
    """Return the joints in an average square metre of a bond, from its repeat.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> each = per_square_metre(laid(brick_format("uk_metric"), bond("flemish")))
    >>> round(each.perpends, 3), round(each.joint_m, 3)
    (79.012, 18.469)
    """
    rhythms = coursing.rhythms
    perpends_per_mm = sum(len(one.faces_mm) / one.repeat_mm for one in rhythms) / len(rhythms)
    courses_per_m = MM_PER_M / coursing.gauge_mm
    perpends = perpends_per_mm * MM_PER_M * courses_per_m
    return Joints(
        1.0,
        courses_per_m,
        perpends * coursing.face_height_mm / MM_PER_M,
        perpends,
        coursing.bed_mm,
        coursing.perpend_mm,
    )


def joints_in(coursing: Coursing, region: Region) -> Joints:
    """Return the joints in a region, every course laid and clipped to it exactly.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("english"))
    >>> found = joints_in(wall, Region.rectangle(0, 0, 2250, 1500))
    >>> round(found.perpends, 9), round(found.bed_m, 9), round(found.joint_m, 9)
    (300.0, 45.0, 64.5)
    """
    bed_area = perpend_area = 0.0
    for part in region.parts:
        # Most of any wall is rectangles, and those are far cheaper.
        measured = _in_rectangle if part.is_upright else _in_trapezoid
        beds, perpends = measured(coursing, part)
        bed_area += beds
        perpend_area += perpends
    # In a sliver with no joint the sums leave binary noise, which may lie below nothing.
    bed_area, perpend_area = max(bed_area, 0.0), max(perpend_area, 0.0)
    each = coursing.perpend_mm * coursing.face_height_mm
    return Joints(
        region.area_mm2 / MM2_PER_M2,
        bed_area / coursing.bed_mm / MM_PER_M,
        perpend_area / coursing.perpend_mm / MM_PER_M,
        perpend_area / each,
        coursing.bed_mm,
        coursing.perpend_mm,
    )


def bed_in(coursing: Coursing, region: Region, course: int, *, left: float, right: float) -> float:
    """Return how much of a stretch of one bed lies in a region [m].

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> bed_in(wall, Region.rectangle(0, 0, 1000, 1500), 3, left=600, right=1600)
    0.4
    """
    bottom = coursing.bed_bottom(course)
    stretch = Stretch(left, right)
    area = sum(_covered(part, stretch) for part in region.between(bottom, bottom + coursing.bed_mm))
    return area / coursing.bed_mm / MM_PER_M


def _covered(part: Trapezoid, cover: Cover) -> float:
    """Return the area of a cover inside a trapezoid, sides slanted or not [mm²]."""
    height = part.top - part.bottom
    return height * (
        _mean_upto(cover, part.right_bottom, part.right_top)
        - _mean_upto(cover, part.left_bottom, part.left_top)
    )


def _mean_upto(cover: Cover, low: float, high: float) -> float:
    """Return the mean of what lies left of a straight side between its two ends [mm]."""
    # An upright side would divide by nothing, and a nearly upright one by what rounding left.
    if abs(high - low) <= NEAR_MM:
        return cover.upto((low + high) / 2)
    return (cover.running(high) - cover.running(low)) / (high - low)


def _in_rectangle(coursing: Coursing, part: Trapezoid) -> tuple[float, float]:
    """Return bed and perpend area in a rectangle, course by course of the repeat [mm²]."""
    # Courses of one rhythm are taken together, so that a high wall costs no more than a low one.
    left, right = part.left_bottom, part.right_bottom
    bottom, top = part.bottom, part.top
    gauge, bed = coursing.gauge_mm, coursing.bed_mm
    rhythms = coursing.rhythms
    beds = _banded(bottom, top, bed, gauge) * (right - left)
    perpends = 0.0
    for number, rhythm in enumerate(rhythms):
        start = number * gauge + bed
        height = _banded(bottom - start, top - start, gauge - bed, gauge * len(rhythms))
        if height:
            perpends += height * (rhythm.upto(right) - rhythm.upto(left))
    return beds, perpends


def _banded(bottom: float, top: float, thickness: float, repeat: float) -> float:
    """Return how much of a height is taken by bands that start at 0 and repeat up the wall [mm]."""
    low, high = math.floor(bottom / repeat), math.floor(top / repeat)
    return (
        (high - low) * thickness
        + min(top - high * repeat, thickness)
        - min(bottom - low * repeat, thickness)
    )


def _in_trapezoid(coursing: Coursing, part: Trapezoid) -> tuple[float, float]:
    """Return bed and perpend area in a trapezoid with slanted sides [mm²]."""
    # Under a slanted side every course has its own width, so here they go one by one.
    beds = perpends = 0.0
    everything = Everything()
    first, last = coursing.course_at(part.bottom), coursing.course_at(part.top)
    for course in range(first, last + 1):
        bed = part.between(coursing.bed_bottom(course), coursing.course_bottom(course))
        if bed is not None:
            beds += _covered(bed, everything)
        row = part.between(coursing.course_bottom(course), coursing.course_top(course))
        if row is not None:
            perpends += _covered(row, coursing.rhythm(course))
    return beds, perpends
