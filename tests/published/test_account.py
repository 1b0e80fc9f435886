"""Stages, retention, deductions, reverse charge and late payment, held to worked figures."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.contract import late_payment as late
from estimator.contract.account import InvoiceFor
from estimator.contract.contract import Retention
from estimator.contract.invoicing import next_invoice
from estimator.contract.so_far import SoFar
from estimator.contract.statement import final_account
from estimator.contract.sums import price_of
from estimator.money import Money
from estimator.notices import UserMistake
from tests.contract.test_account import (
    DAY,
    REVERSE,
    agreed,
    billed,
    contract,
    done,
    settled,
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
