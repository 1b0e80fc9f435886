"""The page as somebody works it: with keys, in the table, with the open job following."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from estimator.desktop.filing import Filing
from estimator.desktop.price_book import trial
from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.session import Session
from estimator.money import Money
from estimator.store import price_books
from tests.desktop.price_book.conftest import Desk

Key = Qt.Key


def totals(session: Session) -> list[Decimal]:
    return [one.pounds for one in trial.totals_of(session.sight.options)]


def shown(page: PriceBookPage) -> list[str]:
    """Return what stands in the effect on the open job."""
    return [label.text() for label in page.effect.findChildren(QLabel) if not label.isHidden()]


def test_shelves_tell_how_many_figures_are_not_ones_own(page: PriceBookPage, desk: Desk) -> None:
    assert page.book.count == page.book.strange == page.pane.rates.rowCount()
    assert page.left.summary.text() == f"{page.book.strange} not yours yet"


def test_a_price_typed_in_its_cell_makes_a_book_and_the_job_follows(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    before = totals(open_session)
    desk.open_shelf("Materials")
    desk.go_to("Bar grout")
    page.why.setText("letter from the merchant")
    qtbot.keyClick(page.pane.table, Key.Key_F2)
    qtbot.keyClicks(desk.editor(), "47.00")
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        qtbot.keyClick(desk.editor(), Key.Key_Return)
    after = totals(open_session)
    assert all(now > was for now, was in zip(after, before, strict=True))
    desk.settled()
    grout = next(one for one in map(page.pane.rates.entry, range(9)) if one and one.code == "grout")
    assert grout.price == Money.of("47.00")
    assert grout.confirmed
    assert page.book.strange == page.book.count - 1
    assert any(text.startswith("was £") for text in shown(page))
    held = []
    open_session.filing.ask(price_books.books, held.extend)
    qtbot.waitUntil(lambda: len(held) == 2, timeout=5_000)
    assert held[-1].why == ("Bar grout. Price a pack: £23.50 to £47.00. letter from the merchant")


def test_a_change_is_taken_back_by_one_press(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    before, strange = totals(open_session), page.book.strange
    desk.open_shelf("Labour")
    desk.go_to("Bricklayer")
    qtbot.keyClick(page.pane.table, Key.Key_Return)
    qtbot.keyClicks(desk.editor(), "19.50")
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        qtbot.keyClick(desk.editor(), Key.Key_Return)
    assert totals(open_session) != before
    desk.settled()
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        page.pane.undo.click()
    desk.settled()
    assert totals(open_session) == before
    assert page.book.strange == strange
    assert page.pane.undo.isHidden()


def test_a_price_that_is_none_is_refused_beside_it_and_stays(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    before = totals(open_session)
    desk.open_shelf("Materials")
    desk.go_to("Cement")
    qtbot.keyClick(page.pane.table, Key.Key_F2)
    editor = desk.editor()
    qtbot.keyClicks(editor, "6,9O")
    qtbot.keyClick(editor, Key.Key_Return)
    assert editor.isVisible()
    assert editor.text() == "6,9O"
    said = [one.text() for one in page.pane.table.viewport().findChildren(QLabel)]
    assert said == ["Price a pack: “6,9O” is not a figure. Write it as 4.60."]
    assert totals(open_session) == before
    qtbot.keyClick(editor, Key.Key_Escape)
    qtbot.waitUntil(lambda: not page.pane.table.viewport().findChildren(QLabel))


def test_what_a_price_does_to_the_job_is_tried_while_it_is_typed(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    before = totals(open_session)
    desk.open_shelf("Materials")
    desk.go_to("Bar grout")
    qtbot.keyClick(page.pane.table, Key.Key_F2)
    qtbot.keyClicks(desk.editor(), "99")
    qtbot.waitUntil(lambda: "Tried out, not kept yet." in shown(page), timeout=5_000)
    assert totals(open_session) == before
    qtbot.keyClick(desk.editor(), Key.Key_Escape)
    qtbot.waitUntil(lambda: "Tried out, not kept yet." not in shown(page), timeout=5_000)


def test_space_makes_what_is_selected_ones_own_without_a_new_date(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    desk.open_shelf("Bars")
    page.pane.table.selectAll()
    dated = {one.dated for one in page.pane.table.entries()}
    with qtbot.waitSignal(page.changes.done, timeout=10_000) as told:
        qtbot.keyClick(page.pane.table, Key.Key_Space)
    assert told.args == ["3 rates confirmed as our own"]
    desk.settled()
    now = page.pane.table.entries()
    assert [one.confirmed for one in now] == [True] * 3
    assert {one.dated for one in now} == dated
    assert page.book.strange == page.book.count - 3


def test_an_output_with_several_figures_is_edited_at_the_right(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    before = totals(open_session)
    desk.open_shelf("Work")
    desk.go_to("Set helical bars in grout")
    qtbot.keyClick(page.pane.table, Key.Key_Return)
    field = page.focusWidget()
    assert field is page.details._fields[0].field
    qtbot.keyClicks(field, "0.2")
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        qtbot.keyClick(field, Key.Key_Return)
    assert all(now > was for now, was in zip(totals(open_session), before, strict=True))


def test_what_the_engine_cannot_price_with_is_refused_and_the_words_stay(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    desk.open_shelf("Settings")
    desk.go_to("Additions")
    profit = page.details._fields[2].field
    profit.setFocus()
    profit.selectAll()
    qtbot.keyClicks(profit, "5000")
    with qtbot.waitSignal(page.changes.refused, timeout=10_000) as told:
        qtbot.keyClick(profit, Key.Key_Return)
    assert profit.text() == "5000"
    assert page.pane.said.text() == str(told.args[0])


def test_history_tells_each_change_with_its_reason(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    desk.open_shelf("Materials")
    desk.go_to("Cement")
    qtbot.keyClick(page.pane.table, Key.Key_F2)
    qtbot.keyClicks(desk.editor(), "7.10")
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        qtbot.keyClick(desk.editor(), Key.Key_Return)
    past = page.details._past

    def told() -> list[str]:
        return [label.text() for labels in past for label in labels if not label.isHidden()]

    qtbot.waitUntil(lambda: "£6.90 to £7.10" in told(), timeout=10_000)
    assert "Cement. Price a pack: £6.90 to £7.10" in told()


def test_words_typed_above_find_rates_of_every_shelf(
    qtbot: QtBot, page: PriceBookPage, desk: Desk
) -> None:
    page.seek("lime")
    qtbot.waitUntil(lambda: page.pane.heading.text() == "Found", timeout=10_000)
    found = [page.pane.rates.entry(row) for row in range(page.pane.rates.rowCount())]
    assert {one.code for one in found if one} == {"lime_putty", "nhl35", "hydrated_lime"}
    page.seek("no such thing anywhere")
    qtbot.waitUntil(page.pane.empty.isVisible, timeout=10_000)
    assert "no such thing anywhere" in page.pane.empty.text()
    page.seek("")
    qtbot.waitUntil(lambda: page.pane.heading.text() == "Everything", timeout=10_000)


def test_prices_written_out_are_taken_in_again_without_a_change(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, tmp_path: Path
) -> None:
    path = tmp_path / "prices.csv"
    page.write_out(path)
    qtbot.waitUntil(path.exists, timeout=10_000)
    desk.settled()
    assert page.pane.said.text() == "12 prices written: prices.csv"
    page.take_in_file(path)
    qtbot.waitUntil(lambda: "12 as before" in page.taking_in.told.text(), timeout=10_000)
    assert not page.taking_in.take.isEnabled()


def test_a_file_only_looked_at_says_so_and_lets_nothing_be_changed(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Filing, "can_write", property(lambda _filing: False))
    page.reload()
    desk.settled()
    desk.open_shelf("Materials")
    desk.go_to("Cement")
    qtbot.keyClick(page.pane.table, Key.Key_F2)
    qtbot.keyClick(page.pane.table, Key.Key_Space)
    assert not page.pane.table.viewport().findChildren(QLineEdit)
    assert page.details._fields[0].field.isReadOnly()
    assert "only being looked at" in page.pane.said.text()
    assert not page.left.take_in.isEnabled()
    desk.settled()
    assert page.book.strange == page.book.count
