"""Who sells a material, typed at its card: offered, kept, taken back, and refused beside it."""

from __future__ import annotations

from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop.filing import Filing
from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.store import bulk, price_books, suppliers
from estimator.store.bulk import Article
from estimator.store.database import Database
from estimator.works.suppliers import MOST_LETTERS
from tests.desktop.fakes import answered
from tests.desktop.price_book.conftest import Desk

Key = Qt.Key


def held(session: Session) -> dict[str, str]:
    """Return who sells what, as the file has it."""
    found: list[dict[str, str]] = []
    session.filing.ask(suppliers.bought_from, found.append)
    answered(session)
    return found[0]


def told(session: Session, *names: tuple[str, str]) -> None:
    """Have the file know names at materials already."""

    def work(database: Database) -> None:
        for material, name in names:
            suppliers.keep(database, material, material.title(), name)

    session.filing.ask(work)
    answered(session)


def card_of(desk: Desk, title: str, shelf: str = "Materials") -> None:
    desk.open_shelf(shelf)
    desk.go_to(title)
    desk.settled()


def offered(page: PriceBookPage) -> list[str]:
    return [one.words for one in page.details.bought_from.offers if not one.isHidden()]


def write(qtbot: QtBot, page: PriceBookPage, text: str) -> None:
    field = page.details.bought_from.field
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Key.Key_Delete)
    qtbot.keyClicks(field, text)


