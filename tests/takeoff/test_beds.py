from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from estimator.takeoff.beds import beds_for, spacing_for
from estimator.takeoff.rules import changed, shipped

COURSES = st.integers(1, 150)
EVERY = st.integers(1, 8)


@given(COURSES, st.integers(1, 40), EVERY)
def test_beds_lie_inside_the_crack_once_each(courses: int, first: int, every: int) -> None:
    spacing = spacing_for(courses, 75, changed(shipped(), spacing_courses=every))
    beds = beds_for(first, first + courses - 1, spacing)
    assert beds == sorted(set(beds))
    assert min(beds) > first
    assert max(beds) <= max(first + courses - 1, first + 1)


@given(COURSES, EVERY)
def test_no_gap_is_wider_than_the_spacing(courses: int, every: int) -> None:
    rules = changed(shipped(), spacing_courses=every)
    spacing = spacing_for(courses, 75, rules)
    beds = beds_for(1, courses, spacing)
    widest = max(rules.long_spacing_courses, every)
    assert all(above - below <= widest for below, above in pairwise(beds))


@given(COURSES, EVERY)
def test_a_longer_crack_never_has_fewer_bars(courses: int, every: int) -> None:
    rules = changed(shipped(), spacing_courses=every)
    shorter = beds_for(1, courses, spacing_for(courses, 75, rules))
    longer = beds_for(1, courses + 1, spacing_for(courses + 1, 75, rules))
    assert len(longer) >= len(shorter)


@given(st.integers(2, 80), st.sets(st.integers(1, 90), max_size=8))
def test_beds_of_a_neighbour_are_kept(courses: int, taken: set[int]) -> None:
    spacing = spacing_for(courses, 75, shipped())
    beds = beds_for(1, courses, spacing, sorted(taken))
    assert {bed for bed in taken if 2 <= bed <= courses} <= set(beds)
    assert len(beds) >= min(spacing.count, courses - 1)


def test_a_long_crack_spreads_its_bars() -> None:
    # 4.5 m is 60 courses and 20 bars; 70 courses keep 20 bars, 3.5 courses apart; beyond 80
    # courses the widest spacing of 4 holds.
    rules = shipped()
    found = [
        (spacing_for(n, 75, rules).step, spacing_for(n, 75, rules).count) for n in (60, 70, 92)
    ]
    assert found == [(3, 20), (3.5, 20), (4, 23)]


def test_one_course_has_one_bar() -> None:
    assert beds_for(5, 5, spacing_for(1, 75, shipped())) == [6]
