"""The work as it is agreed now: the wall, what is done to it, measured and priced."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.contract.frozen import frozen
from estimator.contract.so_far import SoFar
from estimator.pricing.offer import Offer
from estimator.pricing.pricing import price
from estimator.survey import survey_file
from estimator.survey.ranges import settled
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import changed
from estimator.takeoff.scope import Scope


@dataclass(frozen=True, slots=True)
class AgreedWork:
    """What the gang is to do."""

    survey: Survey
    scope: Scope
    measure: Measure
    offer: Offer


def agreed_work(so_far: SoFar) -> AgreedWork:
    """Return the work of the newest variation that is agreed, or else of the contract.

    Raises:
        ValueError: before anything was accepted.
    """
    contract = so_far.contract
    if contract is None:
        raise ValueError("nothing has been accepted yet")
    then = frozen(contract)
    last = so_far.agreed[-1] if so_far.agreed else None
    survey = settled(survey_file.read(last.variation.survey) if last else then.survey)
    scope = last.variation.scope if last else contract.scope
    rules = changed(then.rules, stock_lengths_mm=then.book.bar_lengths_mm)
    work = measure(survey, scope, rules)
    return AgreedWork(survey, scope, work, price(work, then.book, contract.terms))
