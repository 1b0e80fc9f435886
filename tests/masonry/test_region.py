"""Regions, with shapely as the second opinion on every area."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import unary_union
from shapely.geometry import LineString, Polygon

from estimator.masonry.region import NOWHERE, Region, Ring
from tests.masonry.oracle import (
    agree,
    any_ring,
    area_where,
    grid,
    pieces_of,
    rings,
    some_rings,
)

SQUARE = [(0, 0), (4, 0), (4, 4), (0, 4)]


def boxed(*groups: list[Ring]) -> float:
    """Area of the box round everything: what an error is measured against [mm²]."""
    xs = [point[0] for group in groups for ring in group for point in ring]
    ys = [point[1] for group in groups for ring in group for point in ring]
    return (max(xs) - min(xs)) * (max(ys) - min(ys))


@given(some_rings)
def test_together_is_what_shapely_says(group: list[Ring]) -> None:
    theirs = area_where(lambda held: held, group)
    assert agree(Region.of(*group).area_mm2, theirs, boxed(group))


@settings(max_examples=40)
@given(some_rings, some_rings)
def test_what_lies_in_both_is_what_shapely_says(one: list[Ring], two: list[Ring]) -> None:
    ours = Region.of(*one).within(Region.of(*two)).area_mm2
    theirs = area_where(lambda first, second: first and second, one, two)
    assert agree(ours, theirs, boxed(one, two))


@settings(max_examples=40)
@given(some_rings, some_rings)
def test_what_is_left_is_what_shapely_says(one: list[Ring], two: list[Ring]) -> None:
    ours = Region.of(*one).without(Region.of(*two)).area_mm2
    theirs = area_where(lambda first, second: first and not second, one, two)
    assert agree(ours, theirs, boxed(one, two))


@settings(max_examples=40)
@given(some_rings, some_rings)
def test_parts_never_overlap(one: list[Ring], two: list[Ring]) -> None:
    for region in (Region.of(*one), Region.of(*one).without(Region.of(*two))):
        shapes = [Polygon(ring).buffer(0) for ring in region.rings()]
        overlap = sum(a.intersection(b).area for a, b in itertools.combinations(shapes, 2))
        assert agree(overlap, 0, boxed(one, two))


@given(some_rings)
def test_parts_stay_inside_the_box_round_the_rings(group: list[Ring]) -> None:
    region = Region.of(*group)
    if region:
        xs, ys = zip(*itertools.chain(*group), strict=True)
        left, bottom, right, top = region.bounds
        assert min(xs) <= left <= right <= max(xs)
        assert min(ys) <= bottom < top <= max(ys)


@settings(max_examples=20)
@given(some_rings, some_rings, some_rings)
def test_both_and_left_over_make_the_whole(
    one: list[Ring], two: list[Ring], three: list[Ring]
) -> None:
    whole, cutter = Region.of(*one).plus(Region.of(*three)), Region.of(*two)
    box = boxed(one, two, three)
    parted = whole.within(cutter).area_mm2 + whole.without(cutter).area_mm2
    assert agree(parted, whole.area_mm2, box)
    together = whole.area_mm2 + cutter.without(whole).area_mm2
    assert agree(together, whole.plus(cutter).area_mm2, box)


@given(any_ring, st.floats(-2000, 2000).map(lambda y: round(y, 2)))
def test_stretches_at_a_level_are_what_shapely_says(ring: Ring, y: float) -> None:
    level = LineString([(-5000, y + 1e-4), (5000, y + 1e-4)])
    ours = sum(right - left for left, right in Region.of(ring).spans_at(y + 1e-4))
    theirs = sum(piece.intersection(level).length for piece, held in pieces_of([ring]) if held[0])
    steepest = max(
        [
            abs((b[0] - a[0]) / (b[1] - a[1]))
            for a, b in itertools.pairwise([*ring, ring[0]])
            if b[1] != a[1]
        ],
        default=0.0,
    )
    assert ours == pytest.approx(theirs, abs=1e-6 * (1 + steepest))


@given(rings(grid))
def test_a_ring_may_turn_either_way(ring: Ring) -> None:
    assert Region.of(ring).area_mm2 == pytest.approx(Region.of(ring[::-1]).area_mm2)


def test_rings_turning_opposite_ways_do_not_cancel() -> None:
    other = [(2, 2), (2, 6), (6, 6), (6, 2)]
    assert Region.of(SQUARE, other).area_mm2 == 28


def test_a_figure_of_eight_holds_both_its_loops() -> None:
    assert Region.of([(0, 0), (4, 4), (4, 0), (0, 4)]).area_mm2 == 8


def test_a_hole_that_shares_an_edge_leaves_no_sliver() -> None:
    left = Region.of(SQUARE).without(Region.rectangle(0, 1, 4, 2))
    assert [part.area_mm2 for part in left.parts] == [4, 8]


def test_three_rings_crossing_in_one_point() -> None:
    spokes = [
        [(-4, -1), (4, 1), (4, 2), (-4, 0)],
        [(-1, -4), (1, 4), (2, 4), (0, -4)],
        [(-4, 4), (4, -4), (5, -4), (-3, 4)],
    ]
    theirs = unary_union([Polygon(ring) for ring in spokes]).area
    assert Region.of(*spokes).area_mm2 == pytest.approx(theirs, rel=1e-12)


def test_a_nearly_level_side_throws_no_part_outside() -> None:
    ring = [(0.0, 0.0), (1000.0, 2e-7), (1000.0, 500.0), (0.0, 500.0 + 1.5e-7)]
    assert Region.of(ring).bounds == pytest.approx((0, 0, 1000, 500))


def test_a_wall_keeps_few_parts() -> None:
    holes = [
        [(n * 900 + 300, 500), (n * 900 + 600, 500), (n * 900 + 600, 900), (n * 900 + 300, 900)]
        for n in range(6)
    ]
    wall = Region.rectangle(0, 0, 6000, 2400).without(Region.of(*holes))
    assert len(wall.parts) == 2 + 7


def test_neighbours_join_into_one() -> None:
    assert len(Region.of(SQUARE, [(4, 0), (8, 0), (8, 4), (4, 4)]).parts) == 1


@pytest.mark.parametrize("ring", [[], [(1, 1)], [(0, 0), (5, 5)], [(0, 0), (5, 0), (9, 0)]])
def test_what_holds_nothing_is_nowhere(ring: Ring) -> None:
    assert Region.of(ring) == NOWHERE
    assert not Region.of(ring)


def test_nowhere_has_no_size() -> None:
    assert (NOWHERE.area_mm2, NOWHERE.bounds) == (0, (0, 0, 0, 0))
    assert Region.rectangle(3, 0, 3, 9) == NOWHERE
    assert Region.of(SQUARE).without(NOWHERE).area_mm2 == 16
    assert NOWHERE.within(Region.of(SQUARE)) == NOWHERE


def test_between_cuts_slanted_sides_where_they_are() -> None:
    (part,) = Region.of([(0, 0), (8, 0), (4, 4)]).between(1, 2)
    assert (part.left_bottom, part.right_bottom, part.left_top, part.right_top) == (1, 7, 2, 6)
    assert Region.of(SQUARE).between(9, 12) == ()


def test_a_point_is_held_inside_and_not_in_a_hole() -> None:
    ring = Region.of(SQUARE).without(Region.rectangle(1, 1, 3, 3))
    assert ring.holds((0.5, 2))
    assert not ring.holds((2, 2))
    assert not ring.holds((2, 9))
