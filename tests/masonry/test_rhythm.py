"""Rhythms: the perpend up to a place, against counting it out brick by brick."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.masonry.rhythm import Everything, Rhythm, Stretch

size = st.floats(20, 400).map(lambda x: round(x, 2))
rhythms = st.builds(
    Rhythm,
    st.lists(size, min_size=1, max_size=6).map(tuple),
    st.floats(3, 20).map(lambda x: round(x, 2)),
    st.floats(-500, 500).map(lambda x: round(x, 2)),
)
place = st.floats(-5000, 5000).map(lambda x: round(x, 3))


def counted(rhythm: Rhythm, left: float, right: float) -> float:
    """Perpend between two places, face by face."""
    total, number = 0.0, rhythm.face_at(left) - 1
    while rhythm.face_span(number)[0] < right:
        low, high = rhythm.face_span(number)[1], rhythm.face_span(number + 1)[0]
        total += max(min(high, right) - max(low, left), 0.0)
        number += 1
    return total


@given(rhythms, place, place)
def test_perpend_between_two_places(rhythm: Rhythm, one: float, two: float) -> None:
    left, right = sorted((one, two))
    assert rhythm.upto(right) - rhythm.upto(left) == pytest.approx(
        counted(rhythm, left, right), abs=1e-7
    )


@given(rhythms, place, st.floats(0.5, 60))
def test_running_is_the_integral_of_upto(rhythm: Rhythm, x: float, step: float) -> None:
    # Upto is a chain of straight lines, so between its corners the trapezium rule is exact.
    ends = {x, x + step}
    for number in range(rhythm.face_at(x) - 1, rhythm.face_at(x + step) + 1):
        ends |= {edge for edge in rhythm.face_span(number) if x < edge < x + step}
    at = sorted(ends)
    by_hand = sum((b - a) * (rhythm.upto(a) + rhythm.upto(b)) / 2 for a, b in pairwise(at))
    assert rhythm.running(x + step) - rhythm.running(x) == pytest.approx(by_hand, abs=1e-4)


@given(rhythms, place)
def test_a_place_is_in_its_face_or_in_the_perpend_after(rhythm: Rhythm, x: float) -> None:
    number = rhythm.face_at(x)
    assert rhythm.face_span(number)[0] - 1e-6 <= x <= rhythm.face_span(number + 1)[0] + 1e-6


@given(rhythms, st.integers(-40, 40))
def test_faces_follow_each_other_with_a_perpend_between(rhythm: Rhythm, number: int) -> None:
    (left, right), (following, _) = rhythm.face_span(number), rhythm.face_span(number + 1)
    assert right - left == pytest.approx(rhythm.faces_mm[number % len(rhythm.faces_mm)])
    assert following - right == pytest.approx(rhythm.perpend_mm)
    assert rhythm.perpend_after(number) == pytest.approx((right + following) / 2)


@given(rhythms, place)
def test_the_nearest_perpend_is_nearest(rhythm: Rhythm, x: float) -> None:
    nearest = rhythm.nearest_perpend(x)
    away = [abs(rhythm.perpend_after(nearest + step) - x) for step in (-2, -1, 0, 1, 2)]
    assert away[2] == pytest.approx(min(away), abs=1e-6)


@given(rhythms, place, st.sampled_from(["right", "left"]))
def test_the_next_perpend_is_the_first_beyond(rhythm: Rhythm, x: float, way: str) -> None:
    number = rhythm.next_perpend(x, rightward=way == "right")
    onward, back = (number, number - 1) if way == "right" else (number, number + 1)
    sign = 1 if way == "right" else -1
    assert sign * (rhythm.perpend_after(onward) - x) > 0
    assert sign * (rhythm.perpend_after(back) - x) <= 1e-6


@given(rhythms, place, st.floats(1, 900))
def test_faces_between_are_all_that_show(rhythm: Rhythm, left: float, width: float) -> None:
    right = left + width
    shown = list(rhythm.faces_between(left, right))
    brick = sum(min(end, right) - max(start, left) for _, start, end in shown)
    assert all(end > left and start < right for _, start, end in shown)
    assert brick + rhythm.upto(right) - rhythm.upto(left) == pytest.approx(width, abs=1e-6)


@given(place, place, place)
def test_covers_of_a_stretch_and_of_everything(x: float, one: float, two: float) -> None:
    stretch = Stretch(*sorted((one, two)))
    assert 0 <= stretch.upto(x) <= stretch.right - stretch.left
    assert (Everything().upto(x), Everything().running(x)) == (x, x * x / 2)
    far = stretch.running(stretch.right + 10) - stretch.running(stretch.right)
    assert far == pytest.approx(10 * (stretch.right - stretch.left), abs=1e-6)
