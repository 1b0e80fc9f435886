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
