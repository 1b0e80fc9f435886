"""Areas to repoint: a panel, out to the openings, freehand; by mouse and by keys alone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from estimator.desktop.wall.particulars.area_form import AreaToolForm
from estimator.desktop.wall.particulars.tool_form import ToolPick
from estimator.survey.survey import Area
from tests.desktop.wall.hand import Hand

ENTER, ESCAPE, DELETE = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Delete


def area(hand: Hand) -> Area:
    (one,) = hand.wall.areas
    return one


def sides(one: Area) -> tuple[float, float, float, float]:
    across, up = [x for x, _y in one.outline], [y for _x, y in one.outline]
    return min(across), min(up), max(across), max(up)


def test_a_box_goes_out_to_whole_courses_and_perpends(hand: Hand) -> None:
    before = hand.session.work
    hand.take("area")
    hand.press((330.0, 310.0), (800.0, 600.0), (1130.0, 880.0))
    assert hand.session.work is before and hand.drafting.is_trying
    assert any("m²" in words for words in hand.words())
    hand.let_go((1130.0, 880.0))
    left, bottom, right, top = sides(area(hand))
    assert (bottom, top) == (300, 900)
    # Perpends of stretchers in half bond lie every 112.5 mm, 220 mm being the middle of the first.
    for x in (left, right):
        steps = (x - 107.5) / 112.5
        assert steps == pytest.approx(round(steps), abs=0.01)
    assert hand.selection == f"front/area/{area(hand).id}"
    hand.undo()
    assert hand.session.work == before


def test_out_to_the_openings_is_shown_before_it_is_pressed(hand: Hand) -> None:
    hand.take("area")
    hand.keys("2")
    place = (1500.0, 1200.0)
    hand.hover(place)
    assert hand.drafting.is_trying and not hand.wall.areas
    shown = sides(hand.drafting.plain.areas[-1])
    hand.click(place)
    assert sides(area(hand)) == shown
    assert shown[2] == 1800, "the left reveal of the window"


def test_corners_are_clicked_freehand_and_closed_on_the_first(hand: Hand) -> None:
    hand.take("area")
    hand.keys("3")
    corners = hand.joint(5, 1), hand.joint(5, 4), hand.joint(12, 4), hand.joint(12, 2)
    hand.click(*corners)
    assert not hand.wall.areas
    hand.click(corners[0])
    for found, corner in zip(area(hand).outline, corners, strict=True):
        assert found == pytest.approx(corner, abs=1)


def test_a_freehand_area_goes_back_a_corner_and_is_given_up(hand: Hand) -> None:
    before = hand.session.work
    hand.take("area")
    hand.keys("3")
    hand.click(hand.joint(5, 1), hand.joint(5, 4), hand.joint(12, 4))
    hand.keys(Qt.Key.Key_Backspace)
    instead = hand.joint(14, 4)
    hand.click(instead, hand.joint(5, 1))
    assert area(hand).outline[-1] == pytest.approx(instead, abs=1)
    assert len(area(hand).outline) == 3
    hand.undo()
    hand.click(hand.joint(5, 1), hand.joint(5, 4), hand.joint(12, 4))
    hand.keys(ESCAPE)
    assert hand.session.work == before and not hand.drafting.is_trying


def test_areas_are_drawn_by_keys_alone(hand: Hand) -> None:
    hand.column.take_focus()
    hand.keys("R", *([Qt.Key.Key_Left] * 3), ENTER, *([Qt.Key.Key_Left] * 3))
    hand.keys(*([Qt.Key.Key_Down] * 4))
    assert not hand.wall.areas
    hand.keys(ENTER)
    left, bottom, right, top = sides(area(hand))
    assert right - left >= 300 and top - bottom >= 300
    hand.keys(DELETE)
    assert not hand.wall.areas
    hand.keys("3", ENTER, Qt.Key.Key_Left, Qt.Key.Key_Left, ENTER)
    hand.keys(Qt.Key.Key_Up, Qt.Key.Key_Up, ENTER, ENTER)
    assert len(area(hand).outline) == 3


def test_a_corner_is_dragged_and_escape_puts_it_back(hand: Hand) -> None:
    hand.take("area")
    hand.drag((330.0, 310.0), (800.0, 600.0), (1130.0, 880.0))
    before, was = hand.session.work, sides(area(hand))
    corner = (was[2], was[3])
    hand.press(corner, (corner[0] + 100, corner[1] + 80))
    hand.keys(ESCAPE)
    hand.let_go(corner)
    assert hand.session.work is before
    hand.drag(corner, (corner[0] + 60, corner[1] + 40), (corner[0] + 225, corner[1] + 150))
    now = sides(area(hand))
    assert now[:2] == was[:2], "the corner across stays"
    assert now[3] == was[3] + 150
    assert now[2] == pytest.approx(was[2] + 225, abs=15)


def test_an_area_of_glass_alone_is_refused_in_words(hand: Hand) -> None:
    before = hand.session.work
    hand.take("area")
    hand.drag((2000.0, 1200.0), (2200.0, 1400.0), (2350.0, 1500.0))
    assert "no brickwork" in hand.said[-1]
    assert hand.session.work is before


def test_how_far_an_area_goes_is_chosen_by_mouse_too(hand: Hand) -> None:
    hand.take("area")
    form = hand.column.particulars.form
    assert isinstance(form, AreaToolForm)
    (reach,) = [one for one in form.fields if isinstance(one, ToolPick)]
    reach.buttons["openings"].click()
    hand.click((900.0, 1200.0))
    assert sides(area(hand)) == (0, 900, 1800, 2100), "the window's level, from end to reveal"


def test_an_area_taken_off_while_its_corner_is_held_is_said_to_be_gone(hand: Hand) -> None:
    hand.take("area")
    hand.drag((330.0, 310.0), (800.0, 600.0), (1130.0, 880.0))
    was = sides(area(hand))
    corner = (was[2], was[3])
    hand.press(corner, (corner[0] + 100, corner[1] + 80))
    hand.keys(DELETE)
    without = hand.session.work
    hand.press(corner, (corner[0] + 160, corner[1] + 90))
    hand.let_go(corner)
    assert not hand.wall.areas
    assert hand.session.work == without
