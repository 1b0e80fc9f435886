"""The field of a day that was says what it was taken for."""

from __future__ import annotations

import datetime

from pytestqt.qtbot import QtBot

from estimator.desktop.agreed.fields import DayField

SATURDAY = datetime.date(2026, 11, 28)


def test_what_a_day_was_taken_for_stands_under_it(qtbot: QtBot) -> None:
    field = DayField("Done on")
    qtbot.addWidget(field)
    field.show_text("fri")
    assert field.read(SATURDAY) == datetime.date(2026, 11, 27)
    assert field.echo.text() == "= Friday 27 November 2026"
    field.show_text("")
    assert field.read(SATURDAY) == SATURDAY
    field.show_text("tomorrow")
    assert field.read(SATURDAY) is None
    assert field.echo.isHidden()
    assert field.problem.text() == "That day is still to come; type today or a day before."
