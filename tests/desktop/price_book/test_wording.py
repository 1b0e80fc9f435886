"""Figures are read one way or not at all, in the language of the screen."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pytest

from estimator.desktop.language import LANGUAGE
from estimator.desktop.price_book.wording import day, money, signed, typed_as, understood

BRITISH = {
    "4.60": "4.60",
    " £4.60 ": "4.60",
    "1,234.50": "1234.50",
    "1 234.50": "1234.50",
    "0": "0",
    "45p": "0.45",
    ".5": "0.5",
}
NO_FIGURE = ("", " ", "4,60", "1.2.3", "abc", "NaN", "inf", "1e5", "٣", "--3", "4.60 each", "£")


@pytest.fixture(autouse=True)
def language_put_back() -> Iterator[None]:
    yield
    LANGUAGE.use("en_GB")


def test_what_is_clear_is_understood() -> None:
    for typed, value in BRITISH.items():
        assert understood(typed, "Price").value == Decimal(value)


def test_what_is_not_clear_is_refused_in_a_sentence_with_its_name() -> None:
    for typed in NO_FIGURE:
        found = understood(typed, "Price")
        assert found.value is None
        assert found.why_not.startswith("Price")
        assert found.why_not.endswith(".")


def test_limits_are_said_with_their_numbers() -> None:
    assert understood("-1", "Price").why_not == "Price must be 0 or more."
    assert "1,000,000" in understood("1000001", "Price").why_not
    assert understood("1.5", "Look-ins", whole=True).why_not == "Look-ins must be a whole number."
    assert "6 decimals" in understood("0.1234567", "Hours").why_not


def test_a_comma_begins_decimals_where_the_screen_speaks_german() -> None:
    LANGUAGE.use("de_DE")
    assert understood("4,60", "Preis").value == Decimal("4.60")
    assert understood("1.234,50", "Preis").value == Decimal("1234.50")
    assert understood("4.60", "Preis").value is None


def test_what_a_field_holds_reads_back_as_itself() -> None:
    for tag in ("en_GB", "de_DE", "en_US"):
        LANGUAGE.use(tag)
        for text in ("0", "0.05", "4.6", "1234.5", "999999.99", "0.1094"):
            value = Decimal(text)
            for is_money in (True, False):
                assert understood(typed_as(value, is_money=is_money), "Price").value == value


def test_sums_differences_and_days_as_they_are_said() -> None:
    assert money(Decimal("1234.5")) == "£1,234.50"
    assert money(Decimal("0.0125")) == "£0.0125"
    assert signed(Decimal("-0.5")) == "−£0.50"
    assert day("2026-03-04") == "4 Mar 2026"
