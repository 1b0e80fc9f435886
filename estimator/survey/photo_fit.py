"""The best square view through points: from places on a wall to places on its photograph.

A photograph of a flat wall maps the wall by a homography: eight numbers. Four points settle it.
More are fitted so that what is clicked and where the points are known to lie agree best, each
weighed by how well it is known: the maximum-likelihood fit of Hartley and Zisserman, Multiple View
Geometry in Computer Vision, 2nd ed., 2004, chapter 4, begun from their normalised direct linear
transform (from memory). The sums are small, so they are done in plain Python.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.masonry.region import Point

Row = tuple[float, ...]
Pair = tuple[Point, Point]
"""A place on the wall [mm] and the same place on the photograph [px]."""
UNKNOWNS = 8
MOST_STEPS = 60
SMALL_STEP = 1e-10
"""A step this small against the numbers it changes ends the fitting."""
WEIGHINGS = 2
"""How often the points are weighed anew; the weights hardly change after the first."""
LEAST_PIVOT = 1e-12
"""Below this an equation says nothing new, for numbers near 1."""


class NoFit(Exception):
    """The points leave the view open."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Where points lie and how far apart, so that the sums are done with numbers near 1."""

    x: float
    y: float
    size: float

    def inward(self, point: Point) -> Point:
        """Return a point as seen from the middle of the points, in sizes.

        >>> Frame(10.0, 20.0, 2.0).inward((14.0, 20.0))
        (2.0, 0.0)
        """
        return (point[0] - self.x) / self.size, (point[1] - self.y) / self.size

    def outward(self, point: Point) -> Point:
        """Return the point that ``inward`` made this of.

        >>> Frame(10.0, 20.0, 2.0).outward((2.0, 0.0))
        (14.0, 20.0)
        """
        return point[0] * self.size + self.x, point[1] * self.size + self.y


@dataclass(frozen=True, slots=True)
class Slopes:
    """How a place on the photograph moves, for one step of what makes it."""

    by_wall: tuple[Row, Row]
    """Across and down, each by x and by y on the wall. [px/mm]"""
    by_form: tuple[Row, Row]
    """Across and down, each by the eight numbers of the view. [px]"""


@dataclass(frozen=True, slots=True)
class View:
    """How a wall is seen on its photograph."""

    wall: Frame
    picture: Frame
    form: Row
    """Eight numbers, between the two frames; the ninth is 1."""

    def to_picture(self, place: Point) -> Point:
        """Return where a place on the wall is seen [px]."""
        x, y = self.wall.inward(place)
        a, b, c, d, e, f, g, h = self.form
        w = g * x + h * y + 1.0
        return self.picture.outward(((a * x + b * y + c) / w, (d * x + e * y + f) / w))

    def slopes(self, place: Point) -> Slopes:
        """Return how the picture of a place moves with the place and with the view."""
        x, y = self.wall.inward(place)
        a, b, c, d, e, f, g, h = self.form
        w = g * x + h * y + 1.0
        u, v = (a * x + b * y + c) / w, (d * x + e * y + f) / w
        size = self.picture.size
        per, k = size / self.wall.size / w, size / w
        return Slopes(
            ((per * (a - g * u), per * (b - h * u)), (per * (d - g * v), per * (e - h * v))),
            (
                (k * x, k * y, k, 0.0, 0.0, 0.0, -k * x * u, -k * y * u),
                (0.0, 0.0, 0.0, k * x, k * y, k, -k * x * v, -k * y * v),
            ),
        )

    def matrix(self) -> Row:
        """Return the nine numbers that lead from the wall [mm] to the picture [px], by rows."""
        a, b, c, d, e, f, g, h = self.form
        into = 1.0 / self.wall.size
        x, y = -self.wall.x * into, -self.wall.y * into
        rows = [
            (p * into, q * into, p * x + q * y + r)
            for p, q, r in ((a, b, c), (d, e, f), (g, h, 1.0))
        ]
        across, down, depth = rows
        size = self.picture.size
        return (
            *(size * one + self.picture.x * deep for one, deep in zip(across, depth, strict=True)),
            *(size * one + self.picture.y * deep for one, deep in zip(down, depth, strict=True)),
            *depth,
        )


