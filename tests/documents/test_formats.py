"""Money, dates and quantities as a British reader expects them."""

from __future__ import annotations

from decimal import Decimal

from babel.numbers import parse_decimal
from hypothesis import given
from hypothesis import strategies as st

from estimator.documents import formats
from estimator.documents.wording import counted, kept_from_customers, say
from estimator.money import Money
from estimator.sources import all_sources
from estimator.units import Quantity, Unit


@given(st.integers(-(10**9), 10**9))
def test_a_printed_sum_reads_back_as_itself(pence: int) -> None:
    # Babel's own strict reader is the outside here.
    amount = Money(pence)
    printed = formats.money(amount).replace("£", "")
    assert parse_decimal(printed, locale="en_GB", strict=True) == amount.pounds
    assert formats.figure(amount) == printed


def test_sums_look_british() -> None:
    assert formats.money(Money.of("1234567.5")) == "£1,234,567.50"
    assert formats.money(Money.of("-12.5")) == "-£12.50"
    assert formats.whole_money(Money.of("999.50")) == "£1,000"


def test_a_month_is_a_word() -> None:
    assert formats.date("2026-03-04") == "4 March 2026"
    assert formats.date("soon") == "soon"


def test_quantities_carry_the_places_of_their_unit() -> None:
    assert formats.quantity(Quantity.of(1234.5, Unit.METRE)) == "1,234.50 m"
    assert formats.quantity(Quantity.of(2, Unit.VISIT)) == "2 visits"
    assert formats.quantity(Quantity.of(1, Unit.DAY)) == "1.0 day"
    assert formats.quantity(Quantity.of(3, Unit.ITEM)) == "3 item"


def test_rates_finer_than_a_penny_are_shown_as_they_are() -> None:
    assert formats.rate(Decimal("1234.5")) == "1,234.50"
    assert formats.rate(Decimal("0.0075")) == "0.0075"


def test_words_fill_their_gaps_and_keep_braces_of_data() -> None:
    assert say("work.money", letter="{x}") == "{x} £"
    assert counted("options.visits", 1, visits="One") == "One visit"


def test_notices_kept_back_are_never_the_loud_ones() -> None:
    # What refers to an engineer or stops the work is printed whatever its code.
    assert not {"short_bar", "R1", "R2", "R3", "R5", "R6", "R7"} & kept_from_customers()


def test_sentences_name_their_law() -> None:
    assert all_sources()["ccr_2013"].year == "2013"
