"""Regions of a wall: any polygons, put together and cut out, measured exactly.

A region is kept as trapezoids with level tops and bottoms that never overlap, so that whatever is
measured in it is measured once. Lengths are millimetres.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from operator import itemgetter
from typing import NamedTuple

Point = tuple[float, float]
"""A point on an elevation, (x, y) [mm]."""

Ring = Sequence[Point]
"""A closed outline, turning either way; its last point joins its first."""

Keep = Callable[[int, int], bool]
"""Whether a place is kept, by how many rings of the first and of the second set hold it."""

NEAR_MM = 1e-7
"""Distances below this are the same place: a ten-thousandth of a micrometre."""


@dataclass(frozen=True, slots=True)
class Trapezoid:
    """A part of a region between two levels, with straight sides [mm]."""

    bottom: float
    top: float
    left_bottom: float
    left_top: float
    right_bottom: float
    right_top: float

    @property
    def area_mm2(self) -> float:
        """Area [mm²]."""
        widths = self.right_bottom - self.left_bottom + self.right_top - self.left_top
        return (self.top - self.bottom) * widths / 2

    @property
    def is_upright(self) -> bool:
        """Whether both sides are upright, which makes it a rectangle."""
        return self.left_bottom == self.left_top and self.right_bottom == self.right_top

    def sides_at(self, y: float) -> tuple[float, float]:
        """Return where the left and right sides are at a level [mm]."""
        if self.is_upright:
            return self.left_bottom, self.right_bottom
        share = (y - self.bottom) / (self.top - self.bottom)
        return (
            self.left_bottom + share * (self.left_top - self.left_bottom),
            self.right_bottom + share * (self.right_top - self.right_bottom),
        )

    def between(self, bottom: float, top: float) -> Trapezoid | None:
        """Return the part between two levels, or None where there is none."""
        low, high = max(bottom, self.bottom), min(top, self.top)
        if high - low <= NEAR_MM:
            return None
        left_low, right_low = self.sides_at(low)
        left_high, right_high = self.sides_at(high)
        return Trapezoid(low, high, left_low, left_high, right_low, right_high)


class _Edge(NamedTuple):
    """One slanted or upright side of a ring, lower end first; level sides bound nothing."""

    ring: int
    """Which ring it belongs to."""
    side: int
    """Which of the two sets of rings that ring belongs to, 0 or 1."""
    turn: int
    x0: float
    y0: float
    x1: float
    y1: float

    def x_at(self, y: float) -> float:
        """Return where the edge is at a level; beyond its ends, where the nearer end is."""
        # Levels nearly alike are taken as one, so a nearly level edge may be asked a hair beyond
        # its end; going on along it would shoot far out of the wall.
        if y <= self.y0 or self.x0 == self.x1:
            return self.x0
        if y >= self.y1:
            return self.x1
        return self.x0 + (self.x1 - self.x0) * (y - self.y0) / (self.y1 - self.y0)


@dataclass(frozen=True)
class Region:
    """A part of the plane as trapezoids that do not overlap."""

    parts: tuple[Trapezoid, ...]

    @classmethod
    def of(cls, *rings: Ring) -> Region:
        """Return everything inside any of the rings, overlaps counted once.

        >>> Region.of([(0, 0), (4, 0), (4, 2), (0, 2)], [(2, 0), (6, 0), (6, 2), (2, 2)]).area_mm2
        12.0
        """
        return _sweep(rings, (), _either)

    @classmethod
    def rectangle(cls, left: float, bottom: float, right: float, top: float) -> Region:
        """Return a rectangle; one without width or height is empty.

        >>> Region.rectangle(0, 0, 3, 2).area_mm2
        6.0
        """
        if right - left <= NEAR_MM or top - bottom <= NEAR_MM:
            return NOWHERE
        left, right = float(left), float(right)
        return cls((Trapezoid(float(bottom), float(top), left, left, right, right),))

    @cached_property
    def area_mm2(self) -> float:
        """Area [mm²]."""
        return sum(part.area_mm2 for part in self.parts)

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the smallest box around it; zeros when empty [mm]."""
        if not self.parts:
            return (0.0, 0.0, 0.0, 0.0)
        return (
            min(min(part.left_bottom, part.left_top) for part in self.parts),
            min(part.bottom for part in self.parts),
            max(max(part.right_bottom, part.right_top) for part in self.parts),
            max(part.top for part in self.parts),
        )

    def __bool__(self) -> bool:
        return bool(self.parts)

    def plus(self, *others: Region) -> Region:
        """Return this and the others together, overlaps counted once.

        >>> Region.rectangle(0, 0, 4, 4).plus(Region.rectangle(2, 2, 6, 6)).area_mm2
        28.0
        """
        rings = [ring for region in (self, *others) for ring in region.rings()]
        return _sweep(rings, (), _either)

    def within(self, other: Region) -> Region:
        """Return what lies in both.

        >>> Region.rectangle(0, 0, 4, 4).within(Region.rectangle(2, 2, 9, 9)).area_mm2
        4.0
        """
        return _sweep(self.rings(), other.rings(), _both)

    def without(self, other: Region) -> Region:
        """Return what lies in this and not in the other.

        >>> Region.rectangle(0, 0, 4, 4).without(Region.rectangle(2, 2, 9, 9)).area_mm2
        12.0
        """
        if not other:
            return self
        return _sweep(self.rings(), other.rings(), _first_alone)

    def rings(self) -> list[Ring]:
        """Return the parts as rings, anticlockwise."""
        return [
            (
                (part.left_bottom, part.bottom),
                (part.right_bottom, part.bottom),
                (part.right_top, part.top),
                (part.left_top, part.top),
            )
            for part in self.parts
        ]

    def between(self, bottom: float, top: float) -> tuple[Trapezoid, ...]:
        """Return the parts of it between two levels [mm]."""
        cut = (part.between(bottom, top) for part in self.parts)
        return tuple(part for part in cut if part is not None)

    def spans_at(self, y: float) -> tuple[tuple[float, float], ...]:
        """Return the stretches it covers just above a level, left to right, joined if they touch.

        >>> Region.rectangle(0, 0, 9, 9).without(Region.rectangle(2, 2, 4, 4)).spans_at(3)
        ((0.0, 2.0), (4.0, 9.0))
        """
        spans: list[tuple[float, float]] = []
        for left, right in sorted(
            part.sides_at(y) for part in self.parts if part.bottom <= y < part.top
        ):
            if spans and left - spans[-1][1] <= NEAR_MM:
                spans[-1] = (spans[-1][0], max(right, spans[-1][1]))
            else:
                spans.append((left, right))
        return tuple(spans)

    def holds(self, point: Point) -> bool:
        """Whether a point lies in it, or on its lower or side edges.

        >>> Region.rectangle(0, 0, 2, 2).holds((1, 1))
        True
        """
        return any(left <= point[0] <= right for left, right in self.spans_at(point[1]))