@dataclass(frozen=True, slots=True)
class Fitted:
    """The best view, and how firmly the points hold it."""

    view: View
    spread: tuple[Row, ...]
    """Covariance of the eight numbers, for points as good as they were said to be."""
    pull: Row
    """How far the eight numbers follow when the points shift as was asked about."""
    strain: float
    """Sum of the squared misses, each against what was to be expected."""
    misses_px: Row
    """How far each point is seen from where it was clicked. [px]"""


@dataclass(frozen=True, slots=True)
class _Sums:
    """The normal equations of one step."""

    square: list[list[float]]
    side: list[float]
    cost: float


def solved(square: Sequence[Sequence[float]], sides: Sequence[Sequence[float]]) -> list[Row]:
    """Return the answers of linear equations, one for each side.

    Raises:
        NoFit: when the equations leave something open.

    >>> solved([[2.0, 0.0], [1.0, 1.0]], [[4.0, 5.0]])
    [(2.0, 3.0)]
    """
    n = len(square)
    rows = [[*row, *(side[i] for side in sides)] for i, row in enumerate(square)]
    for i in range(n):
        best = max(range(i, n), key=lambda k: abs(rows[k][i]))
        if abs(rows[best][i]) < LEAST_PIVOT:
            raise NoFit
        rows[i], rows[best] = rows[best], rows[i]
        top = rows[i]
        for row in rows[i + 1 :]:
            part = row[i] / top[i]
            if part:
                row[i:] = [one - part * two for one, two in zip(row[i:], top[i:], strict=True)]
    for i in reversed(range(n)):
        top = rows[i] = [one / rows[i][i] for one in rows[i]]
        for row in rows[:i]:
            row[n:] = [one - row[i] * two for one, two in zip(row[n:], top[n:], strict=True)]
    return [tuple(rows[i][n + k] for i in range(n)) for k in range(len(sides))]


def fitted(
    pairs: Sequence[Pair], *, click_px: float, place_mm: float, shifts: Sequence[Point]
) -> Fitted:
    """Return the view that goes best through points.

    Args:
        pairs: At least four, no three of four in a line.
        click_px: How well a click hits, one standard deviation each way.
        place_mm: How well the places on the wall are known, one standard deviation each way.
        shifts: For each point, how it would move on the picture; asked about, not believed.

    Raises:
        NoFit: when the points leave the view open.
    """
    view = _direct(pairs)
    weights = _weights(view, pairs, click_px, place_mm)
    for _ in range(WEIGHINGS if len(pairs) * 2 > UNKNOWNS else 0):
        view = _settled(view, pairs, weights)
        weights = _weights(view, pairs, click_px, place_mm)
    sums = _sums(view, pairs, weights)
    units = [[float(i == k) for i in range(UNKNOWNS)] for k in range(UNKNOWNS)]
    pulled = _side(view, pairs, weights, shifts)
    *spread, pull = solved(_even(sums.square), [*_even_sides([*units, pulled], sums.square)])
    scale = _scales(sums.square)
    spread = [tuple(one * s for one, s in zip(row, scale, strict=True)) for row in spread]
    pull = tuple(one * s for one, s in zip(pull, scale, strict=True))
    misses = tuple(math.dist(view.to_picture(place), seen) for place, seen in pairs)
    return Fitted(view, tuple(spread), pull, sums.cost, misses)


def _frame(points: Sequence[Point]) -> Frame:
    """Return the frame in which points lie about the origin, some 1.4 away on average."""
    x = sum(point[0] for point in points) / len(points)
    y = sum(point[1] for point in points) / len(points)
    square = sum((point[0] - x) ** 2 + (point[1] - y) ** 2 for point in points) / len(points)
    if square <= 0:
        raise NoFit
    return Frame(x, y, math.sqrt(square / 2))


def _direct(pairs: Sequence[Pair]) -> View:
    """Return the view by linear equations: exact for four points, a beginning for more."""
    wall, picture = _frame([one for one, _ in pairs]), _frame([two for _, two in pairs])
    rows: list[Row] = []
    sides: list[float] = []
    for place, seen in pairs:
        (x, y), (u, v) = wall.inward(place), picture.inward(seen)
        rows += [
            (x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y),
            (0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y),
        ]
        sides += [u, v]
    if len(rows) > UNKNOWNS:
        square = [
            [_dot(one, two) for two in zip(*rows, strict=True)] for one in zip(*rows, strict=True)
        ]
        sides = [_dot(one, sides) for one in zip(*rows, strict=True)]
        return View(wall, picture, solved(square, [sides])[0])
    return View(wall, picture, solved(rows, [sides])[0])


