"""A price and its marks, pointed at from both sides by pointer and by keyboard."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from estimator.desktop.money.row import RowWidget
from estimator.desktop.session import Session
from estimator.desktop.wall.board import Board
from estimator.money import Money, total
from tests.desktop.fakes import demo_survey, rest, session_on

SHARE = re.compile(r"£[\d,]+(\.\d\d)? of £[\d,]+(\.\d\d)?")


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Session]:
    session = session_on(tmp_path, demo_survey("window_lime"))
    yield session
    session.filing.close()


@pytest.fixture
def columns(qtbot: QtBot, opened: Session) -> Iterator[Columns]:
    """Wall and money beside each other, measured on site: prices are firm."""
    made = Columns(opened)
    made.finish()
    qtbot.addWidget(made)
    made.resize(1366, 680)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    # Where a pointer was left by the test before must not point at anything here.
    qtbot.mouseMove(made, QPoint(2, 2))
    QApplication.processEvents()
    yield made
    rest(opened)


def board(columns: Columns) -> Board:
    return columns.wall.board


def row(columns: Columns, key: str) -> RowWidget:
    return next(one for one in columns.money.ladder.rows if one.row.key == key)


def lit(columns: Columns) -> set[str]:
    return {one.row.key for one in columns.money.ladder.rows if one.is_lit}


def at(columns: Columns, place: tuple[float, float]) -> QPoint:
    view = board(columns).view
    assert view is not None
    return QPointF(*view.at(*place)).toPoint()


def head(columns: Columns) -> str:
    return columns.money.ladder.head.text


def bar_place(columns: Columns, number: int = 0) -> tuple[str, QPoint]:
    picture = board(columns).picture
    assert picture is not None
    bar = sorted(picture.bars, key=lambda one: -one.y)[number]
    return bar.mark, at(columns, (bar.left + 40, bar.y))


def pence(shown: str) -> int:
    return round(float(shown.replace("£", "").replace(",", "")) * 100)


def test_a_bar_hovered_over_lights_its_lines_with_their_shares(
    columns: Columns, qtbot: QtBot
) -> None:
    _mark, spot = bar_place(columns)
    qtbot.mouseMove(board(columns), spot)
    assert {"BEDS", "BARS", "CRACK"} <= lit(columns)
    assert SHARE.fullmatch(row(columns, "BEDS").share)
    assert SHARE.search(row(columns, "BEDS").accessibleDescription())
    found = re.fullmatch(
        r"This bar: £([\d,.]+) of the price before VAT, in (\d+) lines", head(columns)
    )
    assert found is not None
    groups = [one for one in columns.money.ladder.rows if one.is_lit and one.row.level == 0]
    assert sum(pence(one.share.split()[0]) for one in groups) == pence(found[1])
    qtbot.mouseMove(board(columns), QPoint(3, 3))
    assert not lit(columns)
    assert head(columns) == columns._session.sight.options[0].offer.scope.title


def test_all_marks_and_the_sides_carry_the_whole_price(columns: Columns) -> None:
    sight = columns._session.sight
    from estimator.desktop.money import sharing  # noqa: PLC0415

    for option in sight.options:
        found = sharing.shares(sight, option)
        marks = frozenset(mark for line in found.lines for mark in line)
        assert total(found.of(marks)) == option.offer.net
        assert sharing.carried(sight, option, marks).lines == len(
            [line for line in option.offer.lines if line.amount != Money(0)]
        )


def test_a_mark_selected_keeps_its_lines_lit_until_it_is_let_go(
    columns: Columns, qtbot: QtBot
) -> None:
    # The lowest bar is no handle of the crack.
    columns.wall.drafting.select(bar_place(columns)[0])
    was = lit(columns)
    assert "BARS" in was
    qtbot.mouseMove(board(columns), QPoint(3, 3))
    assert lit(columns) == was
    columns.wall.take_focus()
    qtbot.keyClick(board(columns), Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not lit(columns))


def test_a_row_clicked_keeps_its_marks_lit_while_the_keyboard_walks_on(
    columns: Columns, qtbot: QtBot
) -> None:
    beds = row(columns, "BEDS")
    qtbot.mouseClick(beds, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: board(columns).lit == beds.row.marks)
    assert beds.is_held and beds.accessibleDescription() == "Kept lit on the wall"
    qtbot.keyClick(beds, Qt.Key.Key_End)
    QApplication.processEvents()
    assert board(columns).lit == beds.row.marks
    last = columns.money.ladder.row_at
    assert last is not None and last is not beds
    qtbot.keyClick(last, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: board(columns).lit == last.row.marks)
    assert not beds.is_held


def test_a_second_click_lets_go_and_closes(columns: Columns, qtbot: QtBot) -> None:
    beds = row(columns, "BEDS")
    qtbot.mouseClick(beds, Qt.MouseButton.LeftButton)
    assert beds.is_held and beds.row.is_open
    qtbot.mouseClick(beds, Qt.MouseButton.LeftButton)
    assert not beds.is_held and beds.row.is_open is False


def test_keys_go_from_a_line_to_its_marks_one_by_one_and_back(
    columns: Columns, qtbot: QtBot
) -> None:
    beds = row(columns, "BEDS")
    beds.setFocus()
    qtbot.keyClick(beds, Qt.Key.Key_M)
    wall = board(columns)
    assert wall.hasFocus()
    met = []
    while wall.chosen is not None:
        met.append(wall.chosen.mark)
        qtbot.keyClick(wall, Qt.Key.Key_Tab)
    assert set(met) == beds.row.marks
    assert len(met) == len(set(met))


def test_from_a_mark_a_key_goes_back_to_the_line_it_was_come_from(
    columns: Columns, qtbot: QtBot
) -> None:
    bars = row(columns, "BARS")
    bars.setFocus()
    qtbot.keyClick(bars, Qt.Key.Key_M)
    wall = board(columns)
    qtbot.keyClick(wall, Qt.Key.Key_Tab)
    assert wall.chosen is not None
    mark = wall.chosen.mark
    qtbot.keyClick(wall, Qt.Key.Key_M)
    assert row(columns, "BARS").hasFocus()
    qtbot.keyClick(row(columns, "BARS"), Qt.Key.Key_M)
    assert wall.chosen is not None and wall.chosen.mark == mark


def test_from_a_mark_a_key_goes_to_its_first_line(columns: Columns, qtbot: QtBot) -> None:
    columns.wall.take_focus()
    wall = board(columns)
    qtbot.keyClick(wall, Qt.Key.Key_Tab)
    while wall.chosen is not None and "/bar/" not in wall.chosen.mark:
        qtbot.keyClick(wall, Qt.Key.Key_Tab)
    assert wall.chosen is not None
    mark = wall.chosen.mark
    qtbot.keyClick(wall, Qt.Key.Key_M)
    here = columns.money.ladder.row_at
    assert here is not None and here.row.key == "BEDS/0"
    assert mark in here.row.marks


def test_escape_on_the_wall_lets_the_line_go_and_returns_to_it(
    columns: Columns, qtbot: QtBot
) -> None:
    beds = row(columns, "BEDS")
    beds.setFocus()
    qtbot.keyClick(beds, Qt.Key.Key_M)
    qtbot.keyClick(board(columns), Qt.Key.Key_Escape)
    assert not columns.money.ladder.held
    assert row(columns, "BEDS").hasFocus()
    assert not board(columns).walked


def test_escape_on_the_wall_lets_go_of_a_line_that_was_clicked(
    columns: Columns, qtbot: QtBot
) -> None:
    beds = row(columns, "BEDS")
    qtbot.mouseClick(beds, Qt.MouseButton.LeftButton)
    columns.wall.take_focus()
    # A pointer left on the row would light it again by itself.
    qtbot.mouseMove(columns, QPoint(2, 2))
    qtbot.waitUntil(lambda: board(columns).lit == beds.row.marks)
    qtbot.keyClick(board(columns), Qt.Key.Key_Escape)
    assert not columns.money.ladder.held
    assert board(columns).hasFocus()


def test_right_goes_deeper_and_at_last_to_the_marks(columns: Columns, qtbot: QtBot) -> None:
    here: RowWidget | None = row(columns, "BEDS")
    assert here is not None
    here.setFocus()
    for _press in range(5):
        qtbot.keyClick(here, Qt.Key.Key_Right)
        here = columns.money.ladder.row_at
        if here is None:
            break
    assert board(columns).hasFocus()
    assert board(columns).chosen is not None


def test_every_line_can_be_pointed_at(columns: Columns) -> None:
    ladder = columns.money.ladder
    for key in ("BEDS", "BARS", "CRACK", "PROTECT", "VISITS", "PRELIMINARIES"):
        ladder.open(key)
    within = [one for one in ladder.rows if one.isVisibleTo(ladder) and one.row.level == 1]
    assert len(within) >= len(columns._session.sight.options[0].offer.lines) - 1
    assert all(one.row.marks for one in within)
