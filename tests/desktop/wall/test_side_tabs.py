"""The sides of a building: looked at, added, named, copied, mirrored, returned, removed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estimator.survey.survey import Basis, WallEnd
from tests.desktop.fakes import demo_survey
from tests.desktop.wall.at_the_wall import Hands, Key, hands_on


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[Hands]:
    with hands_on(qtbot, tmp_path, demo_survey("window_lime")) as found:
        yield found


def names(hands: Hands) -> list[str]:
    return [one.name for one in hands.survey.elevations]


def choose(hands: Hands, word: str) -> None:
    """Take what is called so from the menu, which no screen without a display can pop up."""
    tabs = hands.column.sides
    tabs._fill_menu(hands.drafting.side)
    next(one for one in tabs.menu.actions() if one.text() == word).trigger()
    hands.settle()


def test_a_side_is_added_and_named_by_keys_alone(hands: Hands) -> None:
    tabs = hands.column.sides
    tabs.add.setFocus()
    hands.press(Key.Key_Return)
    assert tabs.line.hasFocus() and tabs.line.selectedText() == "Side 2"
    hands.type("Rear")
    hands.press(Key.Key_Return)
    assert names(hands) == ["Front, ground floor", "Rear"]
    assert tabs.tabs[1].hasFocus() and hands.drafting.side == 1
    assert hands.board.picture is not None and hands.board.picture.name == "Rear"
    hands.press(Key.Key_Left)
    assert hands.drafting.side == 0 and tabs.tabs[0].hasFocus()


def test_f2_renames_and_escape_leaves_the_name(hands: Hands) -> None:
    tabs = hands.column.sides
    tabs.tabs[0].setFocus()
    hands.press(Key.Key_F2)
    hands.type("Street <b>front</b> & porch")
    hands.press(Key.Key_Escape)
    assert names(hands) == ["Front, ground floor"]
    hands.press(Key.Key_F2)
    hands.type("Street & porch")
    hands.press(Key.Key_Return)
    assert names(hands) == ["Street & porch"]
    assert tabs.tabs[0].text() == "Street && porch"


def test_a_name_left_empty_is_refused(hands: Hands) -> None:
    hands.column.sides.tabs[0].setFocus()
    hands.press(Key.Key_F2, Key.Key_Delete, Key.Key_Return)
    assert names(hands) == ["Front, ground floor"]
    assert hands.column.trouble.isVisible()


def test_a_copy_and_a_mirror_from_the_menu(hands: Hands) -> None:
    hands.column.sides.tabs[0].setFocus()
    choose(hands, "Copy")
    hands.press(Key.Key_Return)
    assert names(hands) == ["Front, ground floor", "Front, ground floor, copy"]
    before = hands.wall
    hands.column.sides.tabs[1].setFocus()
    choose(hands, "Mirror")
    assert hands.wall != before
    assert hands.survey.elevations[0].outline == demo_survey("window_lime").elevations[0].outline


def test_the_wall_round_a_quoin_is_linked(hands: Hands) -> None:
    hands.column.sides.tabs[0].setFocus()
    choose(hands, "Add the wall round the right quoin")
    hands.press(Key.Key_Return)
    front, other = hands.survey.elevations
    assert front.right_end is WallEnd.QUOIN and front.right_return == other.id
    assert other.left_return == front.id


def test_a_side_is_removed_and_the_last_never(hands: Hands) -> None:
    tabs = hands.column.sides
    tabs.add.click()
    hands.settle()
    hands.press(Key.Key_Return)
    tabs.tabs[1].setFocus()
    hands.press(Key.Key_Delete)
    assert names(hands) == ["Front, ground floor"]
    hands.press(Key.Key_Delete)
    assert names(hands) == ["Front, ground floor"]
    assert hands.column.trouble.isVisible()
    hands.undo()
    assert names(hands) == ["Front, ground floor", "Side 2"]


def test_who_took_the_sizes(hands: Hands) -> None:
    buttons = hands.column.basis.buttons
    assert buttons[Basis.MEASURED].isChecked()
    QTest.mouseClick(buttons[Basis.TOLD], Qt.MouseButton.LeftButton)
    hands.settle()
    assert hands.survey.basis is Basis.TOLD
    assert "Not to be built from" in hands.column.note.text()
    hands.undo()
    assert buttons[Basis.MEASURED].isChecked()


def test_the_name_is_typed_over_the_tab_of_a_side_just_added(hands: Hands) -> None:
    """The line lay over the whole row, since the tab had not been laid out yet."""
    tabs = hands.column.sides
    tabs.add.click()
    assert tabs.line.geometry() == tabs.tabs[1].geometry()
    assert tabs.line.x() >= tabs.tabs[0].geometry().right()
    assert tabs.line.width() < tabs.width() / 2


def test_a_side_added_to_a_mere_guess_takes_its_place(qtbot: QtBot, tmp_path: Path) -> None:
    """The guess stood beside it as if somebody had told of it, its crack priced with the rest."""
    with hands_on(qtbot, tmp_path) as hands:
        assert hands.wall.cracks, "the guess has a crack"
        hands.column.sides.add.click()
        hands.settle()
        assert len(hands.survey.elevations) == 1 and not hands.wall.cracks
        assert hands.survey.drawn
        hands.column.sides.add.click()
        hands.settle()
        assert len(hands.survey.elevations) == 2
