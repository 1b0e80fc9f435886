"""Tracing a crack: by clicks, by keys alone, given up, drawn on, and measured for width."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from estimator.desktop.wall.tools import spoken
from estimator.masonry import crack as laid
from estimator.masonry.crack import Along
from estimator.quoting.edits import name_customer
from estimator.survey.survey import TracedRun
from estimator.survey.wall import path_of
from tests.desktop.wall.hand import SHIFT, Hand

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape


def newest(hand: Hand) -> TracedRun:
    run = hand.wall.cracks[-1].run
    assert isinstance(run, TracedRun)
    return run


def test_clicks_trace_a_crack_along_the_joints(hand: Hand) -> None:
    before = hand.session.work
    hand.take("crack")
    places = hand.joint(14, 1), hand.joint(17, 3), hand.joint(20, 3)
    hand.click(*places)
    assert hand.session.work is before, "a crack half traced is no edit yet"
    # What is said is what the engine makes of the same points.
    path = laid.traced(hand.coursing, places)
    assert spoken.path(path) in hand.words()
    assert len(hand.picture.cracks) == 2, "the crack is drawn while it is traced"
    hand.double(places[-1])
    for point, place in zip(newest(hand).points, places, strict=True):
        assert point == pytest.approx(place, abs=1)
    crack = hand.wall.cracks[-1]
    assert path_of(crack, hand.coursing).courses == path.courses
    assert not path_of(crack, hand.coursing).of(Along.BRICK)
    assert hand.selection == f"front/crack/{crack.id}"
    hand.undo()
    assert hand.session.work == before


def test_a_crack_is_traced_by_keys_alone(hand: Hand) -> None:
    hand.column.take_focus()
    hand.keys("C", *([Qt.Key.Key_Left] * 9), ENTER)
    hand.keys(*([Qt.Key.Key_Right] * 2), *([Qt.Key.Key_Up] * 3))
    assert len(hand.wall.cracks) == 1
    hand.keys(ENTER, ENTER)
    run = newest(hand)
    assert len(run.points) == 2
    rise = run.points[1][1] - run.points[0][1]
    assert rise == pytest.approx(3 * hand.coursing.gauge_mm, abs=1)
    # The width is asked for at once, and typed without leaving the wall.
    hand.keys("2", Qt.Key.Key_Period, "5", ENTER)
    assert hand.wall.cracks[-1].width_mm == 2.5
    assert [one.width_mm for one in hand.wall.cracks[-1].widths] == [2.5]


def test_shift_makes_a_leg_cut_bricks_and_x_makes_all_that_follow(hand: Hand) -> None:
    hand.take("crack")
    hand.click(hand.joint(14, 1))
    hand.click(hand.joint(20, 1), held=SHIFT)
    hand.keys("X")
    hand.click(hand.joint(26, 1))
    hand.right_click(hand.joint(26, 1))
    run = newest(hand)
    assert run.cuts == (1, 2)
    assert path_of(hand.wall.cracks[-1], hand.coursing).bricks


def test_holding_shift_shows_at_once_that_bricks_are_cut(hand: Hand) -> None:
    hand.take("crack")
    hand.click(hand.joint(14, 1))
    hand.hover(hand.joint(20, 2))
    along = hand.words()
    QTest.keyPress(hand.board, Qt.Key.Key_Shift, SHIFT)
    assert hand.words() != along and "cuts bricks" in hand.words()[0]
    QTest.keyRelease(hand.board, Qt.Key.Key_Shift)
    assert hand.words() == along


def test_backspace_takes_points_back_and_escape_gives_up(hand: Hand) -> None:
    before = hand.session.work
    hand.take("crack")
    hand.click(hand.joint(14, 1), hand.joint(17, 3), hand.joint(20, 1))
    hand.keys(Qt.Key.Key_Backspace)
    hand.keys(ENTER, ENTER)
    assert len(newest(hand).points) >= 2
    hand.undo()
    hand.click(hand.joint(14, 1), hand.joint(17, 3))
    hand.keys(ESCAPE)
    assert hand.session.work == before and not hand.drafting.is_trying
    assert hand.drafting.tool.name == "crack", "the tool stays in hand for another try"
    hand.keys(ESCAPE)
    assert hand.drafting.tool.name == "point"


def test_a_crack_is_drawn_on_from_its_end(hand: Hand) -> None:
    hand.take("crack")
    start, end, further = hand.joint(14, 1), hand.joint(17, 3), hand.joint(20, 3)
    hand.click(start, end)
    hand.double(end)
    hand.keys(ESCAPE)
    name = hand.wall.cracks[-1].id
    hand.click(end, further)
    hand.double(further)
    assert [one.id for one in hand.wall.cracks] == ["a", name]
    assert len(newest(hand).points) == 3
    assert newest(hand).points[-1] == pytest.approx(further, abs=1)
    hand.click(newest(hand).points[0], hand.joint(12, 1))
    hand.double(hand.joint(12, 1))
    assert newest(hand).points[0] == pytest.approx(hand.joint(12, 1), abs=1)


def settle(hand: Hand) -> None:
    """Let the range of the work as it is be there, as it is some moments after an edit."""
    hand.session.sight = replace(hand.session.sight, is_settling=False)
    hand.session.sight_changed.emit(hand.session.sight)
    hand.turn()


def test_what_is_half_drawn_stays_when_the_range_settles(hand: Hand) -> None:
    """Found wanting: it went from the wall until the hand moved again, whatever settled it."""
    hand.take("crack")
    hand.click(hand.joint(14, 1))
    hand.hover(hand.joint(20, 4))
    drawn = len(hand.picture.cracks)
    assert hand.drafting.is_trying
    settle(hand)
    assert hand.drafting.is_trying
    assert len(hand.picture.cracks) == drawn


def test_what_is_pulled_stays_in_the_hand_when_the_range_settles(hand: Hand) -> None:
    hand.take("crack")
    start, end = hand.joint(14, 1), hand.joint(20, 4)
    hand.click(start, end)
    hand.double(end)
    to = hand.joint(22, 6)
    hand.press(end, hand.joint(21, 5), to)
    pulled = hand.picture
    settle(hand)
    assert hand.drafting.is_trying
    assert hand.picture.cracks == pulled.cracks
    hand.let_go(to)
    assert newest(hand).points[-1] == pytest.approx(to, abs=1)


def test_what_is_half_drawn_goes_with_the_work_it_was_drawn_on(hand: Hand) -> None:
    hand.take("crack")
    hand.click(hand.joint(14, 1))
    hand.hover(hand.joint(20, 4))
    work = hand.session.work
    hand.session.apply(name_customer(work, replace(work.survey.customer, name="Ada Pike")))
    hand.turn()
    assert not hand.drafting.is_trying


def test_a_handle_moves_a_point_and_escape_puts_it_back(hand: Hand) -> None:
    hand.take("crack")
    start, end = hand.joint(14, 1), hand.joint(20, 4)
    hand.click(start, end)
    hand.double(end)
    hand.keys(ESCAPE)
    before = hand.session.work
    to = hand.joint(22, 6)
    hand.press(end, hand.joint(21, 5), to)
    assert hand.drafting.is_trying and hand.session.work is before
    hand.keys(ESCAPE)
    hand.let_go(to)
    assert hand.session.work is before and not hand.drafting.is_trying
    hand.drag(end, hand.joint(21, 5), to)
    assert newest(hand).points[-1] == pytest.approx(to, abs=1)
    hand.undo()
    assert hand.session.work == before


def test_a_point_dropped_on_the_one_beside_it_is_taken_out(hand: Hand) -> None:
    hand.take("crack")
    places = hand.joint(14, 1), hand.joint(18, 3), hand.joint(24, 3)
    hand.click(*places)
    hand.double(places[-1])
    hand.keys(ESCAPE)
    hand.drag(places[1], hand.joint(20, 3), places[2])
    assert len(newest(hand).points) == 2


def test_a_width_is_typed_where_the_pointer_is_and_the_widest_counts(hand: Hand) -> None:
    hand.take("crack")
    (shape,) = hand.picture.cracks
    low, high = shape.points[1], shape.points[-2]
    hand.hover(low)
    hand.keys("1")
    assert "1 mm" in hand.words()
    hand.keys(ENTER)
    hand.hover(high)
    hand.keys("3", Qt.Key.Key_Period, "5", ENTER)
    (crack,) = hand.wall.cracks
    assert crack.width_mm == 3.5
    assert [one.width_mm for one in crack.widths] == [1.0, 3.5]
    shown = {one.width_mm: one.is_widest for one in hand.picture.cracks[0].widths}
    assert shown == {1.0: False, 3.5: True}


def test_a_width_half_typed_is_given_up_and_digits_taken_back(hand: Hand) -> None:
    hand.take("crack")
    before = hand.session.work
    hand.hover(hand.picture.cracks[0].points[1])
    hand.keys("1", "2", Qt.Key.Key_Backspace)
    assert "1 mm" in hand.words()
    hand.keys(ESCAPE)
    assert hand.session.work is before and hand.drafting.tool.name == "crack"


def test_a_crack_beyond_the_wall_is_refused_in_words(hand: Hand) -> None:
    before = hand.session.work
    hand.take("crack")
    tool = hand.drafting.tool
    tool.press((3000.0, 300.0), shifted=False)
    tool.release((3000.0, 300.0))
    tool.hover((9000.0, 800.0))
    assert "outside the wall" in hand.words()[-1]
    tool.press((9000.0, 800.0), shifted=False)
    tool.double((9000.0, 800.0))
    assert hand.said and "outside the wall" in hand.said[-1]
    assert hand.session.work is before


def test_delete_takes_the_selected_crack_off(hand: Hand) -> None:
    hand.take("crack")
    points = hand.picture.cracks[0].points
    hand.click(points[len(points) // 2])
    assert hand.selection == "front/crack/a"
    hand.keys(Qt.Key.Key_Delete)
    assert not hand.wall.cracks and not hand.selection
    hand.undo()
    assert [one.id for one in hand.wall.cracks] == ["a"]


def test_a_width_is_no_longer_asked_of_a_crack_that_was_undone(hand: Hand) -> None:
    before = hand.wall
    hand.take("crack")
    places = hand.joint(14, 1), hand.joint(17, 3), hand.joint(20, 3)
    hand.click(*places)
    hand.double(places[-1])
    assert any("How wide" in words for words in hand.words())
    hand.undo()
    assert hand.wall == before
    assert not any("How wide" in words for words in hand.words())
    hand.keys("3", ENTER)
    assert hand.wall == before


def test_the_hint_follows_the_pointer_onto_a_crack(hand: Hand) -> None:
    hand.take("crack")
    shape = hand.picture.cracks[0]
    hand.hover(shape.points[len(shape.points) // 2])
    assert "Type a width" in hand.hint


def test_a_leg_pressed_in_one_job_is_not_let_go_in_another(hand: Hand) -> None:
    hand.take("crack")
    hand.press(hand.joint(14, 1), hand.joint(17, 3))
    hand.session.new_job()
    hand.turn()
    work = hand.session.work
    hand.let_go(hand.joint(20, 3))
    assert hand.session.work == work
    assert not hand.drafting.is_trying and not hand.words()
