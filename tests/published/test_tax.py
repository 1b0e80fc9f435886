"""Tax against published rules; worked figures follow from the rule named beside them."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.money import Money, total
from estimator.notices import UserMistake
from estimator.pricing.tax import (
    Supply,
    charge,
    charged,
    deduction,
    household_relief,
    input_factor,
    rate,
    tax_by_lines,
    tax_inclusive,
    tax_on,
    tax_within,
)
from estimator.pricing.tax_habits import Deduction, Rounding, SalesTax
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind

DAY = datetime.date(2026, 11, 25)
HOUSE = Terms(DAY)
TRADE = Terms(
    DAY,
    customer=CustomerKind.TRADE,
    reverse_charge=True,
    customer_tax_number="GB 000 0000 00",
    is_end_user=False,
    deduction=Deduction.REGISTERED,
)
FIVE, TWENTY = Decimal(5), Decimal(20)
FOUR_LINES = [Money.of(amount) for amount in ("12.37", "56.78", "9.99", "100.04")]
THREE_LINES = [Money.of(amount) for amount in ("33.33", "47.19", "8.05")]
# Labour 1,400, materials 480 and hired plant 120: the worked example of the construction scheme.
SUBCONTRACT = Supply(
    (Money.of(1400), Money.of(480), Money.of(120)),
    goods_cost=Money.of(480),
    hire_cost=Money.of(120),
)


def tax_of(supply: Supply, terms: Terms) -> str:
    return str(total(line.amount for line in charge(supply, terms).lines))


@pytest.mark.parametrize(
    ("base", "percent", "nearest", "down"),
    # VAT Notice 700, paragraph 17.5, and gov.uk VATREC12010 for the shape; its detail from memory.
    [
        ("179.18", TWENTY, "35.84", "35.83"),
        ("88.57", FIVE, "4.43", "4.42"),
        ("999.99", TWENTY, "200.00", "199.99"),
        ("3680.90", TWENTY, "736.18", "736.18"),
        ("1192.84", TWENTY, "238.57", "238.56"),
    ],
)
def test_rounding_of_the_total(base: str, percent: Decimal, nearest: str, down: str) -> None:
    assert str(tax_on(Money.of(base), percent)) == nearest
    assert str(tax_on(Money.of(base), percent, Rounding.DOWN)) == down


def test_rounding_line_by_line() -> None:
    assert str(tax_by_lines(THREE_LINES, FIVE)) == "4.42"
    assert str(tax_by_lines(FOUR_LINES, TWENTY)) == "35.83"
    lines_down = replace(HOUSE, rounding=Rounding.LINES_DOWN)
    assert tax_of(Supply(tuple(FOUR_LINES)), lines_down) == "35.83"
    assert str(total(tax_on(line, TWENTY) for line in FOUR_LINES)) == "35.84"


@pytest.mark.parametrize(
    ("gross", "percent", "tax"), [("1500", TWENTY, "250.00"), ("1050", FIVE, "50.00")]
)
def test_tax_within_a_gross_price(gross: str, percent: Decimal, tax: str) -> None:
    assert str(tax_within(Money.of(gross), percent)) == tax


def test_a_trader_not_registered() -> None:
    terms = replace(HOUSE, registered=False)
    assert str(tax_inclusive(Money.of("186.40"), TWENTY)) == "223.68"
    assert input_factor(terms) == Decimal("1.2")
    assert charge(Supply((Money.of(500),)), terms).lines == ()


@pytest.mark.parametrize(
    ("day", "percent"), [("2010-06-01", "17.5"), ("2011-01-04", "20"), ("2026-11-25", "20")]
)
def test_the_rate_of_the_day(day: str, percent: str) -> None:
    # The change on 4 January 2011 is from memory.
    assert rate("GB", "standard", datetime.date.fromisoformat(day)) == Decimal(percent)


@pytest.mark.parametrize(
    ("status", "kept_back", "normal", "reversed_pay"),
    # gov.uk, what is deducted: 20 % registered, 30 % not verified, nothing with gross status; read.
    [
        (Deduction.REGISTERED, "280.00", "2120.00", "1720.00"),
        (Deduction.UNVERIFIED, "420.00", "1980.00", "1580.00"),
        (Deduction.GROSS, "0.00", "2400.00", "2000.00"),
    ],
)
def test_the_construction_scheme(
    status: Deduction, kept_back: str, normal: str, reversed_pay: str
) -> None:
    for is_reversed, pay in ((False, normal), (True, reversed_pay)):
        terms = replace(TRADE, deduction=status, reverse_charge=is_reversed)
        kept = deduction(SUBCONTRACT, terms)
        assert str(kept) == kept_back
        due = SUBCONTRACT.net + charged(charge(SUBCONTRACT, terms).lines)
        assert str(due - kept) == pay


def test_a_subcontractor_not_registered_for_tax() -> None:
    # Greenandco.com, read: materials count with their tax in, 576 and 144.
    supply = Supply(
        (Money.of(1400), Money.of(576), Money.of(144)),
        goods_cost=tax_inclusive(Money.of(480), TWENTY),
        hire_cost=tax_inclusive(Money.of(120), TWENTY),
    )
    terms = replace(TRADE, registered=False, reverse_charge=False)
    assert str(supply.net) == "2120.00"
    assert str(supply.net - deduction(supply, terms)) == "1840.00"


def test_a_householder_keeps_nothing_back() -> None:
    assert not deduction(SUBCONTRACT, replace(HOUSE, deduction=Deduction.REGISTERED))


def test_the_reverse_charge_is_shown_and_not_charged() -> None:
    # gov.uk VATREVCON37100, read: shown apart, and left out of the amount due.
    (line,) = charge(SUBCONTRACT, TRADE).lines
    assert str(line.amount) == "400.00"
    assert not line.charged
    assert str(SUBCONTRACT.net + charged([line])) == "2000.00"
    assert "reverse charge" in line.title.lower()
    assert "customer" in line.title


@pytest.mark.parametrize(
    "changes",
    [
        {"customer": CustomerKind.HOUSEHOLD},
        {"is_end_user": True},
        {"customer_tax_number": ""},
        {"registered": False},
        {"country": "IE"},
    ],
)
def test_the_reverse_charge_is_refused(changes: dict[str, object]) -> None:
    with pytest.raises(UserMistake, match="reverse charge cannot be used here because"):
        charge(SUBCONTRACT, replace(TRADE, **changes))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("months", "letters", "percent", "notes"),
    # VAT Notice 708, section 8, read: empty two years, a letter from the council to show it.
    [(23, 1, 20, 0), (24, 1, 5, 0), (24, 0, 20, 1)],
)
def test_an_empty_home(months: int, letters: int, percent: int, notes: int) -> None:
    terms = replace(HOUSE, empty_months=months, empty_evidence=letters > 0)
    taxed = charge(Supply((Money.of(1000),)), terms)
    assert taxed.lines[0].rate == percent
    assert len(taxed.notices) == notes


@pytest.mark.parametrize(
    ("goods", "tax"), [("600", "202.50"), ("1050", "345.00"), ("1000", "202.50")]
)
def test_the_irish_two_thirds_rule(goods: str, tax: str) -> None:
    # Rates from revenue.ie, read; the working of the rule from memory. Exactly two thirds stays.
    supply = Supply((Money.of(1500),), goods_cost=Money.of(goods))
    assert tax_of(supply, replace(HOUSE, country="IE")) == tax


def test_german_relief_for_a_household() -> None:
    # § 35a EStG by way of test.de and haufe.de, read: labour, travel and machines, tax in.
    amounts = tuple(Money.of(amount) for amount in (1000, 60, 400))
    supply = Supply(amounts, materials_sold=Money.of(400))
    taxed = charge(supply, replace(HOUSE, country="DE"))
    assert str(supply.net + charged(taxed.lines)) == "1737.40"
    (note,) = taxed.notices
    assert "1261.40" in note.text
    assert "252.28" in note.text


def test_german_relief_ends_at_1200() -> None:
    gross = tax_inclusive(Money.of(7000), Decimal(19))
    assert str(gross) == "8330.00"
    assert str(household_relief(gross)) == "1200.00"


def test_american_sales_tax_on_separated_materials() -> None:
    # Texas Comptroller 94-116, read: residential repair labour is not taxed.
    supply = Supply((Money.of(300), Money.of(900)), materials_sold=Money.of(300))
    terms = Terms(
        DAY,
        country="US",
        sales_tax=SalesTax.SEPARATED,
        sales_tax_percent=Decimal("8.25"),
    )
    assert tax_of(supply, terms) == "24.75"
    assert str(supply.net + charged(charge(supply, terms).lines)) == "1224.75"


def test_american_lump_sum_shows_no_tax() -> None:
    percent = Decimal("8.25")
    terms = Terms(DAY, country="US", sales_tax=SalesTax.LUMP, sales_tax_percent=percent)
    assert charge(Supply((Money.of(900),)), terms).lines == ()
    assert input_factor(terms) == Decimal("1.0825")
