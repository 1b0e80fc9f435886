"""Lines for being there: plant, access, travel, setting up and preliminaries."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from estimator.pricing.offer import Group, OfferLine, Part
from estimator.pricing.price_book import PriceBook
from estimator.pricing.programme import Programme
from estimator.pricing.rates import (
    ACCESS,
    PLANT,
    PRELIMINARIES,
    VISITS,
    Costed,
    UnitRate,
    bricklayer_hour,
    gang_hour,
    part,
    scaled,
    sold,
    times,
)
from estimator.takeoff.lines import Item, Mark, Reach
from estimator.units import Quantity, Unit

BOTH_WAYS = Decimal(2)
MINUTES = Decimal(60)


@dataclass(frozen=True, slots=True)
class Charge:
    """Something charged by a unit of time or number, not measured on the wall."""

    key: str
    group: Group
    title: str
    unit: Unit
    rung: str
    is_hired: bool = False


@lru_cache(maxsize=1024)
def _rate(book: PriceBook, rung: str, cost: Decimal, steps: tuple[Part, ...]) -> UnitRate:
    return sold(book, ((rung, cost),), steps)


def _charged(
    book: PriceBook,
    charge: Charge,
    quantity: Decimal,
    steps: tuple[Part, ...],
    *,
    marks: tuple[Mark, ...] = (),
) -> Iterator[Costed]:
    """Yield a charge, unless there is none of it or it costs nothing."""
    cost = sum((step.amount for step in steps), Decimal(0))
    if not quantity or not cost:
        return
    rate = _rate(book, charge.rung, cost, steps)
    line = OfferLine(
        charge.key,
        charge.group,
        charge.title,
        Quantity(quantity, charge.unit),
        rate.rate,
        times(quantity, rate.rate),
        marks,
        rate.parts,
    )
    yield Costed(
        line, scaled(rate.costs, quantity), cost * quantity if charge.is_hired else Decimal(0)
    )


def plant_lines(
    items: Collection[Item], programme: Programme, book: PriceBook, bought_in: Decimal
) -> Iterator[Costed]:
    """Yield the plant that the work needs, by the working day."""
    for number, plant in enumerate(book.plant, 1):
        if not plant.is_needed(items):
            continue
        is_hired = plant.hired is not None
        cost = plant.a_day(book.labour.hours_a_day) * (bought_in if is_hired else 1)
        charge = Charge(
            f"plant_{number}", Group.PROTECT, plant.title, Unit.DAY, PLANT, is_hired=is_hired
        )
        how = "hired, a day" if is_hired else f"own, {book.labour.hours_a_day:f} h a day"
        steps = (part(plant.title, how, cost),)
        yield from _charged(book, charge, plant.days(programme.work_days), steps)


def access_lines(
    reaches: Sequence[Reach], programme: Programme, book: PriceBook, bought_in: Decimal
) -> Iterator[Costed]:
    """Yield what reaching the work costs: hop-ups, a tower moved along, scaffolds."""
    access, weeks = book.access, Decimal(programme.weeks)
    by_means: dict[str, list[Reach]] = {}
    for reach in reaches:
        by_means.setdefault(reach.means, []).append(reach)

    def charge(
        key: str, title: str, unit: Unit, quantity: Decimal, cost: Decimal
    ) -> Iterator[Costed]:
        is_hired = key != "hop_up"
        steps = (
            part(title, "hired" if is_hired else "own", cost * (bought_in if is_hired else 1)),
        )
        kind = Charge(key, Group.ACCESS, title, unit, ACCESS, is_hired=is_hired)
        marks = tuple(reach.elevation for reach in by_means[key.removesuffix("_hire")])
        return _charged(book, kind, quantity, steps, marks=marks)

    if hop_ups := by_means.get("hop_up"):
        count = Decimal(len(hop_ups))
        yield from charge("hop_up", "Hop-up platform", Unit.NUMBER, count, access.hop_up)
    if towers := by_means.get("tower"):
        count = Decimal(len(towers))
        yield from charge("tower", "Tower put up and taken down", Unit.NUMBER, count, access.tower)
        yield from charge("tower_hire", "Tower hire", Unit.WEEK, weeks, access.tower_a_week)
    if scaffolds := by_means.get("scaffold"):
        face, standing = access.scaffold_m2(scaffolds), weeks * len(scaffolds)
        yield from charge(
            "scaffold",
            "Scaffold put up and taken down",
            Unit.SQUARE_METRE,
            face,
            access.scaffold_a_m2,
        )
        yield from charge(
            "scaffold_hire", "Scaffold hire", Unit.WEEK, standing, access.scaffold_a_week
        )


def visit_lines(programme: Programme, book: PriceBook, miles: Decimal) -> Iterator[Costed]:
    """Yield the travel, the setting up and the look-ins."""
    timing, sign = book.timing, book.symbol
    gang = gang_hour(book) * book.labour.gang.bricklayers
    travel = Charge("travel", Group.VISITS, "Travel to the site and back", Unit.DAY, VISITS)
    trips = Decimal(programme.trips)
    yield from _charged(book, travel, trips, _trip(book, miles, gang))
    setting_up = Charge(
        "setting_up", Group.VISITS, "Set up, and clear the site at the end", Unit.VISIT, VISITS
    )
    hours, hour = timing.setting_up_hours, gang_hour(book)
    steps: tuple[Part, ...] = (part("The gang", f"{hours:f} h at {sign}{hour}/h", hours * hour),)
    yield from _charged(book, setting_up, Decimal(programme.visits), steps)
    alone = bricklayer_hour(book)
    look_in = Charge("look_in", Group.VISITS, "Look in and mist the lime", Unit.VISIT, VISITS)
    mist = part(
        "Mist and look over",
        f"{timing.look_in_hours:f} h at {sign}{alone}/h",
        timing.look_in_hours * alone,
    )
    steps = (*_trip(book, miles, alone), mist)
    yield from _charged(book, look_in, Decimal(programme.look_ins), steps)


def _trip(book: PriceBook, miles: Decimal, hour: Decimal) -> tuple[Part, ...]:
    """Return what a drive there and back costs, for those whose hour costs so much."""
    travel, sign = book.travel, book.symbol
    far = miles * BOTH_WAYS
    hours = far * travel.minutes_a_mile / MINUTES
    van = part("Van", f"{far:f} miles at {sign}{travel.a_mile:f}", far * travel.a_mile)
    time = part("Time on the road", f"{hours:.2f} h at {sign}{hour}/h", hours * hour)
    return van, time


def preliminary_lines(programme: Programme, book: PriceBook) -> Iterator[Costed]:
    """Yield what the job costs once, and by the day."""
    once, daily = book.preliminaries.a_job, book.preliminaries.a_day
    job = Charge(
        "preliminaries",
        Group.PRELIMINARIES,
        "Plan of work, samples, deliveries",
        Unit.ITEM,
        PRELIMINARIES,
    )
    yield from _charged(book, job, Decimal(1), (part("For the job", "once", once),))
    day = Charge(
        "site_days", Group.PRELIMINARIES, "Looking after the site", Unit.DAY, PRELIMINARIES
    )
    yield from _charged(book, day, programme.work_days, (part("Each day", "a day", daily),))
