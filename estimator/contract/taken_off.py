"""A survey taken off with the rules of a contract; what was taken off lately is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from estimator.contract.contract import Contract
from estimator.contract.frozen import frozen, survey_of
from estimator.contract.further_bricks import Further, allowed_in, with_further
from estimator.contract.so_far import Varied
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Measure
from estimator.takeoff.rules import Rules, changed
from estimator.takeoff.scope import Scope


@dataclass(frozen=True, slots=True)
class TakenOff:
    """The work of a survey, its further bricks counted."""

    further: Further
    measure: Measure
    rules: Rules


@dataclass(frozen=True, slots=True)
class Rated:
    """A contract by what its takeoffs and prices hang on, so that they can be kept."""

    contract: Contract

    def _key(self) -> object:
        one = self.contract
        return one.survey, one.book, one.rules, one.terms, one.further_brick, allowed_in(one)

    def __hash__(self) -> int:
        return hash(self._key())

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Rated) and self._key() == other._key()


def taken_off(
    contract: Contract, survey: Survey, scope: Scope, *, all_found: bool = False
) -> TakenOff:
    """Return the work of a survey as found, measured with the rules of a contract.

    Args:
        contract: Its rules, and the survey that further bricks are told apart by.
        survey: As found.
        scope: What is to be done.
        all_found: Whether an allowance for further bricks is counted down.

    Raises:
        UserMistake: when a text the contract keeps can no longer be read.
    """
    then = frozen(contract)
    rules = changed(then.rules, stock_lengths_mm=then.book.bar_lengths_mm)
    further, work = with_further(contract, survey, scope, rules, all_found=all_found)
    return TakenOff(further, work, rules)


@lru_cache(maxsize=16)
def _read_and_taken_off(terms: Rated, survey: str, scope: Scope, all_found: bool) -> TakenOff:  # noqa: FBT001 - part of a key
    return taken_off(terms.contract, survey_of(survey), scope, all_found=all_found)


def covered_last(contract: Contract, covered: Sequence[Varied]) -> TakenOff:
    """Return the work with everything that some variations cover: as the last of them found it.

    The last is the one with the latest survey, whenever it was agreed.
    """
    last = last_of(covered)
    survey, scope = (
        (last.variation.survey, last.variation.scope) if last else (contract.survey, contract.scope)
    )
    all_found = is_counted_down(covered)
    return _read_and_taken_off(Rated(contract), survey, scope, all_found)


def last_of(varied: Sequence[Varied]) -> Varied | None:
    """Return the variation drawn up from the latest survey; None of none.

    >>> last_of(()) is None
    True
    """
    placed = list(enumerate(varied))
    last = max(placed, key=lambda one: (one[1].variation.revision, one[0]), default=None)
    return None if last is None else last[1]


def is_counted_down(covered: Sequence[Varied]) -> bool:
    """Return whether variations have counted the allowance for further bricks down already.

    >>> is_counted_down(())
    False
    """
    return any(one.variation.all_found for one in covered)
