"""Own outputs: hours booked against hours priced, and an update to the book that may be taken up.

Nothing is taken up by itself. What is offered lies between the book and one's own jobs
(``credibility``), on the logarithm of hours booked ÷ hours at the book's outputs, one observation a
job. A figure taken up becomes the book; only jobs after it count for the next offer, or one and the
same job would pull twice.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.contract.so_far import SoFar
from estimator.contract.works import Booking
from estimator.pricing.price_book import PriceBook
from estimator.takeoff.lines import Item, Measure
from estimator.units import Unit, rounded
from estimator.works.credibility import factor_of, mean_of_logs, shrunk_ratio
from estimator.works.day_work import hours_of
from estimator.works.settings import Settings, shipped
from estimator.works.site_work import site_work

PLACES = 4
"""Decimals of hours in a price book."""
LEAST_HOURS = Decimal(1).scaleb(-PLACES)


@dataclass(frozen=True, slots=True)
class JobDone:
    """One job with what was booked on it."""

    measure: Measure
    """Of the agreed work."""
    bookings: tuple[Booking, ...]
    is_finished: bool
    """Whether all of it was done."""


@dataclass(frozen=True, slots=True)
class ItemHours:
    """One kind of work on one job: hours priced for what was done, and hours it took."""

    item: Item
    unit: Unit
    done: Decimal
    """How much was done. [unit]"""
    priced: Decimal
    """Hours for that at the outputs of a book. [h]"""
    booked: Decimal
    """[h]"""

    @property
    def ratio(self) -> Decimal:
        """Hours booked for each hour priced."""
        return self.booked / self.priced


@dataclass(frozen=True, slots=True)
class OwnOutput:
    """One output as own jobs show it, and what is offered."""

    item: Item
    title: str
    unit: Unit
    jobs: int
    done: Decimal
    priced: Decimal
    booked: Decimal
    own_ratio: Decimal
    """Geometric mean over the jobs of hours booked for each hour priced."""
    z: Decimal
    """How far own jobs are believed, from 0 to 1."""
    factor: Decimal
    """What the hours of the book are multiplied by where it is taken up."""

    @property
    def book_hours(self) -> Decimal:
        """Hours for a unit at the book's outputs, over what was done [h/unit]."""
        return rounded(self.priced / self.done, PLACES)

    @property
    def offered_hours(self) -> Decimal:
        """Hours for a unit as offered [h/unit]."""
        return rounded(self.priced / self.done * self.factor, PLACES)

    @property
    def working(self) -> str:
        """How the offer was arrived at, in one line."""
        count = "it counts" if self.jobs == 1 else "they count"
        return (
            f"{self.jobs} of our jobs took {self.own_ratio:.2f} times the hours of the book; "
            f"{count} for Z = {self.z:.2f}: {self.own_ratio:.2f} to the power of {self.z:.2f} "
            f"= {self.factor:.4f}"
        )


