"""Own record: what finished jobs cost against what was quoted, as it bears on the range told.

The range on the telephone lets all prices of a job lie off together, between
``rates_low_percent`` below and ``rates_high_percent`` above, what was quoted being likeliest
(``pricing.risk``). From enough finished jobs on, the ends that fit one's own tenth and ninetieth
part are offered, shrunk towards the book's (``credibility``). Labour and materials are compared at
cost, labour at the rate it was quoted at; work of agreed variations is in both.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.contract.so_far import SoFar
from estimator.contract.works import Booking
from estimator.money import Money, total
from estimator.pricing.offer import Offer
from estimator.pricing.price_book import PriceBook, Ranges
from estimator.pricing.rates import gang_hour
from estimator.takeoff.lines import Measure
from estimator.units import rounded
from estimator.works.credibility import factor_of, shrunk
from estimator.works.day_work import hours_of
from estimator.works.settings import Settings, shipped
from estimator.works.site_work import site_work

HUNDRED = Decimal(100)
LOW, MIDDLE, HIGH = Decimal("0.1"), Decimal("0.5"), Decimal("0.9")
MOST_LOW, MOST_HIGH = Decimal(99), Decimal(500)
"""What a price book takes. [per cent]"""
STEPS = 200
"""Enough for the fit to come to rest to far more than is shown."""


@dataclass(frozen=True, slots=True)
class Finished:
    """One finished job: labour and materials as quoted and as they came out, at cost."""

    quoted: Money
    actual: Money

    @property
    def ratio(self) -> Decimal:
        """What it cost for each pound quoted."""
        return self.actual.pounds / self.quoted.pounds


@dataclass(frozen=True, slots=True)
class TrackRecord:
    """Own record over finished jobs."""

    jobs: int
    wanted: int
    """Jobs from which on it is shown."""
    low: Decimal
    middle: Decimal
    high: Decimal
    """One job in ten cost less than the first, half less than the second, one in ten more than the
    last, for each pound quoted."""
    z: Decimal
    rates_low_percent: Decimal
    rates_high_percent: Decimal
    """What is offered for the book's ranges."""

    @property
    def words(self) -> str:
        """The record in one sentence."""
        low, high = _than(self.low), _than(self.high)
        how = f"between {low} and {high}" if low != high else f"about {low}"
        return (
            f"Of {self.jobs} finished jobs, 8 in 10 cost {how} than was quoted for labour and "
            "materials."
        )


def of_job(so_far: SoFar) -> Finished | None:
    """Return a job's figures, or None where it is not complete or no work was booked on it.

    >>> of_job(SoFar()) is None
    True
    """
    if so_far.contract is None or so_far.completion is None:
        return None
    work = site_work(so_far)
    return finished(work.measure, work.offer, so_far.bookings, work.book)


def finished(
    measure: Measure, offer: Offer, bookings: Sequence[Booking], book: PriceBook
) -> Finished | None:
    """Return a finished job's figures, or None where no work was booked on it.

    Where no materials were booked they are left out on both sides.

    >>> from estimator.pricing.price_book import shipped as book
    >>> from estimator.pricing.pricing import price
    >>> from estimator.pricing.terms import Terms
    >>> from estimator.takeoff.scope import LOCAL
    >>> import datetime
    >>> empty = Measure(LOCAL, (), (), (), (), (), ())
    >>> offer = price(empty, book(), Terms(datetime.date(2026, 11, 25)))
    >>> finished(empty, offer, (), book()) is None
    True
    """
    hours = sum((one.hours for one in bookings if one.item is not None), Decimal(0))
    priced = sum(hours_of(measure, book).values(), Decimal(0))
    if not hours or not priced:
        return None
    hour = gang_hour(book)
    quoted, actual = Money.of(priced * hour), Money.of(hours * hour)
    spent = total(used.cost for one in bookings for used in one.used)
    if spent:
        quoted, actual = quoted + total(one.cost for one in offer.buying), actual + spent
    return Finished(quoted, actual)


