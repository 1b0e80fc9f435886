"""An elevation laid on its courses."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.survey.ranges import Range
from estimator.survey.survey import (
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    CrackRun,
    Elevation,
    Opening,
    SteppedRun,
    StraightRun,
    TracedRun,
    Treatment,
)
from estimator.survey.wall import Wall, coursing_of, path_of, ring_of, rings_of, wall_of
from tests.masonry.oracle import agree

SQUARE = ((0.0, 0.0), (4500.0, 0.0), (4500.0, 2400.0), (0.0, 2400.0))
GABLE = ((0.0, 0.0), (4500.0, 0.0), (4500.0, 1500.0), (2250.0, 3750.0), (0.0, 1500.0))
WINDOW = Opening("w1", 900, 900, 1200, 1050, sill_mm=75)


def built(outline: tuple[tuple[float, float], ...], *openings: Opening, bond: str = "") -> Wall:
    brickwork = Brickwork(bond=bond or "stretcher")
    return wall_of(Elevation("f", "Front", outline, brickwork, openings))


def brick(course: int, place: int) -> CrackedBrick:
    return CrackedBrick(course, place, Treatment.REPLACE)


def test_an_opening_takes_its_sill_out_too() -> None:
    wall = built(SQUARE, WINDOW)
    assert wall.gross.area_mm2 - wall.net.area_mm2 == 1200 * (1050 + 75)


def test_the_ring_of_an_opening_goes_down_by_its_sill() -> None:
    assert ring_of(WINDOW) == ((900, 825), (2100, 825), (2100, 1950), (900, 1950))


def test_openings_that_overlap_come_off_once() -> None:
    twin = Opening("w2", 1500, 900, 1200, 1050)
    wall = built(SQUARE, Opening("w1", 900, 900, 1200, 1050), twin)
    assert wall.net.area_mm2 == pytest.approx(4500 * 2400 - 1800 * 1050)


def test_an_opening_half_off_the_wall_takes_only_what_is_there() -> None:
    wall = built(SQUARE, Opening("d", 4000, 0, 1000, 2000, kind="door"))
    assert wall.net.area_mm2 == pytest.approx(4500 * 2400 - 500 * 2000)


def test_the_brick_at_the_left_edge_is_the_first() -> None:
    wall = built(SQUARE)
    assert wall.box_of(brick(1, 1)) == (0, 10, 215, 75)
    # Course 2 starts with a half bat: its brick reaches beyond the edge, 112.5 to the left.
    assert wall.box_of(brick(2, 1)) == (-112.5, 85, 102.5, 150)
    assert wall.box_of(brick(2, 2))[0] == 112.5


def test_a_brick_hidden_behind_the_edge_is_not_counted() -> None:
    # The edge lies in the perpend of course 1: the first brick seen is the one after it.
    wall = built(tuple((x + 220, y) for x, y in SQUARE))
    assert wall.box_of(brick(1, 1))[0] == 225


def test_under_a_raking_verge_bricks_are_counted_from_the_verge() -> None:
    wall = built(GABLE)
    course = wall.coursing.course_at(2600)
    left = wall.gross.spans_at(wall.coursing.course_middle(course))[0][0]
    box = wall.box_of(brick(course, 1))
    assert box[0] <= left < box[2]


def test_a_course_above_the_wall_is_counted_from_its_left_edge() -> None:
    assert built(SQUARE).face_of(brick(99, 1)) == 0


@given(st.integers(1, 48), st.integers(1, 20), st.sampled_from(["stretcher", "flemish", "monk"]))
def test_face_and_place_are_each_others_way_back(course: int, place: int, bond: str) -> None:
    wall = built(GABLE, WINDOW, bond=bond)
    assert wall.place_of(course, wall.face_of(brick(course, place))) == place


def test_joints_not_measured_are_the_formats_own() -> None:
    assert coursing_of(Brickwork(bed_usual_mm=8)).gauge_mm == 73
    assert coursing_of(Brickwork(brick="de_df")).gauge_mm == 62.5
    with pytest.raises(KeyError):
        coursing_of(Brickwork(brick="unheard_of"))


@pytest.mark.parametrize(
    ("run", "crossed", "perpends", "bricks"),
    [
        (SteppedRun(220, 3, 6), (3, 4, 5, 6, 7, 8), 6, 0),
        (SteppedRun(220, 3, Range(4, 6, 9)), (3, 4, 5, 6, 7, 8), 6, 0),
        (StraightRun(220, 1, 4), (1, 2, 3, 4), 2, 2),
        (BedRun(4, 100, 700), (), 0, 0),
        (TracedRun(((0, 5), (300, 230))), (1, 2, 3), 3, 0),
        (TracedRun(((300, 5), (300, 155)), through_bricks=True), (1, 2), 1, 1),
    ],
)
def test_every_kind_of_run_is_laid(
    run: CrackRun, crossed: tuple[int, ...], perpends: int, bricks: int
) -> None:
    path = path_of(Crack("a", run, 2.0), coursing_of(Brickwork()))
    assert (path.courses, path.perpends, len(path.bricks)) == (crossed, perpends, bricks)


def test_a_crack_leans_the_way_it_was_seen() -> None:
    coursing = coursing_of(Brickwork())
    right, left, back = (
        path_of(Crack("a", run, 2.0), coursing).points[-1][0]
        for run in (
            SteppedRun(2000, 1, 6),
            SteppedRun(2000, 1, 6, lean="left"),
            SteppedRun(2000, 1, 6, turn_after=3),
        )
    )
    assert left < back < right


def test_a_gable_with_a_window_has_its_own_area() -> None:
    wall = built(GABLE, WINDOW)
    triangle, body = 4500 * 2250 / 2, 4500 * 1500
    assert agree(wall.net.area_mm2, triangle + body - 1200 * 1125, triangle + body)


LINTEL = Opening("w1", 900, 900, 1200, 1050, sill_mm=75, lintel_mm=140, lintel_bearing_mm=150)


def test_what_shows_of_a_lintel_is_no_brickwork() -> None:
    wall = built(SQUARE, LINTEL)
    assert wall.gross.area_mm2 - wall.net.area_mm2 == 1200 * (1050 + 75) + 1500 * 140
    assert not wall.net.holds((800, 2000))
    assert wall.net.holds((800, 1900))


def test_a_lintel_as_wide_as_its_opening_is_one_rectangle_with_it() -> None:
    narrow = replace(LINTEL, lintel_bearing_mm=0)
    assert rings_of(narrow) == (((900, 825), (2100, 825), (2100, 2090), (900, 2090)),)
    assert rings_of(WINDOW) == (ring_of(WINDOW),)


def test_the_corners_of_an_opening_are_under_its_lintel() -> None:
    assert ring_of(LINTEL) == ring_of(WINDOW)


def test_a_traced_crack_cuts_where_it_is_said_to() -> None:
    points = ((300.0, 5.0), (300.0, 155.0), (700.0, 155.0))
    coursing = coursing_of(Brickwork())
    cut = path_of(Crack("a", TracedRun(points, cuts=(1,)), 2.0), coursing)
    assert cut.bricks == ((1, 1),)
    assert not path_of(Crack("a", TracedRun(points, cuts=(2,)), 2.0), coursing).bricks
