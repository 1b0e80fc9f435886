from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.masonry.region import Region
from estimator.takeoff.bands import Bands
from estimator.takeoff.stretches import Box, clipped, less, merged, share_in

NUMBER = st.integers(0, 40).map(float)
STRETCHES = st.lists(
    st.tuples(NUMBER, NUMBER).map(lambda two: (min(two), max(two))).filter(lambda s: s[0] < s[1]),
    max_size=6,
)
BOXES = st.builds(
    lambda x, y, w, h: Box(x, y, x + w, y + h), NUMBER, NUMBER, st.integers(1, 9), st.integers(1, 9)
)
GABLE = Region.of([(0, 0), (40, 0), (20, 40)])


def points(stretches: list[tuple[float, float]]) -> set[int]:
    """The unit steps covered: a second route by counting."""
    return {n for left, right in stretches for n in range(int(left), int(right))}


@given(STRETCHES)
def test_merged_covers_the_same_and_does_not_touch(stretches: list[tuple[float, float]]) -> None:
    found = merged(stretches)
    assert points(found) == points(stretches)
    assert all(one[1] < two[0] for one, two in pairwise(found))


@given(STRETCHES, STRETCHES)
def test_less_takes_away_exactly(
    stretches: list[tuple[float, float]], taken: list[tuple[float, float]]
) -> None:
    assert points(less(stretches, taken)) == points(stretches) - points(taken)


@given(st.lists(BOXES, min_size=1, max_size=3), BOXES)
def test_bands_agree_with_cutting_the_region(boxes: list[Box], asked: Box) -> None:
    region = Region.of(*(Region.rectangle(*box).rings()[0] for box in boxes))
    cut = region.within(Region.rectangle(*asked)).area_mm2
    assert Bands(region).length(asked) * (asked.top - asked.bottom) == pytest.approx(cut)
    assert clipped(region, asked).area_mm2 == pytest.approx(cut)


@given(BOXES)
def test_slanted_sides_are_cut_as_areas(asked: Box) -> None:
    cut = GABLE.within(Region.rectangle(*asked)).area_mm2
    assert Bands(GABLE).share(asked) == pytest.approx(cut / asked.area_mm2)
    assert share_in(GABLE, asked) == pytest.approx(cut / asked.area_mm2)
