"""Customers come back as they were typed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import insert
from sqlalchemy.exc import IntegrityError

from estimator.notices import UserMistake
from estimator.store import customers
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file
from estimator.store.tables import Customers
from estimator.survey.survey import CustomerKind, Party
from tests.store import work


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    with open_file(work.fresh(quick)) as opened:
        yield opened


INES = Customer(
    "Ines Marlowe",
    CustomerKind.BUSINESS,
    ("14 Tarn Street", "", "Eastmere Vale"),
    telephone=" 01632 960112 / 960113 (evenings) ",
    email="Ines.Marlowe@Example.com",
    vat_number="GB 000 0000 00",
    notes="Knock.\nDog in the yard.",
)


def test_a_customer_comes_back_as_typed(database: Database) -> None:
    added = customers.add(database, INES, now=work.at_nine)
    assert added == replace(
        INES, uid=added.uid, made_at=work.MORNING, changed_at=work.MORNING, erased_at=None
    )
    assert customers.find(database, added.uid) == added


def test_five_hundred_nasty_texts_come_back_letter_for_letter(database: Database) -> None:
    seed = 29
    texts = work.nasty_texts(500, seed)
    asked = [
        Customer(text, address=(text, "1 Oak Lane"), telephone=text, email=text, notes=text + "\n")
        for text in texts
    ]
    with database.writing() as connection:
        added = [customers.add(connection, one) for one in asked]
    with database.reading() as connection:
        found = [customers.find(connection, one.uid) for one in added]
    differing = [
        ascii(one.name[:40]) for one, back in zip(added, found, strict=True) if one != back
    ]
    assert not differing, f"seed {seed}: {differing}"
    for one, back in zip(asked, found, strict=True):
        assert (back.name, back.address, back.notes) == (one.name, one.address, one.notes)


@pytest.mark.parametrize("field", ["name", "telephone", "email", "vat_number", "notes"])
def test_half_a_letter_is_refused_in_words_and_nothing_is_added(
    database: Database, field: str
) -> None:
    with pytest.raises(UserMistake, match="holds half a letter; type it again"):
        customers.add(database, replace(INES, **{field: "a\ud83e"}))
    assert customers.list_customers(database) == ()


def test_an_address_line_holds_no_line_end(database: Database) -> None:
    with pytest.raises(UserMistake, match="a line of the address holds a line end"):
        customers.add(database, replace(INES, address=("14 Tarn\nStreet",)))


def test_a_change_is_dated_and_keeps_the_rest(database: Database) -> None:
    added = customers.add(database, INES, now=work.at_nine)
    customers.add(database, Customer("Owen Hart"), now=work.at_nine)
    later = work.MORNING + timedelta(days=1)
    changed = customers.change(
        database, replace(added, telephone="01632 960999"), now=lambda: later
    )
    found = customers.find(database, added.uid)
    assert found == changed
    assert (found.telephone, found.made_at, found.changed_at) == (
        "01632 960999", work.MORNING, later,
    )  # fmt: skip
    assert [one.name for one in customers.list_customers(database)] == ["Ines Marlowe", "Owen Hart"]


def test_nobody_unknown_is_found_or_changed(database: Database) -> None:
    with pytest.raises(UserMistake, match="there is no customer 'abc'"):
        customers.find(database, "abc")
    with pytest.raises(UserMistake, match="there is no customer 'abc'"):
        customers.change(database, replace(INES, uid="abc"))


def test_the_list_goes_by_name_a_page_at_a_time(database: Database) -> None:
    for name in ("hart", "Quill", "Adder", "Zeal"):
        customers.add(database, Customer(name))
    first = customers.list_customers(database, limit=3)
    rest = customers.list_customers(database, limit=3, offset=3)
    assert [one.name for one in (*first, *rest)] == ["Adder", "hart", "Quill", "Zeal"]


def test_one_erased_is_not_listed_and_not_changed(database: Database) -> None:
    added = customers.add(database, INES)
    database.raw.execute("UPDATE customers SET name = '', erased_at = changed_at")
    assert customers.list_customers(database) == ()
    assert customers.find(database, added.uid).erased_at is not None
    with pytest.raises(UserMistake, match="there is no customer"):
        customers.change(database, added)


def test_a_survey_tells_who_the_customer_is() -> None:
    party = Party("A. Sample", CustomerKind.TRADE, ("1 Oak Lane",), ("2 Elm Row",), "01632 960001")
    customer = customers.from_party(party)
    assert (customer.name, customer.kind, customer.address, customer.telephone) == (
        "A. Sample", CustomerKind.TRADE, ("1 Oak Lane",), "01632 960001",
    )  # fmt: skip


def test_an_error_of_the_file_tells_nothing_of_a_customer(database: Database) -> None:
    added = customers.add(database, INES)
    with pytest.raises(IntegrityError) as told, database.writing() as connection:
        connection.execute(
            insert(Customers).values(
                uid=added.uid, kind="household", made_at=work.MORNING, changed_at=work.MORNING,
                **dict.fromkeys(("name", "address", "telephone", "email"), "canary-7"),
                vat_number="canary-7", notes="canary-7",
            )
        )  # fmt: skip
    assert "canary" not in str(told.value)
