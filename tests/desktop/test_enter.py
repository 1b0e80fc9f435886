"""Enter presses whatever button the keyboard is on, as the space bar does."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from estimator.desktop.papers.wrapped_line import WrappedLine
from estimator.desktop.widgets.buttons import (
    IconButton,
    button,
    main_button,
    quiet_button,
    row_button,
)

MAKERS: dict[str, Callable[[], QAbstractButton]] = {
    "main": lambda: main_button("Issue"),
    "usual": lambda: button("Print"),
    "quiet": lambda: quiet_button("Back"),
    "row": lambda: row_button("Rates"),
    "icon": lambda: IconButton("close", "Close"),
    "wrapped": lambda: WrappedLine("Write the customer's name."),
}


@pytest.mark.parametrize("kind", MAKERS)
@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_enter_presses_a_button_as_the_space_bar_does(qtbot: QtBot, kind: str, key: Qt.Key) -> None:
    made = MAKERS[kind]()
    qtbot.addWidget(made)
    made.show()
    pressed: list[bool] = []
    made.clicked.connect(lambda ticked=False: pressed.append(ticked))
    QTest.keyClick(made, key)
    assert len(pressed) == 1
