"""The stages of the strip lead to their pages, by a click and by keys."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from estimator.desktop.strip import STAGES, StageLine
from tests.desktop.fakes import answered


def test_each_stage_is_led_to_by_a_click_and_by_keys(qtbot: QtBot) -> None:
    line = StageLine()
    qtbot.addWidget(line)
    line.resize(560, 32)
    with qtbot.waitExposed(line):
        line.show()
    told: list[str] = []
    line.wanted.connect(told.append)
    left = 0.0
    for width in line.widths().values():
        qtbot.mouseClick(line, Qt.MouseButton.LeftButton, pos=QPoint(round(left) + 12, 16))
        left += width
    assert told == list(STAGES)
    told.clear()
    line.show_stage("works")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    qtbot.keyClick(line, Qt.Key.Key_Right)
    qtbot.keyClick(line, Qt.Key.Key_Return)
    qtbot.keyClick(line, Qt.Key.Key_Right)
    qtbot.keyClick(line, Qt.Key.Key_Space)
    assert told == ["works", "account", "account"]


def test_each_stage_brings_up_its_page(agreed: Columns) -> None:
    agreed.go_to("enquiry")
    assert not agreed.is_at_job
    agreed.go_to("works")
    assert agreed.is_at_job and not agreed.has_paper
    agreed.go_to("quotation")
    answered(agreed._session)
    assert agreed.has_paper
    assert "Q-0001" in agreed.check.gone_page.title.text()
    agreed.go_to("account")
    assert agreed.is_at_job and not agreed.has_paper
    agreed.go_to("survey")
    assert agreed.wall.isVisible()
