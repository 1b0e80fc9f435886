"""A second opinion on shapes, from shapely, and walls drawn at random."""

from __future__ import annotations

import math
from collections.abc import Callable

from hypothesis import strategies as st
from shapely import box, polygonize, unary_union
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from estimator.masonry.bond import bond, bond_keys, takes_ratio
from estimator.masonry.brick import brick_format, format_keys
from estimator.masonry.coursing import Coursing, laid
from estimator.masonry.region import Region, Ring

# A coarse grid makes shared edges, edges in one line and shared corners common; places drawn
# freely almost never give them. A hair off the grid makes slivers.
grid = st.integers(0, 12).map(lambda n: n * 75.0)
free = st.floats(-2000, 2000, allow_nan=False).map(lambda x: round(x, 3))
hair = st.sampled_from([0.0, 1e-9, 1e-7, 1e-5, 1e-3])
near_grid = st.builds(lambda place, off: place + off, grid, hair)


def rings(places: st.SearchStrategy[float]) -> st.SearchStrategy[Ring]:
    """Any closed outline at all: crossing itself, touching itself, folded, turning either way."""
    return st.lists(st.tuples(places, places), min_size=3, max_size=8)


any_ring = st.one_of(rings(grid), rings(free), rings(near_grid))
some_rings = st.lists(any_ring, min_size=1, max_size=4)


def winding(ring: Ring, at: Point) -> int:
    """Return how often a ring goes round a point, by summing angles."""
    total = 0.0
    for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], ring[0]), strict=True):
        a, b = (xa - at.x, ya - at.y), (xb - at.x, yb - at.y)
        total += math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
    return round(total / math.tau)


def pieces_of(*groups: list[Ring]) -> list[tuple[Polygon, tuple[bool, ...]]]:
    """Cut the plane along all rings, and say of each piece which groups hold it.

    Shapely does the cutting and the areas; which ring goes round a piece is asked of each piece by
    itself. Its own union of many polygons that touch was found to fill a gap now and then.
    """
    edges = [LineString([*ring, ring[0]]) for group in groups for ring in group]
    found = []
    for piece in polygonize([unary_union(edges)]).geoms:
        inside = piece.representative_point()
        holds = [any(winding(ring, inside) for ring in group) for group in groups]
        found.append((piece, tuple(holds)))
    return found


def area_where(keep: Callable[..., bool], *groups: list[Ring]) -> float:
    """Return the area of the pieces that a rule on groups keeps [mm²]."""
    return sum(piece.area for piece, holds in pieces_of(*groups) if keep(*holds))


def shape_of(region: Region) -> BaseGeometry:
    """Return a region put together by shapely from its parts."""
    return unary_union([Polygon(ring).buffer(0) for ring in region.rings()])


def agree(one: float, two: float, scale: float) -> bool:
    """Whether two areas are alike to a millionth of the area that went in [mm²]."""
    return abs(one - two) <= 1e-6 * scale + 1e-3


@st.composite
def walls(draw: st.DrawFn) -> Coursing:
    """Draw any brick in any bond, joints its own or measured."""
    key = draw(st.sampled_from(bond_keys()))
    ratio = draw(st.integers(1, 6)) if takes_ratio(key) else 0
    brick = brick_format(draw(st.sampled_from(format_keys())))
    joint = st.none() | st.integers(3, 20).map(float)
    return laid(brick, bond(key, ratio), bed_mm=draw(joint), perpend_mm=draw(joint))


@st.composite
def panels(draw: st.DrawFn) -> Region:
    """Draw an elevation: square, gabled or raked, with openings inside it and across its edge."""
    place = st.floats(-500, 2500, allow_nan=False).map(lambda x: round(x, 2))
    left, low = draw(place), draw(place)
    width, eaves = draw(st.integers(300, 2400)), draw(st.integers(100, 1500))
    right, at_eaves = left + width, low + eaves
    outline = draw(
        st.sampled_from(
            [
                [(left, low), (right, low), (right, at_eaves), (left, at_eaves)],
                [
                    (left, low),
                    (right, low),
                    (right, at_eaves),
                    (left + width / 2, at_eaves + width / 2.5),
                    (left, at_eaves),
                ],
                [(left, low), (right, low + 40), (right, at_eaves + 300), (left + 90, at_eaves)],
            ]
        )
    )
    holes = draw(st.lists(st.tuples(place, place, st.integers(100, 900)), max_size=3))
    return Region.of(outline).without(
        Region.of(*([(x, y), (x + s, y), (x + s, y + s), (x, y + s)] for x, y, s in holes))
    )


def bricks_in(coursing: Coursing, region: Region) -> float:
    """Return the area of brick in a region by laying every brick and clipping it [mm²].

    It knows only the bond's faces and where a course starts, and walks on from there.
    """
    if not region:
        return 0.0
    shape = shape_of(region)
    left, low, right, high = region.bounds
    laid_bricks = []
    for course in range(
        math.floor(low / coursing.gauge_mm), math.ceil(high / coursing.gauge_mm) + 1
    ):
        rhythm = coursing.rhythm(course)
        bottom = (course - 1) * coursing.gauge_mm + coursing.bed_mm
        repeat = sum(rhythm.faces_mm) + len(rhythm.faces_mm) * coursing.perpend_mm
        x = rhythm.start_mm + math.floor((left - rhythm.start_mm) / repeat) * repeat
        while x < right:
            for face in rhythm.faces_mm:
                laid_bricks.append(box(x, bottom, x + face, bottom + coursing.face_height_mm))
                x += face + coursing.perpend_mm
    return sum(brick.intersection(shape).area for brick in laid_bricks)
