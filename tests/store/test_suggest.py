"""Customers are named before their name is typed to the end."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from estimator.store import customers, people
from estimator.store.customers import Customer, suggest
from estimator.store.database import Database, open_file
from tests.store import work

PEOPLE = (
    Customer("Ines Marlowe", address=("14 Tarn Street", "ZZ1 4XX"), telephone="01632 960112"),
    Customer("Zoë Hartley", address=("2 Marlowe Close",), telephone="(01632) 960-113"),
    Customer("Bea Quill", address=("7 Harbour View", "zz29ab"), telephone="+44 1632 960777"),
    Customer("Gone Away", address=("14 Tarn Street",), telephone="01632 960999"),
)


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Database]:
    with open_file(work.fresh(tmp_path_factory.mktemp("suggest"))) as opened:
        added = [customers.add(opened, one) for one in PEOPLE]
        people.erase_customer(opened, added[-1].uid, today=date(2026, 11, 25))
        yield opened


@pytest.mark.parametrize(
    ("typed", "names"),
    [
        ("i", ["Ines Marlowe"]),
        ("marl", ["Ines Marlowe", "Zoë Hartley"]),
        ("MARLOWE ines", ["Ines Marlowe"]),
        ("zoe", ["Zoë Hartley"]),
        ("zoe 2 marlowe", ["Zoë Hartley"]),
        ("01632960113", ["Zoë Hartley"]),
        ("01632 96011", ["Ines Marlowe", "Zoë Hartley"]),
        ("777", ["Bea Quill"]),
        ("01632 960 777", ["Bea Quill"]),
        ("zz1", ["Ines Marlowe"]),
        ("zz14xx", ["Ines Marlowe"]),
        ("ZZ2 9AB", ["Bea Quill"]),
        ("tarn", ["Ines Marlowe"]),
        ("14 tarn", ["Ines Marlowe"]),
        ("01632 960999", []),
        ("gone", []),
        ("erased", []),
        ("", []),
        ("?!", []),
    ],
)
def test_the_customer_meant_is_named(database: Database, typed: str, names: list[str]) -> None:
    assert [one.name for one in suggest(database, typed)] == names


def test_whole_customers_are_handed_out_and_no_more_than_asked_for(database: Database) -> None:
    (found,) = suggest(database, "marl", limit=1)
    assert (found.telephone, found.address) == (PEOPLE[0].telephone, PEOPLE[0].address)
    assert found.uid
    assert suggest(database, "marl", limit=0) == ()
    with database.reading() as connection:
        assert suggest(connection, "marl", limit=1) == (found,)


def test_anything_typed_is_answered(database: Database) -> None:
    for text in work.nasty_texts(300, seed=12):
        assert len(suggest(database, text)) <= len(PEOPLE)
