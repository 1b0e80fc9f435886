"""Who sells a material, kept in the file: as typed, taken back, and no part of any price book."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.store import bulk, price_books, settings, suppliers
from estimator.store.bulk import Article
from estimator.store.database import Database, open_file
from estimator.works.suppliers import MOST_LETTERS, folded, tidy
from tests.store import work


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with open_file(work.fresh(tmp_path)) as opened:
        price_books.installed(opened)
        yield opened


def article(code: str, supplier: str) -> Article:
    price = Money.of("7.10")
    return Article(code, code.title(), "kg", "KGM", "bag", Decimal(25), price, supplier, "Bagged")


def test_nobody_is_named_in_a_new_file(database: Database) -> None:
    assert suppliers.bought_from(database) == {}
    assert suppliers.names(database) == ()
    assert suppliers.last_change(database) is None


def test_a_name_outlives_closing_letter_for_letter(tmp_path: Path) -> None:
    typed = work.nasty_texts(60, seed=7)
    with open_file(work.fresh(tmp_path)) as opened:
        for number, text in enumerate(typed):
            suppliers.keep(opened, f"material {number}", "A thing", text[:MOST_LETTERS])
    wanted = {
        f"material {number}": tidy(text[:MOST_LETTERS])
        for number, text in enumerate(typed)
        if tidy(text[:MOST_LETTERS])
    }
    with open_file(tmp_path / "work.perpend") as opened:
        held = suppliers.bought_from(opened)
    assert held.keys() == wanted.keys()
    # A name written in two ways stands as it was written first.
    assert {key: folded(name) for key, name in held.items()} == {
        key: folded(name) for key, name in wanted.items()
    }
    assert len(wanted) > 30


def test_no_price_and_no_price_book_changes(database: Database) -> None:
    before = (price_books.books(database), price_books.document(database))
    suppliers.keep(database, "cement", "Cement", "Fell Lane Supplies")
    assert (price_books.books(database), price_books.document(database)) == before
    assert price_books.batches(database) == ()


def test_spaces_and_line_ends_around_a_name_are_no_part_of_it(database: Database) -> None:
    change = suppliers.keep(database, "cement", "Cement", " Fell \n Lane  Supplies\u202e ")
    assert change is not None
    assert change.now == "Fell Lane Supplies"
    assert suppliers.keep(database, "cement", "Cement", "Fell Lane Supplies ") is None


def test_a_name_typed_in_haste_is_written_as_it_stands_elsewhere(database: Database) -> None:
    suppliers.keep(database, "cement", "Cement", "Fell Lane Supplies")
    change = suppliers.keep(database, "grout", "Bar grout", "fell lane supplies")
    assert change is not None
    assert change.now == "Fell Lane Supplies"
    assert set(suppliers.bought_from(database).values()) == {"Fell Lane Supplies"}
    assert suppliers.names(database) == ("Fell Lane Supplies",)


def test_a_name_spelt_anew_where_it_stands_is_spelt_so_everywhere(database: Database) -> None:
    suppliers.keep(database, "cement", "Cement", "fell lane supplies")
    suppliers.keep(database, "sand", "Sand", "Quarry")
    suppliers.keep(database, "grout", "Bar grout", "fell lane supplies")
    before = suppliers.bought_from(database)
    suppliers.keep(database, "grout", "Bar grout", "Fell Lane Supplies")
    held = {"cement": "Fell Lane Supplies", "sand": "Quarry", "grout": "Fell Lane Supplies"}
    assert suppliers.bought_from(database) == held
    assert suppliers.names(database) == ("Fell Lane Supplies", "Quarry")
    suppliers.undo(database)
    assert suppliers.bought_from(database) == before


def test_an_emptied_name_is_the_merchant_again(database: Database) -> None:
    suppliers.keep(database, "cement", "Cement", "Quarry")
    suppliers.keep(database, "cement", "Cement", " ")
    assert suppliers.bought_from(database) == {}
    assert suppliers.keep(database, "cement", "Cement", "") is None


def test_each_change_is_taken_back_the_newest_first(database: Database) -> None:
    for name in ("One", "Two", "", "Three"):
        suppliers.keep(database, "cement", "Cement", name, now=work.at_nine)
    found = []
    while suppliers.last_change(database) is not None:
        assert suppliers.undo(database).moment == work.at_nine()
        found.append(suppliers.bought_from(database).get("cement", ""))
    assert found == ["", "Two", "One", ""]
    with pytest.raises(UserMistake, match="no supplier to take back"):
        suppliers.undo(database)


def test_the_changes_kept_do_not_grow_without_end(database: Database) -> None:
    for number in range(suppliers.MOST_CHANGES + 5):
        suppliers.keep(database, "cement", "Cement", f"Shop {number}")
    for _ in range(suppliers.MOST_CHANGES):
        suppliers.undo(database)
    assert suppliers.last_change(database) is None
    assert suppliers.bought_from(database) == {"cement": "Shop 4"}


@pytest.mark.parametrize("name", ["W" * (MOST_LETTERS + 1), "half \ud83d a letter"])
def test_a_name_that_cannot_be_kept_leaves_what_was(database: Database, name: str) -> None:
    suppliers.keep(database, "cement", "Cement", "Quarry")
    before = settings.every(database)
    with pytest.raises(UserMistake, match="the supplier's name"):
        suppliers.keep(database, "cement", "Cement", name)
    assert settings.every(database) == before


def test_whoevers_list_has_a_materials_code_is_offered_the_newest_first(
    database: Database,
) -> None:
    for supplier in ("Fell Lane Supplies", "Quarry"):
        bulk.apply_import(database, [article("cement", supplier)], supplier)
    bulk.apply_import(database, [article("cement 42", "Other")], "Other")
    assert suppliers.on_lists(database, "cement") == ("Quarry", "Fell Lane Supplies")
    assert suppliers.on_lists(database, "sand") == ()
    assert suppliers.names(database) == ("Fell Lane Supplies", "Other", "Quarry")
    # It is an offer: nobody sells it before somebody says so.
    assert suppliers.bought_from(database) == {}
