"""Counting on the wall: there and back, and what is nearest."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from estimator.desktop.wall.photos import places
from estimator.survey.survey import Opening
from tests.desktop.wall.photos.scenes import LONG_MM, bare_wall, crossing

WALL = bare_wall().elevations[0]


@given(st.integers(0, 35), st.integers(1, 19))
def test_a_count_is_found_again_from_its_place(up: int, along: int) -> None:
    place = places.place_counted(WALL, (up, along))
    assert place == crossing(up, along)
    assert place is not None
    assert places.counted_at(WALL, place) == (up, along)


@given(st.integers(0, 35))
def test_counting_begins_and_ends_with_the_wall(up: int) -> None:
    assert places.place_counted(WALL, (up, 0)) == (0.0, crossing(up, 1)[1])
    bricks = 20 if up % 2 == 0 else 21
    level = crossing(up, 1)[1]
    # A whole brick ends in the middle of its joint, a cut one with the wall.
    end = LONG_MM - 5.0 if up % 2 == 0 else float(LONG_MM)
    assert places.place_counted(WALL, (up, bricks)) == (end, level)
    # A wall measured to the end of its last brick ends there, and not in half a joint.
    corners = tuple((min(x, 4490.0), y) for x, y in WALL.outline)
    assert places.place_counted(replace(WALL, outline=corners), (up, bricks)) == (4490.0, level)
    assert places.place_counted(WALL, (up, bricks + 1)) is None
    assert places.counted_at(WALL, (0.0, crossing(up, 1)[1])) == (up, 0)


@given(st.integers(0, 34), st.integers(1, 19))
def test_plumb_is_two_courses_up_and_never_one(up: int, along: int) -> None:
    x = crossing(up, along)[0]
    if up + 2 < 36:
        assert places.plumb_with(WALL, up + 2, x) == along
    assert places.plumb_with(WALL, up + 1, x) is None


@given(st.integers(1, 34), st.integers(2, 18), st.floats(-30.0, 30.0), st.floats(-30.0, 30.0))
def test_a_click_near_a_crossing_is_that_crossing(
    up: int, along: int, across: float, higher: float
) -> None:
    x, y = crossing(up, along)
    assert places.nearest_known(WALL, (x + across, y + higher)) == (x, y)


@given(st.floats(0.0, LONG_MM), st.floats(0.0, 2700.0))
def test_what_is_nearest_is_never_a_brick_away(x: float, y: float) -> None:
    assert math.dist(places.nearest_known(WALL, (x, y)), (x, y)) < 120.0


def test_corners_of_a_window_are_known() -> None:
    window = Opening("w", 1500.0, 900.0, 910.0, 1010.0, sill_mm=75.0)
    wall = replace(WALL, openings=(window,))
    assert places.nearest_known(wall, (1504.0, 905.0)) == (1500.0, 900.0)
    assert places.nearest_known(wall, (2406.0, 1912.0)) == (2410.0, 1910.0)


def test_between_the_joints_nothing_is_counted() -> None:
    assert places.counted_at(WALL, (1000.0, 530.0)) is None
    assert places.counted_at(WALL, (220.0, 40.0)) is None
