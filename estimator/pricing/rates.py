"""Selling rates: a unit of work costed step by step, marked up, and rounded once to the penny.

A rate hangs on the price book, the conditions of the work and how bought-in things are taxed, never
on how much there is; so it is worked out once and kept.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache

from estimator.money import Money
from estimator.pricing.labour import all_in, penny
from estimator.pricing.offer import OfferLine, Part
from estimator.pricing.outputs import taken
from estimator.pricing.price_book import PriceBook
from estimator.takeoff.lines import Conditions, Item
from estimator.units import Unit, rounded

HUNDRED = Decimal(100)
MINUTES = Decimal(60)
LABOUR, MATERIALS, PLANT = "labour", "materials", "plant"
ACCESS, VISITS, PRELIMINARIES = "access", "visits", "preliminaries"
RUNGS = (LABOUR, MATERIALS, PLANT, ACCESS, VISITS, PRELIMINARIES)
"""Rungs of cost, in the order of the ladder."""

Cost = tuple[str, Decimal]
"""A rung and what is spent on it [£]."""


@dataclass(frozen=True, slots=True)
class Costed:
    """A line as sold, and what lies behind it."""

    line: OfferLine
    costs: tuple[Cost, ...]
    hired: Decimal = Decimal(0)
    """Part of the cost that goes to hire firms [£]."""
    is_goods: bool = False
    """Whether it is nothing but goods."""


@dataclass(frozen=True, slots=True)
class UnitRate:
    """What one unit of something sells for, and how that came about."""

    rate: Decimal
    """Whole pence [£/unit]."""
    hours: Decimal
    """Hours of one bricklayer [h/unit]."""
    costs: tuple[Cost, ...]
    """Each unit [£/unit]."""
    parts: tuple[Part, ...]


@lru_cache(maxsize=64)
def gang_hour(book: PriceBook) -> Decimal:
    """Return the cost of the gang for each hour of one bricklayer [£/h].

    >>> from estimator.pricing.price_book import shipped
    >>> gang_hour(shipped())
    Decimal('33.64')
    """
    return book.labour.hour


@lru_cache(maxsize=64)
def bricklayer_hour(book: PriceBook) -> Decimal:
    """Return the all-in cost of an hour of one bricklayer alone [£/h].

    >>> from estimator.pricing.price_book import shipped
    >>> bricklayer_hour(shipped())
    Decimal('24.38')
    """
    labour = book.labour
    return all_in(labour.bricklayer, labour.year, labour.on_costs).rate


def part(title: str, working: str, amount: Decimal) -> Part:
    """Return one step of a build-up, to a hundredth of a penny.

    >>> part("Cut the joint", "6.56 min", Decimal("3.680216")).amount
    Decimal('3.6802')
    """
    return Part(title, working, rounded(amount, 4))


def sold(book: PriceBook, costs: tuple[Cost, ...], parts: tuple[Part, ...]) -> UnitRate:
    """Return the selling rate of a cost, overhead and profit shown as its last parts.

    >>> from estimator.pricing.price_book import shipped
    >>> sold(shipped(), (("labour", Decimal(10)),), ()).rate
    Decimal('12.73')
    """
    additions, sign = book.additions, book.symbol
    cost = sum((amount for _rung, amount in costs), Decimal(0))
    overhead = cost * additions.overhead_percent / HUNDRED
    profit = (cost + overhead) * additions.profit.markup_percent / HUNDRED
    extra = (
        part("Overhead", f"{additions.overhead_percent:f} % of {sign}{cost:.2f}", overhead),
        part("Profit", additions.profit.words, profit),
    )
    return UnitRate(penny(cost * additions.factor), Decimal(0), costs, (*parts, *extra))


@lru_cache(maxsize=4096)
def unit_rate(
    book: PriceBook, item: Item, unit: Unit, conditions: Conditions, bought_in: Decimal
) -> UnitRate:
    """Return the rate for one unit of measured work.

    Args:
        book: The price book.
        item: The kind of work.
        unit: The unit it is measured in.
        conditions: What makes it quicker or slower.
        bought_in: What bought-in things cost for each pound before tax.

    Raises:
        UserMistake: when the price book has no output for the work.

    >>> from estimator.pricing.price_book import shipped
    >>> at = Conditions(mortar="lime", depth_mm=35)
    >>> unit_rate(shipped(), Item.CUT_SLOT, Unit.METRE, at, Decimal(1)).hours
    Decimal('0.1799')
    """
    output, hour, sign = book.output(item, unit), gang_hour(book), book.symbol
    spent = {LABOUR: Decimal(0), MATERIALS: Decimal(0), PLANT: Decimal(0)}
    parts: list[Part] = []
    hours = Decimal(0)
    for step in taken(output, book.repointing, conditions):
        hours += step.hours
        if step.hours:
            minutes = f"{step.hours * MINUTES:.2f} min at {sign}{hour}/h"
            parts.append(part(step.title, minutes, step.hours * hour))
        if step.charge:
            spent[PLANT] += step.charge
            parts.append(part(f"{step.title}: charge", "paid to others", step.charge))
    spent[LABOUR] = hours * hour
    for key, amount in (output.materials or {}).items():
        material = book.materials[key]
        cost = amount * material.unit_price * bought_in
        spent[MATERIALS] += cost
        parts.append(part(material.title, f"{amount:f} {material.unit.symbol}", cost))
    costs = tuple((rung, amount) for rung, amount in spent.items() if amount)
    # Rounded here, once for each unit: a line is then exactly its quantity times what is printed.
    rate = sold(book, costs, tuple(parts))
    return UnitRate(rate.rate, hours, rate.costs, rate.parts)


def times(quantity: Decimal, rate: Decimal) -> Money:
    """Return quantity × rate, rounded once, half up to the penny.

    >>> str(times(Decimal("16.5"), Decimal("38.50")))
    '635.25'
    """
    # The rounding of Money.of without its look at what it is given: both are exact here, and a
    # job has a line for everything.
    return Money(int((quantity * rate * HUNDRED).to_integral_value(ROUND_HALF_UP)))


def scaled(costs: tuple[Cost, ...], quantity: Decimal) -> tuple[Cost, ...]:
    """Return the costs of so many units.

    >>> scaled((("labour", Decimal("1.5")),), Decimal(4))
    (('labour', Decimal('6.0')),)
    """
    return tuple((rung, amount * quantity) for rung, amount in costs)
