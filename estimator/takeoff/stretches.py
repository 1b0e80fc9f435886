"""Stretches along a bed and boxes on a wall: joining, taking away, and clipping regions to them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from estimator.masonry.region import NEAR_MM, NOWHERE, Point, Region, Trapezoid

Stretch = tuple[float, float]
"""From left to right along a bed [mm]."""


class Box(NamedTuple):
    """A rectangle on an elevation [mm]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its corners, anticlockwise from the lower left."""
        return (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )

    def holds(self, other: Box) -> bool:
        """Whether another box lies wholly in it, edges touching or not.

        >>> Box(0, 0, 9, 9).holds(Box(1, 1, 9, 9))
        True
        """
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and self.right >= other.right
            and self.top >= other.top
        )

    def joined(self, other: Box) -> Box:
        """Return the smallest box round both.

        >>> Box(0, 0, 1, 1).joined(Box(3, 2, 4, 5))
        Box(left=0, bottom=0, right=4, top=5)
        """
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def wider(self, by: float) -> Box:
        """Return the box grown on every side [mm].

        >>> Box(1, 1, 2, 2).wider(1)
        Box(left=0, bottom=0, right=3, top=3)
        """
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    @property
    def area_mm2(self) -> float:
        """Area [mm²]."""
        return (self.right - self.left) * (self.top - self.bottom)


def merged(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Return stretches from left to right, those that touch or overlap made one.

    >>> merged([(5, 9), (0, 2), (2, 3)])
    [(0, 3), (5, 9)]
    """
    joined: list[Stretch] = []
    for left, right in sorted(stretches):
        if joined and left <= joined[-1][1] + NEAR_MM:
            if right > joined[-1][1]:
                joined[-1] = (joined[-1][0], right)
        else:
            joined.append((left, right))
    return joined


def less(stretches: Iterable[Stretch], taken: Sequence[Stretch]) -> list[Stretch]:
    """Return what is left of stretches when others are taken out of them.

    >>> less([(0, 10)], [(2, 3), (8, 12)])
    [(0, 2), (3, 8)]
    """
    left_over = merged(stretches)
    for start, end in taken:
        kept: list[Stretch] = []
        for left, right in left_over:
            if start >= right or end <= left:
                kept.append((left, right))
                continue
            if start - left > NEAR_MM:
                kept.append((left, start))
            if right - end > NEAR_MM:
                kept.append((end, right))
        left_over = kept
    return left_over


def clipped(region: Region, box: Box) -> Region:
    """Return what of a region lies in a box.

    >>> clipped(Region.rectangle(0, 0, 4, 4), Box(2, 2, 9, 9)).area_mm2
    4.0
    """
    parts = region.between(box.bottom, box.top)
    if not all(part.is_upright for part in parts):
        return region.within(Region.rectangle(*box))
    kept = []
    for part in parts:
        # Upright parts need no sweep, and most walls have no others.
        left, right = max(part.left_bottom, box.left), min(part.right_bottom, box.right)
        if right - left > NEAR_MM:
            kept.append(Trapezoid(part.bottom, part.top, left, left, right, right))
    return Region(tuple(kept)) if kept else NOWHERE


def is_all(region: Region, box: Box) -> bool:
    """Whether one part of a region holds a whole box: quickly told, and no means not sure.

    >>> is_all(Region.rectangle(0, 0, 9, 9), Box(1, 1, 9, 9))
    True
    """
    return any(
        part.is_upright
        and part.left_bottom <= box.left
        and part.right_bottom >= box.right
        and part.bottom <= box.bottom
        and part.top >= box.top
        for part in region.parts
    )


def share_in(region: Region, box: Box) -> float:
    """Return how much of a box lies in a region, from 0 to 1.

    >>> share_in(Region.rectangle(0, 0, 4, 4), Box(2, 0, 6, 4))
    0.5
    """
    return clipped(region, box).area_mm2 / box.area_mm2