def record_of(
    jobs: Iterable[Finished], ranges: Ranges, *, settings: Settings | None = None
) -> TrackRecord | None:
    """Return the record, or None while there are too few finished jobs.

    House rule: shown from 20 jobs on (``resources/works.json``).

    >>> from estimator.pricing.price_book import shipped as book
    >>> record_of([Finished(Money.of(100), Money.of(110))] * 19, book().ranges) is None
    True
    """
    known = (settings or shipped()).track_record
    ratios = sorted(job.ratio for job in jobs)
    if len(ratios) < max(known.least_jobs, 1):
        return None
    low, middle, high = (quantile(ratios, share) for share in (LOW, MIDDLE, HIGH))
    z = factor_of(len(ratios), known.jobs_k)
    below, above = ends(low, high)
    return TrackRecord(
        len(ratios),
        known.least_jobs,
        rounded(low, 4),
        rounded(middle, 4),
        rounded(high, 4),
        z,
        _percent(shrunk(below * HUNDRED, ranges.rates_low_percent, z), MOST_LOW),
        _percent(shrunk(above * HUNDRED, ranges.rates_high_percent, z), MOST_HIGH),
    )


def quantile(in_order: Sequence[Decimal], share: Decimal) -> Decimal:
    """Return what so large a share of sorted figures stays below, between neighbours in proportion.

    Source: Hyndman and Fan, *Sample Quantiles in Statistical Packages* (1996), definition 7, from
    memory.

    >>> quantile([Decimal(1), Decimal(2), Decimal(4)], Decimal("0.75"))
    Decimal('3.00')
    """
    place = (len(in_order) - 1) * share
    below = int(place)
    above = min(below + 1, len(in_order) - 1)
    return in_order[below] + (in_order[above] - in_order[below]) * (place - below)


def ends(low: Decimal, high: Decimal) -> tuple[Decimal, Decimal]:
    """Return how far below and above 1 a triangle ends whose tenth and ninetieth parts these are.

    The likeliest figure stays 1, what was quoted: a record that lies wholly on one side gives no
    room on the other, and asks for other outputs rather than a wider range.

    >>> [round(one, 4) for one in ends(Decimal("0.9"), Decimal("1.2"))]
    [Decimal('0.2052'), Decimal('0.3343')]
    """
    under, over = max(1 - low, Decimal(0)), max(high - 1, Decimal(0))
    below, above = under, over
    for _step in range(STEPS):
        width = (below + above) * LOW
        below = under + (below * width).sqrt() if under else under
        above = over + (above * width).sqrt() if over else over
    return below, above


def taken_up(written: str, record: TrackRecord) -> str:
    """Return the text of a price book with the ranges of a record that was accepted.

    >>> from estimator import resources
    >>> from estimator.pricing.price_book import read
    >>> text = resources.path("price_book.json").read_text(encoding="utf-8")
    >>> record = TrackRecord(20, 20, Decimal(1), Decimal(1), Decimal(1), Decimal("0.5"),
    ...     Decimal("7.5"), Decimal("21.3"))
    >>> str(read(taken_up(text, record)).ranges.rates_high_percent)
    '21.3'
    """
    told: dict[str, Any] = json.loads(written.removeprefix("\ufeff"))
    told["ranges"]["rates_low_percent"] = f"{record.rates_low_percent:f}"
    told["ranges"]["rates_high_percent"] = f"{record.rates_high_percent:f}"
    return json.dumps(told, ensure_ascii=False, indent=1)


def _than(ratio: Decimal) -> str:
    percent = rounded((ratio - 1) * HUNDRED, 0)
    return f"{abs(percent):f} % {'less' if percent < 0 else 'more'}"


def _percent(value: Decimal, most: Decimal) -> Decimal:
    return rounded(min(max(value, Decimal(0)), most), 1)
