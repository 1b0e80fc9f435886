"""The work as it is agreed now: the wall, what is done to it, measured and priced."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from estimator.contract.contract import Contract
from estimator.contract.frozen import survey_of
from estimator.contract.so_far import SoFar
from estimator.contract.taken_off import Rated, is_counted_down, last_of, taken_off
from estimator.contract.valuation import priced, value
from estimator.contract.variation import Valued
from estimator.pricing.offer import Offer
from estimator.pricing.price_book import shipped
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.scope import Scope


@dataclass(frozen=True, slots=True)
class AgreedWork:
    """What the gang is to do."""

    survey: Survey
    """With every brick where it is, and no more allowed for than may still come."""
    scope: Scope
    measure: Measure
    offer: Offer
    """What it takes: time, buying, programme. Its price is no price of the contract."""


def agreed_work(so_far: SoFar) -> AgreedWork:
    """Return the work of the newest variation that is agreed, or else of the contract.

    Raises:
        ValueError: before anything was accepted.

    >>> agreed_work(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    contract = so_far.contract
    if contract is None:
        raise ValueError("nothing has been accepted yet")
    key = Rated(contract), *_survey_and_scope(so_far, contract)
    return _worked(*key, is_counted_down(so_far.agreed))


@lru_cache(maxsize=16)
def _worked(rated: Rated, survey: str, scope: Scope, all_found: bool) -> AgreedWork:  # noqa: FBT001 - part of a key
    contract = rated.contract
    taken = taken_off(contract, survey_of(survey), scope, all_found=all_found)
    shown = taken.further.shown
    # An hour is an hour: what the contract's book had no rate for is reckoned as it is shipped.
    offer, _borrowed = priced(taken.measure, contract, shipped())
    return AgreedWork(shown, scope, measure(shown, scope, taken.rules), offer)


def _survey_and_scope(so_far: SoFar, contract: Contract) -> tuple[str, Scope]:
    last = last_of(so_far.agreed)
    if last is None:
        return contract.survey, contract.scope
    return last.variation.survey, last.variation.scope


def agreed_scope(so_far: SoFar) -> Scope:
    """Return the way the work is agreed to be done.

    Raises:
        ValueError: before anything was accepted.

    >>> agreed_scope(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    return _survey_and_scope(so_far, so_far.contract)[1]


def not_agreed(so_far: SoFar) -> tuple[Valued, ...]:
    """Return what the wall of the agreed work shows and no agreed paper covers.

    A variation may be agreed after an earlier one, marked on the same wall, was declined: what was
    declined still stands there, and is not to be done.

    >>> not_agreed(SoFar())
    ()
    """
    last = last_of(so_far.agreed)
    if last is None:
        return ()
    agreed = replace(so_far, variations=so_far.agreed)
    survey = survey_of(last.variation.survey)
    return value(agreed, survey, last.variation.scope, today=shipped()).lines
