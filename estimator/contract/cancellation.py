"""Until when a customer may cancel, when work may begin, and what is owed then. No legal advice.

Source: Consumer Contracts (Information, Cancellation and Additional Charges) Regulations 2013,
SI 2013/3134, from memory and from guidance of councils. Periods run in calendar days; where
guidance differs the customer has the benefit.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from estimator import resources
from estimator.contract.contract import Cancelling, Contract, Made
from estimator.contract.months import months_after
from estimator.contract.so_far import SoFar
from estimator.money import NOTHING, Money
from estimator.survey.survey import CustomerKind

ONE_DAY = datetime.timedelta(days=1)


class NoRight(Enum):
    """Why a customer may not cancel, in words."""

    BUSINESS = "a business has no right to cancel by these Regulations"
    SMALL = "contracts made away from our premises for so little are exempt (reg. 7)"
    URGENT = (
        "the customer asked for this visit for an urgent repair; whatever goes beyond that repair "
        "keeps the right (reg. 28)"
    )
    PREMISES = "the contract was made at our own premises (reg. 5)"


@dataclass(frozen=True, slots=True)
class Right:
    """The right to cancel one contract."""

    why_none: NoRight | None
    last_day: datetime.date | None
    """Last day on which it may be used; None where there is none."""
    told: bool
    """Whether notice of it was given."""
    may_start: datetime.date
    """First day on which work may begin."""
    reason: str
    """How the day was worked out, in a plain sentence."""


@dataclass(frozen=True, slots=True)
class Owed:
    """What a customer owes who cancels on a day."""

    net: Money | None
    """Before tax; None where the law on cancelling does not say."""
    reason: str
    """Why, in a plain sentence."""


def right_of(contract: Contract) -> Right:
    """Return the right to cancel a contract.

    A wall repaired at a house is nearly always agreed away from our premises or at a distance;
    where it might be either way, the right is taken to be there.
    """
    told, agreed = contract.cancelling, contract.accepted_on
    none = _why_none(contract)
    if none is not None:
        return Right(none, None, told=True, may_start=agreed, reason=f"None: {none.value}.")
    days, untold = _days(), _untold_months()
    begins = max(agreed, told.goods_arrive or agreed)
    last, reason = begins + datetime.timedelta(days=days), f"{days} days from the day after"
    reason += " it was agreed (reg. 30)" if begins == agreed else " the goods arrive (reg. 30)"
    # Months of being told run from the first of the fourteen days; those of never, from the last.
    told_until = months_after(begins + ONE_DAY, untold) - ONE_DAY
    if told.notice_given is None or told.notice_given > told_until:
        last = months_after(last, untold)
        reason = f"no notice was given: {untold} months more (reg. 31)"
        if told.notice_given is not None:
            reason = f"notice was given too late: {untold} months more (reg. 31)"
    elif told.notice_given + datetime.timedelta(days=days) > last:
        last = told.notice_given + datetime.timedelta(days=days)
        reason = f"{days} days from the day after notice was given (reg. 31)"
    start = last + ONE_DAY
    if told.early_start is not None:
        start = min(start, max(agreed, told.early_start))
    return Right(
        None, last, told=told.notice_given is not None, may_start=start, reason=f"{reason}."
    )


def owed_if_cancelled(so_far: SoFar, *, on: datetime.date, done: Decimal, of_all: Decimal) -> Owed:
    """Return what a customer owes who cancels, before tax.

    Nothing unless they expressly asked for the early start and had been told of the right; else
    as much of the price, as it is agreed by then, as the work done is of the whole (reg. 36).

    Args:
        so_far: What the job has come to.
        on: The day of cancelling.
        done: Days of work done. [day]
        of_all: Days of work in all. [day]

    Raises:
        ValueError: before anything was accepted, and for more work done than there is.

    >>> owed_if_cancelled(SoFar(), on=datetime.date(2026, 12, 1), done=Decimal(0),
    ...     of_all=Decimal(4))
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    if not 0 <= done <= of_all or not of_all:
        raise ValueError("no more work can be done than there is")
    right, told = right_of(so_far.contract), so_far.contract.cancelling
    if right.why_none is not None:
        return Owed(None, f"There is no right to cancel: {right.why_none.value}.")
    if right.last_day is not None and on > right.last_day:
        return Owed(None, f"The right to cancel ended on {right.last_day.isoformat()}.")
    if told.notice_given is None or told.notice_given > on:
        return Owed(NOTHING, "Nothing: they had not been told of the right (reg. 36(6)).")
    if told.early_start is None or told.early_start > on:
        return Owed(NOTHING, "Nothing: they had not asked for an early start (reg. 36(6)).")
    net = so_far.net.times(done / of_all)
    share = f"{done:f} of {of_all:f} days"
    return Owed(net, f"{share} were done, as they expressly asked: that part is owed (reg. 36(4)).")


def days_in_all(so_far: SoFar) -> Decimal:
    """Return the days of work agreed so far [day].

    Raises:
        ValueError: before anything was accepted.

    >>> days_in_all(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    more = sum((one.variation.extra_days for one in so_far.agreed), Decimal(0))
    return so_far.contract.working_days + more


def refund_by(cancelled_on: datetime.date) -> datetime.date:
    """Return the last day on which money must be given back (reg. 34).

    >>> refund_by(datetime.date(2026, 12, 1)).isoformat()
    '2026-12-15'
    """
    days = int(_figures()["refund_days"])
    return cancelled_on + datetime.timedelta(days=days)


def last_day_after(agreed: datetime.date) -> datetime.date:
    """Return the last day to cancel a contract of services agreed on a day, notice given.

    >>> last_day_after(datetime.date(2026, 11, 25)).isoformat()
    '2026-12-09'
    """
    return agreed + datetime.timedelta(days=_days())


def is_variation_noticed_again(contract: Contract, change: Money) -> bool:
    """Return whether a variation is a contract of its own that the notice goes with.

    That is so for a household, where the change with its tax is more than the exempt sum.
    """
    is_household = contract.terms.customer is CustomerKind.HOUSEHOLD
    return is_household and change > Money.of(str(_figures()["small_pounds"]))


def _why_none(contract: Contract) -> NoRight | None:
    told: Cancelling = contract.cancelling
    if contract.terms.customer is not CustomerKind.HOUSEHOLD:
        return NoRight.BUSINESS
    if told.made is Made.AT_OUR_PREMISES:
        return NoRight.PREMISES
    if told.is_urgent:
        return NoRight.URGENT
    is_small = contract.total <= Money.of(str(_figures()["small_pounds"]))
    return NoRight.SMALL if is_small and told.made is Made.AT_THEIR_HOME else None


def _figures() -> dict[str, int | str]:
    found: dict[str, int | str] = resources.data("contract.json")["cancelling"]
    return found


def _days() -> int:
    return int(_figures()["days"])


def _untold_months() -> int:
    return int(_figures()["untold_months"])