NOWHERE = Region(())


def _either(first: int, _second: int) -> bool:
    return first > 0


def _both(first: int, second: int) -> bool:
    return first > 0 and second > 0


def _first_alone(first: int, second: int) -> bool:
    return first > 0 and second == 0


def _edges_of(points: Ring, ring: int, side: int) -> Iterator[_Edge]:
    """Yield the edges of a ring, each knowing its ring and which way it turned."""
    for (xa, ya), (xb, yb) in zip(points, (*points[1:], *points[:1]), strict=True):
        if ya < yb:
            yield _Edge(ring, side, 1, float(xa), float(ya), float(xb), float(yb))
        elif yb < ya:
            yield _Edge(ring, side, -1, float(xb), float(yb), float(xa), float(ya))


def _crossing(one: _Edge, two: _Edge) -> float | None:
    """Return the level at which two edges cross, or None."""
    low, high = max(one.y0, two.y0), min(one.y1, two.y1)
    if low >= high:
        return None
    apart_low = one.x_at(low) - two.x_at(low)
    apart_high = one.x_at(high) - two.x_at(high)
    # Edges that only touch do so at an end of one of them, which is a level already.
    if apart_low * apart_high >= 0:
        return None
    return low + (high - low) * apart_low / (apart_low - apart_high)


