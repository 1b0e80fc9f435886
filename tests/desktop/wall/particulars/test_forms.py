"""Exact numbers of what is selected: read, typed, refused, put back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.particulars.area_form import AreaForm
from estimator.desktop.wall.particulars.bar_form import BarForm
from estimator.desktop.wall.particulars.brick_form import BrickForm
from estimator.desktop.wall.particulars.crack_form import CrackForm
from estimator.desktop.wall.particulars.field import ListField, PickField
from estimator.desktop.wall.particulars.opening_form import OpeningForm
from estimator.desktop.wall.particulars.wall_form import WallForm
from estimator.quoting.edits import Edit, Step
from estimator.quoting.wall_edits.outline import bounds_of, gable_of
from estimator.survey.survey import (
    Area,
    CrackedBrick,
    HandWork,
    Lintel,
    Survey,
    ThinBed,
    TracedRun,
    Treatment,
    WallEnd,
    WidthAt,
)
from estimator.survey.wall import path_of, wall_of
from tests.desktop.fakes import demo_survey
from tests.desktop.wall.at_the_wall import Hands, Key, hands_on


def survey() -> Survey:
    """The demonstration's window, with one of everything a form is for."""
    told = demo_survey("window_lime")
    (front,) = told.elevations
    front = replace(
        front,
        areas=(Area("a1", ((300, 300), (900, 300), (900, 900), (300, 900))),),
        thin_beds=(ThinBed(3, 200, 900, 6),),
        movement_joints_mm=(300,),
        bricks=(CrackedBrick(4, 3, Treatment.REPLACE),),
    )
    return replace(told, elevations=(front,))


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[Hands]:
    with hands_on(qtbot, tmp_path, survey()) as found:
        yield found


def select(hands: Hands, kind: str, key: object = "") -> Any:
    mark = "/".join(str(part) for part in (hands.drafting.side_id, kind, key) if part != "")
    hands.drafting.select(mark)
    hands.settle()
    return hands.form


def pick(hands: Hands, label: str, value: object) -> None:
    field = next(
        one
        for one in hands.form.fields
        if isinstance(one, PickField | ListField) and one.about.label == label
    )
    if isinstance(field, PickField):
        field.buttons[value].click()
    else:
        place = field._values.index(value)
        field.list.setCurrentIndex(place)
        field.list.activated.emit(place)
    hands.settle()


def opening(hands: Hands) -> Any:
    return hands.wall.openings[0]


# -- typing


def test_a_size_counts_as_it_is_typed_and_is_undone_at_once(hands: Hands) -> None:
    before = opening(hands)
    assert isinstance(select(hands, "opening", before.id), OpeningForm)
    hands.into("Wide")
    hands.type("1000")
    assert opening(hands).width_mm == 1000
    assert hands.size("Wide").line.text() == "1000", "as it was typed, while one types"
    hands.press(Key.Key_Return)
    assert hands.size("Wide").line.text() == "1,000 mm"
    assert hands.size("High").line.hasFocus()
    hands.undo()
    assert opening(hands) == before
    assert not hands.session.history.canUndo()


def test_bricks_and_courses_are_understood(hands: Hands) -> None:
    select(hands, "opening", opening(hands).id)
    coursing = hands.drafting.wall.coursing
    hands.into("Wide")
    hands.type("4 bricks")
    assert opening(hands).width_mm == round(4 * (coursing.brick.length_mm + coursing.perpend_mm))
    hands.into("High")
    hands.type("12 courses")
    assert opening(hands).height_mm == round(12 * coursing.gauge_mm)


def test_what_cannot_be_used_stays_and_it_is_said_why(hands: Hands) -> None:
    before = opening(hands)
    form = select(hands, "opening", before.id)
    hands.into("Wide")
    hands.type("wide")
    assert opening(hands) == before
    hands.press(Key.Key_Return)
    line = hands.size("Wide").line
    assert line.hasFocus() and line.text() == "wide"
    assert form.trouble.isVisible()
    assert form.trouble.text().startswith("“wide” is no size yet.")
    hands.press(Key.Key_Escape)
    assert line.text() == "1,200 mm" and not form.trouble.isVisible()
    hands.press(Key.Key_Escape)
    assert hands.board.hasFocus()