def _weights(
    view: View, pairs: Sequence[Pair], click_px: float, place_mm: float
) -> list[tuple[float, float, float]]:
    """Return for each point the inverse of its covariance on the picture: uu, uv and vv [1/px²]."""
    found = []
    for place, _seen in pairs:
        (ax, ay), (bx, by) = view.slopes(place).by_wall
        uu = click_px**2 + place_mm**2 * (ax * ax + ay * ay)
        vv = click_px**2 + place_mm**2 * (bx * bx + by * by)
        uv = place_mm**2 * (ax * bx + ay * by)
        whole = uu * vv - uv * uv
        found.append((vv / whole, -uv / whole, uu / whole))
    return found


def _settled(
    view: View, pairs: Sequence[Pair], weights: Sequence[tuple[float, float, float]]
) -> View:
    """Return the view with the smallest weighed misses: Levenberg and Marquardt's way."""
    damping = 1e-6
    sums = _sums(view, pairs, weights)
    for _ in range(MOST_STEPS):
        scale = _scales(sums.square)
        square = _even(sums.square)
        for i in range(UNKNOWNS):
            square[i][i] += damping
        (even,) = solved(square, _even_sides([sums.side], sums.square))
        step = [one * s for one, s in zip(even, scale, strict=True)]
        form = tuple(one + two for one, two in zip(view.form, step, strict=True))
        tried = View(view.wall, view.picture, form)
        after = _sums(tried, pairs, weights)
        if after.cost <= sums.cost:
            view, sums, damping = tried, after, damping / 10
            if max(map(abs, step)) < SMALL_STEP:
                break
        elif max(map(abs, step)) < SMALL_STEP:
            break
        else:
            damping *= 10
    return view


def _sums(
    view: View, pairs: Sequence[Pair], weights: Sequence[tuple[float, float, float]]
) -> _Sums:
    """Add up the normal equations of the misses."""
    misses = []
    for place, seen in pairs:
        u, v = view.to_picture(place)
        misses.append((seen[0] - u, seen[1] - v))
    square = [[0.0] * UNKNOWNS for _ in range(UNKNOWNS)]
    cost = 0.0
    for (place, _seen), (uu, uv, vv), (du, dv) in zip(pairs, weights, misses, strict=True):
        cost += uu * du * du + 2 * uv * du * dv + vv * dv * dv
        across, down = view.slopes(place).by_form
        for i, (a, d) in enumerate(zip(across, down, strict=True)):
            left, right = uu * a + uv * d, uv * a + vv * d
            line = square[i]
            # The other half is the same.
            for k in range(i + 1):
                line[k] += left * across[k] + right * down[k]
    for i in range(UNKNOWNS):
        for k in range(i):
            square[k][i] = square[i][k]
    return _Sums(square, _side(view, pairs, weights, misses), cost)


def _side(
    view: View,
    pairs: Sequence[Pair],
    weights: Sequence[tuple[float, float, float]],
    shifts: Sequence[Point],
) -> list[float]:
    """Return the right side of the normal equations for shifts of the points."""
    side = [0.0] * UNKNOWNS
    for (place, _seen), (uu, uv, vv), (du, dv) in zip(pairs, weights, shifts, strict=True):
        across, down = view.slopes(place).by_form
        left, right = uu * du + uv * dv, uv * du + vv * dv
        for i in range(UNKNOWNS):
            side[i] += across[i] * left + down[i] * right
    return side


def _scales(square: Sequence[Sequence[float]]) -> list[float]:
    """Return what makes every number of the normal equations near 1."""
    if any(square[i][i] <= 0 for i in range(UNKNOWNS)):
        raise NoFit
    return [1 / math.sqrt(square[i][i]) for i in range(UNKNOWNS)]


def _even(square: Sequence[Sequence[float]]) -> list[list[float]]:
    scale = _scales(square)
    return [
        [one * scale[i] * scale[k] for k, one in enumerate(row)] for i, row in enumerate(square)
    ]


def _even_sides(
    sides: Sequence[Sequence[float]], square: Sequence[Sequence[float]]
) -> list[list[float]]:
    scale = _scales(square)
    return [[one * s for one, s in zip(side, scale, strict=True)] for side in sides]


def _dot(one: Sequence[float], two: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, two, strict=True))
