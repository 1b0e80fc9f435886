"""Marking bricks: by click, by stroke, by keys alone, in one step each."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from estimator.desktop.wall.tools.brick import BrickTool
from estimator.masonry.region import Point
from estimator.survey.survey import CrackedBrick, Treatment
from estimator.survey.wall import wall_of
from tests.desktop.wall.hand import WINDOW, Hand

ENTER = Qt.Key.Key_Return


def middle(hand: Hand, course: int, place: int) -> Point:
    left, bottom, right, top = wall_of(hand.wall).box_of(
        CrackedBrick(course, place, Treatment.LEAVE)
    )
    return (left + right) / 2, (bottom + top) / 2


def test_a_click_marks_a_brick_and_another_takes_the_mark_off(hand: Hand) -> None:
    hand.take("brick")
    hand.click(middle(hand, 20, 3))
    assert hand.wall.bricks == (CrackedBrick(20, 3, Treatment.REPLACE),)
    hand.click(middle(hand, 20, 3))
    assert not hand.wall.bricks
    hand.undo()
    assert len(hand.wall.bricks) == 1
    hand.undo()
    assert not hand.wall.bricks


@pytest.mark.parametrize(
    ("key", "treatment"),
    [
        ("1", Treatment.REPLACE),
        ("2", Treatment.TURN),
        ("3", Treatment.PATCH),
        ("4", Treatment.LEAVE),
    ],
)
def test_a_number_chooses_what_is_done(hand: Hand, key: str, treatment: Treatment) -> None:
    hand.take("brick")
    hand.keys(key)
    hand.click(middle(hand, 20, 3))
    assert hand.wall.bricks == (CrackedBrick(20, 3, treatment),)


def test_half_a_brick_is_only_cut_out_of_one_that_is_replaced(hand: Hand) -> None:
    hand.take("brick")
    hand.keys("H")
    hand.click(middle(hand, 20, 3))
    assert hand.wall.bricks[0].half
    tool = hand.drafting.tool
    assert isinstance(tool, BrickTool)
    tool.take(Treatment.PATCH, half=True)
    assert not tool.half


def test_a_quick_stroke_marks_every_brick_on_its_way_in_one_step(hand: Hand) -> None:
    before = hand.session.work
    hand.take("brick")
    start, end = middle(hand, 20, 2), middle(hand, 20, 6)
    hand.press(start, end)
    assert hand.session.work is before, "a stroke is no edit before it is let go"
    assert "5 bricks" in hand.words()
    hand.let_go(end)
    assert [(one.course, one.place) for one in hand.wall.bricks] == [
        (20, place) for place in range(2, 7)
    ]
    hand.undo()
    assert hand.session.work == before


def test_a_stroke_given_up_marks_nothing(hand: Hand) -> None:
    before = hand.session.work
    hand.take("brick")
    hand.press(middle(hand, 20, 2), middle(hand, 20, 6))
    hand.keys(Qt.Key.Key_Escape)
    hand.let_go(middle(hand, 20, 6))
    assert hand.session.work is before and not hand.drafting.is_trying


def test_the_glass_of_a_window_is_no_brick(hand: Hand) -> None:
    before = hand.session.work
    hand.take("brick")
    hand.click((2250.0, 1500.0))
    assert hand.session.work is before
    hand.drag(middle(hand, 20, 7), (2250.0, 1465.0))
    assert all(one.place <= 9 for one in hand.wall.bricks)


def test_bricks_are_marked_by_keys_alone(hand: Hand) -> None:
    hand.column.take_focus()
    hand.keys("B", "3", *([Qt.Key.Key_Left] * 4), ENTER)
    (one,) = hand.wall.bricks
    assert one.treatment is Treatment.PATCH
    hand.keys(Qt.Key.Key_Left, ENTER, Qt.Key.Key_Down, ENTER)
    places = [(brick.course, brick.place) for brick in hand.wall.bricks]
    assert places[1] == (one.course, one.place - 1)
    assert places[2][0] == one.course - 1
    hand.keys(ENTER)
    assert len(hand.wall.bricks) == 2


def test_an_opening_says_that_there_is_no_brick(hand: Hand) -> None:
    hand.take("brick")
    hand.hover(middle(hand, 20, 3))
    hand.hover((WINDOW.left_mm + WINDOW.width_mm / 2, WINDOW.bottom_mm + WINDOW.height_mm / 2))
    assert hand.words() == ["No brick here"]
    hand.hover((0.0, -400.0))
    assert not hand.words()
