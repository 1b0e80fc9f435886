"""What marks on the wall carry of the price of an option, worked out once for each sight."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from estimator.desktop.state import Sight
from estimator.money import Money, total
from estimator.quoting.quotation import Option
from estimator.quoting.shares import Shares, shares_of
from estimator.survey.survey import Survey

KEPT = 4
"""Options whose shares are kept: those of the job on the desk."""


@dataclass(frozen=True, slots=True)
class _Found:
    option: Option
    survey: Survey
    shares: Shares


_kept: deque[_Found] = deque(maxlen=KEPT)


def shares(sight: Sight, option: Option) -> Shares:
    """Return what marks carry of an option of a sight."""
    survey = sight.work.survey
    # Told apart by identity: a priced option is dear to compare, and made anew by every edit.
    for one in _kept:
        if one.option is option and one.survey is survey:
            return one.shares
    found = shares_of(survey, option.measure, option.offer)
    _kept.append(_Found(option, survey, found))
    return found


@dataclass(frozen=True, slots=True)
class Carried:
    """What some marks carry together."""

    amount: Money
    lines: int
    """In how many lines of the offer."""


def carried(sight: Sight, option: Option, marks: frozenset[str]) -> Carried:
    """Return what marks carry of an option's price before tax."""
    parts = shares(sight, option).of(marks)
    return Carried(total(parts), sum(bool(part) for part in parts))
