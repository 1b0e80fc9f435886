"""The agreed work with the rates and rules it was agreed at: what everything here is made of."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from estimator.contract.agreed_work import agreed_work
from estimator.contract.contract import Contract
from estimator.contract.frozen import frozen
from estimator.contract.so_far import SoFar, Varied
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
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    return _worked(so_far.contract, so_far.agreed)


@lru_cache(maxsize=8)
def _worked(contract: Contract, agreed: tuple[Varied, ...]) -> SiteWork:
    # Measured once, however many papers and columns ask for it.
    work = agreed_work(SoFar(contract=contract, variations=agreed))
    then = frozen(contract)
    return SiteWork(work.survey, work.measure, work.offer, then.rules, then.book)
