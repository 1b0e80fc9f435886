"""A photograph set square: there and back, how far off, how turned, and what is said of it."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.notices import UserMistake
from estimator.survey.photo import Precision, Squared, squared
from estimator.survey.photo_fit import NoFit, solved
from estimator.survey.survey import Photo, PhotoPoint
from tests.survey.cameras import (
    HIGH,
    WIDE,
    Camera,
    any_camera,
    clicked,
    joints,
    photo,
    spread_points,
)

SEEDS = st.integers(0, 10**6)


def marked(seed: int, count: int = 6, *, click: float = 1.5, tilt: float = 45) -> Photo:
    chance = random.Random(seed)
    camera = any_camera(chance, tilt)
    return clicked(chance, camera, spread_points(chance, camera, count), click=click, place=2.0)


def near(found: Squared, chance: random.Random) -> tuple[float, float]:
    """A place on the wall within what the points span, or a little beyond."""
    across, up = zip(*found.hull, strict=True)
    return (
        chance.uniform(min(across) - 100, max(across) + 100),
        chance.uniform(min(up) - 100, max(up) + 100),
    )


@given(SEEDS, st.sampled_from([4, 5, 9]))
def test_to_the_picture_and_back_is_the_same_place(seed: int, count: int) -> None:
    found = squared(marked(seed, count))
    place = near(found, random.Random(seed))
    assert math.dist(found.to_wall(found.to_picture(place)), place) < 1e-6
    assert math.dist(found.view.to_picture(place), found.to_picture(place)) < 1e-6


@given(SEEDS, st.sampled_from([4, 5, 9]), st.floats(0.2, 5.0))
def test_a_larger_copy_of_the_photograph_changes_nothing_on_the_wall(
    seed: int, count: int, times: float
) -> None:
    given_photo = marked(seed, count)
    wide, high = round(WIDE * times), round(HIGH * times)
    larger = replace(
        given_photo,
        width_px=wide,
        height_px=high,
        points=tuple(
            replace(one, across_px=one.across_px * times, down_px=one.down_px * times)
            for one in given_photo.points
        ),
    )
    # A click is so much the coarser on a larger copy of the same picture.
    one, two = squared(given_photo), squared(larger, Precision(click_px=1.5 * times))
    chance = random.Random(seed)
    a, b = near(one, chance), near(one, chance)
    u, v = one.to_picture(a)
    assert math.dist(two.to_wall((u * times, v * times)), a) < 1e-4
    # The sides of the copy are whole pixels, so its middle may lie half a pixel off.
    assert two.error_of_length_mm(a, b) == pytest.approx(one.error_of_length_mm(a, b), rel=0.02)


@given(SEEDS)
def test_a_wall_counted_from_another_datum_has_the_same_lengths(seed: int) -> None:
    given_photo = marked(seed, 6)
    moved = replace(
        given_photo,
        points=tuple(
            replace(one, x_mm=one.x_mm - 3000, y_mm=one.y_mm + 1500) for one in given_photo.points
        ),
    )
    one, two = squared(given_photo), squared(moved)
    chance = random.Random(seed)
    a, b = near(one, chance), near(one, chance)
    seen = one.to_picture(a), one.to_picture(b)
    assert math.dist(*map(two.to_wall, seen)) == pytest.approx(math.dist(a, b), abs=1e-4)
    assert two.error_of_length_mm(*((x - 3000, y + 1500) for x, y in (a, b))) == pytest.approx(
        one.error_of_length_mm(a, b), rel=1e-6
    )


@given(SEEDS)
def test_the_order_of_the_points_does_not_matter(seed: int) -> None:
    given_photo = marked(seed, 6)
    turned = replace(given_photo, points=given_photo.points[::-1])
    one, two = squared(given_photo), squared(turned)
    place = near(one, random.Random(seed))
    assert math.dist(two.to_wall(one.to_picture(place)), place) < 1e-4


def test_errors_come_out_as_clicking_again_and_again_spreads() -> None:
    # Against chance itself: 3,000 times the same marks with clicks and places a little off.
    chance = random.Random(4)
    camera = Camera((2400, 1500), 3500, turn=20, lean=10)
    places = spread_points(chance, camera, 4)
    found = squared(photo(places, camera.sees(places)), Precision(1.5, 2.0, 0.0))
    a, b = (1500.0, 1000.0), (3300.0, 2000.0)
    lengths, off = [], []
    for _ in range(3000):
        again = squared(clicked(chance, camera, places, click=1.5, place=2.0))
        seen = [
            tuple(float(one) + chance.gauss(0, 1.5) for one in pixel)
            for pixel in camera.sees([a, b])
        ]
        one, two = (again.to_wall((pixel[0], pixel[1])) for pixel in seen)
        lengths.append(math.dist(one, two) - math.dist(a, b))
        off.append(math.dist(one, a))
    # Four points leave no spare one; the margin is that of ten measurements made before.
    widened = found.margin / 1.96
    assert widened == pytest.approx(2.228 / 1.96, rel=0.002)  # Student's t of 10, any table.
    told = found.error_of_length_mm(a, b) / widened
    assert told == pytest.approx(1.96 * float(np.std(lengths)), rel=0.05)
    # 95 of 100 places lie within what is told of one.
    assert found.likely_error_mm(a) / widened == pytest.approx(
        float(np.quantile(off, 0.95)), rel=0.05
    )


def test_a_lens_that_bends_counts() -> None:
    # Points at the edges take most of the bending with them; in the middle of them it shows.
    camera = Camera((2400, 1500), 3500)
    places = np.array([(700.0, 500.0), (4100, 500), (4100, 2500), (700, 2500)])
    given_photo = photo(places, camera.sees(places))
    errors = [
        squared(given_photo, Precision(bending=bending)).error_of_length_mm((2400, 1500), end)
        for end in ((3600, 1500), (2400, 2400))
        for bending in (0.0, 0.004, 0.02)
    ]
    assert errors[0] < errors[1] < errors[2] / 1.2
    assert errors[3] < errors[4] < errors[5] / 1.2


def test_points_that_agree_make_clicks_better_and_points_that_do_not_worse() -> None:
    camera = Camera((2400, 1500), 3500, turn=20)
    places = spread_points(random.Random(5), camera, 8)
    exact = photo(places, camera.sees(places))
    good = squared(exact)
    assert 0.5 * 1.5 <= good.click_px < 1.5
    # A point miscounted by one brick: 225 mm.
    first = replace(exact.points[0], x_mm=exact.points[0].x_mm + 225)
    bad = squared(replace(exact, points=(first, *exact.points[1:])))
    assert bad.click_px > 6
    assert any("count them again" in sentence for sentence in bad.limits)
    assert not any("count them again" in sentence for sentence in good.limits)
    assert bad.error_of_length_mm((1500, 1000), (3000, 1000)) > 5 * good.error_of_length_mm(
        (1500, 1000), (3000, 1000)
    )


def test_four_points_say_that_nothing_checks_them() -> None:
    assert any("Four points" in sentence for sentence in squared(marked(1, 4)).limits)
    assert not any("Four points" in sentence for sentence in squared(marked(1, 5)).limits)


@pytest.mark.parametrize("turn", [0, 10, 25, 40, 50])
def test_the_turn_of_the_camera_is_told(turn: int) -> None:
    camera = Camera((2400, 1500), 3800, turn=turn)
    there = joints()
    seen = camera.sees(there)
    corners = [
        int(np.argmin(((seen - np.array(want)) ** 2).sum(axis=1)))
        for want in ((200, 200), (1800, 200), (1800, 1300), (200, 1300), (1000, 700))
    ]
    found = squared(photo(there[corners], seen[corners]))
    assert found.tilt_degrees == pytest.approx(turn, abs=1.0)
    lean = [sentence for sentence in found.limits if sentence.startswith("The camera was turned")]
    assert len(lean) == (turn > 30)
    assert all(("do not measure" in sentence) == (turn > 45) for sentence in lean)


def test_a_wide_lens_is_noticed_where_the_picture_tells() -> None:
    for focal, is_wide in ((0.75, False), (0.45, True)):
        camera = Camera((2400, 1500), 2200, turn=30, lean=10, focal=focal * WIDE)
        places = spread_points(random.Random(2), camera, 8)
        found = squared(photo(places, camera.sees(places)))
        assert any("wide lens" in sentence for sentence in found.limits) == is_wide


def test_bunched_points_and_places_beyond_them_are_told() -> None:
    camera = Camera((2400, 1500), 3500, turn=10)
    places = np.array([(2000.0, 1200.0), (2600, 1200), (2600, 1700), (2000, 1700), (2300, 1400)])
    found = squared(photo(places, camera.sees(places)))
    assert any("close together" in sentence for sentence in found.limits)
    assert not found.is_beyond_points((2300, 1400))
    assert found.is_beyond_points((3500, 1400))
    assert found.likely_error_mm((4200, 2400)) > 4 * found.likely_error_mm((2300, 1400))
    spread = squared(marked(1, 8))
    assert not any("close together" in sentence for sentence in spread.limits)


def test_places_that_are_one_have_the_error_of_a_place() -> None:
    found = squared(marked(1))
    assert found.error_of_length_mm((1000, 1000), (1000, 1000)) == found.likely_error_mm(
        (1000, 1000)
    )


def test_beyond_the_horizon_there_is_no_wall() -> None:
    camera = Camera((2400, 1500), 2500, turn=60)
    places = np.array([(1800.0, 1000.0), (3000, 1000), (3000, 2000), (1800, 2000)])
    found = squared(photo(places, camera.sees(places)))
    # Far to the right, past where bed joints run together.
    with pytest.raises(UserMistake, match="horizon"):
        found.to_wall((WIDE * 3.0, HIGH / 2))
    with pytest.raises(UserMistake, match="horizon"):
        found.to_wall((-WIDE * 3.0, HIGH / 2)) if camera.turn < 0 else found.to_wall((1e7, 700.0))


def test_equations_that_leave_something_open_have_no_answer() -> None:
    with pytest.raises(NoFit):
        solved([[1.0, 2.0], [2.0, 4.0]], [[1.0, 2.0]])


@given(
    st.lists(
        st.tuples(
            st.floats(0, WIDE), st.floats(0, HIGH), st.floats(-500, 9000), st.floats(-500, 6000)
        ),
        min_size=0,
        max_size=9,
    )
)
def test_any_points_are_set_square_or_refused_in_words(
    numbers: list[tuple[float, float, float, float]],
) -> None:
    points = tuple(PhotoPoint(*four) for four in numbers)
    try:
        found = squared(Photo("p", "front", "", WIDE, HIGH, points))
    except UserMistake as mistake:
        assert str(mistake).endswith(".")
        return
    for one in found.hull:
        assert math.isfinite(found.likely_error_mm(one))
