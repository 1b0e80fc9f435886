"""Where the wall lies on the screen."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.desktop.wall.view import Room, View, fitted, kept, panned, zoomed

ROOM = Room((0.0, -280.0, 4200.0, 2500.0), 600.0, 560.0, 75.0)
WORK = (900.0, 0.0, 3000.0, 1000.0)


def test_all_the_work_is_in_sight() -> None:
    view = fitted(ROOM, WORK)
    left, top, right, bottom = view.box(WORK)
    slack = 0.04 * ROOM.width
    assert left >= -slack and right <= ROOM.width + slack
    assert top >= -slack and bottom <= ROOM.height + slack


def test_a_wall_without_work_is_seen_whole() -> None:
    view = fitted(ROOM, None)
    left, top, right, bottom = view.box(ROOM.whole)
    assert left >= -1 and top >= -1 and right <= ROOM.width + 1 and bottom <= ROOM.height + 1


def test_courses_lie_on_whole_pixels() -> None:
    view = fitted(ROOM, WORK)
    course = view.per_mm * ROOM.gauge_mm
    assert course == pytest.approx(round(course))
    assert view.at(0, 0)[1] == pytest.approx(round(view.at(0, 0)[1]))


def test_the_place_under_the_pointer_stays() -> None:
    view = zoomed(fitted(ROOM, WORK), ROOM, 1.5, (300, 250))
    nearer = zoomed(view, ROOM, 1.5, (300, 250))
    assert nearer.per_mm > view.per_mm
    x, y = view.place(300, 250)
    assert nearer.at(x, y) == pytest.approx((300, 250), abs=1.0)


def test_zooming_ends_at_the_whole_wall_and_near_by() -> None:
    view = fitted(ROOM, WORK)
    for _step in range(60):
        view = zoomed(view, ROOM, 1.2, (10, 10))
    near = view.per_mm
    for _step in range(60):
        view = zoomed(view, ROOM, 1 / 1.2, (10, 10))
    assert view.per_mm == pytest.approx(ROOM.smallest, rel=0.05)
    assert near > 3 * view.per_mm


@given(st.floats(-5000, 5000), st.floats(-5000, 5000), st.floats(0.5, 8))
def test_no_empty_edge_is_ever_dragged_in(x: float, y: float, factor: float) -> None:
    view = panned(zoomed(fitted(ROOM, WORK), ROOM, factor, (300, 280)), ROOM, (x, y))
    left, bottom, right, top = ROOM.whole
    if ROOM.width / view.per_mm < right - left:
        assert view.left_mm >= left - 1 / view.per_mm
        assert view.left_mm + ROOM.width / view.per_mm <= right + 1 / view.per_mm
    if ROOM.height / view.per_mm < top - bottom:
        assert view.top_mm <= top + 1 / view.per_mm
        assert view.top_mm - ROOM.height / view.per_mm >= bottom - 1 / view.per_mm


def test_a_small_wall_stands_on_its_foot_in_the_middle() -> None:
    view = kept(View(0, 0, 0.1), ROOM)
    assert view.at(0, ROOM.whole[1])[1] == pytest.approx(ROOM.height, abs=1)
    assert view.at(2100, 0)[0] == pytest.approx(ROOM.width / 2, abs=1)
