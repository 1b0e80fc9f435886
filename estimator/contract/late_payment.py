"""What a business owes that pays late. A household never does by this Act.

Source: Late Payment of Commercial Debts (Interest) Act 1998, as explained on gov.uk: simple
interest over the rate of the Bank, and a fixed sum by the size of the debt. That rate is typed
in: that of 31 December counts from January to June, that of 30 June for the rest of the year.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator import resources
from estimator.contract.contract import Contract
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.survey.survey import CustomerKind

DAYS_A_YEAR = 365
HUNDRED = Decimal(100)
MONTHS_A_HALF = 6


@dataclass(frozen=True, slots=True)
class LatePayment:
    """What may be claimed for one debt on one day."""

    debt: Money
    days: int
    percent: Decimal
    """Interest a year, the Bank's rate in it. [%]"""
    interest: Money
    fixed_sum: Money

    @property
    def total(self) -> Money:
        """Interest and fixed sum."""
        return self.interest + self.fixed_sum


def late_payment(
    contract: Contract, debt: Money, *, due: datetime.date, on: datetime.date, bank_rate: Decimal
) -> LatePayment:
    """Return what a business owes for paying late.

    Args:
        contract: Whose customer owes it.
        debt: What is owed, tax in.
        due: When it should have been paid.
        on: The day on which it is reckoned.
        bank_rate: The Bank's rate that counts. [%]

    Raises:
        UserMistake: for a household, and for what is not late.
    """
    if contract.terms.customer is CustomerKind.HOUSEHOLD:
        raise UserMistake(
            "a household owes no interest for paying late",
            why="the Act is for debts between businesses",
            do="remind them, and ask for advice before you claim anything",
        )
    if on <= due or debt <= Money(0):
        raise UserMistake("nothing is late yet", do="wait until the day it is due has passed")
    days = (on - due).days
    percent = bank_rate + Decimal(_figures()["over_bank_rate"])
    return LatePayment(debt, days, percent, interest(debt, percent, days), fixed_sum(debt))


def rate_day(due: datetime.date) -> datetime.date:
    """Return the day whose Bank's rate counts for a debt: the last one of the half-year before.

    Args:
        due: When it should have been paid; it is late from the day after.

    >>> rate_day(datetime.date(2026, 12, 9)).isoformat()
    '2026-06-30'
    """
    late = due + datetime.timedelta(days=1)
    if late.month > MONTHS_A_HALF:
        return datetime.date(late.year, 6, 30)
    return datetime.date(late.year - 1, 12, 31)


def interest(debt: Money, percent: Decimal, days: int) -> Money:
    """Return simple interest, rounded once.

    >>> str(interest(Money.of("4417.08"), Decimal(12), 42))
    '60.99'
    """
    return Money.of(debt.pounds * percent / HUNDRED * days / DAYS_A_YEAR)


def fixed_sum(debt: Money) -> Money:
    """Return the fixed sum for a debt.

    >>> [str(fixed_sum(Money.of(one))) for one in ("999.99", "1000", "9999.99", "10000")]
    ['40.00', '70.00', '70.00', '100.00']
    """
    reached = [row for row in _figures()["fixed_sums"] if debt >= Money.of(row["from"])]
    return Money.of(reached[-1]["sum"])


def _figures() -> dict[str, Any]:
    found: dict[str, Any] = resources.data("contract.json")["late_payment"]
    return found
