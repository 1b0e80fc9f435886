"""Regions of a wall: any polygons, put together and cut out, measured exactly.

A region is kept as trapezoids with level tops and bottoms that never overlap, so that whatever is
measured in it is measured once. Lengths are millimetres.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

Point = tuple[float, float]
"""A point on an elevation, (x, y) [mm]."""

Ring = Sequence[Point]
Keep = Callable[[tuple[bool, ...]], bool]

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


@dataclass(frozen=True, slots=True)
class _Edge:
    """One slanted or upright side of a ring, lower end first; level sides bound nothing."""

    owner: int
    turn: int
    x0: float
    y0: float
    x1: float
    y1: float

    def x_at(self, y: float) -> float:
        """Return where the edge is at a level, exact at both of its ends."""
        if y == self.y1:
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
        return _sweep([list(rings)], any)

    @classmethod
    def rectangle(cls, left: float, bottom: float, right: float, top: float) -> Region:
        """Return a rectangle; one without width or height is empty.

        >>> Region.rectangle(0, 0, 3, 2).area_mm2
        6.0
        """
        if right - left <= NEAR_MM or top - bottom <= NEAR_MM:
            return NOWHERE
        return cls((Trapezoid(bottom, top, left, left, right, right),))

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
        """Return this and the others together, overlaps counted once."""
        return _sweep([region.rings() for region in (self, *others)], any)

    def within(self, other: Region) -> Region:
        """Return what lies in both.

        >>> Region.rectangle(0, 0, 4, 4).within(Region.rectangle(2, 2, 9, 9)).area_mm2
        4.0
        """
        return _sweep([self.rings(), other.rings()], all)

    def without(self, other: Region) -> Region:
        """Return what lies in this and not in the other.

        >>> Region.rectangle(0, 0, 4, 4).without(Region.rectangle(2, 2, 9, 9)).area_mm2
        12.0
        """
        if not other:
            return self
        return _sweep([self.rings(), other.rings()], lambda held: held[0] and not held[1])

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
        """Return the stretches it covers at a level, from left to right, joined where they touch.

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
        """Whether a point lies in it.

        >>> Region.rectangle(0, 0, 2, 2).holds((1, 1))
        True
        """
        return any(left <= point[0] <= right for left, right in self.spans_at(point[1]))


NOWHERE = Region(())


def _edges(groups: Sequence[Iterable[Ring]]) -> list[_Edge]:
    """Return the edges of every ring, each knowing its group and which way it turned."""
    edges = []
    for owner, rings in enumerate(groups):
        for ring in rings:
            for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], ring[0]), strict=True):
                if ya < yb:
                    edges.append(_Edge(owner, 1, xa, ya, xb, yb))
                elif yb < ya:
                    edges.append(_Edge(owner, -1, xb, yb, xa, ya))
    return edges


def _crossing(one: _Edge, two: _Edge) -> float | None:
    """Return the level at which two edges cross, or None."""
    low, high = max(one.y0, two.y0), min(one.y1, two.y1)
    if low >= high:
        return None
    apart_low = one.x_at(low) - two.x_at(low)
    apart_high = one.x_at(high) - two.x_at(high)
    if apart_low * apart_high >= 0:
        return None
    return low + (high - low) * apart_low / (apart_low - apart_high)


def _levels(edges: Sequence[_Edge]) -> list[float]:
    """Return every level at which something begins, ends or crosses, lowest first."""
    found = {edge.y0 for edge in edges} | {edge.y1 for edge in edges}
    slanted = [edge for edge in edges if edge.x0 != edge.x1]
    for one in slanted:
        for two in edges:
            level = _crossing(one, two) if two is not one else None
            if level is not None:
                found.add(level)
    levels: list[float] = []
    for level in sorted(found):
        if not levels or level - levels[-1] > NEAR_MM:
            levels.append(level)
    return levels


def _sweep(groups: Sequence[Iterable[Ring]], keep: Keep) -> Region:
    """Put groups of rings together by a rule on which groups hold a place (non-zero winding)."""
    edges = _edges(groups)
    levels = _levels(edges)
    parts: list[Trapezoid] = []
    below: dict[tuple[float, float, float], int] = {}
    for bottom, top in zip(levels, levels[1:], strict=False):
        here: dict[tuple[float, float, float], int] = {}
        for left, right in _pairs(edges, bottom, top, len(groups), keep):
            part = Trapezoid(
                bottom, top, left.x_at(bottom), left.x_at(top), right.x_at(bottom), right.x_at(top)
            )
            # Rectangles of one width standing on each other are one rectangle again, so that a
            # wall keeps few parts however many openings it is cut by.
            key = (part.left_bottom, part.right_bottom, bottom)
            lower = below.get(key) if part.is_upright else None
            if lower is not None:
                old = parts[lower]
                parts[lower] = Trapezoid(
                    old.bottom, top, old.left_bottom, old.left_top, old.right_bottom, old.right_top
                )
            else:
                lower = len(parts)
                parts.append(part)
            if part.is_upright:
                here[part.left_bottom, part.right_bottom, top] = lower
        below = here
    return Region(tuple(parts))


def _pairs(
    edges: Sequence[_Edge], bottom: float, top: float, groups: int, keep: Keep
) -> Iterable[tuple[_Edge, _Edge]]:
    """Yield the left and right edge of each kept stretch between two neighbouring levels."""
    middle = (bottom + top) / 2
    crossing = sorted(
        ((edge.x_at(middle), edge) for edge in edges if edge.y0 < middle < edge.y1),
        key=lambda pair: pair[0],
    )
    winding = [0] * groups
    opened: tuple[float, _Edge] | None = None
    for x, edge in crossing:
        winding[edge.owner] += edge.turn
        inside = keep(tuple(count != 0 for count in winding))
        if inside and opened is None:
            opened = (x, edge)
        elif not inside and opened is not None:
            if x - opened[0] > NEAR_MM:
                yield opened[1], edge
            opened = None
