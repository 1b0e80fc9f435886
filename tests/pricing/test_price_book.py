"""The shipped price book, and books that cannot be used."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from estimator import resources
from estimator.notices import UserMistake, WorldFault
from estimator.pricing import price_book
from estimator.pricing.buying import Material
from estimator.takeoff.grout_and_mortar import mortar, mortar_keys
from estimator.takeoff.lines import Item
from estimator.units import Unit

Change = Callable[[dict[str, Any]], object]


def written() -> dict[str, Any]:
    return copy.deepcopy(resources.data("price_book.json"))


def changed(change: Change) -> str:
    book = written()
    change(book)
    return json.dumps(book)


def test_the_shipped_book_says_that_it_is_not_yours_yet() -> None:
    book = price_book.shipped()
    assert not book.confirmed
    assert "illustrative" in book.title.lower()


def test_every_kind_of_work_has_an_output() -> None:
    assert set(price_book.shipped().outputs) == set(Item)


def test_every_constituent_of_every_mortar_is_sold_in_its_unit() -> None:
    materials = price_book.shipped().materials
    for key in mortar_keys():
        for one in mortar(key).ingredients:
            assert materials[one.material].unit is one.unit


@pytest.mark.parametrize(
    ("key", "unit"),
    [
        ("grout", Unit.LITRE),
        ("facing_brick", Unit.NUMBER),
        ("patch_mortar", Unit.LITRE),
        ("protection", Unit.SQUARE_METRE),
    ],
)
def test_every_other_material_of_the_takeoff_is_sold(key: str, unit: Unit) -> None:
    material: Material = price_book.shipped().materials[key]
    assert material.unit is unit


def test_an_hour_of_the_shipped_gang() -> None:
    assert price_book.shipped().labour.hour == Decimal("33.64")


def test_one_book_is_read_once() -> None:
    assert price_book.load(None) is price_book.shipped()


def test_a_book_is_loaded_from_a_file(tmp_path: Path) -> None:
    file = tmp_path / "mine.json"
    mine = changed(lambda book: book.update(title="Mine", confirmed=True))
    file.write_text(mine, encoding="utf-8-sig")
    assert price_book.load(file).confirmed


def test_a_book_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(WorldFault, match=r"'none\.json' could not be read"):
        price_book.load(tmp_path / "none.json")


def test_a_book_that_is_not_text(tmp_path: Path) -> None:
    file = tmp_path / "mine.json"
    file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(UserMistake, match="not UTF-8"):
        price_book.load(file)


@pytest.mark.parametrize("text", ["", "{", "[]", "null", "{}", '{"title": "Mine"}', "[" * 5000])
def test_what_is_no_book_at_all(text: str) -> None:
    with pytest.raises(UserMistake, match="price book"):
        price_book.read(text)


def test_a_book_too_large() -> None:
    with pytest.raises(UserMistake, match="too large"):
        price_book.read(" " * 1_000_001)


def at(*path: str | int, put: object) -> Change:
    """A change that puts a value at a path."""

    def change(book: dict[str, Any]) -> None:
        inner: Any = book
        for step in path[:-1]:
            inner = inner[step]
        inner[path[-1]] = put

    return change


BAD: dict[str, tuple[Change, str]] = {
    "a later version": (at("perpend_price_book", put=2), "version"),
    "true for a version": (at("perpend_price_book", put=True), "version"),
    "no materials": (lambda book: book.pop("materials"), "materials is missing"),
    "a field nobody knows": (at("titel", put="x"), "perhaps 'title'"),
    "a date that is none": (at("date", put="soon"), "date"),
    "a currency not known": (at("currency", put="XYZ"), "currency"),
    "a float for money": (at("minimum_charge", put=180.5), "in quotes"),
    "half a penny": (at("minimum_charge", put="180.005"), "whole pence"),
    "money below nothing": (at("minimum_charge", put="-1"), "minimum_charge is '-1'"),
    "a word for money": (at("minimum_charge", put="lots"), "minimum_charge is 'lots'"),
    "no number": (at("minimum_charge", put="NaN"), "minimum_charge is 'NaN'"),
    "digits without end": (at("minimum_charge", put="9" * 40), "minimum_charge"),
    "digits of another script": (at("minimum_charge", put="١٨٠"), "minimum_charge"),
    "a margin of the whole price": (at("additions", "profit", "percent", put="100"), "percent"),
    "profit of a third kind": (at("additions", "profit", "kind", put="luck"), "'margin'"),
    "a year without work": (at("labour", "year", "leave_hours", put="2028"), "no hours"),
    "no bricklayer": (at("labour", "gang", "bricklayers", put="0"), "bricklayers"),
    "a day of no hours": (at("labour", "hours_a_day", put="0"), "hours_a_day"),
    "work nobody measures": (at("outputs", 0, "item", put="paint"), "item"),
    "one output twice": (lambda book: book["outputs"].append(book["outputs"][0]), "twice"),
    "a mortar nobody names": (
        at("outputs", 0, "steps", 0, "hours", put={"glue": "1"}),
        "glue",
    ),
    "hours of no mortar": (at("outputs", 0, "steps", 0, "hours", put={}), "is empty"),
    "a unit nobody measures in": (at("outputs", 0, "unit", put="yd"), "unit"),
    "a material of a rate not in the book": (
        at("outputs", 15, "materials", put={"straw": "1"}),
        "'straw', which is not in the book",
    ),
    "a pack of nothing": (at("materials", 0, "pack_size", put="0"), "pack_size"),
    "one material twice": (
        lambda book: book["materials"].append(book["materials"][0]),
        "'grout' twice",
    ),
    "no bars": (at("bars", "stocks", put=[]), "stocks"),
    "one length of bar twice": (
        at("bars", "stocks", 0, "length_mm", put=3000),
        "one length twice",
    ),
    "a bar in metres": (at("bars", "stocks", 0, "length_mm", put=1), "length_mm"),
    "plant both owned and hired": (
        at("plant", 0, "hired", put={"a_day": "30", "least_days": "1"}),
        "owned or hired",
    ),
    "plant sold dearer than bought": (
        at("plant", 0, "owned", "resale", put="5000"),
        "smaller resale",
    ),
    "a tower dearer than a scaffold": (at("access", "tower", put="9999"), "higher work cheaper"),
    "a country not known": (at("tax", "country", put="FR"), "country"),
    "too few draws": (at("ranges", "draws", put=1), "draws"),
    "ranges to no step": (at("ranges", "fine_step", put="0"), "whole pounds"),
    "a repeated bond": (at("repointing", "like", put={"stack": "diagonal"}), "stack"),
    "a share over one": (at("repointing", "raking_share", put="1.2"), "raking_share"),
}


@pytest.mark.parametrize("name", BAD)
def test_a_book_that_cannot_be_used(name: str) -> None:
    change, says = BAD[name]
    with pytest.raises(UserMistake) as caught:
        price_book.read(changed(change))
    sentence = str(caught.value)
    assert says in sentence
    assert sentence.endswith(".")
    assert "\n" not in sentence
    assert len(sentence) < 300


def test_a_name_written_twice() -> None:
    text = json.dumps(written()).replace('"title"', '"title": "Mine", "title"', 1)
    with pytest.raises(UserMistake, match="title is written twice"):
        price_book.read(text)
