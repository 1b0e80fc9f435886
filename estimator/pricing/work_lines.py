"""Lines for measured work: the same work on several elevations is one line at one rate."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType

from estimator.pricing.offer import Group, OfferLine
from estimator.pricing.outputs import Output
from estimator.pricing.price_book import PriceBook
from estimator.pricing.rates import Costed, UnitRate, scaled, times, unit_rate
from estimator.takeoff.grout_and_mortar import mortar
from estimator.takeoff.lines import Conditions, Item, Line, Mark, Surety
from estimator.units import Quantity, Unit

GROUPS: Mapping[Item, Group] = MappingProxyType(
    {
        Item.CUT_SLOT: Group.BEDS,
        Item.SKIM_ARRIS: Group.BEDS,
        Item.SET_BAR: Group.BARS,
        Item.TURN_BAR: Group.BARS,
        Item.LAP_BAR: Group.BARS,
        Item.POINT_SLOT: Group.CRACK,
        Item.POINT_CRACK_BED: Group.CRACK,
        Item.POINT_PERPEND: Group.CRACK,
        Item.RAKE_OUT: Group.PANEL,
        Item.REPOINT: Group.PANEL,
        Item.REPLACE_BRICK: Group.BRICKS,
        Item.REPLACE_HALF_BRICK: Group.BRICKS,
        Item.TURN_BRICK: Group.BRICKS,
        Item.PATCH_BRICK: Group.BRICKS,
        Item.TOOTH_IN: Group.BRICKS,
        Item.ALLOWED_BRICK: Group.BRICKS,
        Item.MAKE_GOOD: Group.PROTECT,
        Item.PROTECT: Group.PROTECT,
        Item.CLEAR_WASTE: Group.PROTECT,
    }
)
"""Where each kind of work stands on the customer's paper."""
CUT_IN_OLD = frozenset({Item.CUT_SLOT, Item.RAKE_OUT})
"""Work whose description names the mortar in the wall."""
POINTED = frozenset(
    {Item.POINT_SLOT, Item.POINT_CRACK_BED, Item.POINT_PERPEND, Item.REPOINT, Item.REPLACE_BRICK}
)
"""Work whose description names the new mortar."""


@dataclass(slots=True)
class _Merged:
    unit: Unit
    quantity: Decimal
    marks: dict[Mark, None]


Alike = tuple[Item, Conditions, Surety]


def merged(lines: Iterable[Line]) -> dict[Alike, _Merged]:
    """Return lines of the same work added together, their marks joined.

    >>> slot = Line(Item.CUT_SLOT, "front", Quantity.of(2, Unit.METRE), "", ("front/bar/1",))
    >>> [str(one.quantity) for one in merged([slot, slot]).values()]
    ['4.00']
    """
    # A dictionary of marks keeps their order and drops those met before.
    found: dict[Alike, _Merged] = {}
    for line in lines:
        alike = (line.item, line.conditions, line.surety)
        one = found.get(alike)
        if one is None:
            found[alike] = _Merged(
                line.quantity.unit, line.quantity.amount, dict.fromkeys(line.marks)
            )
        else:
            # Adding quantities as such refuses to mix units.
            one.quantity = (Quantity(one.quantity, one.unit) + line.quantity).amount
            one.marks.update(dict.fromkeys(line.marks))
    return found


@dataclass(frozen=True, slots=True)
class Work:
    """All measured work, priced, and the hours it takes."""

    lines: tuple[Costed, ...]
    hours: Mapping[Item, Decimal]
    marks: Mapping[Item, tuple[Mark, ...]]


def work_of(lines: Iterable[Line], book: PriceBook, bought_in: Decimal) -> Work:
    """Return the measured work, priced line by line.

    Raises:
        UserMistake: when the price book has no output for some work, or has it in another unit.

    >>> from estimator.pricing.price_book import shipped
    >>> slot = Line(Item.CUT_SLOT, "front", Quantity.of(8, Unit.METRE), "8 × 1.00 m", ())
    >>> work_of([slot], shipped(), Decimal(1)).hours[Item.CUT_SLOT]
    Decimal('1.439200')
    """
    priced: list[Costed] = []
    hours: dict[Item, Decimal] = {}
    marks: dict[Item, tuple[Mark, ...]] = {}
    for (item, conditions, surety), one in merged(lines).items():
        rate, text, group = _kind(book, item, one.unit, conditions, bought_in)
        own = tuple(one.marks)
        hours[item] = hours.get(item, Decimal(0)) + rate.hours * one.quantity
        marks[item] = marks.get(item, ()) + own
        sold = OfferLine(
            item.value,
            group,
            text,
            Quantity(one.quantity, one.unit),
            rate.rate,
            times(one.quantity, rate.rate),
            own,
            rate.parts,
            surety,
        )
        priced.append(Costed(sold, scaled(rate.costs, one.quantity)))
    return Work(tuple(priced), hours, marks)


@lru_cache(maxsize=4096)
def _kind(
    book: PriceBook, item: Item, unit: Unit, conditions: Conditions, bought_in: Decimal
) -> tuple[UnitRate, str, Group]:
    """Return what every line of one kind of work has in common."""
    rate = unit_rate(book, item, unit, conditions, bought_in)
    return rate, describe(book.output(item), conditions), GROUPS[item]


def describe(output: Output, conditions: Conditions) -> str:
    """Return what a line says to the customer.

    >>> from estimator.pricing.price_book import shipped
    >>> describe(shipped().output(Item.CUT_SLOT), Conditions(mortar="lime", depth_mm=35))
    'Cut out bed joints for bars, clean and damp, 35 mm deep, in lime mortar'
    """
    text = output.title
    if conditions.depth_mm:
        text += f", {conditions.depth_mm} mm deep"
    if output.item in CUT_IN_OLD and conditions.mortar:
        text += f", in {conditions.mortar} mortar"
    if output.item in POINTED and conditions.new_mortar:
        title = mortar(conditions.new_mortar).title
        text += f", in {title[0].lower()}{title[1:]}"
    return text
