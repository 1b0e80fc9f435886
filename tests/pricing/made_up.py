"""Measured work made up by the thousand: any mix of items, needs, bars and reaches.

Built from one random number, so that ten thousand cost seconds; a failing one is told by its
number. Few conditions and distances, so that rates are mostly found worked out already.
"""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal
from functools import cache
from random import Random

from estimator.money import NOTHING
from estimator.pricing.build_up import Additions, Profit, ProfitKind
from estimator.pricing.plant import Hired, Plant
from estimator.pricing.price_book import PriceBook, shipped
from estimator.pricing.tax_habits import Deduction, Rounding
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind
from estimator.takeoff.lines import Bar, Conditions, Item, Line, Measure, Need, Reach, Surety
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT
from estimator.units import Quantity, Unit

DAY = datetime.date(2026, 11, 25)
MORTARS = ("lime", "cement-lime", "hard cement")
BONDS = (("stretcher", "17.185"), ("flemish", "18.469"))
NEW = ("nhl35_1_3", "cement_lime_1_1_6")
MEANS = ("ground", "hop_up", "tower", "scaffold")
MILES = tuple(map(Decimal, ("0", "6.5", "40")))
PIECES = (600, 900, 1000, 1200)
PLACES = {Unit.METRE: 2, Unit.SQUARE_METRE: 2, Unit.KILOGRAM: 2, Unit.LITRE: 2, Unit.NUMBER: 0}
UK_ONLY = "GB 000 0000 00"


@cache
def books() -> tuple[PriceBook, ...]:
    """The shipped book, and others that differ in all that bears on how lines add up."""
    book = shipped()
    hired = Plant(
        "Grinder, hired", frozenset({Item.CUT_SLOT}), "house", hired=Hired(Decimal(38), Decimal(2))
    )
    bare = Additions(Decimal(0), Decimal(0), Profit(ProfitKind.MARKUP, Decimal(0)))
    odd = Additions(Decimal("3.7"), Decimal("17.3"), Profit(ProfitKind.MARKUP, Decimal("11.9")))
    return (
        book,
        replace(book, additions=bare, minimum_charge=NOTHING),
        replace(
            book,
            additions=odd,
            plant=(*book.plant, hired),
            timing=replace(book.timing, wet_on_wet=False),
        ),
    )


def amount(chance: Random, unit: Unit, most: int = 40) -> Decimal:
    """A quantity as its unit is written."""
    places = PLACES[unit]
    return Decimal(chance.randint(1, most * 10**places)).scaleb(-places)


def conditions(chance: Random) -> Conditions:
    """What makes work quicker or slower."""
    bond, joint = chance.choice(BONDS)
    return Conditions(
        chance.choice(MORTARS), bond, chance.choice((20, 60)), chance.choice(NEW), joint
    )


def line(chance: Random, among: tuple[Conditions, ...] = ()) -> Line:
    """One line of any kind of work."""
    item = chance.choice(tuple(Item))
    unit = shipped().outputs[item].unit
    side = chance.choice(("front", "rear"))
    return Line(
        item,
        side,
        Quantity(amount(chance, unit), unit),
        "",
        (f"{side}/{item.value}/{chance.randint(1, 9)}",),
        chance.choice(among) if among else conditions(chance),
        chance.choice(tuple(Surety)),
    )


def need(chance: Random) -> Need:
    """One material for any kind of work."""
    material = chance.choice(tuple(shipped().materials.values()))
    quantity = Quantity(amount(chance, material.unit), material.unit)
    return Need(material.key, quantity, "", chance.choice(tuple(Item)))


def bar(chance: Random, number: int) -> Bar:
    """One bar, sometimes lapped."""
    pieces = tuple(chance.choice(PIECES) for _piece in range(1 + (chance.random() < 0.1)))
    return Bar(
        id=f"front/bar/{number}",
        elevation="front",
        course=number,
        left_mm=0,
        right_mm=pieces[0],
        y_mm=75 * number,
        turn_left_mm=0,
        turn_right_mm=0,
        pieces_mm=pieces,
        slot_depth_mm=35,
        bed_mm=10,
        thin=False,
        cracks=("a",),
        reasons=(),
    )


def reach(chance: Random, number: int) -> Reach:
    """One elevation worked on, at any height."""
    means = chance.choice(MEANS)
    top, width = chance.uniform(300, 9000), chance.uniform(500, 12000)
    return Reach(f"side-{number}", top, width, means, "")


def measure(chance: Random) -> Measure:
    """All the work of a job."""
    among = tuple(conditions(chance) for _each in range(2))
    return Measure(
        chance.choice((LOCAL, PANEL, REPOINT)),
        tuple(line(chance, among) for _each in range(chance.randint(0, 8))),
        tuple(bar(chance, number) for number in range(1, chance.randint(0, 6) + 1)),
        tuple(need(chance) for _each in range(chance.randint(0, 5))),
        tuple(reach(chance, number) for number in range(chance.randint(0, 3))),
        (),
        (),
    )


def terms(chance: Random) -> Terms:
    """Who buys, and how tax is treated."""
    customer = chance.choice(tuple(CustomerKind))
    registered = chance.random() < 0.7
    is_trade = customer is CustomerKind.TRADE
    return Terms(
        DAY,
        country="GB" if is_trade else chance.choice(("GB", "IE", "DE")),
        customer=customer,
        registered=registered,
        rounding=chance.choice(tuple(Rounding)),
        reverse_charge=is_trade and registered and chance.random() < 0.5,
        customer_tax_number=UK_ONLY if is_trade else "",
        is_end_user=False,
        deduction=chance.choice(tuple(Deduction)) if is_trade else Deduction.NONE,
        empty_months=chance.choice((0, 30)),
        empty_evidence=chance.random() < 0.5,
        travel_miles=chance.choice(MILES),
    )
