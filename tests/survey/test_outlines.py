"""Outlines against a reference library for geometry (shapely)."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LinearRing, Polygon

from estimator.masonry.region import Point
from estimator.survey.outlines import LEAST_AREA_MM2, area_mm2, fault_of

places = st.integers(0, 12).map(lambda step: step * 250.0)
rings = st.lists(st.tuples(places, places), min_size=3, max_size=8)


def is_simple(ring: list[Point]) -> bool:
    return bool(LinearRing([*ring, ring[0]]).is_simple)


@given(rings)
def test_area_is_that_of_the_reference_where_no_side_crosses(ring: list[Point]) -> None:
    assume(len(set(ring)) == len(ring) and is_simple(ring))
    assert area_mm2(ring) == pytest.approx(Polygon(ring).area, abs=1e-6)


@given(rings)
def test_an_outline_is_good_where_the_reference_finds_it_simple(ring: list[Point]) -> None:
    assume(all(one != two for one, two in zip(ring, [*ring[1:], ring[0]], strict=True)))
    is_good = is_simple(ring) and Polygon(ring).area >= LEAST_AREA_MM2
    assert (fault_of(ring) == ("", "")) == is_good


@given(st.lists(st.tuples(places, places), min_size=3, max_size=7), st.data())
def test_a_corner_written_twice_is_found(ring: list[Point], data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(ring) - 1))
    doubled = [*ring[: at + 1], ring[at], *ring[at + 1 :]]
    assert "again straight after it" in fault_of(doubled)[0]


def test_either_way_round_is_good() -> None:
    wall = [(0.0, 0.0), (4500.0, 0.0), (4500.0, 2700.0), (0.0, 2700.0)]
    assert fault_of(wall) == fault_of(wall[::-1]) == ("", "")
