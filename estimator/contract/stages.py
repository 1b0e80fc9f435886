"""The parts a price is usually paid in; data, to be changed with the trade and the law."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from estimator import resources
from estimator.contract.contract import StageDue, StageTerm


@lru_cache(maxsize=1)
def usual_stages() -> tuple[StageTerm, ...]:
    """Return the usual parts of a price.

    >>> [str(stage.percent) for stage in usual_stages()]
    ['30', '40', '30']
    """
    return tuple(
        StageTerm(one["title"], Decimal(one["percent"]), StageDue(one["due"]))
        for one in resources.data("contract.json")["stages"]
    )


@lru_cache(maxsize=1)
def deposit_and_rest() -> tuple[StageTerm, ...]:
    """Return the two parts of a price where nothing is paid during the work.

    >>> [(str(stage.percent), stage.due.value) for stage in deposit_and_rest()]
    [('25', 'on acceptance'), ('75', 'on completion')]
    """
    usual, percent = usual_stages(), Decimal(resources.data("contract.json")["deposit_percent"])
    return (
        StageTerm(usual[0].title, percent, StageDue.ON_ACCEPTANCE),
        StageTerm(usual[-1].title, 100 - percent, StageDue.ON_COMPLETION),
    )


@lru_cache(maxsize=1)
def usual_due_days() -> int:
    """Return the days from an invoice to when it should be paid [day].

    >>> usual_due_days()
    14
    """
    days: int = resources.data("contract.json")["due_days"]
    return days


@lru_cache(maxsize=1)
def most_due_days() -> int:
    """Return how many days to pay may be given; more is a slip of the finger [day].

    >>> most_due_days()
    120
    """
    days: int = resources.data("contract.json")["most_due_days"]
    return days


@lru_cache(maxsize=1)
def most_deposit() -> Decimal:
    """Return how much of the price may be asked for before any work [per cent].

    >>> most_deposit()
    Decimal('50')
    """
    return Decimal(resources.data("contract.json")["most_deposit_percent"])


@lru_cache(maxsize=1)
def most_retained() -> Decimal:
    """Return how much of the price may be kept back [per cent].

    >>> most_retained()
    Decimal('10')
    """
    return Decimal(resources.data("contract.json")["retention"]["most_percent"])


@lru_cache(maxsize=1)
def usual_retention_months() -> int:
    """Return the months from completion to the second half of what is kept back [month].

    >>> usual_retention_months()
    6
    """
    months: int = resources.data("contract.json")["retention"]["months"]
    return months


@lru_cache(maxsize=1)
def most_retention_months() -> int:
    """Return how many months these may be; more is a slip of the finger [month].

    >>> most_retention_months()
    36
    """
    months: int = resources.data("contract.json")["retention"]["most_months"]
    return months
