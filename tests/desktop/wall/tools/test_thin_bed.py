"""Thin beds: marked by a stroke, their thickness typed."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from estimator.survey.survey import ThinBed
from tests.desktop.wall.hand import Hand

ENTER, ESCAPE, DELETE = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Delete


def bed(hand: Hand) -> ThinBed:
    (one,) = hand.wall.thin_beds
    return one


def test_a_stroke_marks_a_bed_with_the_thickness_typed_before(hand: Hand) -> None:
    before = hand.session.work
    hand.take("thin_bed")
    y = hand.coursing.bed_middle(20)
    hand.keys("5")
    hand.press((300.0, y), (900.0, y + 10))
    (said,) = hand.words()
    assert said.startswith("Bed under course 20, ") and said.endswith("5 mm")
    assert hand.session.work is before
    hand.let_go((900.0, y + 10))
    assert (bed(hand).course, bed(hand).thickness_mm) == (20, 5)
    assert bed(hand).to_mm - bed(hand).from_mm == pytest.approx(600, abs=15)
    assert [one.course for one in hand.picture.thin_beds] == [20]
    hand.undo()
    assert hand.session.work == before


def test_the_thickness_of_a_selected_bed_is_typed_anew(hand: Hand) -> None:
    hand.take("thin_bed")
    y = hand.coursing.bed_middle(20)
    hand.drag((300.0, y), (900.0, y))
    hand.click((600.0, y))
    assert hand.selection == "front/thin/1"
    hand.keys("4", Qt.Key.Key_Period, "5")
    assert bed(hand).thickness_mm == 4.5
    hand.keys(ESCAPE)
    hand.keys(DELETE)
    assert not hand.wall.thin_beds


def test_a_thin_bed_is_marked_by_keys_alone(hand: Hand) -> None:
    hand.column.take_focus()
    hand.keys("T", "4", *([Qt.Key.Key_Left] * 7), ENTER)
    hand.keys(*([Qt.Key.Key_Right] * 3), ENTER)
    assert bed(hand).thickness_mm == 4
    assert bed(hand).to_mm - bed(hand).from_mm >= 300


def test_a_stroke_given_up_marks_nothing(hand: Hand) -> None:
    before = hand.session.work
    hand.take("thin_bed")
    y = hand.coursing.bed_middle(20)
    hand.press((300.0, y), (900.0, y))
    hand.keys(ESCAPE)
    hand.let_go((900.0, y))
    assert hand.session.work is before and not hand.drafting.is_trying


def test_a_bed_thicker_than_the_others_is_refused_in_words(hand: Hand) -> None:
    before = hand.session.work
    hand.take("thin_bed")
    y = hand.coursing.bed_middle(20)
    hand.keys("4", "0")
    hand.drag((300.0, y), (900.0, y))
    assert hand.said and hand.session.work is before


def test_a_thin_bed_just_marked_shows_its_thickness_to_be_typed(hand: Hand) -> None:
    hand.take("thin_bed")
    start = hand.joint(12, 1)
    hand.drag(start, (start[0] + 400, start[1]), (start[0] + 700, start[1]))
    assert hand.selection == "front/thin/1"
    hand.keys("4")
    assert [one.thickness_mm for one in hand.wall.thin_beds] == [4]