def _levels(edges: Sequence[_Edge]) -> list[float]:
    """Return every level at which something begins, ends or crosses, lowest first."""
    found = {edge.y0 for edge in edges} | {edge.y1 for edge in edges}
    # Two upright edges never cross, and most walls have no others.
    slanted = [edge for edge in edges if edge.x0 != edge.x1]
    others = [edge for edge in edges if edge.x0 == edge.x1] if slanted else []
    for number, one in enumerate(slanted):
        crossings = (_crossing(one, two) for two in (*others, *slanted[number + 1 :]))
        found.update(level for level in crossings if level is not None)
    levels: list[float] = []
    for level in sorted(found):
        if not levels or level - levels[-1] > NEAR_MM:
            levels.append(level)
    return levels


def _sweep(first: Sequence[Ring], second: Sequence[Ring], keep: Keep) -> Region:
    """Put two sets of rings together by a rule on how many of each hold a place.

    A ring holds what it winds round, whichever way; each ring is counted by itself, so that two
    that turn opposite ways don't cancel out where they overlap.
    """
    edges: list[_Edge] = []
    for number, points in enumerate((*first, *second)):
        edges += _edges_of(points, number, int(number >= len(first)))
    edges.sort(key=lambda edge: edge.y0)
    parts: list[Trapezoid] = []
    waiting = iter(edges)
    coming = next(waiting, None)
    here: list[_Edge] = []
    for bottom, top in pairwise(_levels(edges)):
        # No edge ends or crosses another between two levels, so half-way up their order is sure.
        middle = (bottom + top) / 2
        here = [edge for edge in here if edge.y1 > middle]
        while coming is not None and coming.y0 < middle:
            if coming.y1 > middle:
                here.append(coming)
            coming = next(waiting, None)
        for left, right in _pairs(here, middle, keep):
            parts.append(_part(left, right, bottom, top))
    return Region(_stacked(parts))


def _part(left: _Edge, right: _Edge, bottom: float, top: float) -> Trapezoid:
    left_low, left_high = left.x_at(bottom), left.x_at(top)
    # Rounding can carry two sides past each other where they meet.
    right_low, right_high = max(right.x_at(bottom), left_low), max(right.x_at(top), left_high)
    return Trapezoid(bottom, top, left_low, left_high, right_low, right_high)


def _pairs(edges: Sequence[_Edge], middle: float, keep: Keep) -> Iterator[tuple[_Edge, _Edge]]:
    """Yield the left and right edge of each kept stretch at a level that no edge ends at."""
    winding: dict[int, int] = {}
    held = [0, 0]
    opened: tuple[float, _Edge] | None = None
    # At one place what opens comes before what closes, so that neighbours join into one stretch.
    crossing = sorted(((edge.x_at(middle), edge.turn, edge) for edge in edges), key=_place)
    for x, turn, edge in crossing:
        before = winding.get(edge.ring, 0)
        winding[edge.ring] = before + turn
        if before == 0:
            held[edge.side] += 1
        elif before + turn == 0:
            held[edge.side] -= 1
        inside = keep(held[0], held[1])
        if inside and opened is None:
            opened = (x, edge)
        elif not inside and opened is not None:
            if x - opened[0] > NEAR_MM:
                yield opened[1], edge
            opened = None


_place = itemgetter(0, 1)


def _stacked(parts: Iterable[Trapezoid]) -> tuple[Trapezoid, ...]:
    """Make one rectangle of those of one width standing on each other.

    A wall then keeps few parts however many openings it is cut by.
    """
    stacked: dict[tuple[float, float, float], Trapezoid] = {}
    slanted: list[Trapezoid] = []
    for part in parts:
        if not part.is_upright:
            slanted.append(part)
            continue
        left, right = part.left_bottom, part.right_bottom
        lower = stacked.pop((left, right, part.bottom), None)
        bottom = part.bottom if lower is None else lower.bottom
        stacked[left, right, part.top] = Trapezoid(bottom, part.top, left, left, right, right)
    return (*stacked.values(), *slanted)
