"""Joints in any region, with bricks laid one by one and clipped by shapely as the second route."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import box

from estimator.masonry.bond import bond
from estimator.masonry.brick import brick_format
from estimator.masonry.coursing import Coursing, laid
from estimator.masonry.joints import Joints, bed_in, joints_in, per_square_metre
from estimator.masonry.region import NOWHERE, Region
from tests.masonry.oracle import bricks_in, panels, shape_of, walls

UK = laid(brick_format("uk_metric"), bond("stretcher"))
place = st.floats(-3000, 3000, allow_nan=False).map(lambda x: round(x, 2))


def repeat_of(coursing: Coursing) -> tuple[float, float]:
    """Return the width and height after which a wall is the same again [mm]."""
    widths = {round(rhythm.repeat_mm, 6) for rhythm in coursing.rhythms}
    common = [
        min(widths) * turns
        for turns in range(1, 60)
        if all(abs(min(widths) * turns / w - round(min(widths) * turns / w)) < 1e-9 for w in widths)
    ]
    # Headers that are not half a stretcher and a joint drift: such a wall never repeats soon.
    assume(common)
    return common[0], coursing.gauge_mm * len(coursing.rhythms)


def figures(found: Joints) -> tuple[float, ...]:
    return (found.area_m2, found.bed_m, found.perpend_m, found.perpends)


@settings(max_examples=60)
@given(walls(), panels())
def test_joints_and_bricks_make_the_wall(coursing: Coursing, region: Region) -> None:
    mortar = joints_in(coursing, region).joint_area_m2 * 1e6
    assert mortar + bricks_in(coursing, region) == pytest.approx(region.area_mm2, rel=1e-9, abs=0.1)


@settings(max_examples=60)
@given(walls(), panels())
def test_beds_are_what_shapely_clips(coursing: Coursing, region: Region) -> None:
    shape, (left, low, right, high) = shape_of(region), region.bounds
    first, last = math.floor(low / coursing.gauge_mm), math.ceil(high / coursing.gauge_mm)
    beds = sum(
        box(left, n * coursing.gauge_mm, right, n * coursing.gauge_mm + coursing.bed_mm)
        .intersection(shape)
        .area
        for n in range(first, last + 1)
    )
    ours = joints_in(coursing, region).bed_m * coursing.bed_mm * 1000
    assert ours == pytest.approx(beds, rel=1e-9, abs=0.1)


@given(walls(), panels(), place, place)
def test_a_stretch_of_one_bed_is_what_shapely_clips(
    coursing: Coursing, region: Region, one: float, two: float
) -> None:
    left, right = sorted((one, two))
    course = coursing.course_at((region.bounds[1] + region.bounds[3]) / 2)
    low = coursing.bed_bottom(course)
    bed = box(left, low, right, low + coursing.bed_mm).intersection(shape_of(region)).area
    ours = bed_in(coursing, region, course, left=left, right=right)
    assert ours * 1000 * coursing.bed_mm == pytest.approx(bed, rel=1e-9, abs=0.01)


@given(walls(), panels(), place)
def test_a_wall_split_in_two_measures_the_same(
    coursing: Coursing, region: Region, at: float
) -> None:
    halves = [Region.rectangle(-9000, -9000, at, 9000), Region.rectangle(at, -9000, 9000, 9000)]
    parts = [joints_in(coursing, region.within(half)) for half in halves]
    whole = joints_in(coursing, region)
    assert figures(parts[0] + parts[1]) == pytest.approx(figures(whole), rel=1e-9, abs=1e-9)


@given(walls(), panels(), place)
def test_a_wall_split_level_measures_the_same(
    coursing: Coursing, region: Region, at: float
) -> None:
    halves = [Region.rectangle(-9000, -9000, 9000, at), Region.rectangle(-9000, at, 9000, 9000)]
    parts = [joints_in(coursing, region.within(half)) for half in halves]
    whole = joints_in(coursing, region)
    assert figures(parts[0] + parts[1]) == pytest.approx(figures(whole), rel=1e-9, abs=1e-9)


@given(walls(), place, place, st.integers(1, 4), st.integers(1, 4))
def test_whole_repeats_agree_with_the_bond(
    coursing: Coursing, x: float, y: float, across: int, up: int
) -> None:
    width, height = repeat_of(coursing)
    region = Region.rectangle(x, y, x + width * across, y + height * up)
    each, found = per_square_metre(coursing), joints_in(coursing, region)
    expected = [found.area_m2 * part for part in figures(each)]
    assert figures(found) == pytest.approx(expected, rel=1e-9)


@given(walls(), panels(), st.integers(-5, 5), st.integers(-5, 5))
def test_moving_by_whole_repeats_changes_nothing(
    coursing: Coursing, region: Region, across: int, up: int
) -> None:
    width, height = repeat_of(coursing)
    moved = Region.of(
        *([(x + across * width, y + up * height) for x, y in ring] for ring in region.rings())
    )
    assert figures(joints_in(coursing, moved)) == pytest.approx(
        figures(joints_in(coursing, region)), rel=1e-9, abs=1e-9
    )


@given(walls(), panels())
def test_never_more_joint_than_wall(coursing: Coursing, region: Region) -> None:
    found = joints_in(coursing, region)
    assert min(found.bed_m, found.perpends) >= 0
    assert found.joint_area_m2 <= found.area_m2 * (1 + 1e-12)


def test_nowhere_has_no_joints() -> None:
    assert figures(joints_in(UK, NOWHERE)) == (0, 0, 0, 0)
    assert bed_in(UK, NOWHERE, 3, left=0, right=1000) == 0


def test_part_of_a_perpend_counts_as_part() -> None:
    # The first perpend of course 1 lies from 215 to 225, its bricks from 10 to 75 up.
    assert joints_in(UK, Region.rectangle(215, 10, 220, 75)).perpends == pytest.approx(0.5)
    assert joints_in(UK, Region.rectangle(215, 10, 225, 42.5)).perpends == pytest.approx(0.5)


def test_joints_of_different_thickness_are_not_added() -> None:
    wide = laid(brick_format("uk_metric"), bond("stretcher"), bed_mm=12)
    square = Region.rectangle(0, 0, 900, 900)
    with pytest.raises(ValueError, match="different thickness"):
        joints_in(UK, square) + joints_in(wide, square)