def test_a_name_typed_and_entered_is_in_the_file_and_changes_no_price(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    card_of(desk, "Cement")
    page.why.setText("half a reason")
    write(qtbot, page, "  Fell Lane   Supplies & Sons ")
    with qtbot.waitSignal(page.changes.noted, timeout=10_000) as said:
        qtbot.keyClick(page.details.bought_from.field, Key.Key_Return)
    desk.settled()
    assert said.args == ["Cement. Bought from Fell Lane Supplies & Sons"]
    assert held(open_session) == {"cement": "Fell Lane Supplies & Sons"}
    assert page.details.bought_from.field.text() == "Fell Lane Supplies & Sons"
    assert page.why.text() == "half a reason"
    assert page.book.strange == page.book.count
    books: list[object] = []
    open_session.filing.ask(price_books.books, books.extend)
    desk.settled()
    assert len(books) == 1


def test_leaving_the_field_keeps_what_was_typed_and_escape_gives_it_up(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    card_of(desk, "Cement")
    write(qtbot, page, "Quarry")
    qtbot.keyClick(page.details.bought_from.field, Key.Key_Escape)
    assert page.details.bought_from.field.text() == ""
    page.pane.table.setFocus()
    assert held(open_session) == {}
    write(qtbot, page, "Quarry")
    desk.go_to("Bar grout")
    desk.settled()
    assert held(open_session) == {"cement": "Quarry"}
    assert page.details.bought_from.field.text() == ""
    desk.go_to("Cement")
    qtbot.waitUntil(lambda: page.details.bought_from.field.text() == "Quarry", timeout=10_000)


def test_names_already_used_are_offered_while_one_is_typed(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    told(open_session, ("sand", "Fell Lane & Sons"), ("grout", "Lane End Stone"))
    told(open_session, ("nhl35", "Quarry"))
    card_of(desk, "Cement")
    assert offered(page) == []
    write(qtbot, page, "lane")
    # What begins so comes first.
    assert offered(page) == ["Lane End Stone", "Fell Lane & Sons"]
    field = page.details.bought_from.field
    qtbot.keyClick(field, Key.Key_Down)
    first, second = page.details.bought_from.offers[:2]
    assert first.hasFocus()
    # On the way there, nothing half typed is taken.
    assert "cement" not in held(open_session)
    qtbot.keyClick(first, Key.Key_Down)
    with qtbot.waitSignal(page.changes.noted, timeout=10_000):
        qtbot.keyClick(second, Key.Key_Return)
    assert field.hasFocus()
    assert held(open_session)["cement"] == "Fell Lane & Sons"
    assert offered(page) == []


def test_what_is_offered_is_seen_where_the_card_is_higher_than_the_window(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    told(open_session, ("sand", "Fell Lane & Sons"), ("grout", "Lane End Stone"))
    card_of(desk, "Cement")
    part = page.details.bought_from
    (area,) = (one for one in page.findChildren(QScrollArea) if one.isAncestorOf(part))
    area.setFixedHeight(LOOK.px(150))
    write(qtbot, page, "lane")

    def is_whole(one: QWidget) -> bool:
        return one.visibleRegion().boundingRect() == one.rect()

    last = part.offers[1]
    qtbot.waitUntil(lambda: last.isVisible() and is_whole(last), timeout=10_000)
    assert is_whole(part.field)


def test_whose_list_has_it_is_offered_by_itself(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    price = Money.of("7.10")
    row = Article("cement", "Cement", "kg", "KGM", "", Decimal(25), price, "Fell Lane & Sons")
    open_session.filing.ask(lambda database: bulk.apply_import(database, [row], "list.csv"))
    page.reload()
    desk.settled()
    card_of(desk, "Cement")
    qtbot.waitUntil(lambda: offered(page) == ["Fell Lane & Sons"], timeout=10_000)
    offer = page.details.bought_from.offers[0]
    assert offer.accessibleName() == "Fell Lane & Sons, has it on a list"
    assert held(open_session) == {}
    with qtbot.waitSignal(page.changes.noted, timeout=10_000):
        qtbot.mouseClick(offer, Qt.MouseButton.LeftButton)
    assert held(open_session) == {"cement": "Fell Lane & Sons"}


def test_suppliers_and_prices_are_taken_back_in_the_order_they_were_changed(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, open_session: Session
) -> None:
    card_of(desk, "Cement")
    for name in ("Quarry", "Fell Lane & Sons"):
        write(qtbot, page, name)
        with qtbot.waitSignal(page.changes.noted, timeout=10_000):
            qtbot.keyClick(page.details.bought_from.field, Key.Key_Return)
        desk.settled()
    figure = page.details._fields[1].field
    figure.setFocus()
    figure.selectAll()
    qtbot.keyClicks(figure, "7.10")
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        qtbot.keyClick(figure, Key.Key_Return)
    desk.settled()
    write(qtbot, page, "")
    with qtbot.waitSignal(page.changes.noted, timeout=10_000):
        qtbot.keyClick(page.details.bought_from.field, Key.Key_Return)
    desk.settled()
    assert page.book.last_change == "Cement. Bought from the merchant"
    stood = []
    for signal in (page.changes.noted, page.changes.done, *[page.changes.noted] * 2):
        with qtbot.waitSignal(signal, timeout=10_000) as said:
            page.pane.undo.click()
        desk.settled()
        stood.append((said.args[0], held(open_session).get("cement", "")))
    assert stood == [
        ("Taken back: Cement. Bought from the merchant", "Fell Lane & Sons"),
        ("Taken back: Cement. Price a pack: £6.90 to £7.10", "Fell Lane & Sons"),
        ("Taken back: Cement. Bought from Fell Lane & Sons", "Quarry"),
        ("Taken back: Cement. Bought from Quarry", ""),
    ]
    assert page.details.bought_from.field.text() == ""
    assert page.pane.undo.isHidden()


def test_only_what_is_bought_by_the_pack_asks_who_sells_it(
    page: PriceBookPage, desk: Desk, qtbot: QtBot
) -> None:
    card_of(desk, "Bricklayer", "Labour")
    assert page.details.bought_from.isHidden()
    desk.open_shelf("Bars")
    qtbot.waitUntil(lambda: not page.details.bought_from.isHidden(), timeout=10_000)
    page.left.hour.click()
    assert page.details.bought_from.isHidden()


def test_a_name_too_long_does_not_go_in_and_one_refused_stays_typed(
    qtbot: QtBot,
    page: PriceBookPage,
    desk: Desk,
    open_session: Session,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    card_of(desk, "Cement")
    write(qtbot, page, "W" * (MOST_LETTERS + 20))
    field = page.details.bought_from.field
    assert field.text() == "W" * MOST_LETTERS

    def refuse(*_about: object) -> None:
        raise UserMistake("it cannot be kept", do="try again")

    monkeypatch.setattr(suppliers, "keep", refuse)
    with qtbot.waitSignal(page.changes.refused, timeout=10_000):
        qtbot.keyClick(field, Key.Key_Return)
    assert field.text() == "W" * MOST_LETTERS
    assert page.details.bought_from.said.text() == page.pane.said.text()
    assert "it cannot be kept" in page.pane.said.text()
    assert held(open_session) == {}


def test_a_file_only_looked_at_shows_who_sells_it_and_keeps_nothing(
    page: PriceBookPage,
    desk: Desk,
    open_session: Session,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told(open_session, ("cement", "Quarry"))
    monkeypatch.setattr(Filing, "can_write", property(lambda _filing: False))
    page.reload()
    desk.settled()
    card_of(desk, "Cement")
    field = page.details.bought_from.field
    qtbot.waitUntil(lambda: field.text() == "Quarry", timeout=10_000)
    assert field.isReadOnly()
    assert field.accessibleName() == "Bought from"
