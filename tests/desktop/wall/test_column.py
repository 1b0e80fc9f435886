"""The wall as a person meets it: seen, pointed at, walked through by keyboard."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.column import WallColumn
from estimator.desktop.wall.legend import keys_of
from estimator.survey.survey import Asked, Survey
from tests.desktop.wall.walls import call, demo, shown, sight_of


@pytest.fixture
def put_up(qtbot: QtBot) -> Any:
    def put(survey: Survey, width: int = 620, height: int = 690) -> WallColumn:
        session = shown(survey)
        column = WallColumn(session)
        column.kept_for_test = session  # type: ignore[attr-defined]
        qtbot.addWidget(column)
        column.resize(width, height)
        column.show()
        qtbot.waitExposed(column)
        return column

    return put


def at(column: WallColumn, place: tuple[float, float]) -> QPoint:
    view = column.board.view
    assert view is not None
    return QPointF(*view.at(*place)).toPoint()


def seen(column: WallColumn) -> QImage:
    return column.board.grab().toImage()


def test_the_head_says_the_true_scale(put_up: Any) -> None:
    column = put_up(demo("window_lime"))
    view = column.board.view
    per_mm = column.screen().logicalDotsPerInch() / 25.4
    assert column.scale.text() == f"1 : {round(per_mm / view.per_mm)}"
    column.board.zoom(2.0, QPointF(300, 300))
    assert column.scale.text() == f"1 : {round(per_mm / column.board.view.per_mm)}"
    assert put_up(demo("phone_call")).scale.text().startswith("drawn from the answers · 1 : ")


def test_sizes_told_are_not_to_be_built_from(put_up: Any) -> None:
    assert "Not to be built from" in put_up(demo("phone_call")).note.text()
    assert put_up(demo("window_lime")).note.text() == ""


def test_pointing_at_a_bar_says_so(put_up: Any, qtbot: QtBot) -> None:
    column = put_up(demo("window_lime"))
    bar = column.board.picture.bars[0]
    with qtbot.waitSignal(column.pointed) as caught:
        qtbot.mouseMove(column.board, at(column, (bar.left + 30, bar.y)))
    assert caught.args == [frozenset({bar.mark})]
    with qtbot.waitSignal(column.pointed) as caught:
        qtbot.mouseMove(column.board, QPoint(4, 4))
    assert caught.args == [frozenset()]


def test_pointing_at_a_crack_means_its_perpends_too(put_up: Any, qtbot: QtBot) -> None:
    column = put_up(demo("window_lime"))
    crack = column.board.picture.cracks[0]
    with qtbot.waitSignal(column.pointed) as caught:
        qtbot.mouseMove(column.board, at(column, crack.points[-1]))
    (marks,) = caught.args
    assert crack.mark in marks
    assert any("/perpend/" in mark for mark in marks)


def test_tab_walks_through_every_mark_and_then_leaves(put_up: Any, qtbot: QtBot) -> None:
    column = put_up(demo("quoin_cavity"))
    column.activateWindow()
    column.take_focus()
    pointed: list[frozenset[str]] = []
    column.pointed.connect(pointed.append)
    picture = column.board.picture
    count = len(picture.bars) + len(picture.cracks) + len(picture.bricks)
    for _press in range(count):
        qtbot.keyClick(column.board, Qt.Key.Key_Tab)
    assert len([marks for marks in pointed if marks]) == count
    met = frozenset().union(*pointed)
    assert {one.mark for one in (*picture.bars, *picture.cracks, *picture.bricks)} <= met
    qtbot.keyClick(column.board, Qt.Key.Key_Tab)
    assert column.board.chosen is None


def test_a_mark_taken_up_by_keyboard_is_said(put_up: Any, qtbot: QtBot) -> None:
    column = put_up(demo("window_lime"))
    column.take_focus()
    said = set()
    for _press in range(5):
        qtbot.keyClick(column.board, Qt.Key.Key_Tab)
        said.add(column.board.accessibleDescription())
    bar = column.board.picture.bars[-1]
    sentence = next(one for one in said if f"under course {bar.course}," in one)
    assert sentence.startswith("Bar in the bed under course")
    assert f"{bar.length_mm:,.0f} mm" in sentence
    assert "of the price before VAT" in sentence


def test_arrows_go_to_the_next_mark_that_way(put_up: Any, qtbot: QtBot) -> None:
    column = put_up(demo("window_lime"))
    bars = sorted(column.board.picture.bars, key=lambda bar: -bar.y)
    column.board.choose(bars[0])
    qtbot.keyClick(column.board, Qt.Key.Key_Down)
    chosen = column.board.chosen
    assert chosen is not None and chosen.mark != bars[0].mark
    qtbot.keyClick(column.board, Qt.Key.Key_Escape)
    assert column.board.chosen is None


def test_marks_add_up_to_what_their_lines_cost(put_up: Any) -> None:
    column = put_up(demo("window_lime"))
    worth = column.board.worth(column.board.picture.bars[0].mark)
    assert worth.startswith("about £") and worth.endswith("of the price before VAT")
    assert column.board.worth("front/bar/99") == ""


def test_lighting_marks_fades_the_others_and_none_lights_all_alike(put_up: Any) -> None:
    column = put_up(demo("window_lime"))
    plain = seen(column)
    column.light(frozenset({column.board.picture.bars[0].mark}))
    lit = seen(column)
    assert lit != plain
    column.light(frozenset())
    assert seen(column) == plain


def test_a_lit_bar_and_a_faded_one_differ_in_grey(put_up: Any) -> None:
    column = put_up(demo("window_lime"))
    one, other = column.board.picture.bars[:2]
    column.light(frozenset({one.mark}))
    grey = seen(column).convertToFormat(QImage.Format.Format_Grayscale8)

    def dark(bar: Any) -> int:
        spot = at(column, (bar.left + 40, bar.y))
        return sum(
            grey.pixelColor(spot.x(), spot.y() + down).lightness() < 140 for down in range(-9, 10)
        )

    assert dark(one) > dark(other) + 3


def test_a_crack_that_changes_leaves_the_brickwork_as_painted(put_up: Any) -> None:
    column = put_up(demo("window_lime"))
    seen(column)
    painted = column.board.brickwork.painted
    survey = demo("window_lime")
    (elevation,) = survey.elevations
    (crack,) = elevation.cracks
    wider = replace(elevation, cracks=(replace(crack, width_mm=3.0),))
    column.kept_for_test.show(sight_of(replace(survey, elevations=(wider,))))
    column.board.pan((0.0, 0.0))
    seen(column)
    assert column.board.brickwork.painted == painted
    LOOK.apply(Scheme.DARK)
    seen(column)
    assert column.board.brickwork.painted == painted + 1


def test_another_option_shows_its_own_work(put_up: Any) -> None:
    column = put_up(demo("window_lime"))
    assert column.option == 0 and not column.board.picture.areas
    column.show_option(1)
    assert column.option == 1 and column.board.picture.areas
    assert "Repoint" in [word for _kind, word in keys_of(column.board.picture)]


def test_several_sides_can_be_looked_at(put_up: Any) -> None:
    survey = demo("window_lime")
    (front,) = survey.elevations
    back = replace(front, id="back", name="Back & side", cracks=())
    column = put_up(replace(survey, elevations=(front, back)))
    tabs = column.sides.tabs
    assert [tab.text() for tab in tabs] == ["Front, ground floor", "Back && side"]
    tabs[1].click()
    assert tabs[1].isChecked() and not tabs[0].isChecked()
    assert column.board.picture.elevation == "back"
    column.kept_for_test.show(sight_of(survey))
    QApplication.processEvents()
    assert column.board.picture.elevation == "front"
    assert [tab.text() for tab in column.sides.tabs] == ["Front, ground floor"]


def test_lit_marks_of_another_side_bring_it_up_for_as_long(put_up: Any) -> None:
    survey = demo("window_lime")
    (front,) = survey.elevations
    column = put_up(replace(survey, elevations=(front, replace(front, id="back", name="Back"))))
    column.light(frozenset({"back/bar/1"}))
    assert column.board.picture.elevation == "back"
    column.light(frozenset({"back/bar/2"}))
    column.light(frozenset())
    assert column.board.picture.elevation == "front"
    column.light(frozenset({"back/bar/1", "front/bar/1"}))
    assert column.board.picture.elevation == "front"


def test_the_keyboard_is_told_its_keys(put_up: Any, qtbot: QtBot) -> None:
    column = put_up(demo("window_lime"))
    column.activateWindow()
    column.sides.add.setFocus()
    column.take_focus()
    qtbot.waitUntil(column.board.hasFocus)
    assert "Tab goes from mark to mark" in column.hint.text()
    column.board.clearFocus()
    assert "Point at a price" in column.hint.text()


def test_keys_zoom_move_and_fit(put_up: Any, qtbot: QtBot) -> None:
    column = put_up(demo("window_lime"))
    board = column.board
    fit = board.view
    qtbot.keyClick(board, Qt.Key.Key_Plus)
    qtbot.waitUntil(lambda: board.view.per_mm > fit.per_mm and not board.is_moving)
    near = board.view
    qtbot.keyClick(board, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert board.view.left_mm > near.left_mm
    qtbot.keyClick(board, Qt.Key.Key_0)
    qtbot.waitUntil(lambda: board.view == fit)


def test_the_wheel_zooms_about_the_pointer(put_up: Any) -> None:
    column = put_up(demo("window_lime"))
    board = column.board
    before = board.view
    where = QPointF(200, 300)
    turned = QWheelEvent(
        where,
        board.mapToGlobal(where),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ControlModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(board, turned)
    assert board.view.per_mm > before.per_mm
    assert board.view.at(*before.place(200, 300)) == pytest.approx((200, 300), abs=1)


def test_a_view_somebody_chose_stays_while_the_answers_change(put_up: Any) -> None:
    column = put_up(call(Asked("place", ("under_window",))))
    column.board.zoom(2.0, QPointF(300, 300))
    near = column.board.view.per_mm
    longer = call(Asked("place", ("under_window",)), Asked("length", ("metre",)))
    column.kept_for_test.show(sight_of(longer))
    assert column.board.view.per_mm == pytest.approx(near, rel=0.1)


def test_no_wall_yet_is_a_calm_sentence(put_up: Any) -> None:
    survey = replace(call(), elevations=())
    sight = replace(sight_of(call()), options=())
    column = put_up(call())
    job = replace(sight.job, work=replace(sight.work, survey=survey))
    column.kept_for_test.show(replace(sight, job=job))
    QApplication.processEvents()
    assert column.board.picture is None
    assert column.scale.text() == "" and column.note.text() == ""
    assert not seen(column).isNull()


def test_a_wall_for_an_engineer_is_drawn_and_says_why_there_are_no_bars(put_up: Any) -> None:
    column = put_up(demo("refer"))
    assert column.board.picture.cracks and not column.board.picture.bars
    assert "before an engineer has looked" in column.note.text()
    assert column.hint.text().startswith("Point at a price")


def test_the_board_is_named_and_summed_up_for_a_screen_reader(put_up: Any) -> None:
    board = put_up(demo("window_lime")).board
    assert board.accessibleName() == "The wall"
    assert board.accessibleDescription() == "Front, ground floor, 1 crack, 4 bars"


def test_where_there_is_little_room_the_wall_has_it(put_up: Any) -> None:
    """In large type legend and hint lay over each other, and left the wall ninety pixels."""
    column = put_up(demo("window_lime"))
    column.resize(640, 440)
    QApplication.processEvents()
    assert column.legend.isHidden() and column.hint.isHidden()
    assert not column.note.isHidden() or not column.note.text()
    column.resize(640, 690)
    QApplication.processEvents()
    assert not column.legend.isHidden() and not column.hint.isHidden()
