"""Stages, retention, deductions, reverse charge and late payment, held to worked figures."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.contract import late_payment as late
from estimator.contract.account import InvoiceFor
from estimator.contract.contract import Retention
from estimator.contract.invoicing import credit_of, next_invoice
from estimator.contract.so_far import SoFar
from estimator.contract.statement import final_account
from estimator.contract.sums import price_of
from estimator.contract.variation import Standing
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.tax_habits import Deduction
from tests.contract.test_account import (
    DAY,
    HOUSEHOLD,
    REVERSE,
    agreed,
    billed,
    contract,
    done,
    settled,
    varied,
)

# Worked from the stated formulas: each figure was added up by hand, apart from the program.


def test_stages_of_30_40_30() -> None:
    """Shares of £3,680.90 and its VAT at 20 %; the last part takes the balance."""
    so_far = SoFar(contract=contract(Money.of("3680.90")))
    so_far = settled(billed(so_far, InvoiceFor.DEPOSIT))
    assert [str(one.gross) for one in so_far.invoices] == ["1325.12", "1766.83", "1325.13"]


def test_the_running_sum_and_the_account() -> None:
    """3,480.00 + 412.50 − 150.00 − 600.00 + 538.40 = 3,680.90; VAT 736.18; total 4,417.08."""
    so_far = SoFar(contract=contract(Money.of(3480)))
    so_far = agreed(so_far, *map(Money.of, ("412.50", "-150", "-600", "538.40")))
    account = final_account(so_far)
    assert str(account.price.net) == "3680.90"
    assert str(account.price.tax) == "736.18"
    assert str(account.price.total) == "4417.08"
    more = so_far.net.pounds / Decimal(3480) - 1
    assert round(more * 100, 2) == Decimal("5.77")


def test_retention_of_five_per_cent() -> None:
    """5 % of £8,600 is £430.00, half of it £215.00."""
    kept = Retention(Decimal(5), 12)
    so_far = SoFar(contract=contract(Money.of(8600), REVERSE, shares=(50, 50), retention=kept))
    so_far = billed(so_far, InvoiceFor.STAGE)
    assert str(so_far.invoices[0].retained) == "215.00"
    so_far = billed(done(so_far), InvoiceFor.FINAL)
    assert str(final_account(so_far).retained) == "215.00"
    whole = billed(
        done(SoFar(contract=contract(Money.of(8600), REVERSE, shares=(100,), retention=kept))),
        InvoiceFor.FINAL,
    )
    assert str(whole.invoices[0].retained) == "215.00"


def test_deduction_and_reverse_charge() -> None:
    """£2,000 net with £600 of materials and hire: £280 kept back, £1,720 paid, VAT of £400 shown.

    Rates: gov.uk on the construction industry scheme; the notation of the reverse charge: gov.uk
    VATREVCON37100.
    """
    made = contract(Money.of(2000), REVERSE, shares=(100,), materials=Money.of(600))
    invoice = next_invoice(done(SoFar(contract=made)), InvoiceFor.FINAL, date=DAY)
    assert str(invoice.deduction) == "280.00"
    assert str(invoice.gross) == "2000.00"
    assert str(invoice.payable) == "1720.00"
    (line,) = invoice.taxes
    assert (str(line.amount), line.charged) == ("400.00", False)
    usual = contract(
        Money.of(2000),
        replace(REVERSE, reverse_charge=False),
        shares=(100,),
        materials=Money.of(600),
    )
    invoice = next_invoice(done(SoFar(contract=usual)), InvoiceFor.FINAL, date=DAY)
    assert str(invoice.payable) == "2120.00"


@pytest.mark.parametrize(
    ("status", "deducted", "reverse", "usual"),
    [
        (Deduction.REGISTERED, "280.00", "1720.00", "2120.00"),
        (Deduction.UNVERIFIED, "420.00", "1580.00", "1980.00"),
        (Deduction.GROSS, "0.00", "2000.00", "2400.00"),
    ],
)
def test_deduction_by_how_the_subcontractor_stands(
    status: Deduction, deducted: str, reverse: str, usual: str
) -> None:
    """Labour £1,400, materials £480, hire £120; 20, 30 and 0 %, gov.uk on the scheme."""
    for is_reverse, payable in ((True, reverse), (False, usual)):
        terms = replace(REVERSE, deduction=status, reverse_charge=is_reverse)
        made = contract(Money.of(2000), terms, shares=(100,), materials=Money.of(600))
        invoice = next_invoice(done(SoFar(contract=made)), InvoiceFor.FINAL, date=DAY)
        assert (str(invoice.deduction), str(invoice.payable)) == (deducted, payable)


def test_deduction_from_a_subcontractor_without_a_tax_number() -> None:
    """Materials £576 and hire £144 with their VAT, labour £1,400: £2,120 less £280 is £1,840.

    Source: greenandco.com on the construction industry scheme.
    """
    terms = replace(REVERSE, registered=False, reverse_charge=False)
    made = contract(Money.of(2120), terms, shares=(100,), materials=Money.of(720))
    invoice = next_invoice(done(SoFar(contract=made)), InvoiceFor.FINAL, date=DAY)
    assert invoice.taxes == ()
    assert (str(invoice.deduction), str(invoice.payable)) == ("280.00", "1840.00")


def test_a_credit_note_of_a_reverse_charge_shows_its_tax_and_charges_none() -> None:
    """As the invoice does: gov.uk VATREVCON39200."""
    made = contract(Money.of(2000), REVERSE, shares=(100,), materials=Money.of(600))
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    for net, gross, shown, payable in (
        (None, "2000.00", "400.00", "1720.00"),
        ("500", "500.00", "100.00", "430.00"),
    ):
        note = credit_of(
            so_far, "I-0001", date=DAY, why="Wrong", net=None if net is None else Money.of(net)
        )
        assert (str(note.gross), str(note.payable)) == (gross, payable)
        assert [(str(one.amount), one.charged) for one in note.taxes] == [(shown, False)]


def test_a_householder_is_never_reverse_charged() -> None:
    """gov.uk VATREVCON: the customer has to be registered, and no end user."""
    so_far = SoFar(contract=contract(Money.of(2000)))
    terms = replace(HOUSEHOLD, reverse_charge=True)
    wrong = replace(so_far, contract=replace(so_far.contract, terms=terms))  # type: ignore[type-var]
    with pytest.raises(UserMistake, match="householder"):
        next_invoice(wrong, InvoiceFor.DEPOSIT, date=DAY)


def test_a_declined_variation_is_listed_and_never_summed() -> None:
    """Source: common practice; unapproved variations are listed beside the account."""
    told = varied("a", Money.of(500), Standing.DECLINED)
    so_far = SoFar(contract=contract(Money.of(3480)), variations=(told,))
    account = final_account(so_far)
    assert [str(one.net) for one in account.uncounted] == ["500.00"]
    assert str(account.price.net) == "3480.00"


@pytest.mark.parametrize(
    ("late_since", "counts"),
    [
        ("2026-06-30", "2025-12-31"),
        ("2026-07-01", "2026-06-30"),
        ("2026-12-31", "2026-06-30"),
        ("2027-01-01", "2026-12-31"),
    ],
)
def test_the_rate_that_counts_is_that_of_the_half_year_before(late_since: str, counts: str) -> None:
    """Late Payment of Commercial Debts (Rate of Interest) Order 2002, from memory."""
    due = datetime.date.fromisoformat(late_since) - datetime.timedelta(days=1)
    assert late.rate_day(due).isoformat() == counts


@pytest.mark.parametrize(
    ("debt", "bank", "days", "interest", "fixed"),
    [
        ("4417.08", "4", 42, "60.99", "70.00"),
        ("999.99", "4", 30, "9.86", "40.00"),
        ("10000", "4.25", 90, "302.05", "100.00"),
        ("1000", "4", 1, "0.33", "70.00"),
        ("9999.99", "4", 1, "3.29", "70.00"),
    ],
)
def test_late_payment(debt: str, bank: str, days: int, interest: str, fixed: str) -> None:
    """Debt × (8 + Bank's rate) % × days / 365; fixed sums as on gov.uk."""
    made = contract(Money.of(10_000), REVERSE)
    claim = late.late_payment(
        made,
        Money.of(debt),
        due=DAY,
        on=DAY + datetime.timedelta(days=days),
        bank_rate=Decimal(bank),
    )
    assert (str(claim.interest), str(claim.fixed_sum)) == (interest, fixed)


def test_nothing_is_late_on_the_day_it_is_due() -> None:
    with pytest.raises(UserMistake, match="nothing is late yet"):
        late.late_payment(
            contract(Money.of(100), REVERSE), Money.of(100), due=DAY, on=DAY, bank_rate=Decimal(4)
        )


def test_a_household_owes_no_interest_by_that_act() -> None:
    with pytest.raises(UserMistake, match="between businesses"):
        late.late_payment(
            contract(Money.of(100)),
            Money.of(100),
            due=DAY,
            on=DAY + datetime.timedelta(days=9),
            bank_rate=Decimal(4),
        )


def test_tax_of_the_sum_after_variations() -> None:
    """Tax of a change is tax after less tax before, so that papers reconcile."""
    made = contract(Money.of("1192.84"))
    assert str(price_of(made, made.net).total) == "1431.41"
