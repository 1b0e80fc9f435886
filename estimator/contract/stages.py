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
def usual_due_days() -> int:
    """Return the days from an invoice to when it should be paid [day].

    >>> usual_due_days()
    14
    """
    days: int = resources.data("contract.json")["due_days"]
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
def released_on_completion() -> Decimal:
    """Return which part of what is kept back is released once the work is done.

    >>> released_on_completion()
    Decimal('0.5')
    """
    told = resources.data("contract.json")["retention"]
    return Decimal(told["released_on_completion_percent"]) / 100
