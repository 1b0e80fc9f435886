"""The catalogue page by page, and one accepted edit at a time."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.store import bulk, catalogue, price_books
from estimator.store.book_parts import Entry, Kind, with_body
from estimator.store.database import Database
from tests.store import priced_file


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with priced_file.opened(tmp_path) as opened:
        yield opened


def article(number: int, group: str = "Fixings") -> Entry:
    return Entry(
        Kind.ITEM, f"A{number:03}", f"Thing {number}", "Eastmere", group, price=Money(100 + number)
    )


def one(database: Database, code: str) -> Entry:
    (found,) = catalogue.named(database, code)
    return found


def repriced(entry: Entry, price: str) -> Entry:
    return with_body(entry, {**json.loads(entry.body), "pack_price": price})


def test_every_kind_of_the_price_book_is_listed(database: Database) -> None:
    kinds = {entry.kind for entry in catalogue.entries(database)}
    assert kinds == set(Kind) - {Kind.ITEM}
    grout = one(database, "grout")
    assert (grout.pack, grout.pack_size, grout.unit, grout.unit_code) == ("tub", "3", "L", "LTR")
    assert grout.price == Money.of("23.50")
    assert grout.dated == "2026-11-25"
    assert grout.source == "illustrative"
    assert not grout.confirmed


def test_an_edit_makes_one_new_book_and_is_ones_own(database: Database) -> None:
    before = price_books.document(database)
    first = price_books.current(database)
    batch = catalogue.change(database, [repriced(one(database, "grout"), "25.00")], "Grout dearer")
    assert first is not None
    assert batch.book == first.id + 1
    assert price_books.load(database).materials["grout"].pack_price == Money.of(25)
    assert price_books.document(database, first.id) == before
    assert one(database, "grout").confirmed


def test_an_edit_the_engine_could_not_price_with_is_refused_whole(database: Database) -> None:
    before = list(database.raw.iterdump())
    good, bad = one(database, "sand"), one(database, "grout")
    with pytest.raises(UserMistake, match="pack_price"):
        catalogue.change(database, [repriced(good, "4.30"), repriced(bad, "dear")], "slip")
    assert list(database.raw.iterdump()) == before


def test_a_material_that_work_needs_is_not_dropped(database: Database) -> None:
    with pytest.raises(UserMistake, match="uses the material 'sand'"):
        catalogue.change(database, [], "no sand", dropped=[one(database, "sand")])
    catalogue.change(database, [], "no putty", dropped=[one(database, "lime_putty")])
    assert catalogue.named(database, "lime_putty") == ()


def test_what_was_dropped_may_come_back(database: Database) -> None:
    putty = one(database, "lime_putty")
    catalogue.change(database, [], "no putty", dropped=[putty])
    count = catalogue.count(database, Kind.MATERIAL)
    catalogue.change(database, [putty], "putty after all")
    assert catalogue.count(database, Kind.MATERIAL) == count + 1
    told = price_books.history(database, Kind.MATERIAL, "lime_putty")
    assert [rate.new is None for rate in told] == [False, True, False]


def test_supplier_notes_and_group_are_kept_through_edits(database: Database) -> None:
    noted = replace(one(database, "sand"), notes="ask for washed", group="Mortar")
    catalogue.change(database, [noted], "a note")
    catalogue.change(database, [repriced(one(database, "sand"), "4.40")], "dearer")
    assert (one(database, "sand").notes, one(database, "sand").group) == (
        "ask for washed",
        "Mortar",
    )


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (replace(article(1), code=" "), "needs a code"),
        (replace(article(1), title=""), "needs a code and a title"),
        (replace(article(1), price=Money(-1)), "below nothing"),
        (replace(article(1), body="{}"), "as its kind is"),
    ],
)
def test_an_entry_that_could_not_be_found_again_is_refused(
    database: Database, entry: Entry, said: str
) -> None:
    with pytest.raises(UserMistake, match=said):
        catalogue.change(database, [entry], "slip")


def test_changing_nothing_is_told(database: Database) -> None:
    with pytest.raises(UserMistake, match="nothing was changed"):
        catalogue.change(database, [], "nothing")


@pytest.fixture
def filled(database: Database) -> Database:
    things = [article(number, "Fixings" if number % 3 else "Lime") for number in range(30)]
    catalogue.change(database, things, "thirty things")
    catalogue.change(database, [], "two gone", dropped=[article(4), article(6)])
    return database


def test_pages_put_side_by_side_are_the_whole(filled: Database) -> None:
    every = catalogue.entries(filled, Kind.ITEM)
    assert [entry.code for entry in every] == [
        f"A{number:03}" for number in range(30) if number not in {4, 6}
    ]
    paged = [
        entry
        for start in range(0, 28, 7)
        for entry in catalogue.entries(filled, Kind.ITEM, limit=7, offset=start)
    ]
    assert tuple(paged) == every
    assert catalogue.entries(filled, Kind.ITEM, after=every[9]) == every[10:]


def test_everything_may_be_walked_from_entry_to_entry(filled: Database) -> None:
    walked: list[Entry] = []
    while page := catalogue.entries(filled, limit=9, after=walked[-1] if walked else None):
        walked += page
    assert len({entry.key for entry in walked}) == len(walked) == catalogue.count(filled)


def test_groups_are_counted_and_listed(filled: Database) -> None:
    counted = {(one.kind, one.name): one.count for one in catalogue.groups(filled)}
    assert counted[Kind.ITEM, "Lime"] == catalogue.count(filled, Kind.ITEM, "Lime") == 9
    assert len(catalogue.entries(filled, group="Lime")) == 9
    assert counted[Kind.BAR, "Bars"] == 3


def test_an_entry_moved_to_another_group_left_its_old_one(filled: Database) -> None:
    catalogue.change(filled, [replace(one(filled, "A000"), group="Fixings")], "moved")
    assert catalogue.count(filled, Kind.ITEM, "Lime") == 8
    bulk.undo(filled)
    assert catalogue.count(filled, Kind.ITEM, "Lime") == 9


def test_a_rate_is_of_the_day_it_changed_not_of_the_day_it_was_confirmed(
    database: Database,
) -> None:
    monday, friday = (datetime(2027, 1, day, 9, tzinfo=UTC) for day in (4, 8))
    catalogue.change(database, [repriced(one(database, "grout"), "25.00")], "dearer", at=monday)
    price_books.confirm(database, at=friday)
    dated = {code: one(database, code).dated for code in ("grout", "sand")}
    assert dated == {"grout": "2027-01-04", "sand": "2026-11-25"}
    assert [book.dated for book in price_books.books(database)] == [
        *("2026-11-25", "2027-01-04", "2027-01-08"),
    ]
