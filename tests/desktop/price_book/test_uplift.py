"""Prices raised together: shown first, then done as one change."""

from __future__ import annotations

from decimal import Decimal

from pytestqt.qtbot import QtBot

from estimator.desktop.price_book import trial
from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.session import Session
from tests.desktop.price_book.conftest import Desk


def test_what_becomes_of_each_price_is_shown_then_done_then_taken_back(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    before = trial.totals_of(open_session.sight.options)
    page.left.uplift.click()
    pane = page.uplift
    pane.group.setCurrentText("Materials")
    qtbot.keyClicks(pane.percent, "10")
    qtbot.waitUntil(lambda: bool(pane.model.rows), timeout=10_000)
    grout = next(row for row in pane.model.rows if row.title == "Bar grout")
    assert (grout.was, grout.now) == (Decimal("23.50"), Decimal("25.85"))
    assert trial.totals_of(open_session.sight.options) == before
    with qtbot.waitSignal(page.changes.done, timeout=20_000) as told:
        pane.apply.click()
    assert told.args == ["Materials +10 per cent"]
    assert trial.totals_of(open_session.sight.options) != before
    desk.settled()
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        page.pane.undo.click()
    assert trial.totals_of(open_session.sight.options) == before


def test_a_percentage_out_of_bounds_or_none_changes_nothing(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    page.left.uplift.click()
    pane = page.uplift
    qtbot.keyClicks(pane.percent, "9000")
    qtbot.waitUntil(lambda: "out of bounds" in pane.echo.text(), timeout=10_000)
    assert not pane.apply.isEnabled()
    pane.percent.clear()
    qtbot.keyClicks(pane.percent, "four")
    assert pane.echo.text() == "Per cent: “four” is not a figure. Write it as 4.60."
    assert pane.percent.text() == "four"


def test_a_percentage_below_nothing_makes_cheaper(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    page.left.uplift.click()
    pane = page.uplift
    qtbot.keyClicks(pane.percent, "-3")
    qtbot.waitUntil(lambda: bool(pane.model.rows), timeout=10_000)
    assert all(row.now < row.was for row in pane.model.rows if row.was and row.now)
