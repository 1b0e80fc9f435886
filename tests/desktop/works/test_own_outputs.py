"""Own outputs offered at the desk, taken up or left; a contract never changes by it."""

from __future__ import annotations

import datetime
from decimal import Decimal

from pytestqt.qtbot import QtBot

from estimator.contract.deeds import Booked
from estimator.contract.works import Booking
from estimator.desktop.columns import Columns
from estimator.desktop.works.own import Own
from estimator.money import Money
from estimator.office import contracts
from estimator.pricing import price_book
from estimator.store import price_books
from estimator.takeoff.lines import Item
from estimator.works.track_record import Finished, record_of
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import TODAY, answered


def book(columns: Columns, qtbot: QtBot, hours: str, on: datetime.date = TODAY) -> None:
    following = columns.agreeing.following
    before = len(following.so_far.bookings)
    booking = Booking(on, Item.CUT_SLOT, Decimal(hours), Decimal("4.8"), "Jo Bell")
    following.do(lambda place, job: contracts.do(place, job, Booked(booking)))
    qtbot.waitUntil(lambda: len(following.so_far.bookings) > before, timeout=WAIT)
    answered(columns._session)


def shown(columns: Columns, qtbot: QtBot) -> None:
    columns.agreeing.job.open("outputs")
    page = columns.working.outputs
    qtbot.waitUntil(lambda: "…" not in page.headline.text(), timeout=WAIT)


def test_without_hours_nothing_is_offered(agreed: Columns, qtbot: QtBot) -> None:
    shown(agreed, qtbot)
    assert agreed.working.outputs.headline.text() == "No hours booked yet."
    assert agreed.working.outputs.offers == []


def test_what_is_offered_is_said_and_taken_up(agreed: Columns, qtbot: QtBot) -> None:
    """Credibility n / (n + K), Bühlmann 1967, K = 6 jobs a house rule: one job counts 1/7."""
    following = agreed.agreeing.following
    contract = following.so_far.contract
    assert contract is not None
    before = price_book.read(contract.book).outputs[Item.CUT_SLOT].steps[0].hours
    book(agreed, qtbot, "1.7271")
    shown(agreed, qtbot)
    page = agreed.working.outputs
    [offer] = page.offers
    # 4.8 m at 0.1799 h/m is 0.86352 h; twice that over one job of seven: 2 to the power of 1/7.
    assert "you take 2.00 of the book's time, over 1 job." in offer.text.text()
    assert f"Use {2 ** (1 / 7):.2f} of it" in offer.text.text()
    with qtbot.waitSignal(page.used, timeout=WAIT) as told:
        offer.take.click()
    after = told.args[0].book.outputs[Item.CUT_SLOT].steps[0].hours
    for key, hours in before.items():
        assert abs(after[key] / hours - Decimal(2 ** (1 / 7))) < Decimal("0.01")
    answered(agreed._session)
    # What was agreed keeps the book it was agreed with.
    assert following.so_far.contract == contract
    kept = price_book.read(contract.book).outputs[Item.CUT_SLOT].steps[0].hours
    assert kept == before
    assert agreed._session.sight.practice.book.outputs[Item.CUT_SLOT].steps[0].hours == before


def test_it_is_offered_once(agreed: Columns, qtbot: QtBot) -> None:
    book(agreed, qtbot, "1.7271")
    shown(agreed, qtbot)
    page = agreed.working.outputs
    with qtbot.waitSignal(page.used, timeout=WAIT):
        page.offers[0].take.click()
    qtbot.waitUntil(lambda: not page.offers, timeout=WAIT)
    assert "Since" in page.about.text()
    found: list[list[str]] = []

    def books(database: object) -> list[str]:
        return [one.title for one in price_books.batches(database)]  # type: ignore[arg-type]

    agreed._session.filing.ask(books, found.append)
    answered(agreed._session)
    assert found[0][-1] == "outputs from our own jobs"


def test_a_track_record_is_offered_for_the_phone(agreed: Columns, qtbot: QtBot) -> None:
    """House rule: from 20 finished jobs on; the quantiles are Hyndman and Fan's definition 7."""
    page = agreed.working.outputs
    shown(agreed, qtbot)
    quoted = Money.of(1000)
    jobs = [Finished(quoted, Money.of(900 + 20 * place)) for place in range(21)]
    book_now = agreed._session.practice.book
    told = record_of(jobs, book_now.ranges)
    assert told is not None
    page.show_own(Own(record=told, jobs=21, finished=21))
    [offer] = page.offers
    words = offer.text.text()
    assert "Of 21 finished jobs, 8 in 10 cost between 6 % less and 26 % more than" in words
    with qtbot.waitSignal(page.used, timeout=WAIT) as used:
        offer.take.click()
    ranges = used.args[0].book.ranges
    assert ranges.rates_high_percent == told.rates_high_percent
    assert ranges.rates_low_percent == told.rates_low_percent
    answered(agreed._session)


def test_left_it_stays_offered_and_changes_nothing(agreed: Columns, qtbot: QtBot) -> None:
    book(agreed, qtbot, "1.7271")
    shown(agreed, qtbot)
    agreed.agreeing.job.back()
    shown(agreed, qtbot)
    assert len(agreed.working.outputs.offers) == 1
