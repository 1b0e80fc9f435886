"""What is drawn is what was measured: bricks, cracks, bars, at the scale that is said."""

from __future__ import annotations

import re
from dataclasses import replace

import pypdf
import pytest
from reportlab.lib.units import mm

from estimator.documents.drawing import ElevationDrawing
from estimator.documents.figure import ROOM_MM, Figure, from_quotation, of_quotation, scale_for
from estimator.documents.quotation import render
from estimator.drawing.dimensions import Side
from estimator.masonry.shapes import brick_faces
from estimator.survey.survey import Area, Treatment
from estimator.survey.wall import path_of, wall_of
from estimator.takeoff.lines import PanelOutline
from tests.documents import made_up
from tests.documents.reading import reader

NAMES = ["window_lime", "quoin_cavity", "terrace", "phone_call"]


def drawn(name: str) -> Figure:
    (figure,) = of_quotation(made_up.quotation(name))
    return figure


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_fits_its_room_at_its_scale(name: str) -> None:
    figure = drawn(name)
    left, bottom, right, top = figure.bounds
    low = bottom if figure.ground is None else figure.ground
    assert (right - left) / figure.scale <= ROOM_MM[0] + 1e-6
    assert (top - low) / figure.scale <= ROOM_MM[1] + 1e-6
    assert f"1 : {figure.scale}" in figure.caption


@pytest.mark.parametrize("name", NAMES)
def test_every_bar_and_crack_lies_in_the_drawing(name: str) -> None:
    quotation = made_up.quotation(name)
    figure = drawn(name)
    left, bottom, right, top = figure.bounds
    bars = quotation.options[0].measure.bars
    assert [(bar.left, bar.right, bar.y) for bar in figure.picture.bars] == [
        (bar.left_mm, bar.right_mm, bar.y_mm) for bar in bars
    ]
    for crack in figure.picture.cracks:
        assert all(left <= x <= right and bottom <= y <= top for x, y in crack.points)


def test_bricks_are_those_of_the_wall() -> None:
    quotation = made_up.quotation()
    (elevation,) = quotation.survey.elevations
    figure = from_quotation(quotation)
    wall = wall_of(elevation)
    faces = {(f.left, f.bottom, f.right, f.top) for f in brick_faces(wall.coursing, wall.net)}
    left, _bottom, right, _top = figure.bounds
    whole = {box for box in figure.bricks if left < box[0] and box[2] < right}
    assert whole
    assert whole <= faces
    crack = elevation.cracks[0]
    assert figure.picture.cracks[0].points == path_of(crack, wall.coursing).points


def test_treated_bricks_are_drawn_large_and_explained() -> None:
    figure = drawn("quoin_cavity")
    assert figure.scale <= 30
    assert [kind for kind, _word in figure.legend] == [
        *(Treatment.REPLACE, Treatment.TURN, Treatment.PATCH)
    ]
    assert len([brick for brick in figure.picture.bricks if brick.marked]) == 5
    assert all(bar.turns[1] for bar in figure.picture.bars)


def test_the_crack_is_dimensioned_and_the_bars_are_told() -> None:
    figure = drawn("window_lime")
    (crack,) = figure.picture.cracks
    levels = [y for _x, y in crack.points]
    (upright,) = [one for one in figure.dimensions if one.side is Side.RIGHT]
    assert upright.span == (min(levels), max(levels))
    assert upright.words == f"{(max(levels) - min(levels)) / 1000:.2f} m"
    assert "four bars in teal, 1.20 m long" in figure.caption


def test_scales_go_with_size() -> None:
    assert scale_for(700, 500) == 10
    assert scale_for(10_000_000, 10) == 1000


def test_a_wall_too_long_for_bricks_is_drawn_flat() -> None:
    quotation = made_up.quotation()
    (elevation,) = quotation.survey.elevations
    long = ((0.0, 0.0), (60_000.0, 0.0), (60_000.0, 3000.0), (0.0, 3000.0))
    wide = replace(elevation, outline=long, areas=(Area("all", long),))
    measure = replace(quotation.options[0].measure, panels=(PanelOutline(elevation.id, long),))
    option = replace(quotation.options[0], measure=measure)
    survey = replace(quotation.survey, elevations=(wide,))
    figure = from_quotation(replace(quotation, survey=survey, options=(option,)))
    assert figure.scale > 200
    assert figure.bricks == ()


def test_two_thousand_bricks_are_one_path_of_the_page() -> None:
    quotation = made_up.quotation("terrace")
    figure = drawn("terrace")
    page: pypdf.PageObject = reader(render(quotation)).pages[0]
    contents = page.get_contents()
    assert contents is not None
    code = contents.get_data().decode("latin-1")
    runs = [len(run.split(" re")) - 1 for run in re.findall(r"(?:[\d.\- ]+ re ?)+", code)]
    assert max(runs) == len(figure.bricks)


def test_the_drawing_takes_the_room_it_says() -> None:
    figure = drawn("quoin_cavity")
    drawing = ElevationDrawing(figure, 228)
    width, height = drawing.wrap(500, 700)
    wall = (figure.bounds[3] - figure.bounds[1]) * mm / figure.scale
    assert width == 228
    assert height > wall


def test_a_caption_is_a_sentence_where_nothing_but_an_area_is_drawn() -> None:
    quotation = made_up.quotation()
    (front,) = quotation.survey.elevations
    low = Area("low", ((0, 0), (2000, 0), (2000, 600), (0, 600)))
    bare = replace(front, cracks=(), bricks=(), areas=(low,))
    bars_away = tuple(
        replace(one, measure=replace(one.measure, bars=())) for one in quotation.options
    )
    survey = replace(quotation.survey, elevations=(bare,))
    figure = from_quotation(replace(quotation, survey=survey, options=bars_away))
    assert ". Area to repoint dashed." in figure.caption
