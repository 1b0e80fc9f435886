"""The keys that are listed are the keys that are taken."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop import keyboard
from estimator.desktop.wall.rail import entries
from tests.desktop.wall.hand import hand_on, plain_wall


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


@pytest.mark.parametrize("act", ["Dimensions", "Next handle", "Exact sizes of what is selected"])
def test_other_letters_are_taken_by_the_board(qtbot: QtBot, tmp_path: Path, act: str) -> None:
    letter = dict(keyboard.on_the_wall())[act]
    with hand_on(qtbot, tmp_path, plain_wall()) as hand:
        hand.drafting.select("front/opening/window")
        hand.turn()
        before = hand.board.grab().toImage()
        hand.keys(getattr(Qt.Key, f"Key_{letter}"))
        is_in_form = hand.column.particulars.isAncestorOf(QApplication.focusWidget() or QWidget())
        assert hand.board.grab().toImage() != before or is_in_form


def test_the_list_has_a_part_for_the_wall(qtbot: QtBot) -> None:
    owner = QWidget()
    qtbot.addWidget(owner)
    dialog = keyboard.keys_dialog(owner)
    said = [label.text() for label in dialog.findChildren(QLabel)]
    assert "On the wall" in said and "Trace a crack" in said
    dialog.close()