def test_what_would_not_fit_the_wall_is_said_once_typing_rests(hands: Hands) -> None:
    before = opening(hands)
    form = select(hands, "opening", before.id)
    hands.into("Wide")
    hands.type("90 m")
    hands.qtbot.waitUntil(form.trouble.isVisible)
    assert form.trouble.text().endswith(".")
    assert hands.size("Wide").line.text() == "90 m"
    assert opening(hands).left_mm + opening(hands).width_mm <= bounds_of(hands.wall.outline)[2]


def test_escape_puts_back_what_was_before_all_keys(hands: Hands) -> None:
    before = opening(hands)
    select(hands, "opening", before.id)
    hands.into("From the left")
    hands.type("1200 mm")
    assert opening(hands).left_mm == 1200
    hands.press(Key.Key_Escape)
    assert opening(hands) == before


def test_a_form_is_not_made_anew_while_one_types(hands: Hands) -> None:
    form = select(hands, "opening", opening(hands).id)
    hands.into("High")
    for key in "1100":
        hands.type(key)
        assert hands.form is form
        assert hands.size("High").line.hasFocus()


def test_an_undo_shows_the_number_it_goes_back_to(hands: Hands) -> None:
    select(hands, "opening", opening(hands).id)
    hands.into("Wide")
    hands.type("1000")
    hands.press(Key.Key_Return)
    hands.undo()
    assert hands.size("Wide").line.text() == "1,200 mm"


def test_e_goes_to_the_exact_sizes_and_the_last_one_back_to_the_wall(hands: Hands) -> None:
    select(hands, "opening", opening(hands).id)
    hands.press(Key.Key_E)
    assert hands.form.isAncestorOf(hands.column.focusWidget() or QWidget())
    hands.into("High")
    hands.press(Key.Key_Return)
    assert hands.board.hasFocus()


def test_what_is_removed_lets_its_form_go(hands: Hands) -> None:
    form = select(hands, "opening", opening(hands).id)
    form.act(form._remove)
    hands.settle()
    assert not hands.wall.openings
    assert hands.column.particulars.form is None and hands.drafting.selection == ""


def test_keys_that_come_right_after_an_undo_took_the_thing_away_do_nothing(hands: Hands) -> None:
    """The wall follows an undo a turn later, and a quick hand types in between."""
    hands.take("opening")
    hands.click((700.0, 1200.0))
    hands.take("point")
    made = next(one for one in hands.wall.openings if one.id != opening(hands).id)
    select(hands, "opening", made.id)
    hands.into("Wide")
    line = hands.field("Wide").line
    hands.session.history.undo()
    left = hands.survey
    QTest.keyClicks(line, "7")
    QTest.keyClick(line, Key.Key_Escape)
    assert hands.survey == left
    hands.settle()
    assert hands.drafting.selection == ""


# -- what each form is for


def test_a_wall_by_its_size_and_by_counting(hands: Hands) -> None:
    hands.take("wall")
    assert isinstance(hands.form, WallForm)
    hands.into("Wide")
    hands.type("24 bricks")
    along = hands.drafting.wall.coursing.brick.length_mm + 10
    left, bottom, right, _top = bounds_of(hands.wall.outline)
    assert right - left == pytest.approx(24 * along, abs=24 * 5)
    assert "24 bricks" in hands.size("Wide").label.text()
    hands.into("High")
    hands.type("3 m")
    assert bounds_of(hands.wall.outline)[3] - bottom == 3000


def test_a_gable_and_back(hands: Hands) -> None:
    hands.take("wall")
    assert not hands.size("Ridge, up").isVisible()
    pick(hands, "Top", True)
    assert gable_of(hands.wall.outline) is not None
    assert hands.size("Ridge, up").isVisible()
    hands.into("Ridge, up")
    hands.type("4.5 m")
    gable = gable_of(hands.wall.outline)
    assert gable is not None and gable[1] - bounds_of(hands.wall.outline)[1] == 4500
    pick(hands, "Top", False)
    assert gable_of(hands.wall.outline) is None


