"""Sums and quantities not known yet, and work paid by the hour.

Hidden bricks are priced as a provisional quantity with a rate agreed beforehand; the rules here say
when that rate stands, and what becomes of allowances once the real figure is known.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.money import Money, total
from estimator.pricing.buying import with_waste

HUNDRED = Decimal(100)
THOUSAND = Decimal(1000)


def rate_stands(allowed: Decimal, found: Decimal, *, review_from_percent: Decimal) -> bool:
    """Return whether a rate given for a provisional quantity stands for what was found.

    It stands while the change is smaller, and may be looked at again from there on. Source: NRM2,
    by way of designingbuildings.co.uk; a fifth is the share it names.

    >>> fifth = Decimal(20)
    >>> [rate_stands(Decimal(14), Decimal(found), review_from_percent=fifth) for found in (16, 17)]
    [True, False]
    """
    return abs(found - allowed) * HUNDRED < review_from_percent * allowed


def prime_cost_change(
    number: int, *, allowed: Money, invoiced: Money, waste_percent: Decimal = Decimal(0)
) -> Money:
    """Return what is added when materials allowed at so much a thousand cost something else.

    Overhead and profit are not changed by it; whoever wants them changed says so.

    >>> str(prime_cost_change(240, allowed=Money.of(480), invoiced=Money.of(620)))
    '33.60'
    """
    bought = with_waste(Decimal(number), waste_percent)
    return (invoiced - allowed).times(bought / THOUSAND)


@dataclass(frozen=True, slots=True)
class Daywork:
    """Percentages added to the prime cost of work paid by the hour."""

    labour_percent: Decimal
    materials_percent: Decimal
    plant_percent: Decimal


def daywork(labour: Money, materials: Money, plant: Money, percents: Daywork) -> Money:
    """Return the price of work paid by the hour: prime cost with its percentages.

    Source: Definition of Prime Cost of Daywork, 3rd edition, option A.

    >>> extra = Daywork(Decimal(110), Decimal(15), Decimal(15))
    >>> str(daywork(Money.of(117), Money.of(84), Money.of(40), extra))
    '388.30'
    """
    pairs = (
        (labour, percents.labour_percent),
        (materials, percents.materials_percent),
        (plant, percents.plant_percent),
    )
    return total(cost.times(1 + percent / HUNDRED) for cost, percent in pairs)
