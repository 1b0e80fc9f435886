"""Likely prices for the desk, worked out in the window's thread in a few milliseconds.

Apart from the session, so that a call can be taken down while the pricing engine is still loading.
"""

from __future__ import annotations

import datetime
from dataclasses import replace

from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.edits import Work
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Option, Trader
from estimator.takeoff import rules


def shipped() -> Practice:
    """Return the rates and rules that come with the program, under no name yet."""
    return Practice(price_book.shipped(), rules.shipped(), Trader(""))


def fitted(work: Work, practice: Practice) -> Practice:
    """Return a practice with the rules of this job."""
    return replace(practice, rules=work.rules(practice.rules))


def options(
    work: Work, practice: Practice, *, date: datetime.date
) -> tuple[tuple[Option, ...], str]:
    """Return each choice with work in it at likely values, or why there is none, in words."""
    try:
        found = offering.priced(work.survey, practice, scopes=work.scopes, date=date)
    except UserMistake as mistake:
        return (), str(mistake)
    return tuple(one for one in found if one.measure.lines), ""