def test_what_the_wall_is_laid_with_and_how_it_ends(hands: Hands) -> None:
    hands.take("wall")
    hands.form.turn_to(1)
    pick(hands, "Bond", "english_garden")
    assert hands.wall.brickwork.bond == "english_garden"
    assert hands.size("To one header").isVisible()
    hands.into("To one header")
    hands.type("5")
    assert hands.wall.brickwork.ratio == 5
    hands.into("Least bed")
    hands.type("7")
    assert hands.wall.brickwork.bed_least_mm == 7
    hands.form.turn_to(2)
    pick(hands, "Right end", WallEnd.QUOIN)
    assert hands.wall.right_end is WallEnd.QUOIN
    hands.into("Hidden bricks")
    hands.type("3")
    assert hands.wall.hidden_bricks == 3


def test_sill_and_lintel(hands: Hands) -> None:
    form = select(hands, "opening", opening(hands).id)
    form.turn_to(1)
    pick(hands, "Lintel", Lintel.STONE)
    hands.into("Lintel shows")
    hands.type("150")
    hands.into("Beyond each side")
    hands.type("100")
    one = opening(hands)
    assert (one.lintel, one.lintel_mm, one.lintel_bearing_mm) == (Lintel.STONE, 150, 100)
    pick(hands, "Lintel", Lintel.NOT_SEEN)
    assert (opening(hands).lintel_mm, opening(hands).lintel_bearing_mm) == (0, 0)


def test_a_crack_and_its_widths(hands: Hands) -> None:
    form = select(hands, "crack", "a")
    assert isinstance(form, CrackForm)
    hands.into("Widest")
    hands.type("3.5")
    assert hands.wall.cracks[0].width_mm == 3.5
    pick(hands, "Repair", False)
    assert not hands.wall.cracks[0].stitch
    form._add_width()
    hands.settle()
    (width,) = hands.wall.cracks[0].widths
    assert isinstance(width, WidthAt) and width.width_mm == 3.5
    again = hands.form
    assert again is not form and isinstance(again, CrackForm), "it has another field"
    assert again.page == form.page


def test_one_leg_of_a_crack_cuts_through_bricks(qtbot: QtBot, tmp_path: Path) -> None:
    told = survey()
    (front,) = told.elevations
    run = TracedRun(((1200.0, 400.0), (1500.0, 700.0), (1600.0, 900.0)))
    front = replace(front, cracks=(replace(front.cracks[0], run=run),))
    with hands_on(qtbot, tmp_path, replace(told, elevations=(front,))) as hands:
        form = select(hands, "crack", "a")
        form.turn_to(2)
        form.take_leg(2)
        pick(hands, "How it runs", True)
        assert hands.wall.cracks[0].run.cuts == (2,)  # type: ignore[union-attr]


def test_the_bricks_a_crack_breaks_are_replaced_by_one_button(qtbot: QtBot, tmp_path: Path) -> None:
    told = survey()
    (front,) = told.elevations
    run = TracedRun(((1300.0, 380.0), (1300.0, 680.0)), through_bricks=True)
    front = replace(front, cracks=(replace(front.cracks[0], run=run),), bricks=())
    broken = path_of(front.cracks[0], wall_of(front).coursing).bricks
    assert len(broken) > 1
    with hands_on(qtbot, tmp_path, replace(told, elevations=(front,))) as hands:
        form = select(hands, "crack", "a")
        assert form.replaces.text() == f"Replace the {len(broken)} bricks it breaks"
        form.replaces.click()
        hands.settle()
        marked = [(one.course, wall_of(front).face_of(one)) for one in hands.wall.bricks]
        assert marked == list(broken)
        assert {one.treatment for one in hands.wall.bricks} == {Treatment.REPLACE}
        assert not form.replaces.isVisible()
        hands.session.history.undo()
        hands.settle()
        assert not hands.wall.bricks and form.replaces.isVisible()


def test_a_brick_is_treated_and_unmarked(hands: Hands) -> None:
    form = select(hands, "brick", "4/3")
    assert isinstance(form, BrickForm)
    pick(hands, "How deep", True)
    assert hands.wall.bricks == (CrackedBrick(4, 3, Treatment.REPLACE, half=True),)
    pick(hands, "What is done with it", Treatment.TURN)
    assert hands.wall.bricks == (CrackedBrick(4, 3, Treatment.TURN),)
    form.act(form._take_off)
    hands.settle()
    assert not hands.wall.bricks


