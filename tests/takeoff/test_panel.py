"""Panels worked out by hand: 75 mm courses, a brick of 225 mm, edges looked for within 600 mm."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.survey.survey import Area, CrackedBrick, Treatment
from estimator.takeoff.brickwork import bricks_of
from estimator.takeoff.panel import Panel, panel_of
from estimator.takeoff.rules import changed, shipped
from estimator.takeoff.stitching import stitch
from tests.takeoff.walls import rectangle, side, upright, wall, window


def panel(*args: object, bars: bool = True, **more: object) -> Panel:
    """The panel of a wall."""
    laid = side(wall(*args, **more))  # type: ignore[arg-type]
    found = panel_of(laid, stitch(laid).bars if bars else (), bricks_of(laid))
    assert found is not None
    return found


def test_a_brick_and_a_course_beyond_the_work_where_no_edge_is_near() -> None:
    # Bars from 1520 to 2520 and a crack over courses 11 to 20, y 760 to 1500: 225 mm and a course
    # more on each side is 1295 to 2745, and courses 10 to 21, y 675 to 1575.
    found = panel(upright("a", 2020, 11, 10))
    assert found.net.bounds == (1295, 675, 2745, 1575)
    assert found.words == "1.45 m wide and 0.90 m high, a brick beyond the work on both sides"
    assert found.marks == ("front/area/panel",)


def test_out_to_the_window_the_end_and_the_foot() -> None:
    # Bars from 395 to 1395 over courses 8 to 17, y 535 to 1275: the left end is 395 mm away, the
    # window 505, the foot of the wall 535.
    found = panel(upright("a", 895, 8, 10), openings=(window(1900, 0, 900, 1200),))
    assert found.net.bounds[:3] == (0, 0, 1900)
    assert "from the left end to the window" in found.words


def test_down_to_the_lintel() -> None:
    # The head of the window is at 700 and its lintel ends at 840: the crack starts at 985 above it.
    over = replace(window(1500, 0, 900, 700), lintel_mm=140)
    found = panel(upright("a", 1950, 14, 5), openings=(over,))
    assert found.outline.bounds[1] == 840


def test_up_to_the_sill() -> None:
    # The crack ends at 1350, the underside of the sill of a window at 1425.
    found = panel(upright("a", 2020, 9, 10), openings=(window(1500, 1425, 1200, 900, sill=75),))
    assert found.net.bounds[3] == 1350


def test_a_movement_joint_ends_a_panel() -> None:
    found = panel(upright("a", 2020, 9, 10), movement_joints_mm=(2620.0,))
    assert found.net.bounds[2] == 2620
    assert "to the movement joint" in found.words


def test_cracks_far_apart_have_panels_of_their_own() -> None:
    found = panel(upright("a", 1120, 11, 6), upright("b", 7195, 11, 6), width=9000)
    assert found.parts == 2
    assert found.net.area_mm2 == pytest.approx(2 * 1450 * 600)


def test_panels_that_overlap_are_one_rectangle() -> None:
    # Panels from 1295 to 2745 over courses 10 to 21 and from 2195 to 3645 over courses 16 to 27:
    # by themselves 900 mm high each, together 1295 to 3645 and y 675 to 2025.
    found = panel(upright("a", 2020, 11, 10), upright("b", 2920, 17, 10), width=9000)
    assert found.parts == 1
    assert found.net.bounds == (1295, 675, 3645, 2025)
    assert found.words == "2.35 m wide and 1.35 m high, a brick beyond the work on both sides"


def test_bricks_side_by_side_have_one_panel() -> None:
    bricks = tuple(CrackedBrick(20, place, Treatment.REPLACE) for place in (10, 11, 12))
    assert panel(bricks=bricks, width=9000).parts == 1


def test_a_brick_away_from_the_cracks_has_its_own() -> None:
    brick = CrackedBrick(20, 20, Treatment.REPLACE)
    assert panel(upright("a", 1120, 2, 3), bricks=(brick,), width=9000).parts == 2


def test_a_panel_that_was_drawn_is_taken_as_drawn() -> None:
    area = Area("low", rectangle(9000, 600))
    found = panel(upright("a", 2020), areas=(area,))
    assert found.net.area_mm2 == 4500 * 600
    assert found.marks == ("front/area/low",)
    assert found.is_drawn


def test_an_opening_is_no_part_of_a_panel() -> None:
    area = Area("low", rectangle(4500, 600))
    found = panel(areas=(area,), openings=(window(1000, 0, 1000, 2000),))
    assert found.net.area_mm2 == 3500 * 600


def test_an_area_off_the_wall_is_no_panel() -> None:
    area = Area("far", ((9000, 0), (9900, 0), (9900, 600)))
    assert panel_of(side(wall(areas=(area,))), (), ()) is None


def test_margins_are_rules() -> None:
    rules = changed(shipped(), panel_margin_mm=100, panel_margin_courses=2)
    found = panel_of(side(wall(upright("a", 2020, 11, 10)), rules), (), ())
    assert found is not None
    assert found.net.bounds == (1920, 600, 2120, 1650)


def test_a_crack_just_off_the_wall_has_no_panel_on_it() -> None:
    # The crack at 0 runs up the perpend 5 mm left of the wall; the one at 4500 the perpend at
    # 4495: from 4270, a brick beyond it, to the end; courses 1 and 2.
    found = panel(upright("a", 0, 1, 1), upright("b", 4500, 1, 1), bars=False)
    assert found.net.bounds == (4270, 0, 4500, 150)


def test_a_crack_along_an_edge_has_its_panel_on_both_sides() -> None:
    found = panel(upright("a", 2020, 1, 1), movement_joints_mm=(2020.0,), bars=False)
    assert found.net.bounds == (1795, 0, 2245, 150)
