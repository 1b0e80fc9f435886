"""Whether an outline drawn by hand bounds anything: no corner twice, no side across another."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from estimator.masonry.region import Point

LEAST_AREA_MM2 = 10_000.0
"""Smallest outline that can hold a repair, a hundredth of a square metre; house rule [mm²]."""


def area_mm2(outline: Sequence[Point]) -> float:
    """Return the area inside an outline, whichever way round it is drawn [mm²].

    >>> area_mm2([(0, 0), (4, 0), (4, 2), (0, 2)])
    8.0
    """
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(_closed(outline)))) / 2


def fault_of(outline: Sequence[Point]) -> tuple[str, str]:
    """Return what is wrong with an outline and what would do, or two empty texts.

    >>> fault_of([(0, 0), (400, 400), (400, 0), (0, 400)])[0]
    'has a side from point 1 that crosses the side from point 3'
    """
    sides = list(pairwise(_closed(outline)))
    for number, (start, end) in enumerate(sides, 1):
        if start == end:
            return (f"has point {number} again straight after it", "write each corner once")
    crossed = _crossed(sides)
    if crossed is not None:
        one, two = crossed
        return (
            f"has a side from point {one + 1} that crosses the side from point {two + 1}",
            "write the corners in order round the wall",
        )
    if area_mm2(outline) < LEAST_AREA_MM2:
        return ("has next to no area", "write the corners in mm, in order round the wall")
    return ("", "")


def _closed(outline: Sequence[Point]) -> list[Point]:
    """Return the corners with the first again at the end."""
    return [*outline, outline[0]]


def _crossed(sides: Sequence[tuple[Point, Point]]) -> tuple[int, int] | None:
    """Return the first two sides that cross, touch or fold back on each other."""
    last = len(sides) - 1
    for one in range(len(sides)):
        for two in range(one + 1, len(sides)):
            # Neighbours always share a corner; they are wrong only when one lies on the other.
            if two == one + 1:
                bad = _folds_back(sides[one], sides[two])
            elif (one, two) == (0, last):
                bad = _folds_back(sides[two], sides[one])
            else:
                bad = _meet(sides[one], sides[two])
            if bad:
                return one, two
    return None


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return twice the area of a triangle: above nothing when it turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _folds_back(one: tuple[Point, Point], two: tuple[Point, Point]) -> bool:
    """Whether the second side runs straight back along the first."""
    (a, b), (_b, c) = one, two
    ahead = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return _turn(a, b, c) == 0 and ahead < 0


def _meet(one: tuple[Point, Point], two: tuple[Point, Point]) -> bool:
    """Whether two sides that are not neighbours have a place in common."""
    (a, b), (c, d) = one, two
    # Boxes apart settle most pairs, and keep sides in one line from seeming to meet.
    for axis in (0, 1):
        if max(a[axis], b[axis]) < min(c[axis], d[axis]):
            return False
        if max(c[axis], d[axis]) < min(a[axis], b[axis]):
            return False
    return _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0