def job_done(so_far: SoFar) -> JobDone:
    """Return a job with what was booked on it.

    Raises:
        ValueError: before anything was accepted.

    >>> job_done(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    is_finished = so_far.completion is not None
    return JobDone(site_work(so_far).measure, so_far.bookings, is_finished)


def job_hours(job: JobDone, book: PriceBook) -> tuple[ItemHours, ...]:
    """Return the hours of one job by kind of work, priced at a book and as booked.

    Counted is what bookings say was done, with the hours up to the last of them that says so. On a
    finished job, hours booked after the last such word, or with none, went into all of it. Kinds of
    work not booked, or not yet done, are left out, and so are setting up and travel.

    >>> from estimator.pricing.price_book import shipped as book
    >>> from estimator.takeoff.lines import Line
    >>> from estimator.takeoff.scope import LOCAL
    >>> from estimator.units import Quantity
    >>> slot = Line(Item.CUT_SLOT, "front", Quantity.of(10, Unit.METRE), "", ())
    >>> on = datetime.date(2026, 12, 1)
    >>> job = JobDone(Measure(LOCAL, (slot,), (), (), (), (), ()),
    ...     (Booking(on, Item.CUT_SLOT, Decimal("1.5"), Decimal(6)),), is_finished=False)
    >>> [one] = job_hours(job, book())
    >>> one.priced, one.booked
    (Decimal('1.0794'), Decimal('1.5'))
    """
    hours = hours_of(job.measure, book)
    found = []
    for item, priced in hours.items():
        lines = [line for line in job.measure.lines if line.item is item]
        measured = sum((line.quantity.amount for line in lines), Decimal(0))
        done, booked = _booked(job, item, measured)
        if done > 0 and booked > 0 and measured > 0 and priced > 0:
            share = rounded(priced / measured * done, PLACES)
            found.append(ItemHours(item, lines[0].quantity.unit, done, share, booked))
    return tuple(one for one in found if one.priced > 0)


def compared(
    jobs: Iterable[JobDone],
    book: PriceBook,
    *,
    since: datetime.date | None = None,
    settings: Settings | None = None,
) -> tuple[OwnOutput, ...]:
    """Return each output as own jobs show it, with what is offered.

    Args:
        jobs: Jobs with hours booked.
        book: The book of today, whose outputs would be changed.
        since: Day outputs were last taken up; jobs last booked on it or before count no more.
        settings: What the works go by; as shipped when not said.

    >>> from estimator.pricing.price_book import shipped as book
    >>> compared((), book())
    ()
    """
    known = (settings or shipped()).own_rates
    found: dict[Item, list[ItemHours]] = {}
    for job in jobs:
        last = max((one.on for one in job.bookings), default=None)
        if last is None or (since is not None and last <= since):
            continue
        for one in job_hours(job, book):
            found.setdefault(one.item, []).append(one)
    return tuple(
        _own(ones, book, known.jobs_k)
        for item in Item
        if len(ones := found.get(item, [])) >= known.least_jobs
    )


def taken_up(written: str, accepted: Iterable[OwnOutput]) -> str:
    """Return the text of a price book with the outputs that were accepted, all else as it stands.

    Raking out and repointing of a panel share one table of hours: their factors move the table and
    the share of it that goes into raking.

    >>> from estimator import resources
    >>> text = resources.path("price_book.json").read_text(encoding="utf-8")
    >>> own = OwnOutput(Item.LAP_BAR, "", Unit.NUMBER, 6, Decimal(9), Decimal(1), Decimal(2),
    ...     Decimal(2), Decimal("0.5"), Decimal("1.4142"))
    >>> from estimator.pricing.price_book import read
    >>> read(taken_up(text, [own])).outputs[Item.LAP_BAR].steps[0].hours["any"]
    Decimal('0.1414')
    """
    told: dict[str, Any] = json.loads(written.removeprefix("\ufeff"))
    factors = {one.item: one.factor for one in accepted}
    for output in told["outputs"]:
        factor = factors.get(Item(output["item"]))
        if factor is None:
            continue
        for step in output["steps"]:
            step["hours"] = _scaled(step["hours"], factor)
            step["source"] = OWN_SOURCE
    _scale_panels(told["repointing"], factors)
    return json.dumps(told, ensure_ascii=False, indent=1)


OWN_SOURCE = "own jobs"
"""What stands as the source of hours taken up from own jobs."""


def _booked(job: JobDone, item: Item, measured: Decimal) -> tuple[Decimal, Decimal]:
    """Return how much was done of a kind of work and the hours booked for it."""
    ones = sorted((one for one in job.bookings if one.item is item), key=lambda one: one.on)
    done = sum((one.done for one in ones), Decimal(0))
    hours = sum((one.hours for one in ones), Decimal(0))
    last = max((place for place, one in enumerate(ones, start=1) if one.done > 0), default=0)
    up_to = sum((one.hours for one in ones[:last]), Decimal(0))
    if job.is_finished and hours > up_to:
        return max(done, measured), hours
    return done, up_to


def _own(ones: Sequence[ItemHours], book: PriceBook, k: Decimal) -> OwnOutput:
    ratios = [one.ratio for one in ones]
    output = book.output(ones[0].item)
    return OwnOutput(
        output.item,
        output.title,
        output.unit,
        len(ones),
        sum((one.done for one in ones), Decimal(0)),
        sum((one.priced for one in ones), Decimal(0)),
        sum((one.booked for one in ones), Decimal(0)),
        rounded(mean_of_logs(ratios).exp(), PLACES),
        factor_of(len(ones), k),
        rounded(shrunk_ratio(ratios, k), PLACES),
    )


def _scaled(hours: Mapping[str, str], factor: Decimal) -> dict[str, str]:
    return {key: f"{_some(Decimal(one), factor):f}" for key, one in hours.items()}


def _some(hours: Decimal, factor: Decimal) -> Decimal:
    """Return hours by a factor; work that takes time never comes to take none."""
    return max(rounded(hours * factor, PLACES), LEAST_HOURS) if hours else hours


def _scale_panels(repointing: dict[str, Any], factors: Mapping[Item, Decimal]) -> None:
    """Move the hours of panels: h × (s × f + (1 − s) × g), raking f and pointing g."""
    if Item.RAKE_OUT not in factors and Item.REPOINT not in factors:
        return
    share = Decimal(repointing["raking_share"])
    raking = share * factors.get(Item.RAKE_OUT, Decimal(1))
    pointing = (1 - share) * factors.get(Item.REPOINT, Decimal(1))
    both = raking + pointing
    repointing["hours"] = {
        mortar: _scaled(hours, both) for mortar, hours in repointing["hours"].items()
    }
    repointing["raking_share"] = f"{rounded(raking / both, 6):f}"
    repointing["sources"] = dict.fromkeys(repointing["hours"], OWN_SOURCE)
