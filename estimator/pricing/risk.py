"""Honest ranges: what a price may come to when not everything was measured.

A survey with ranges in it is drawn again and again with a seeded chance, and each draw is measured
and priced by the same engine as any other survey. No formula stands in for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from math import sqrt
from random import Random

from estimator.money import Money
from estimator.pricing.price_book import PriceBook, Ranges
from estimator.survey import ranges
from estimator.survey.ranges import Range, Told
from estimator.survey.survey import Basis, Crack, Elevation, SteppedRun, StraightRun, Survey
from estimator.survey.wall import coursing_of

HUNDRED = 100.0
LOW, MIDDLE, HIGH = 0.1, 0.5, 0.9
CONFIDENCE = "About 8 in 10 jobs like this one end between the two figures."


@dataclass(frozen=True, slots=True)
class Band:
    """A range for a total, tax in, rounded outward; never pence."""

    low: Money
    likely: Money
    high: Money
    confidence: str


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """A low, a likely and a high figure, and the two usual ways to read them.

    >>> three = ThreePoint(900, 1200, 1900)
    >>> round(three.pert_mean, 2), round(three.triangular_at(0.8), 2)
    (1266.67, 1525.83)
    """

    low: float
    likely: float
    high: float

    @property
    def pert_mean(self) -> float:
        """Mean with the likely figure counted four times."""
        return (self.low + 4 * self.likely + self.high) / 6

    @property
    def pert_sd(self) -> float:
        """Standard deviation, a sixth of the whole range."""
        return (self.high - self.low) / 6

    @property
    def triangular_mean(self) -> float:
        """Mean of the triangular distribution."""
        return (self.low + self.likely + self.high) / 3

    @property
    def triangular_sd(self) -> float:
        """Standard deviation of the triangular distribution."""
        o, m, p = self.low, self.likely, self.high
        return sqrt((o * o + m * m + p * p - o * m - o * p - m * p) / 18)

    def triangular_at(self, share: float) -> float:
        """Return the figure that so large a share of cases stays below."""
        o, m, p = self.low, self.likely, self.high
        if o == p:
            return o
        if share <= (m - o) / (p - o):
            return o + sqrt(share * (p - o) * (m - o))
        return p - sqrt((1 - share) * (p - o) * (p - m))


def expected(risks: Iterable[tuple[Decimal, Money]]) -> Money:
    """Return the sum of chance times cost over risks that are known.

    >>> known = [("0.3", 400), ("0.1", 900), ("0.5", 150)]
    >>> str(expected((Decimal(chance), Money.of(cost)) for chance, cost in known))
    '285.00'
    """
    return Money.of(sum((chance * cost.pounds for chance, cost in risks), Decimal(0)))


def band(amount: Money, *, below_percent: Decimal, above_percent: Decimal) -> tuple[Money, Money]:
    """Return an amount less and plus a share of it.

    >>> low, high = band(Money.of(2400), below_percent=Decimal(30), above_percent=Decimal(50))
    >>> str(low), str(high)
    ('1680.00', '3600.00')
    """
    return amount.times(1 - below_percent / 100), amount.times(1 + above_percent / 100)


Totals = Callable[[Survey], tuple[Money, ...]]
"""Measures and prices a plain survey: the total of each option."""


def spread(
    totals: Totals,
    survey: Survey,
    *,
    book: PriceBook,
    draws: int | None = None,
    seed: int | None = None,
) -> tuple[Band, ...]:
    """Return the range of each option's total.

    All prices of one draw are also moved together, since one wall has one mortar and one access:
    what makes one line dearer makes the others dearer too.

    Args:
        totals: Measures and prices a plain survey.
        survey: What was told. Where it holds no range, the book's usual ones are put in.
        book: Says how wide, how many draws, and which seed.
        draws: How many draws, where not the book's number.
        seed: Where the chance starts, where not the book's.

    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.survey.survey import Party, Site
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> found = spread(lambda _survey: (Money.of(500),), seen, book=shipped(), draws=50)
    >>> found[0].low <= found[0].likely <= found[0].high
    True
    """
    usual = book.ranges
    chance = Random(usual.seed if seed is None else seed)
    together = (
        1 - float(usual.rates_low_percent) / HUNDRED,
        1 + float(usual.rates_high_percent) / HUNDRED,
    )
    if survey.basis is Basis.TOLD or ranges.settled(survey) is survey:
        survey = widened(
            survey, float(usual.courses_percent), further_bricks=float(usual.further_bricks)
        )
    # All options share each draw, so that one is not dearer than another by luck.
    found: list[tuple[Money, ...]] = []
    for _draw in range(draws or usual.draws):
        drawn = ranges.resolve(survey, lambda _path, told: _drawn(chance, told))
        factor = Decimal(repr(round(chance.triangular(*together, 1.0), 6)))
        found.append(tuple(one.times(factor) for one in totals(drawn)))
    return tuple(_banded(sorted(option), usual) for option in zip(*found, strict=True))


def _drawn(chance: Random, told: Range) -> float:
    return chance.triangular(told.low, told.high, told.likely)


def _banded(sorted_totals: Sequence[Money], usual: Ranges) -> Band:
    def at(share: float) -> Money:
        return sorted_totals[min(int(share * len(sorted_totals)), len(sorted_totals) - 1)]

    return Band(
        _stepped(at(LOW), usual, ROUND_FLOOR),
        _stepped(at(MIDDLE), usual, ROUND_HALF_UP),
        _stepped(at(HIGH), usual, ROUND_CEILING),
        CONFIDENCE,
    )


def _stepped(amount: Money, usual: Ranges, rounding: str) -> Money:
    """Round to steps of pounds, finer for small jobs."""
    step = usual.fine_step if amount < usual.fine_below else usual.coarse_step
    steps = (Decimal(amount.pence) / step.pence).to_integral_value(rounding=rounding)
    return Money(int(steps) * step.pence)


def widened(survey: Survey, percent: float, *, further_bricks: float = 0) -> Survey:
    """Return a survey with plain counts turned into ranges so many per cent wide to either side.

    Cracks never grow beyond the top of their wall. Ranges that were told stay as told.

    >>> from estimator.survey.survey import Party, Site
    >>> wall = Elevation("f", "F", ((0, 0), (3000, 0), (3000, 2400), (0, 2400)),
    ...     cracks=(Crack("a", StraightRun(500, 1, 20), 2.0),))
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), (wall,))
    >>> widened(seen, 25).elevations[0].cracks[0].run.courses
    Range(low=15.0, likely=20, high=25.0)
    """
    return replace(
        survey,
        elevations=tuple(
            replace(
                elevation,
                cracks=tuple(_wider_crack(elevation, crack, percent) for crack in elevation.cracks),
                hidden_bricks=_wider_count(elevation.hidden_bricks, further_bricks),
            )
            for elevation in survey.elevations
        ),
    )


def _wider_count(told: Told, further: float) -> Told:
    if isinstance(told, Range) or not further:
        return told
    return Range(max(told - further, 0.0), told, told + further)


def _wider_crack(elevation: Elevation, crack: Crack, percent: float) -> Crack:
    run = crack.run
    if not isinstance(run, SteppedRun | StraightRun) or isinstance(run.courses, Range):
        return crack
    courses = run.courses
    coursing = coursing_of(elevation.brickwork)
    top = max(y for _x, y in elevation.outline)
    room = (top - coursing.bed_bottom(run.course)) // coursing.gauge_mm
    share = percent / HUNDRED
    high = max(min(courses * (1 + share), room), courses)
    low = max(courses * (1 - share), min(courses, 1.0))
    return replace(crack, run=replace(run, courses=Range(low, courses, high)))
