"""Tab goes through each page of the job as one reads it, to its filled button, and back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from estimator.desktop.widgets import reading_order
from tests.desktop.agreed.conftest import mark_found
from tests.desktop.fakes import answered


def said(widget: QWidget) -> str:
    text = widget.text() if isinstance(widget, QAbstractButton) else ""
    return widget.accessibleName() or text


def tabbed(columns: Columns, most: int = 40) -> list[str]:
    """Press Tab from the first stop on while the keyboard stays in the column of the job."""
    QApplication.processEvents()
    first = next(reading_order.stops_of(columns.agreeing.job))
    first.setFocus(Qt.FocusReason.TabFocusReason)
    found = []
    for _stop in range(most):
        here = QApplication.focusWidget()
        if here is None or not columns.agreeing.job.isAncestorOf(here):
            break
        found.append(said(here))
        QTest.keyClick(here, Qt.Key.Key_Tab)
    return found


def test_hours_of_somebody_come_after_what_was_done(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    agreed.agreeing.write()
    agreed.agreeing.job.open("hours")
    page = agreed.agreeing.hours
    page.another.click()
    found = tabbed(agreed)
    person = ["Who worked", "Trade", "On which day", "Hours", "Prime cost an hour (£)"]
    assert found[:12] == [found[0], "What was done", *person, *person]
    assert found[12] == "Somebody else, or another day"
    assert found[-1] == "Keep the sheet"
    answered(agreed._session)


@pytest.mark.parametrize(
    ("name", "last"),
    [
        ("plan", "Keep these days"),
        ("built", "Note it as done"),
        ("took", "Book it"),
        ("done", "It is done"),
        ("payment", "Note the payment"),
        ("invoice", "Issue the invoice"),
        ("cancelling", "It is cancelled"),
    ],
)
def test_after_the_last_field_comes_the_filled_button(
    agreed: Columns, qtbot: QtBot, name: str, last: str
) -> None:
    qtbot.waitUntil(lambda: agreed.working.overseeing.works is not None, timeout=20_000)
    agreed.agreeing.job.open(name)
    answered(agreed._session)
    found = tabbed(agreed)
    assert found[-1] == last and len(found) > 2
    fields = [
        one.accessibleName()
        for one in agreed.agreeing.job.pages.currentWidget().findChildren(QLineEdit)
        if one.isVisible()
    ]
    assert set(fields) <= set(found)
    answered(agreed._session)


def test_the_blocks_of_the_job_come_in_their_order(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    qtbot.waitUntil(lambda: agreed.working.overseeing.works is not None, timeout=20_000)
    agreed.agreeing.job.open()
    found = tabbed(agreed)
    order = ("Show the quotation", "Write the variation", "Plan the works", "Note a payment")
    places = [found.index(one) for one in order]
    assert places == sorted(places)
    answered(agreed._session)