def test_a_bar_stays_selected_whatever_its_number_is_then(hands: Hands) -> None:
    measure = hands.drafting.measure()
    assert measure is not None
    bar = measure.bars[1]
    hands.drafting.select(bar.id)
    form = hands.form
    assert isinstance(form, BarForm)
    assert form.why.text(), "its reasons"
    assert "rule" in form.told.text()
    hands.into("Long")
    hands.type("1500")
    assert hands.form is form
    assert (form.bar.course, round(form.bar.face_mm)) == (bar.course, 1500)
    assert "by hand" in form.told.text()
    hands.into("Under course")
    hands.type(str(bar.course + 1))
    assert hands.form is form and form.bar.course == bar.course + 1
    assert hands.drafting.selection == form.bar.id
    form.act(form._to_rule)
    hands.settle()
    again = hands.drafting.measure()
    assert again is not None and [one.hand for one in again.bars] == [""] * len(measure.bars)


def test_a_bar_dragged_where_it_cannot_lie_and_back_keeps_its_sizes(hands: Hands) -> None:
    measure = hands.drafting.measure()
    assert measure is not None
    bar = measure.bars[1]
    hands.drafting.select(bar.id)
    hands.settle()
    form = hands.form
    assert isinstance(form, BarForm)
    work = hands.session.work
    bare = replace(work.survey, elevations=(replace(hands.wall, cracks=()),))
    hands.drafting.try_out(Edit(Step.BAR, "", replace(work, survey=bare)))
    hands.drafting.try_out(None)
    assert hands.form is form and form.is_there()
    hands.into("Long")
    hands.type("1500")
    assert round(form.bar.face_mm) == 1500


def test_a_bar_is_kept_and_left_out(hands: Hands) -> None:
    measure = hands.drafting.measure()
    assert measure is not None
    hands.drafting.select(measure.bars[0].id)
    form = hands.form
    assert isinstance(form, BarForm)
    form.act(form._kept)
    hands.settle()
    assert [one.work for one in hands.wall.bars] == [HandWork.KEPT]
    assert "kept" in form.told.text()
    form.act(form._left_out)
    hands.settle()
    assert HandWork.LEFT_OUT in [one.work for one in hands.wall.bars]
    assert hands.column.particulars.form is None


def test_an_area_by_its_sides(hands: Hands) -> None:
    form = select(hands, "area", "a1")
    assert isinstance(form, AreaForm)
    assert form.told.text() == "0.36 m²"
    hands.into("Wide")
    hands.type("750")
    assert max(x for x, _y in hands.wall.areas[0].outline) == 1050


def test_thin_bed_movement_joint_and_damp_course(hands: Hands) -> None:
    select(hands, "thin", 1)
    hands.into("Thick")
    hands.type("5")
    assert hands.wall.thin_beds[0].thickness_mm == 5
    select(hands, "joint", 1)
    hands.into("From the left")
    hands.type("450 mm")
    assert hands.wall.movement_joints_mm == (450,)
    select(hands, "damp")
    hands.into("Up")
    hands.type("155 mm")
    assert hands.wall.damp_course_mm == 155
    hands.into("Up")
    hands.press(Key.Key_Delete)
    assert hands.wall.damp_course_mm is None


def test_only_the_page_that_is_seen_is_made_at_once(hands: Hands) -> None:
    """Making all three took longer than a frame; the others follow in the next turn."""
    hands.drafting.select("front/outline/1")
    assert [one.label.text().split(" ·")[0] for one in hands.form.fields][:2] == ["Wide", "High"]
    first = len(hands.form.fields)
    hands.settle()
    assert len(hands.form.fields) > first
    assert not hands.form.pages[1].isVisible()


def test_a_page_turned_to_at_once_has_its_fields(hands: Hands) -> None:
    hands.drafting.select("front/outline/1")
    hands.form.turn_to(1)
    hands.settle()
    shown = [one for one in hands.form.fields if one.isVisible()]
    assert "Mortar" in [one.label.text() for one in shown]
