"""Coursing: levels of beds and courses, and bonds that stand plumb."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.masonry.bond import bond, bond_keys
from estimator.masonry.brick import brick_format
from estimator.masonry.coursing import Coursing, laid
from tests.masonry.oracle import walls

BRICK = brick_format("uk_metric")


def perpends(coursing: Coursing, course: int) -> list[float]:
    """Middles of the perpends of a course within two metres [mm]."""
    rhythm = coursing.rhythm(course)
    middles = (rhythm.perpend_after(n) for n in range(-20, 20))
    return [round(x, 6) for x in middles if 0 <= x <= 2000]


@given(walls(), st.integers(-9, 90))
def test_courses_stand_on_their_beds(coursing: Coursing, course: int) -> None:
    levels = [
        coursing.bed_bottom(course),
        coursing.bed_middle(course),
        coursing.course_bottom(course),
        coursing.course_middle(course),
        coursing.course_top(course),
    ]
    assert levels == sorted(levels)
    assert coursing.course_top(course) == pytest.approx(coursing.bed_bottom(course + 1))
    assert coursing.course_at(coursing.course_middle(course)) == course
    assert coursing.course_at(coursing.bed_middle(course)) == course


@given(walls(), st.integers(1, 90))
def test_the_bond_repeats_up_the_wall(coursing: Coursing, course: int) -> None:
    assert coursing.rhythm(course) is coursing.rhythm(course + len(coursing.bond.courses))


def test_course_one_starts_at_the_datum() -> None:
    for key in bond_keys():
        assert laid(BRICK, bond(key)).rhythm(1).start_mm == 0


@pytest.mark.parametrize("key", [key for key in bond_keys() if key != "stack"])
def test_no_perpend_stands_over_another(key: str) -> None:
    # The rule every bond but stack keeps in neighbouring courses; common practice, no source.
    coursing = laid(BRICK, bond(key))
    for course in range(1, 9):
        assert not set(perpends(coursing, course)) & set(perpends(coursing, course + 1))


def test_in_stack_bond_every_perpend_does() -> None:
    coursing = laid(BRICK, bond("stack"))
    assert perpends(coursing, 1) == perpends(coursing, 2) == perpends(coursing, 3)


# Each header stands over the middle of what is under it: quarter bond, 56.25 mm of lap.
@pytest.mark.parametrize("key", ["english", "flemish"])
def test_headers_lap_a_quarter(key: str) -> None:
    coursing = laid(BRICK, bond(key))
    for x in perpends(coursing, 1):
        nearest = min(abs(x - other) for other in perpends(coursing, 2))
        assert x < 60 or x > 1940 or nearest == pytest.approx(56.25)


def test_stretchers_lap_a_half() -> None:
    coursing = laid(BRICK, bond("stretcher"))
    assert (perpends(coursing, 1)[0], perpends(coursing, 2)[0]) == (220, 107.5)


def test_rat_trap_courses_are_as_high_as_a_brick_is_wide() -> None:
    assert laid(BRICK, bond("rat_trap")).gauge_mm == 112.5


def test_courses_in_a_height() -> None:
    coursing = laid(BRICK, bond("stretcher"))
    assert [coursing.courses_in(height) for height in (1800, 1830, 1840)] == [24, 24, 25]


def test_measured_joints_take_the_place_of_the_usual() -> None:
    coursing = laid(BRICK, bond("stretcher"), bed_mm=8, perpend_mm=12)
    assert (coursing.gauge_mm, coursing.rhythm(1).repeat_mm) == (73, 227)


@pytest.mark.parametrize("joints", [{"bed_mm": 0.0}, {"perpend_mm": 0.0}, {"bed_mm": -3.0}])
def test_joints_thinner_than_nothing_are_refused(joints: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="thicker than nothing"):
        laid(BRICK, bond("stretcher"), **joints)
