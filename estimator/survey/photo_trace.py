"""Following a dark line on a photograph from one click to the next: an offer, never a finding.

The strip between two clicks is gone through from end to end, and of all ways the cheapest is taken:
along a thin dark line a step costs little, anywhere else much. How far the line can be believed is
told by comparison: the same is done beside it, where nobody clicked, and a line hardly darker than
what is found there is none. A dark joint is a dark line as well; only a person can tell it from a
crack.

Libraries for this (scikit-image has one) bring a hundred megabytes to a program that does it once a
click, so it is done here. Every step goes onward, by two to the side at the most: where a crack
turns back, or aside by more than 60°, one clicks once more.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean

from estimator.masonry.region import Point
from estimator.notices import UserMistake

Patch = Sequence[Sequence[int]]
"""Rows of grey, 0 for black to 255 for white."""
Rows = list[list[float]]
"""One row for each way beside the straight line, each from the first click to the second."""
BELIEVED = 0.5
"""Confidence from which a line is offered without a question; house rule."""
MOST_LENGTH_PX = 900
"""Between two clicks; house rule."""
ASIDE_SHARE, ASIDE_LEAST_PX = 0.15, 24
"""How far a line may stray from the straight one: a share of its length, or so many pixels."""
BESIDE_PX = (3, 6)
"""How far beside a place the wall must be lighter for it to be on a line; the wider is for wide
cracks. House rule."""
EDGE_PX = 6
"""More is looked at than may be gone through, for what lies beside."""
CLEAR_PX = 6
"""A line beside another keeps so far away from it."""
SIDEWAYS = tuple((step, math.hypot(1, step)) for step in (-2, -1, 0, 1, 2))
GROUND = 0.04
"""What each step costs on the darkest line, so that lines do not wander; house rule."""
LEAST_DARK = 10.0
"""Grey by which a line must be darker than its sides to count in full; house rule."""
CONTRAST_SHARE = 1.5
"""And by this share of how far greys differ all round (one standard deviation); house rule."""
DARK_SHARE = 0.97
BRIDGED = 4
"""One place in so many may be bridged."""
CLOSED = 1e9


@dataclass(frozen=True, slots=True)
class Traced:
    """A line that was followed."""

    points: tuple[Point, ...]
    """From the first click to the second, a pixel apart. [px]"""
    confidence: float
    """From 0, no line to be told from what lies beside, to 1."""

    @property
    def is_believed(self) -> bool:
        """Whether it may be offered without asking."""
        return self.confidence >= BELIEVED


def traced(patch: Patch, start: Point, end: Point) -> Traced:
    """Return the dark line between two places of a grey picture.

    Raises:
        UserMistake: for places off the picture, in one, or too far from each other.

    >>> dark = [[0 if row == 20 else 200 for _ in range(60)] for row in range(40)]
    >>> line = traced(dark, (5.5, 20.5), (55.5, 20.5))
    >>> {round(y, 1) for _x, y in line.points}, line.is_believed
    ({20.5}, True)
    """
    strip = _Strip.between(patch, start, end)
    greys = _smoothed(strip.greys(patch))
    dark = _darkness(greys)
    full = max(LEAST_DARK, CONTRAST_SHARE * _spread(greys))
    scale = _scale(dark)
    costs = [[GROUND + 1.0 - min(1.0, one / scale) for one in row] for row in dark]
    middle = len(dark) // 2
    ways = _cheapest(costs, {middle}, {middle})
    return Traced(
        tuple(strip.place(along, way - middle) for along, way in enumerate(ways)),
        _confidence(dark, costs, ways) * min(1.0, _mean_darkness(dark, ways) / full),
    )


def thinned(points: Sequence[Point], within_px: float = 1.5) -> tuple[Point, ...]:
    """Return the fewest of the points from which no other lies further (Douglas and Peucker).

    >>> thinned([(0, 0), (1, 0.1), (2, 0), (2, 5)])
    ((0, 0), (2, 0), (2, 5))
    """
    if len(points) < 3:
        return tuple(points)
    far = [_from_line(one, points[0], points[-1]) for one in points]
    most = max(range(len(points)), key=far.__getitem__)
    if far[most] <= within_px:
        return points[0], points[-1]
    return (*thinned(points[: most + 1], within_px)[:-1], *thinned(points[most:], within_px))


@dataclass(frozen=True, slots=True)
class _Strip:
    """Where a picture is looked at: steps of a pixel along a straight line and beside it."""

    start: Point
    onward: Point
    steps: int
    aside: int

    @classmethod
    def between(cls, patch: Patch, start: Point, end: Point) -> _Strip:
        """Lay it between two clicks."""
        high, wide = len(patch), len(patch[0]) if patch else 0
        if not all(0 <= one[0] <= wide and 0 <= one[1] <= high for one in (start, end)):
            raise UserMistake("that place is off the photograph", do="click on the photograph")
        long = math.dist(start, end)
        if not 2 <= long <= MOST_LENGTH_PX:
            raise UserMistake(
                "there is no line to follow between these two places",
                why=f"they are in one, or further than {MOST_LENGTH_PX} pixels from each other",
                do="click again, nearer to the first",
            )
        # Whole steps, a little shorter or longer than a pixel, so that the last is on the click.
        steps = round(long)
        onward = (end[0] - start[0]) / steps, (end[1] - start[1]) / steps
        return cls(start, onward, steps, max(ASIDE_LEAST_PX, round(ASIDE_SHARE * long)))

    def place(self, along: int, beside: int) -> Point:
        """Return a place of the strip on the picture."""
        x, y = self.onward
        return self.start[0] + along * x - beside * y, self.start[1] + along * y + beside * x

    def greys(self, patch: Patch) -> Rows:
        """Return the grey at every place of the strip and a little around it."""
        aside = self.aside + EDGE_PX
        return [
            [
                _grey(patch, self.place(along, beside))
                for along in range(-EDGE_PX, self.steps + EDGE_PX + 1)
            ]
            for beside in range(-aside, aside + 1)
        ]


def _grey(patch: Patch, place: Point) -> float:
    """Return the grey at a place between the middles of pixels, that of the edge beyond it."""
    x = min(max(place[0] - 0.5, 0.0), len(patch[0]) - 1.0)
    y = min(max(place[1] - 0.5, 0.0), len(patch) - 1.0)
    left, top = min(int(x), len(patch[0]) - 2), min(int(y), len(patch) - 2)
    if left < 0 or top < 0:
        return float(patch[int(y)][int(x)])
    across, down = x - left, y - top
    upper, lower = patch[top], patch[top + 1]
    one = upper[left] + (upper[left + 1] - upper[left]) * across
    two = lower[left] + (lower[left + 1] - lower[left]) * across
    return one + (two - one) * down


def _smoothed(rows: Rows) -> Rows:
    """Return rows in which every place is the mean of itself and its neighbours."""
    return _each(_turned(_each(_turned(rows))))


def _each(rows: Rows) -> Rows:
    """Smooth from row to row."""
    return [
        [(a + 2 * b + c) / 4 for a, b, c in zip(one, two, three, strict=True)]
        for one, two, three in zip([rows[0], *rows], rows, [*rows[1:], rows[-1]], strict=False)
    ]


def _turned(rows: Iterable[Sequence[float]]) -> Rows:
    return [list(column) for column in zip(*rows, strict=True)]


def _darkness(rows: Rows) -> Rows:
    """Return by how much each place is darker than both its sides, whichever way shows most."""
    wide = len(rows[0]) - 2 * EDGE_PX
    middle = slice(EDGE_PX, EDGE_PX + wide)
    found = []
    for at in range(EDGE_PX, len(rows) - EDGE_PX):
        here = rows[at][middle]
        best = [0.0] * wide
        for far in BESIDE_PX:
            for aside, along in ((0, far), (far, 0), (far, far), (far, -far)):
                one = rows[at - aside][EDGE_PX - along : EDGE_PX - along + wide]
                two = rows[at + aside][EDGE_PX + along : EDGE_PX + along + wide]
                lighter = map(min, one, two)
                best = [
                    max(most, side - grey)
                    for most, side, grey in zip(best, lighter, here, strict=True)
                ]
        found.append(best)
    return found


def _spread(rows: Rows) -> float:
    """Return how far greys differ, as one standard deviation."""
    middle = fmean(one for row in rows for one in row)
    return math.sqrt(fmean((one - middle) ** 2 for row in rows for one in row))


def _scale(dark: Rows) -> float:
    """Return the darkness that counts in full: of the darkest few in a hundred places."""
    ordered = sorted(one for row in dark for one in row)
    return max(LEAST_DARK, ordered[int(DARK_SHARE * (len(ordered) - 1))])


def _cheapest(costs: Rows, first: set[int], last: set[int]) -> list[int]:
    """Return the row of each place of the cheapest way from one end to the other."""
    columns = _turned(costs)
    high = len(costs)
    spent = [0.0 if row in first else CLOSED for row in range(high)]
    before: list[list[int]] = []
    pad = [CLOSED, CLOSED]
    for column in columns[1:]:
        wide = [*pad, *spent, *pad]
        ways = [
            min((wide[row + 2 - step] + far * cost, row - step) for step, far in SIDEWAYS)
            for row, cost in enumerate(column)
        ]
        spent = [cost for cost, _row in ways]
        before.append([row for _cost, row in ways])
    row = min(last, key=spent.__getitem__)
    line = [row]
    for rows in reversed(before):
        row = min(max(rows[row], 0), high - 1)
        line.append(row)
    return line[::-1]


def _confidence(dark: Rows, costs: Rows, ways: Sequence[int]) -> float:
    """Return how much darker a line is than the best that can be found beside it."""
    mean = _mean_darkness(dark, ways)
    if mean <= 0:
        return 0.0
    closed = [
        [
            CLOSED if abs(row - way) <= CLEAR_PX else cost
            for cost, way in zip(line, ways, strict=True)
        ]
        for row, line in enumerate(costs)
    ]
    free = {row for row in range(len(costs)) if abs(row - ways[0]) > CLEAR_PX}
    ends = {row for row in range(len(costs)) if abs(row - ways[-1]) > CLEAR_PX}
    beside = _mean_darkness(dark, _cheapest(closed, free, ends))
    return max(0.0, 1.0 - beside / mean)


def _mean_darkness(dark: Rows, ways: Sequence[int]) -> float:
    """Return how dark a line is, leaving out the places that were bridged."""
    ordered = sorted(dark[row][along] for along, row in enumerate(ways))
    kept = ordered[len(ordered) // BRIDGED :]
    return sum(kept) / len(kept)


def _from_line(point: Point, start: Point, end: Point) -> float:
    """Return how far a point lies from the stretch between two others."""
    along = end[0] - start[0], end[1] - start[1]
    square = along[0] ** 2 + along[1] ** 2
    if not square:
        return math.dist(point, start)
    share = ((point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]) / square
    share = min(max(share, 0.0), 1.0)
    return math.dist(point, (start[0] + share * along[0], start[1] + share * along[1]))
