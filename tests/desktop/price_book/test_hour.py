"""The hour as it is worked on screen, against the engine and a hand-checked build-up."""

from __future__ import annotations

from decimal import Decimal

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.desktop.price_book import hour
from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.session import Session
from tests.desktop.price_book.conftest import Desk

# CIOB Code of Estimating Practice, the method; the figures are illustrative and were added up by
# hand: 2,028 h paid, 1,719.9 h productive, a year of £41,923.94, £24.38 an hour.
BY_HAND = {
    "Pay": "£663.00 a week",
    "Hours paid": "2,028 h",
    "Lost to weather": "−35.1 h",
    "Hours that earn": "1,719.9 h",
    "Pay in a year": "£34,476.00",
    "National Insurance": "£4,421.40",
    "Pension": "£847.08",
    "Severance and sundries": "£607.42",
    "Insurance": "£822.04",
    "A year costs": "£41,923.94",
    "An hour that earns": "£24.38",
}


def results(page: PriceBookPage) -> dict[str, str]:
    return {line.title: label.text() for line, label in page.sheet._results}


def test_every_line_comes_to_what_it_does_by_hand(page: PriceBookPage, desk: Desk) -> None:
    page.left.hour.click()
    assert BY_HAND.items() <= results(page).items()


def test_the_other_grade_is_worked_with_its_own_pay(page: PriceBookPage, desk: Desk) -> None:
    page.left.hour.click()
    page.sheet.grades["labourer"].click()
    # The same hand-checked build-up with £13.00 an hour and £250 of tools.
    assert results(page)["An hour that earns"] == "£18.52"


def test_a_figure_written_into_a_line_moves_all_below_it_at_once(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    page.left.hour.click()
    field = page.sheet.fields["bricklayer", "basic"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "18.00")
    assert results(page)["Pay in a year"] == "£36,504.00"
    before = open_session.practice.book.labour.hour
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        qtbot.keyClick(field, Qt.Key.Key_Return)
    labour = open_session.practice.book.labour
    assert labour.bricklayer.basic == Decimal("18.00")
    assert labour.hour > before
    desk.settled()
    assert f"£{labour.hour}" == results(page)["The gang, for each bricklayer’s hour"]


def test_a_figure_that_is_none_is_said_and_cannot_be_used(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    page.left.hour.click()
    field = page.sheet.fields["year", "leave_hours"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "28 days")
    assert page.sheet.said.text().startswith("Holidays, bank holidays in: “28 days” is not")
    assert not page.sheet.keep.isEnabled()
    assert field.text() == "28 days"
    page.sheet.back.click()
    assert field.text() == "218.4"


def test_a_year_without_hours_that_earn_is_told_and_not_divided_by(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    page.left.hour.click()
    field = page.sheet.fields["year", "leave_hours"]
    field.selectAll()
    qtbot.keyClicks(field, "2028")
    assert page.sheet.said.text().startswith("No hours are left that earn.")
    assert not page.sheet.keep.isEnabled()


def test_only_entries_with_another_figure_are_changed(page: PriceBookPage, desk: Desk) -> None:
    entries = {one.code: one for one in page.book.labour}
    figures = hour.figures_in(entries)
    assert hour.with_figures(entries, figures) == ()
    figures["year", "weeks"] = Decimal(51)
    assert [one.code for one in hour.with_figures(entries, figures)] == ["year"]
