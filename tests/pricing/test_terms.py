"""Terms that follow from who the customer is."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.money import NOTHING, Money
from estimator.pricing.price_book import shipped
from estimator.pricing.tax import Supply, charge
from estimator.pricing.tax_habits import Deduction
from estimator.pricing.terms import Terms
from estimator.survey.survey import Basis, CustomerKind, Party, Site, Survey
from tests.pricing.made_up import DAY

TRADER = Party(kind=CustomerKind.TRADE, vat_number="GB 000 0000 00", is_end_user=False)


def terms(party: Party, **site: float) -> Terms:
    seen = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, party, Site(**site), ())  # type: ignore[arg-type]
    return Terms.of(seen, shipped(), date=DAY)


def test_another_contractor_accounts_for_the_tax() -> None:
    found = terms(TRADER)
    assert found.reverse_charge
    assert found.deduction is Deduction.REGISTERED


@pytest.mark.parametrize(
    "changes",
    [
        {"kind": CustomerKind.HOUSEHOLD},
        {"kind": CustomerKind.BUSINESS},
        {"vat_number": ""},
        {"is_end_user": True},
    ],
)
def test_nobody_else_does(changes: dict[str, object]) -> None:
    assert not terms(replace(TRADER, **changes)).reverse_charge  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", [CustomerKind.HOUSEHOLD, CustomerKind.BUSINESS])
def test_only_contractors_deduct(kind: CustomerKind) -> None:
    assert terms(replace(TRADER, kind=kind)).deduction is Deduction.NONE


def test_distance_is_taken_as_it_was_written() -> None:
    assert terms(Party(), travel_miles=6.1).travel_miles == Decimal("6.1")


@pytest.mark.parametrize(
    ("months", "letter", "percent"), [(23, True, 20), (24, False, 20), (24, True, 5)]
)
def test_a_long_empty_dwelling_is_taxed_less_with_a_letter(
    *, months: int, letter: bool, percent: int
) -> None:
    # Notice 708 section 8, as told in HMRC VCONST07100: two years empty, and evidence of it.
    found = terms(Party(), empty_months=months, empty_evidence=letter)
    supply = Supply((Money.of(100),), NOTHING, NOTHING, NOTHING)
    assert [line.rate for line in charge(supply, found).lines] == [Decimal(percent)]
