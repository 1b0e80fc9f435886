"""The buying list stands by the counters that the price book names, however late they are named."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.theme.look import LOOK
from estimator.store import price_books
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import answered, rest
from tests.desktop.price_book.conftest import Desk
from tests.documents.reading import flat, pages

Key = Qt.Key
HOSTILE = "<b>Fixings</b> & Post"


@pytest.fixture
def price_book(planned: Columns, qtbot: QtBot) -> Iterator[PriceBookPage]:
    """The price book over the file of the job that was agreed."""
    made = PriceBookPage(planned._session)
    made.resize(LOOK.px(1366), LOOK.px(690))
    yield made
    made.close()
    qtbot.waitUntil(lambda: not made.pane._rest.isActive())
    rest(planned._session)
    made.deleteLater()


def say(qtbot: QtBot, page: PriceBookPage, shelf: str, names: dict[str, str]) -> None:
    """Type who sells what, as at the desk."""
    page.show()
    page.begin()
    qtbot.waitUntil(lambda: page.details.entry is not None, timeout=WAIT)
    desk = Desk(qtbot, page)
    desk.wait_for_rows()
    desk.open_shelf(shelf)
    for title, name in names.items():
        desk.go_to(title)
        desk.settled()
        field = page.details.bought_from.field
        field.setFocus()
        qtbot.keyClicks(field, name)
        with qtbot.waitSignal(page.changes.noted, timeout=WAIT):
            qtbot.keyClick(field, Key.Key_Return)
        desk.settled()


def text_of(columns: Columns, qtbot: QtBot, words: str) -> str:
    """Wait until the list says something, and return all it says."""

    def said() -> str:
        shown = columns.agreeing.papers.shown
        return flat("\n".join(pages(shown.pdf))) if shown is not None else ""

    qtbot.waitUntil(lambda: flat(words) in said(), timeout=WAIT)
    return said()


def turned(before: QWidget, now: QWidget) -> None:
    before.hide()
    now.show()


def test_names_typed_after_the_yes_group_the_list_in_its_order(
    planned: Columns, price_book: PriceBookPage, qtbot: QtBot
) -> None:
    planned.agreeing.job.open("papers")
    planned.working.papers.rows["buying"].click()
    plain = text_of(planned, qtbot, "At the merchant's")
    assert flat(HOSTILE) not in plain
    contract = planned.agreeing.following.so_far.contract
    turned(planned, price_book)
    bars = [f"Helical bar, stainless steel, 6 mm, {length} mm" for length in (1500, 3000)]
    say(qtbot, price_book, "Materials", {"Bar grout": HOSTILE, "Sharp sand, washed": "Quarry"})
    say(qtbot, price_book, "Bars", dict.fromkeys(bars, HOSTILE.upper()))
    turned(price_book, planned)
    said = text_of(planned, qtbot, HOSTILE)
    # Things keep the order they had; a counter stands where its first thing did.
    places = [said.index(flat(words)) for words in (HOSTILE, "Bar grout, tub", "Helical bar")]
    assert places == sorted(places)
    others = [said.index(flat(words)) for words in ("At the merchant's", "Quarry")]
    assert all(place > places[-1] for place in others)
    assert said.index("Quarry") < said.index(flat("Sharp sand"))
    # One heading, though it was typed in two ways.
    assert said.casefold().count(flat(HOSTILE).casefold()) == 1
    # It is part of no contract and of no price book.
    answered(planned._session)
    assert planned.agreeing.following.so_far.contract == contract
    books: list[object] = []
    planned._session.filing.ask(price_books.books, books.extend)
    answered(planned._session)
    assert len(books) == 1


def test_a_name_taken_back_is_gone_from_the_list(
    planned: Columns, price_book: PriceBookPage, qtbot: QtBot
) -> None:
    planned.hide()
    say(qtbot, price_book, "Materials", {"Bar grout": HOSTILE})
    turned(price_book, planned)
    planned.agreeing.job.open("papers")
    planned.working.papers.rows["buying"].click()
    text_of(planned, qtbot, HOSTILE)
    turned(planned, price_book)
    with qtbot.waitSignal(price_book.changes.noted, timeout=WAIT):
        price_book.pane.undo.click()
    turned(price_book, planned)
    shown = planned.agreeing.papers

    def is_gone() -> bool:
        return shown.shown is not None and HOSTILE not in "\n".join(pages(shown.shown.pdf))

    qtbot.waitUntil(is_gone, timeout=WAIT)
    text_of(planned, qtbot, "At the merchant's")
