"""What a job may come to while not everything is known, and what is worth asking next.

The work is cut into slices that can be run anywhere: each draw depends on the plan and its place
in it, never on the draws before. Paper and screen use the same plan, so they show the same range.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from math import sqrt
from statistics import fmean

from estimator.money import NOTHING, Money
from estimator.pricing.price_book import Ranges
from estimator.pricing.risk import (
    HIGH,
    LOW,
    MILLION,
    Band,
    DrawResult,
    Plan,
    bands_of,
    moved,
    price_steps,
    quantile,
    sampled,
)
from estimator.pricing.sensitivity import share_of_variance
from estimator.quoting.offering import Practice, totals
from estimator.survey.survey import Survey
from estimator.takeoff.scope import Scope

STEP = Money.of(10)
"""What an answer is worth is said in whole steps of this."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What it would help to know one thing that is not known for sure."""

    question: str
    """Key of a question of ``survey.enquiry``, or the path of a range in the survey."""
    share: float
    """Share of the variance that it accounts for by itself, 0 to 1."""
    pounds: Money
    """How much nearer together low and high would be expected to come."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """The range of each scope, and what to ask next."""

    bands: tuple[Band, ...]
    worths: tuple[Worth, ...]
    """Best first. A question answered with *not sure* is among them."""
    draws: int
    """Draws the ranges rest on."""


def slice_of(
    survey: Survey,
    practice: Practice,
    scopes: Sequence[Scope],
    date: datetime.date,
    part: range,
) -> tuple[DrawResult, ...]:
    """Return some draws of the survey's plan, measured and priced."""

    def drawn_totals(drawn: Survey) -> tuple[Money, ...]:
        return totals(drawn, practice, scopes=scopes, date=date)

    plan = Plan.of(survey, practice.book.ranges)
    return sampled(drawn_totals, survey, book=practice.book, plan=plan, part=part)


def gathered(found: Sequence[DrawResult], practice: Practice) -> Outlook:
    """Return what all draws of a plan say together.

    What an answer is worth is reckoned on the scope with the widest range: its width shrinks with
    the standard deviation, by 1 - √(1 - share).

    Raises:
        UserMistake: where the engine refused every wall that was drawn.
    """
    usual = practice.book.ranges
    bands = bands_of(found, usual)
    drawn = [draw for draw in found if draw.pence]
    columns = [[draw.pence[at] for draw in drawn] for at in range(len(bands))]
    spread = [moved(column, usual) for column in columns]
    widths = [quantile(one, HIGH) - quantile(one, LOW) for one in spread]
    widest = widths.index(max(widths))
    known = _known_part(columns[widest], spread[widest], usual)
    return Outlook(
        bands, _worths(drawn, columns[widest], known=known, width=widths[widest]), len(drawn)
    )


def gathered_slices(slices: Sequence[Sequence[DrawResult]], practice: Practice) -> Outlook:
    """Return what all slices of a plan say together, in the order of their draws."""
    return gathered([draw for one in slices for draw in one], practice)


def _known_part(pence: Sequence[int], spread: Sequence[int], usual: Ranges) -> float:
    """Return the share of the variance that comes from the wall and not from the level of prices.

    The two are independent and multiply, so this much of an input's share in the plain totals is
    its share in the moved ones.
    """
    whole = _variance(spread)
    mean = fmean(price_steps(usual)) / MILLION
    return _variance(pence) * mean**2 / whole if whole else 0.0


def outlook(
    survey: Survey, practice: Practice, *, scopes: Sequence[Scope], date: datetime.date
) -> Outlook:
    """Return the range of each scope and what to ask next, all worked out here and now.

    Raises:
        UserMistake: where the engine refused every wall that was drawn.

    >>> from estimator.pricing import price_book
    >>> from estimator.quoting.quotation import Trader
    >>> from estimator.survey.ranges import Range
    >>> from estimator.survey.survey import Basis, Crack, Elevation, Party, Site, SteppedRun
    >>> from estimator.takeoff import rules
    >>> from estimator.takeoff.scope import LOCAL
    >>> crack = Crack("a", SteppedRun(900, 3, Range(8, 12, 20)), 2.0)
    >>> wall = Elevation("f", "F", ((0, 0), (4000, 0), (4000, 2400), (0, 2400)), cracks=(crack,))
    >>> told = Survey("1", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), (wall,))
    >>> practice = Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))
    >>> seen = outlook(told, practice, scopes=[LOCAL], date=datetime.date(2026, 11, 25))
    >>> seen.bands[0].low < seen.bands[0].high, seen.worths[0].question
    (True, 'elevations[0].cracks[0].run.courses')
    """
    every = range(Plan.of(survey, practice.book.ranges).draws)
    return gathered(slice_of(survey, practice, scopes, date, every), practice)


def _variance(found: Sequence[int]) -> float:
    mean = fmean(found)
    return fmean([(one - mean) ** 2 for one in found])


def _worths(
    drawn: Sequence[DrawResult], pence: Sequence[int], *, known: float, width: Money
) -> tuple[Worth, ...]:
    found = list(map(float, pence))
    inputs = [dict(draw.inputs) for draw in drawn]
    questions = dict.fromkeys(question for given in inputs for question in given)
    worths = []
    for question in questions:
        share = known * share_of_variance([given.get(question) for given in inputs], found)
        worths.append(Worth(question, share, narrowing(width, share)))
    return tuple(sorted(worths, key=lambda worth: -worth.share))


def narrowing(width: Money, share: float) -> Money:
    """Return by how much a width shrinks where so large a share of its variance goes.

    >>> str(narrowing(Money.of(400), 0.75)), str(narrowing(Money.of(400), 0.0))
    ('200.00', '0.00')
    """
    if share <= 0:
        return NOTHING
    kept = Decimal(repr(round(1 - sqrt(1 - min(share, 1.0)), 6)))
    steps = (width.pounds * kept / STEP.pounds).to_integral_value(rounding=ROUND_HALF_UP)
    return STEP.times(steps)
