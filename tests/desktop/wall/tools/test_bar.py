"""Bars by hand: set, moved, lengthened, kept, left out and given back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from estimator.desktop.wall.tools.ghosts import Ink, Trial
from estimator.drawing.shapes import BarShape
from estimator.survey.survey import HandWork
from tests.desktop.wall.hand import CTRL, SHIFT, Hand

ENTER, ESCAPE, DELETE = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Delete


def rules_bar(hand: Hand) -> BarShape:
    return next(bar for bar in hand.picture.bars if not bar.by_hand)


def by_hand(hand: Hand) -> BarShape:
    (bar,) = [bar for bar in hand.picture.bars if bar.by_hand]
    return bar


def level(hand: Hand, course: int) -> float:
    return hand.coursing.bed_middle(course)


def test_a_drag_along_a_bed_sets_a_bar(hand: Hand) -> None:
    before = hand.session.work
    hand.take("bar")
    y = level(hand, 20)
    hand.press((300.0, y), (700.0, y + 9), (1200.0, y - 9))
    assert hand.session.work is before
    (said,) = hand.words()
    assert said.endswith("mm, bed under course 20")
    hand.let_go((1200.0, y - 9))
    (bar,) = hand.wall.bars
    assert (bar.course, bar.work) == (20, HandWork.SET)
    assert (bar.to_mm - bar.from_mm) % 10 == 0, "lengths go by whole centimetres"
    assert bar.to_mm - bar.from_mm == pytest.approx(900, abs=15)
    assert hand.selection == by_hand(hand).mark
    hand.undo()
    assert hand.session.work == before


def test_a_bar_is_set_by_keys_alone(hand: Hand) -> None:
    hand.column.take_focus()
    hand.keys("S", *([Qt.Key.Key_Left] * 7), ENTER)
    hand.keys(*([Qt.Key.Key_Right] * 4))
    assert not hand.wall.bars and hand.drafting.is_trying
    hand.keys(ENTER)
    (bar,) = hand.wall.bars
    assert bar.to_mm - bar.from_mm >= 450
    hand.keys(DELETE)
    assert not hand.wall.bars


def test_a_stroke_given_up_sets_nothing(hand: Hand) -> None:
    before = hand.session.work
    hand.take("bar")
    y = level(hand, 20)
    hand.press((300.0, y), (1200.0, y))
    hand.keys(ESCAPE)
    hand.let_go((1200.0, y))
    assert hand.session.work is before and not hand.drafting.is_trying


def test_what_a_window_cuts_off_is_shown_and_said(hand: Hand) -> None:
    hand.take("bar")
    y = level(hand, 20)
    hand.press((1000.0, y), (1400.0, y), (2300.0, y))
    stopped = [
        one for one in hand.drafting.tool.ghosts() if isinstance(one, Trial) and one.ink is Ink.STOP
    ]
    assert stopped and max(x for x, _y in stopped[0].points) == pytest.approx(2300, abs=15)
    assert min(x for x, _y in stopped[0].points) == pytest.approx(1800, abs=15)
    assert "window" in hand.words()[-1]


def test_a_bed_of_glass_alone_is_refused_in_words(hand: Hand) -> None:
    before = hand.session.work
    hand.take("bar")
    y = level(hand, 20)
    hand.press((1900.0, y), (2400.0, y))
    assert "no brickwork" in hand.words()[-1]
    hand.let_go((2400.0, y))
    assert hand.session.work is before
    assert "no brickwork" in hand.said[-1]


def test_the_rules_bar_becomes_the_hands_when_an_end_is_dragged(hand: Hand) -> None:
    hand.take("bar")
    bar = rules_bar(hand)
    grasp = (bar.left + 0.2 * (bar.right - bar.left), bar.y)
    hand.click(grasp)
    assert hand.selection == bar.mark and not hand.wall.bars
    hand.drag((bar.left, bar.y), (bar.left - 60, bar.y), (bar.left - 150, bar.y + 8))
    (mine,) = hand.wall.bars
    assert mine.from_mm == pytest.approx(bar.left - 150, abs=15)
    assert mine.to_mm == pytest.approx(bar.right, abs=1)
    assert by_hand(hand).mark == hand.selection
    hand.keys("U")
    assert not hand.wall.bars
    assert any(one.mark == bar.mark and one.left == bar.left for one in hand.picture.bars)


def test_a_bar_is_dragged_to_another_bed_and_its_old_place_stays_empty(hand: Hand) -> None:
    hand.take("bar")
    bar = rules_bar(hand)
    grasp = (bar.left + 0.2 * (bar.right - bar.left), bar.y)
    hand.click(grasp)
    gauge = hand.coursing.gauge_mm
    hand.drag(grasp, (grasp[0], grasp[1] + gauge), (grasp[0], grasp[1] + gauge))
    mine = by_hand(hand)
    assert mine.course == bar.course + 1
    assert hand.selection == mine.mark
    assert not [one for one in hand.picture.bars if one.course == bar.course and not one.by_hand]


def test_k_keeps_a_bar_and_u_gives_it_back(hand: Hand) -> None:
    hand.take("bar")
    bar = rules_bar(hand)
    hand.click((bar.left + 0.2 * (bar.right - bar.left), bar.y))
    hand.keys("K")
    assert [one.work for one in hand.wall.bars] == [HandWork.KEPT]
    kept = by_hand(hand)
    assert kept.kept and (kept.left, kept.right) == pytest.approx((bar.left, bar.right), abs=1)
    hand.keys("U")
    assert not hand.wall.bars


def test_delete_leaves_the_rules_bar_out_and_u_over_the_gap_puts_it_back(hand: Hand) -> None:
    hand.take("bar")
    bar, count = rules_bar(hand), len(hand.picture.bars)
    grasp = (bar.left + 0.2 * (bar.right - bar.left), bar.y)
    hand.click(grasp)
    hand.keys(DELETE)
    assert [one.work for one in hand.wall.bars] == [HandWork.LEFT_OUT]
    assert len(hand.picture.bars) == count - 1
    hand.hover((grasp[0] + 200, grasp[1] + 400))
    hand.hover(grasp)
    assert any("Left out by hand" in words for words in hand.words())
    hand.keys("U")
    assert not hand.wall.bars and len(hand.picture.bars) == count


def test_ctrl_and_arrows_move_a_bar_a_bed_or_a_millimetre(hand: Hand) -> None:
    hand.take("bar")
    bar = rules_bar(hand)
    hand.click((bar.left + 0.2 * (bar.right - bar.left), bar.y))
    hand.keys(Qt.Key.Key_Up, held=CTRL)
    assert by_hand(hand).course == bar.course + 1
    left = by_hand(hand).left
    hand.keys(Qt.Key.Key_Right, held=CTRL | SHIFT)
    assert by_hand(hand).left == left + 1
