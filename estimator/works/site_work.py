"""The agreed work with the rates and rules it was agreed at: what everything here is made of."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.contract.agreed_work import agreed_work
from estimator.contract.frozen import frozen
from estimator.contract.so_far import SoFar
from estimator.pricing.offer import Offer
from estimator.pricing.price_book import PriceBook
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Measure
from estimator.takeoff.rules import Rules


@dataclass(frozen=True, slots=True)
class SiteWork:
    """What the gang is to do, measured and priced."""

    survey: Survey
    measure: Measure
    offer: Offer
    rules: Rules
    book: PriceBook


def site_work(so_far: SoFar) -> SiteWork:
    """Return the work agreed, at the rates and rules of the contract.

    Raises:
        ValueError: before anything was accepted.

    >>> site_work(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    work = agreed_work(so_far)
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    then = frozen(so_far.contract)
    return SiteWork(work.survey, work.measure, work.offer, then.rules, then.book)
