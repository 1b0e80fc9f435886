"""The keys that are listed are the keys that are taken."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop import keyboard
from estimator.desktop.wall.rail import entries
from estimator.desktop.wall.tools.own_keys import OwnKey, own_keys
from tests.desktop.wall.hand import hand_on, plain_wall
from tests.desktop.wall.photos.desk import photo_hands


def test_every_tool_is_listed_with_the_letter_that_takes_it_up(
    qtbot: QtBot, tmp_path: Path
) -> None:
    listed = dict(keyboard.on_the_wall())
    with hand_on(qtbot, tmp_path, plain_wall()) as hand:
        for entry in entries():
            letter = listed[entry.said]
            hand.take("wall" if entry.name == "point" else "point")
            hand.keys(getattr(Qt.Key, f"Key_{letter}"))
            assert hand.drafting.tool.name == entry.name


@pytest.mark.parametrize("act", ["Dimensions", "Exact sizes of what is selected"])
def test_other_letters_are_taken_by_the_board(qtbot: QtBot, tmp_path: Path, act: str) -> None:
    letter = dict(keyboard.on_the_wall())[act]
    with hand_on(qtbot, tmp_path, plain_wall()) as hand:
        hand.drafting.select("front/opening/window")
        hand.turn()
        before = hand.board.grab().toImage()
        hand.keys(getattr(Qt.Key, f"Key_{letter}"))
        is_in_form = hand.column.particulars.isAncestorOf(QApplication.focusWidget() or QWidget())
        assert hand.board.grab().toImage() != before or is_in_form


OWN = [one for one in own_keys() if one.tool != "photo"]


@pytest.mark.parametrize("own", OWN, ids=lambda one: f"{one.tool} {one.shown}")
def test_each_key_of_a_tool_is_taken_by_it(qtbot: QtBot, tmp_path: Path, own: OwnKey) -> None:
    with hand_on(qtbot, tmp_path, plain_wall()) as hand:
        hand.take(own.tool)
        tool, bar = hand.drafting.tool, hand.picture.bars[0]
        middle = (bar.left + bar.right) / 2, bar.y
        for key in own.keys:
            if own.tool in ("point", "bar"):
                hand.drafting.select(bar.mark)
            if own.shown == "U":
                # Only what is somebody's can be given back.
                hand.keys(Qt.Key.Key_K)
            tool.cancel()
            tool.hover(hand.picture.cracks[0].points[-1] if own.tool == "crack" else middle)
            assert tool.key(key, shifted=False), f"{key.name} is listed and not taken"
            hand.turn()


def test_other_tools_take_no_key_that_is_not_theirs(qtbot: QtBot, tmp_path: Path) -> None:
    taken = {(one.tool, key) for one in own_keys() for key in one.keys}
    letters = [Qt.Key(code) for code in range(Qt.Key.Key_A, Qt.Key.Key_Z + 1)]
    with hand_on(qtbot, tmp_path, plain_wall()) as hand:
        for entry in entries():
            hand.take(entry.name)
            hand.drafting.select(hand.picture.bars[0].mark)
            tool = hand.drafting.tool
            found = {key for key in letters if tool.key(key, shifted=False)}
            assert found <= {key for name, key in taken if name == entry.name}


def test_keys_of_a_photograph_are_taken_once_it_lies_square(qtbot: QtBot, tmp_path: Path) -> None:
    keys = {one.shown: one.keys[0] for one in own_keys() if one.tool == "photo"}
    with photo_hands(qtbot, tmp_path, plain_wall()) as hands:
        hands.drop_photograph(tmp_path)
        hands.mark()
        hands.finish()
        hands.take("photo")
        tool = hands.drafting.tool
        assert tool.key(keys["L"], shifted=False)
        tool.cancel()
        before = hands.painted()
        QTest.keyClick(hands.board, keys["V"])
        hands.settle()
        assert hands.painted() != before


def test_the_list_has_a_part_for_the_wall(qtbot: QtBot) -> None:
    owner = QWidget()
    qtbot.addWidget(owner)
    dialog = keyboard.keys_dialog(owner)
    said = [label.text() for label in dialog.findChildren(QLabel)]
    assert "On the wall" in said and "Trace a crack" in said
    assert "With a tool in hand" in said and "Crack: cut bricks, or follow the joints" in said
    dialog.close()
