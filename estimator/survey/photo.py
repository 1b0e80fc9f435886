"""A photograph set square and to scale by points whose places on the wall are known.

What is measured on it is said with its likely error: how well one clicks, how well the places of
the points are known and how much a lens may bend are carried through to the wall. All three are
taken as standing for standard deviations; errors told are such that 95 of 100 true ones are
smaller. What no photograph shows is a gauge that was measured wrong: every place that was counted
then carries the same fault.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.survey.photo_camera import camera_of, limits_of
from estimator.survey.photo_fit import UNKNOWNS, Fitted, NoFit, Row, View, fitted
from estimator.survey.photo_points import area_of, hull_of, pairs_of
from estimator.survey.survey import Photo

NORMAL_95 = 1.959964
"""Standard deviations within which 95 of 100 lie."""
FIRMNESS = 10
"""The stated precision weighs as much as this many spare measurements; house rule."""
LEAST_SCALE = 0.25
"""However well points agree, squared errors stay above this share of those stated; house rule."""
WHOLE = 1.0
DEEP_ENOUGH = 1e-3
"""Of the depth at the middle of the points: nearer to the horizon nothing is measured."""


@dataclass(frozen=True, slots=True)
class Precision:
    """How well points are known, as standard deviations; house rules."""

    click_px: float = 1.5
    """How well a click hits what it is meant to. [px]"""
    place_mm: float = 2.0
    """How well a counted joint lies where the count puts it. [mm]"""
    bending: float = 0.004
    """How far a lens shifts the corner of a picture, as a share of its half diagonal."""


BELIEVED = Precision()


@dataclass(frozen=True, slots=True)
class Squared:
    """A photograph as it lies on the wall."""

    width_px: int
    height_px: int
    view: View
    picture_matrix: Row
    """Nine numbers by rows, from the wall [mm] to the picture [px]."""
    wall_matrix: Row
    """Nine numbers by rows, from the picture [px] to the wall [mm]."""
    click_px: float
    """How well a click hits, in the light of how the points agree; one standard deviation. [px]"""
    covariance: tuple[Row, ...]
    """Of the eight numbers of the view."""
    bending: float
    pull: Row
    """How the eight numbers follow a lens that bends."""
    margin: float
    """Standard deviations within which 95 of 100 lie, as well as they are known."""
    tilt_degrees: float
    """How far the camera was turned from square to the wall, roughly. [°]"""
    misses_px: Row
    """How far each point is seen from where it was clicked. [px]"""
    limits: tuple[str, ...]
    """What to mind when measuring, in plain sentences."""
    hull: tuple[Point, ...]
    """What the points span on the wall. [mm]"""

    def to_wall(self, seen: Point) -> Point:
        """Return the place on the wall that is seen at a place on the picture [mm].

        Raises:
            UserMistake: where the picture shows no wall, at its horizon and beyond.
        """
        x, y, depth = _times(self.wall_matrix, seen)
        if depth < DEEP_ENOUGH:
            raise UserMistake(
                "that place is not on the wall",
                why="seen from the points, it lies at the horizon",
                do="choose a place nearer to the points",
            )
        return x / depth, y / depth

    def to_picture(self, place: Point) -> Point:
        """Return where a place on the wall is seen [px]."""
        x, y, depth = _times(self.picture_matrix, place)
        return x / depth, y / depth

    def is_beyond_points(self, place: Point) -> bool:
        """Whether a place on the wall lies outside what the points span, where errors grow."""
        after = (*self.hull[1:], self.hull[0])
        return any(area_of((a, b, place)) < 0 for a, b in zip(self.hull, after, strict=True))

    def likely_error_mm(self, place: Point) -> float:
        """Return how far off a place that is clicked may lie, for 95 of 100 [mm]."""
        moved = _Moved.at(self, place)
        xx, xy, yy = (
            self._covered(moved, (1.0, 0.0), (1.0, 0.0)),
            self._covered(moved, (1.0, 0.0), (0.0, 1.0)),
            self._covered(moved, (0.0, 1.0), (0.0, 1.0)),
        )
        # Between a line and a round cloud: a scaled chi-square with the same mean and spread.
        whole, squares = xx + yy, xx * xx + 2 * xy * xy + yy * yy
        freedom = whole * whole / squares
        bound = 3.841 + (freedom - 1) * (5.991 - 3.841)
        return math.sqrt(squares / whole * bound) * self.margin / NORMAL_95

    def error_of_length_mm(self, a: Point, b: Point) -> float:
        """Return by how much the length between two clicked places may be off, for 95 of 100 [mm].

        Places nearer than a millimetre have no direction; the error of the place is told.
        """
        long = math.dist(a, b)
        if long < WHOLE:
            return self.likely_error_mm(a)
        along = (b[0] - a[0]) / long, (b[1] - a[1]) / long
        first, last = _Moved.at(self, a), _Moved.at(self, b)
        clicks = self.click_px**2 * (first.by_click(along) + last.by_click(along))
        by_form = [
            two - one for one, two in zip(first.by_form(along), last.by_form(along), strict=True)
        ]
        bent = last.by_bending(along) - first.by_bending(along)
        square = clicks + _square(self.covariance, by_form) + (self.bending * bent) ** 2
        return self.margin * math.sqrt(square)

    def _covered(self, moved: _Moved, one: Point, two: Point) -> float:
        """Return the covariance of a place in two directions [mm²]."""
        plus, minus = (one[0] + two[0], one[1] + two[1]), (one[0] - two[0], one[1] - two[1])
        return (self._variance(moved, plus) - self._variance(moved, minus)) / 4

    def _variance(self, moved: _Moved, along: Point) -> float:
        return (
            self.click_px**2 * moved.by_click(along)
            + _square(self.covariance, moved.by_form(along))
            + (self.bending * moved.by_bending(along)) ** 2
        )


@dataclass(frozen=True, slots=True)
class _Moved:
    """How a place that is read from the picture moves on the wall."""

    click: tuple[Row, Row]
    """Along and up, each by across and down. [mm/px]"""
    form: tuple[Row, Row]
    """Along and up, each by the eight numbers of the view. [mm]"""
    bent: Point
    """Along and up, for a lens that shifts the corner by its half diagonal. [mm]"""

    @classmethod
    def at(cls, squared: Squared, place: Point) -> _Moved:
        """Work it out for one place on the wall."""
        slopes = squared.view.slopes(place)
        (a, b), (c, d) = slopes.by_wall
        whole = a * d - b * c
        click = (d / whole, -b / whole), (-c / whole, a / whole)
        across, down = slopes.by_form
        form = tuple(
            tuple(-(p * u + q * v) for u, v in zip(across, down, strict=True)) for p, q in click
        )
        # The view follows a lens that bends, and what is clicked is bent as well.
        u, v = bent_by(squared.view.to_picture(place), squared.width_px, squared.height_px)
        u -= sum(one * two for one, two in zip(across, squared.pull, strict=True))
        v -= sum(one * two for one, two in zip(down, squared.pull, strict=True))
        bent = tuple(p * u + q * v for p, q in click)
        return cls(click, (form[0], form[1]), (bent[0], bent[1]))

    def by_click(self, along: Point) -> float:
        """Return the variance along a direction for a click one pixel off [mm²]."""
        (a, b), (c, d) = self.click
        return (along[0] * a + along[1] * c) ** 2 + (along[0] * b + along[1] * d) ** 2

    def by_form(self, along: Point) -> list[float]:
        """Return the step along a direction for each number of the view [mm]."""
        return [along[0] * one + along[1] * two for one, two in zip(*self.form, strict=True)]

    def by_bending(self, along: Point) -> float:
        """Return the step along a direction for a lens that bends [mm]."""
        return along[0] * self.bent[0] + along[1] * self.bent[1]


def squared(photo: Photo, believed: Precision = BELIEVED) -> Squared:
    """Return a photograph set square by its points.

    Raises:
        UserMistake: when the points cannot settle how the wall is seen.

    >>> from estimator.survey.survey import PhotoPoint
    >>> corners = [(0, 0), (1, 0), (1, 1), (0, 1)]
    >>> points = tuple(PhotoPoint(x * 900, 800 - y * 700, x * 1200, y * 900) for x, y in corners)
    >>> flat = squared(Photo("p", "front", "", 1000, 900, points))
    >>> [round(number) for number in flat.to_wall((450.0, 450.0))], round(flat.tilt_degrees)
    ([600, 450], 0)
    """
    pairs = pairs_of(photo.points)
    shifts = [bent_by(seen, photo.width_px, photo.height_px) for _, seen in pairs]
    try:
        found = fitted(pairs, click_px=believed.click_px, place_mm=believed.place_mm, shifts=shifts)
        return _squared(photo, found, believed)
    except (NoFit, ZeroDivisionError, OverflowError) as error:
        raise UserMistake(
            "the points do not show how the wall is seen",
            do="mark points well apart, like the corners of a window",
        ) from error


def bent_by(seen: Point, width_px: int, height_px: int) -> Point:
    """Return where a lens shifts a place that bends the corner by its half diagonal [px].

    A lens bends by the third power of the way from the middle, as far as one number tells
    (Brown's model, from memory).

    >>> bent_by((0.0, 0.0), 800, 600)
    (-400.0, -300.0)
    """
    x, y = seen[0] - width_px / 2, seen[1] - height_px / 2
    share = (x * x + y * y) * 4 / (width_px**2 + height_px**2)
    return x * share, y * share


def _squared(photo: Photo, found: Fitted, believed: Precision) -> Squared:
    """Put together what a fit says about a photograph."""
    spare = 2 * len(photo.points) - UNKNOWNS
    scale = max(LEAST_SCALE, (FIRMNESS + found.strain) / (FIRMNESS + spare))
    covariance = tuple(tuple(one * scale for one in row) for row in found.spread)
    camera = camera_of(found.view, covariance, photo.width_px, photo.height_px)
    matrix = found.view.matrix()
    seen = [(one.across_px, one.down_px) for one in photo.points]
    hull = hull_of([(one.x_mm, one.y_mm) for one in photo.points])
    wall_matrix = _inverse(matrix)
    depth = min(_times(wall_matrix, one)[2] for one in seen)
    if min(_times(matrix, place)[2] for place in hull) <= 0 or depth <= 0:
        raise NoFit
    return Squared(
        width_px=photo.width_px,
        height_px=photo.height_px,
        view=found.view,
        picture_matrix=matrix,
        wall_matrix=wall_matrix,
        click_px=believed.click_px * math.sqrt(scale),
        covariance=covariance,
        bending=believed.bending,
        pull=found.pull,
        margin=_margin(FIRMNESS + spare),
        tilt_degrees=camera.tilt_degrees,
        misses_px=found.misses_px,
        limits=limits_of(
            camera,
            seen,
            (photo.width_px, photo.height_px),
            math.sqrt(found.strain / spare) if spare else 0.0,
        ),
        hull=hull,
    )


def _margin(freedom: int) -> float:
    """Return Student's bound for 95 of 100, by the expansion of Cornish and Fisher."""
    z = NORMAL_95
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    return z + first / freedom + second / freedom**2


def _square(covariance: Sequence[Row], by: Sequence[float]) -> float:
    return sum(
        one * sum(a * b for a, b in zip(row, by, strict=True))
        for one, row in zip(by, covariance, strict=True)
    )


def _times(matrix: Row, point: Point) -> tuple[float, float, float]:
    a, b, c, d, e, f, g, h, i = matrix
    x, y = point
    return a * x + b * y + c, d * x + e * y + f, g * x + h * y + i


def _inverse(matrix: Row) -> Row:
    """Return the way back, so scaled that depth is 1 in the middle of the points."""
    a, b, c, d, e, f, g, h, i = matrix
    whole = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return tuple(
        one / whole
        for one in (
            *(e * i - f * h, c * h - b * i, b * f - c * e),
            *(f * g - d * i, a * i - c * g, c * d - a * f),
            *(d * h - e * g, b * g - a * h, a * e - b * d),
        )
    )
