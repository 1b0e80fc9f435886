"""Lines for being there: plant, access, travel, setting up and preliminaries."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType

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
NONE = Decimal(0)


@dataclass(frozen=True, slots=True)
class Charge:
    """Something charged by time or number, and what one of it sells for."""

    key: str
    group: Group
    title: str
    unit: Unit
    rate: UnitRate
    hired: Decimal
    """Part of one that goes to a hire firm [£]."""

    def line(self, quantity: Decimal, marks: tuple[Mark, ...] = ()) -> Iterator[Costed]:
        """Yield the line for so many, unless there are none or they cost nothing."""
        if not quantity or not self.rate.rate:
            return
        line = OfferLine(
            self.key,
            self.group,
            self.title,
            Quantity(quantity, self.unit),
            self.rate.rate,
            times(quantity, self.rate.rate),
            marks,
            self.rate.parts,
        )
        yield Costed(line, scaled(self.rate.costs, quantity), self.hired * quantity)


@dataclass(frozen=True, slots=True)
class Site:
    """All charges of a price book for jobs so far away, bought-in things costing so much."""

    plant: tuple[Charge, ...]
    access: Mapping[str, Charge]
    travel: Charge
    setting_up: Charge
    look_in: Charge
    job: Charge
    day: Charge


@lru_cache(maxsize=256)
def site_of(book: PriceBook, bought_in: Decimal, miles: Decimal) -> Site:
    """Return the charges of a price book.

    Args:
        book: The price book.
        bought_in: What bought-in things cost for each pound before tax.
        miles: How far away the job is, one way [mile].

    >>> from estimator.pricing.price_book import shipped
    >>> site_of(shipped(), Decimal(1), Decimal(6)).travel.rate.rate
    Decimal('25.53')
    """
    return Site(
        plant=tuple(_plant(book, number, bought_in) for number in range(len(book.plant))),
        access=MappingProxyType(dict(_access(book, bought_in))),
        travel=_travel(book, miles),
        setting_up=_setting_up(book),
        look_in=_look_in(book, miles),
        job=_preliminary(book, "preliminaries", "Plan of work, samples, deliveries", Unit.ITEM),
        day=_preliminary(book, "site_days", "Looking after the site", Unit.DAY),
    )


def _priced(book: PriceBook, rung: str, parts: tuple[Part, ...]) -> UnitRate:
    cost = sum((one.amount for one in parts), NONE)
    return sold(book, ((rung, cost),), parts)


def _plant(book: PriceBook, number: int, bought_in: Decimal) -> Charge:
    plant, day = book.plant[number], book.labour.hours_a_day
    cost, how = plant.a_day(day), f"own, {day:f} h a day"
    if plant.hired is not None:
        cost, how = cost * bought_in, "hired, a day"
    rate = _priced(book, PLANT, (part(plant.title, how, cost),))
    hired = cost if plant.hired is not None else NONE
    return Charge(f"plant_{number + 1}", Group.PROTECT, plant.title, Unit.DAY, rate, hired)


def _access(book: PriceBook, bought_in: Decimal) -> Iterator[tuple[str, Charge]]:
    access = book.access
    hop_up = _priced(book, ACCESS, (part("Own hop-up", "each elevation", access.hop_up),))
    yield "hop_up", Charge("hop_up", Group.ACCESS, "Hop-up platform", Unit.NUMBER, hop_up, NONE)
    hired = (
        ("tower", "Tower put up and taken down", Unit.NUMBER, access.tower),
        ("tower_hire", "Tower hire", Unit.WEEK, access.tower_a_week),
        ("scaffold", "Scaffold put up and taken down", Unit.SQUARE_METRE, access.scaffold_a_m2),
        ("scaffold_hire", "Scaffold hire", Unit.WEEK, access.scaffold_a_week),
    )
    for key, title, unit, price in hired:
        cost = price * bought_in
        rate = _priced(book, ACCESS, (part(title, f"hire firm, each {unit.symbol}", cost),))
        yield key, Charge(key, Group.ACCESS, title, unit, rate, cost)


def _travel(book: PriceBook, miles: Decimal) -> Charge:
    gang = gang_hour(book) * book.labour.gang.bricklayers
    rate = _priced(book, VISITS, _trip(book, miles, gang))
    title = "Travel to the site and back"
    return Charge("travel", Group.VISITS, title, Unit.DAY, rate, NONE)


def _setting_up(book: PriceBook) -> Charge:
    hours, hour = book.timing.setting_up_hours, gang_hour(book)
    how = f"{hours:f} h at {book.symbol}{hour}/h"
    rate = _priced(book, VISITS, (part("The gang", how, hours * hour),))
    title = "Set up, and clear the site at the end"
    return Charge("setting_up", Group.VISITS, title, Unit.VISIT, rate, NONE)


def _look_in(book: PriceBook, miles: Decimal) -> Charge:
    hours, alone = book.timing.look_in_hours, bricklayer_hour(book)
    mist = part("Mist and look over", f"{hours:f} h at {book.symbol}{alone}/h", hours * alone)
    rate = _priced(book, VISITS, (*_trip(book, miles, alone), mist))
    title = "Look in and mist the lime"
    return Charge("look_in", Group.VISITS, title, Unit.VISIT, rate, NONE)


def _trip(book: PriceBook, miles: Decimal, hour: Decimal) -> tuple[Part, ...]:
    """Return what a drive there and back costs, for those whose hour costs so much."""
    travel, sign = book.travel, book.symbol
    far = miles * BOTH_WAYS
    hours = far * travel.minutes_a_mile / MINUTES
    van = part("Van", f"{far:f} miles at {sign}{travel.a_mile:f}", far * travel.a_mile)
    return van, part("Time on the road", f"{hours:.2f} h at {sign}{hour}/h", hours * hour)


def _preliminary(book: PriceBook, key: str, title: str, unit: Unit) -> Charge:
    is_daily = unit is Unit.DAY
    cost = book.preliminaries.a_day if is_daily else book.preliminaries.a_job
    steps = (part(title, "each day" if is_daily else "for the job", cost),)
    return Charge(key, Group.PRELIMINARIES, title, unit, _priced(book, PRELIMINARIES, steps), NONE)


def plant_lines(
    site: Site, items: Collection[Item], programme: Programme, book: PriceBook
) -> Iterator[Costed]:
    """Yield the plant that the work needs, by the working day.

    >>> from estimator.pricing.price_book import shipped
    >>> site = site_of(shipped(), Decimal(1), Decimal(6))
    >>> idle = Programme((), 1, Decimal("1.5"), 0, 2, 1)
    >>> [str(one.line.amount) for one in plant_lines(site, [Item.CUT_SLOT], idle, shipped())]
    ['42.95']
    """
    for plant, charge in zip(book.plant, site.plant, strict=True):
        if plant.is_needed(items):
            yield from charge.line(plant.days(programme.work_days))


def access_lines(
    site: Site, reaches: Sequence[Reach], programme: Programme, book: PriceBook
) -> Iterator[Costed]:
    """Yield what reaching the work costs: hop-ups, a tower moved along, scaffolds."""
    # One tower is moved along from side to side; a scaffold stands at each side for the whole job.
    by_means: dict[str, list[Reach]] = {}
    for reach in reaches:
        by_means.setdefault(reach.means, []).append(reach)
    weeks = Decimal(programme.weeks)
    for means, found in by_means.items():
        if means == "ground":
            continue
        marks = tuple(reach.elevation for reach in found)
        number = Decimal(len(found))
        is_scaffold = means == "scaffold"
        size = book.access.scaffold_m2(found) if is_scaffold else number
        yield from site.access[means].line(size, marks)
        if means != "hop_up":
            standing = weeks * number if is_scaffold else weeks
            yield from site.access[f"{means}_hire"].line(standing, marks)


def visit_lines(site: Site, programme: Programme) -> Iterator[Costed]:
    """Yield the travel, the setting up and the look-ins."""
    yield from site.travel.line(Decimal(programme.trips))
    yield from site.setting_up.line(Decimal(programme.visits))
    yield from site.look_in.line(Decimal(programme.look_ins))


def preliminary_lines(site: Site, programme: Programme) -> Iterator[Costed]:
    """Yield what the job costs once, and by the day."""
    yield from site.job.line(Decimal(1))
    yield from site.day.line(programme.work_days)
