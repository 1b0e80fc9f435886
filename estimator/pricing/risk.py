"""Honest ranges: what a price may come to when not everything was measured.

A survey with ranges in it is drawn again and again with a seeded chance, and each draw is measured
and priced by the same engine as any other survey. No formula stands in for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import lru_cache
from itertools import pairwise
from math import sqrt
from random import Random

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.price_book import PriceBook, Ranges
from estimator.pricing.widening import is_plain, redrawn, widened
from estimator.survey import enquiry, ranges
from estimator.survey.enquiry import Drawn
from estimator.survey.ranges import Range
from estimator.survey.survey import Basis, Survey

HUNDRED = 100.0
MILLION = 1_000_000
PRICE_STEPS = 16
"""Steps in which the prices of a job move together; each draw is taken at every one."""
LOW, MIDDLE, HIGH = 0.1, 0.5, 0.9
SMALL_JOB_CRACKS, FEWEST_DRAWS = 10, 40
"""House rule: jobs up to so many cracks are drawn the usual number of times, none fewer than 40."""
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


@dataclass(frozen=True, slots=True)
class Plan:
    """How a survey is drawn: where the chance starts, and how many draws make the sample."""

    seed: int
    draws: int

    @classmethod
    def of(cls, survey: Survey, usual: Ranges) -> Plan:
        """Return the plan for a survey; a large one is drawn fewer times, but never too few.

        >>> from estimator.pricing.price_book import shipped
        >>> from estimator.survey.survey import Party, Site
        >>> seen = Survey("1", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
        >>> Plan.of(seen, shipped().ranges).draws == shipped().ranges.draws
        True
        """
        cracks = sum(len(elevation.cracks) for elevation in survey.elevations)
        fewer = usual.draws * SMALL_JOB_CRACKS // max(cracks, 1)
        return cls(usual.seed, min(usual.draws, max(FEWEST_DRAWS, fewer)))

    def slices(self, count: int) -> tuple[range, ...]:
        """Return the draws in so many parts of about the same size, none of them empty.

        >>> Plan(1, 10).slices(4)
        (range(0, 2), range(2, 5), range(5, 7), range(7, 10))
        """
        cuts = [self.draws * cut // count for cut in range(count + 1)]
        return tuple(range(a, b) for a, b in pairwise(cuts) if a < b)


@dataclass(frozen=True, slots=True)
class DrawResult:
    """One draw: what was put in for everything unknown, and what came out."""

    inputs: tuple[tuple[str, float], ...]
    pence: tuple[int, ...]
    """Total of each option at the book's own prices; none at all where the engine refused the wall
    that was drawn."""


class Chance(Random):
    """The chance of one draw among many, spread evenly over all of them.

    The first number asked for falls once into each equal slice of 0 to 1, in an order of its own,
    over all draws of the plan; so does the second, and so on (a Latin hypercube: McKay, Beckman
    and Conover, 1979). Far fewer draws then say as much, and a draw is the same wherever it is run.

    >>> plan = Plan(seed=7, draws=4)
    >>> sorted(Chance(plan, place).random() for place in range(4))
    [0.125, 0.375, 0.625, 0.875]
    """

    def __init__(self, plan: Plan, place: int, names: tuple[str, ...] = ()) -> None:
        """Start the chance of the draw at this place in the plan, counted from 0.

        Args:
            plan: All draws.
            place: Which of them.
            names: What the first numbers are for. A number goes by its name, so that an answer to
                one question leaves the draws of the others as they were.
        """
        self._plan, self._place, self._asked, self._names = plan, place, 0, names
        super().__init__(plan.seed + place)

    def __new__(cls, *_arguments: object) -> Chance:
        """Keep the arguments from the base class, which takes a seed alone."""
        return super().__new__(cls)

    def random(self) -> float:
        """Return the next number from 0 to 1, the middle of its slice."""
        at = self._asked
        order = _order(self._plan, self._names[at] if at < len(self._names) else str(at))
        self._asked += 1
        return (order[self._place] + 0.5) / self._plan.draws

    def getrandbits(self, count: int, /) -> int:
        """Return so many bits of the next number, its highest: the lower ones are no chance."""
        return int(self.random() * (1 << count))


@lru_cache(maxsize=256)
def _order(plan: Plan, name: str) -> tuple[int, ...]:
    """Return the order in which the draws of a plan go through the slices of one number."""
    return tuple(Random(f"{plan.seed}/{name}").sample(range(plan.draws), plan.draws))


def sampled(
    totals: Totals, survey: Survey, *, book: PriceBook, plan: Plan, part: range
) -> tuple[DrawResult, ...]:
    """Return some draws of a plan, each measured and priced.

    All options share each draw, so that one is not dearer than another by luck.

    Args:
        totals: Measures and prices a plain survey.
        survey: What was told. Where a caller answered questions, they say what is not known; else
            the ranges in the survey do, and the book's usual ones where it holds none.
        book: Says how wide.
        plan: All draws of the sample.
        part: The draws to make now.
    """
    known: dict[Survey, tuple[int, ...]] = {}
    found = []
    draw = _drawing(survey, book.ranges)
    names = tuple(dict.fromkeys(name for name, _number in draw(Chance(plan, 0)).inputs))
    for place in part:
        drawn = draw(Chance(plan, place, names))
        if drawn.survey not in known:
            known[drawn.survey] = _pence_or_none(totals, drawn.survey)
        found.append(DrawResult(drawn.inputs, known[drawn.survey]))
    return tuple(found)


def _pence_or_none(totals: Totals, drawn: Survey) -> tuple[int, ...]:
    """Return no totals where chance drew a wall that the engine refuses, as a person may draw."""
    try:
        return tuple(one.pence for one in totals(drawn))
    except UserMistake:
        return ()


def _drawing(survey: Survey, usual: Ranges) -> Callable[[Chance], Drawn]:
    """Return what draws one plain survey from what is known."""
    if enquiry.is_made(survey):
        return lambda chance: enquiry.drawn(survey, chance)
    percent = 0.0
    if survey.basis is Basis.TOLD or is_plain(survey):
        percent = float(usual.courses_percent)
        survey = widened(survey, percent, further_bricks=float(usual.further_bricks))

    def resolved(chance: Chance) -> Drawn:
        seen = enquiry.unseen_drawn(survey, chance)
        inputs = list(seen.inputs)

        def draw(path: str, told: Range) -> float:
            if told.low == told.high:
                return told.likely
            inputs.append((path, chance.triangular(told.low, told.high, told.likely)))
            return inputs[-1][1]

        found = ranges.resolve(seen.survey, draw)
        return Drawn(redrawn(found, draw, percent) if percent else found, tuple(inputs))

    return resolved


def spread(
    totals: Totals,
    survey: Survey,
    *,
    book: PriceBook,
    draws: int | None = None,
    seed: int | None = None,
) -> tuple[Band, ...]:
    """Return the range of each option's total.

    Args:
        totals: Measures and prices a plain survey.
        survey: What was told.
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
    plan = Plan.of(survey, book.ranges)
    plan = Plan(plan.seed if seed is None else seed, draws or plan.draws)
    return bands_of(
        sampled(totals, survey, book=book, plan=plan, part=range(plan.draws)), book.ranges
    )


def bands_of(found: Sequence[DrawResult], usual: Ranges) -> tuple[Band, ...]:
    """Return the range of each option over all draws that came out.

    Raises:
        UserMistake: where the engine refused every wall that was drawn.
    """
    options = list(zip(*(draw.pence for draw in found if draw.pence), strict=True))
    if not options:
        raise UserMistake(
            "there is no wall here that could be priced",
            why="nothing that was told so far makes a wall with work in it",
            do="say where the crack runs and how far",
        )
    return tuple(_banded(moved(option, usual), usual) for option in options)


def moved(pence: Sequence[int], usual: Ranges) -> list[int]:
    """Return totals in pence with all prices of a job moved together, cheapest first.

    One wall has one mortar and one access: what makes one line dearer makes the others dearer too.
    It is no matter of measuring, so each draw meets every step of it and none is left to chance.

    >>> from estimator.pricing.price_book import shipped
    >>> found = moved([100_000], shipped().ranges)
    >>> found[0], found[-1]
    (93307, 119771)
    """
    steps = price_steps(usual)
    return sorted((one * step + MILLION // 2) // MILLION for one in pence for step in steps)


@lru_cache(maxsize=8)
def price_steps(usual: Ranges) -> tuple[int, ...]:
    """Return how far all prices of a job may lie off, in equally likely steps [millionth]."""
    low, high = usual.rates_low_percent, usual.rates_high_percent
    three = ThreePoint(1 - float(low) / HUNDRED, 1.0, 1 + float(high) / HUNDRED)
    return tuple(
        round(three.triangular_at((step + 0.5) / PRICE_STEPS) * MILLION)
        for step in range(PRICE_STEPS)
    )


def quantile(in_order: Sequence[int], share: float) -> Money:
    """Return the figure that so large a share of sorted totals in pence stays below.

    >>> str(quantile([100, 200, 300, 400], 0.5))
    '3.00'
    """
    return Money(in_order[min(int(share * len(in_order)), len(in_order) - 1)])


def _banded(in_order: Sequence[int], usual: Ranges) -> Band:
    return Band(
        _stepped(quantile(in_order, LOW), usual, ROUND_FLOOR),
        _stepped(quantile(in_order, MIDDLE), usual, ROUND_HALF_UP),
        _stepped(quantile(in_order, HIGH), usual, ROUND_CEILING),
        CONFIDENCE,
    )


def _stepped(amount: Money, usual: Ranges, rounding: str) -> Money:
    """Round to steps of pounds, finer for small jobs."""
    step = usual.fine_step if amount < usual.fine_below else usual.coarse_step
    steps = (Decimal(amount.pence) / step.pence).to_integral_value(rounding=rounding)
    return Money(int(steps) * step.pence)
