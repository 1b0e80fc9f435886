"""Dimensions add up to what they measure, and no words of a row run into others."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.drawing.courses import masonry_of
from estimator.drawing.dimensions import (
    LEAST_MM,
    Dimension,
    Kind,
    Side,
    dimensions_of,
    occupied,
)
from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import BarShape, CrackShape, Picture
from estimator.survey import survey_file
from estimator.survey.survey import Elevation, Opening, Survey, WallEnd
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import PANEL

DEMO = Path(__file__).resolve().parents[2] / "demo"


def surveyed(name: str) -> Survey:
    return survey_file.load(DEMO / f"{name}.json")


def drawn(name: str) -> Picture:
    survey = surveyed(name)
    picture = picture_of(survey, 0, measure(survey, PANEL, shipped()))
    assert picture is not None
    return picture


def letters_mm(words: str) -> float:
    return 40.0 * len(words)


def of_kind(found: tuple[Dimension, ...], kind: Kind) -> list[Dimension]:
    return [one for one in found if one.kind is kind]


def assert_rows_keep_apart(found: tuple[Dimension, ...]) -> None:
    rows: dict[tuple[Side, int], list[tuple[float, float]]] = defaultdict(list)
    for one in found:
        if one.side is not Side.ON:
            taken = occupied(one, letters_mm(one.words))
            for other in rows[one.side, one.row]:
                assert taken[0] >= other[1] - 1e-6 or other[0] >= taken[1] - 1e-6
            rows[one.side, one.row].append(taken)
    for side in (Side.BELOW, Side.RIGHT):
        numbers = {row for where, row in rows if where is side}
        assert numbers == set(range(len(numbers)))


@pytest.mark.parametrize("name", ["window_lime", "quoin_cavity", "terrace", "phone_call", "refer"])
def test_words_keep_apart_on_every_invented_wall(name: str) -> None:
    found = dimensions_of(drawn(name), words_mm=letters_mm)
    assert_rows_keep_apart(found)
    left, bottom, right, top = drawn(name).masonry.wall
    for kind, length in ((Kind.WIDTH, right - left), (Kind.HEIGHT, top - bottom)):
        (whole,) = of_kind(found, kind)
        assert whole.length_mm == pytest.approx(length)
        assert whole.row == max(one.row for one in found if one.side is whole.side)


places = st.integers(min_value=0, max_value=60).map(lambda step: step * 75.0)


@st.composite
def walls(draw: st.DrawFn) -> Picture:
    """Walls with openings, cracks and bars anywhere."""
    holes = []
    for number in range(draw(st.integers(0, 4))):
        left, bottom = draw(places), draw(places)
        wide = draw(st.integers(1, 20)) * 75.0
        holes.append(Opening(str(number), left, bottom, wide, wide))
    ends = [draw(st.sampled_from(WallEnd)) for _side in range(2)]
    outline = ((0.0, 0.0), (6000.0, 0.0), (6000.0, 6000.0), (0.0, 6000.0))
    wall = Elevation("w", "Wall", outline, openings=tuple(holes))
    wall = replace(wall, left_end=ends[0], right_end=ends[1])
    cracks, bars = [], []
    for letter in draw(st.sets(st.sampled_from("abcdef"))):
        x, y, high = draw(places), draw(places), draw(st.integers(0, 20)) * 75.0
        cracks.append(CrackShape(f"w/crack/{letter}", letter, ((x, y), (x, y + high)), (), ()))
        for course in draw(st.sets(st.integers(1, 70), max_size=5)):
            left, long = draw(places), draw(st.integers(4, 40)) * 50.0
            bed = (course - 1) * 75.0 + 5
            mark = f"w/bar/{len(bars)}"
            bars.append(
                BarShape(
                    mark, left, left + long, bed, (False, False), course, long, (letter,), False
                )
            )
    return Picture("w", "Wall", masonry_of(wall), tuple(cracks), tuple(bars))


@given(walls())
def test_words_keep_apart_on_any_wall(picture: Picture) -> None:
    found = dimensions_of(picture, words_mm=letters_mm)
    assert_rows_keep_apart(found)
    assert all(one.length_mm >= LEAST_MM for one in found)


@given(walls())
def test_chains_up_the_wall_add_up_to_its_height(picture: Picture) -> None:
    """Links left out are those too short to write on."""
    found = dimensions_of(picture, words_mm=letters_mm)
    links = {one.span for one in found if one.kind in (Kind.UP, Kind.OPENING_HEIGHT)}
    _left, bottom, _right, top = picture.masonry.wall
    whole = [h for h in picture.masonry.holes if h.box[3] <= top and h.box[2] <= 6000]
    for hole in whole:
        assert (hole.box[1], hole.box[3]) in links
    starts = {low for low, _high in links}
    for low, high in links:
        assert bottom <= low < high <= top
        assert high == top or high in starts or top - high < LEAST_MM


def test_places_are_told_from_the_nearest_edge_that_can_be_felt() -> None:
    outline = ((0.0, 0.0), (6000.0, 0.0), (6000.0, 3000.0), (0.0, 3000.0))
    wall = Elevation(
        *("w", "Wall", outline),
        openings=(Opening("o", 1500, 600, 900, 1200),),
        left_end=WallEnd.CONTINUES,
        right_end=WallEnd.QUOIN,
    )
    near_jamb = CrackShape("w/crack/a", "a", ((2600, 0), (2700, 600)), (), ())
    near_quoin = CrackShape("w/crack/b", "b", ((5500, 0), (5400, 600)), (), ())
    near_left = CrackShape("w/crack/c", "c", ((100, 0), (100, 600)), (), ())
    picture = Picture("w", "Wall", masonry_of(wall), (near_jamb, near_quoin, near_left))
    found = {one.words: one.span for one in of_kind(dimensions_of(picture), Kind.CRACK_PLACE)}
    # The wall goes on at the left: there is no edge there, so the jamb is the nearest.
    assert found == {"a: 200": (2400, 2600), "b: 500": (5500, 6000), "c: 1400": (100, 1500)}
    along = [one.span for one in dimensions_of(picture) if one.kind is Kind.ALONG]
    assert along == [(2400, 6000)]


def test_a_crack_is_as_high_as_its_courses() -> None:
    (rise,) = of_kind(dimensions_of(drawn("window_lime")), Kind.CRACK_HEIGHT)
    # Eleven courses of 68 mm bricks on 10 mm beds: 11 × 78 = 858.
    assert rise.words == "858 (11 c)"


def test_bars_tell_their_lengths_once_and_their_steps_together() -> None:
    found = dimensions_of(drawn("window_lime"))
    assert [one.words for one in of_kind(found, Kind.BAR_LENGTH)] == ["4 × 1200"]
    assert [one.words for one in of_kind(found, Kind.BAR_SPACING)] == ["3 × 3 c"]


def test_a_part_of_a_wall_has_the_dimensions_of_what_lies_in_it() -> None:
    picture = drawn("terrace")
    part = (0.0, 0.0, 4000.0, 3000.0)
    found = dimensions_of(picture, within=part)
    (whole,) = of_kind(found, Kind.WIDTH)
    assert whole.length_mm == 4000
    assert len(of_kind(found, Kind.OPENING_HEIGHT)) == 1
    assert len(of_kind(dimensions_of(picture), Kind.OPENING_HEIGHT)) == 2
