"""Price books in the file: what goes in comes out, and an earlier book never changes."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estimator import resources
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.pricing.price_book import PriceBook
from estimator.store import price_books
from estimator.store.book_parts import Kind
from estimator.store.database import Database
from tests.store import priced_file

DAY = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with priced_file.opened(tmp_path, is_priced=False) as opened:
        yield opened


def shipped_text() -> str:
    return resources.path("price_book.json").read_text(encoding="utf-8")


def changed_text(**sections: object) -> str:
    return json.dumps(json.loads(shipped_text()) | sections)


def same(one: PriceBook, other: PriceBook) -> bool:
    """Whether every field is equal; the books themselves only are when they are one object."""
    return all(getattr(one, each.name) == getattr(other, each.name) for each in fields(PriceBook))


def test_a_price_book_comes_out_as_it_went_in(database: Database) -> None:
    book = price_books.install(database, shipped_text(), "first")
    assert json.loads(price_books.document(database)) == json.loads(shipped_text())
    assert same(price_books.load(database, book.id), price_book.shipped())


def test_the_shipped_rates_are_taken_in_once_and_are_not_ones_own(database: Database) -> None:
    book = price_books.installed(database)
    assert price_books.installed(database) == book
    assert len(price_books.books(database)) == 1
    assert not price_books.load(database).confirmed
    assert {entry.confirmed for entry in price_books.unconfirmed(database)} == {False}


def test_a_file_without_price_books_says_so(database: Database) -> None:
    assert price_books.current(database) is None
    with pytest.raises(UserMistake, match="the file has no price book"):
        price_books.load(database)
    with pytest.raises(UserMistake, match="there is no price book 7"):
        price_books.load(database, 7)


def test_text_that_is_no_price_book_changes_nothing(database: Database) -> None:
    price_books.installed(database)
    before = list(database.raw.iterdump())
    with pytest.raises(UserMistake, match="labour"):
        price_books.install(database, changed_text(labour={}), "bad")
    assert list(database.raw.iterdump()) == before


def test_a_later_price_book_keeps_only_what_it_changed(database: Database) -> None:
    first = price_books.installed(database)
    was = price_books.document(database)
    second = price_books.install(database, changed_text(minimum_charge="200.00"), "dearer", at=DAY)
    assert second.supersedes == first.id
    (kept,) = database.raw.execute(
        "SELECT count(*) FROM catalogue_rates WHERE book_id = ?", [second.id]
    ).fetchone()
    assert kept == 1
    assert price_books.load(database).minimum_charge == Money.of(200)
    assert price_books.document(database, first.id) == was


def test_what_a_later_price_book_leaves_out_is_gone_from_it_only(database: Database) -> None:
    first = price_books.installed(database)
    materials = json.loads(shipped_text())["materials"]
    fewer = [one for one in materials if one["key"] != "lime_putty"]
    price_books.install(database, changed_text(materials=fewer), "no putty")
    assert "lime_putty" not in price_books.load(database).materials
    assert "lime_putty" in price_books.load(database, first.id).materials
    assert price_books.history(database, Kind.MATERIAL, "lime_putty")[-1].new is None


def test_the_same_price_book_again_makes_no_new_one(database: Database) -> None:
    first = price_books.installed(database)
    assert price_books.install(database, shipped_text(), "again") == first


def test_a_book_is_ones_own_when_its_last_rate_is_confirmed(database: Database) -> None:
    price_books.installed(database)
    count = len(price_books.unconfirmed(database))
    assert price_books.confirm(database, code="sand") == 1
    assert price_books.confirm(database, code="sand") == 0
    bars = price_books.confirm(database, group="bars")
    assert bars == 3
    assert not price_books.load(database).confirmed
    assert price_books.confirm(database) == count - 1 - bars
    book = price_books.load(database)
    assert book.confirmed
    assert book.title == price_books.OWN_TITLE


def test_a_changed_rate_in_a_price_book_file_is_unconfirmed_again(database: Database) -> None:
    price_books.installed(database)
    price_books.confirm(database)
    price_books.install(database, changed_text(minimum_charge="190.00"), "a try")
    assert [entry.code for entry in price_books.unconfirmed(database)] == ["minimum_charge"]


def test_history_tells_each_price_with_its_day(database: Database) -> None:
    price_books.installed(database)
    for price, day in (("200.00", "2027-01-04"), ("210.00", "2028-01-03")):
        text = changed_text(minimum_charge=price, date=day)
        price_books.install(database, text, "yearly")
    told = price_books.history(database, Kind.SETTING, "minimum_charge")
    assert [rate.book.dated for rate in told] == ["2026-11-25", "2027-01-04", "2028-01-03"]
    assert [tuple(map(str, rate.prices)) for rate in told] == [
        ("None", "180.00"),
        ("180.00", "200.00"),
        ("200.00", "210.00"),
    ]
    assert price_books.history(database, Kind.MATERIAL, "unheard of") == ()


def test_two_pieces_of_plant_may_share_a_title(database: Database) -> None:
    plant = json.loads(shipped_text())["plant"]
    price_books.install(database, changed_text(plant=plant * 2), "two grinders")
    assert len(price_books.load(database).plant) == 2
