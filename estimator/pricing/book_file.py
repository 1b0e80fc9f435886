"""Reading the sections of a price book, each mistake named by the place it stands at.

Built from the small readers of the survey file, with figures read as exact decimals: a number in
quotes is taken as it is written, and one without quotes only where it is whole.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import fields
from decimal import Decimal
from enum import Enum
from functools import cache
from types import MappingProxyType
from typing import Any, TypeVar

from estimator.masonry.bond import bond_keys
from estimator.money import Money
from estimator.pricing.build_up import Additions, Profit, ProfitKind
from estimator.pricing.buying import Material
from estimator.pricing.labour import Gang, Grade, Labour, OnCosts, WorkingYear
from estimator.pricing.outputs import ANY, Output, Repointing, Step
from estimator.pricing.plant import Access, Hired, Owned, Plant
from estimator.pricing.programme import Timing
from estimator.pricing.tax_habits import Deduction, Rounding, SalesTax, TaxHabits
from estimator.survey.json_text import shown
from estimator.survey.limits import Limit
from estimator.survey.reading import (
    Place,
    Read,
    Shape,
    choice,
    flag,
    group,
    key,
    listed,
    shape,
    text,
    whole,
)
from estimator.survey.survey import Mortar
from estimator.takeoff.cutting import Stock
from estimator.takeoff.lines import Item
from estimator.units import Unit

T = TypeVar("T")

WRITTEN = re.compile(r"[0-9]{1,9}(\.[0-9]{1,6})?")
MOST_ENTRIES = 500

name = text(200, blank=False)
"""Reader of a name, a title or the source of a figure."""


def figure(low: str, high: str, unit: str = "") -> Read[Decimal]:
    """Make a reader of an exact decimal within limits.

    >>> figure("0", "100", "per cent")("12.5", Place())
    Decimal('12.5')
    """
    least, most = Decimal(low), Decimal(high)
    of_unit = f" of {unit}" if unit else ""
    do = f'write a number{of_unit} from {least:,} to {most:,} in quotes, such as "{least}"'

    def read(value: object, place: Place) -> Decimal:
        written = str(value) if isinstance(value, int) and not isinstance(value, bool) else value
        if not isinstance(written, str) or not WRITTEN.fullmatch(written):
            raise place.mistake(f"is {shown(value)}", do)
        found = Decimal(written)
        if not least <= found <= most:
            raise place.mistake(f"is {written}", do)
        return found

    return read


percent = figure("0", "100", "per cent")
"""Reader of a percentage."""
below_all = figure("0", "99", "per cent")
"""Reader of a percentage that must leave something over."""
pounds = figure("0", "1000000", "pounds")
"""Reader of an amount in the trader's own money."""
hours = figure("0", "10000", "hours")
"""Reader of hours."""
hours_of_a_day = figure("0.5", "24", "hours")
"""Reader of the hours worked in a day."""
some = figure("0.000001", "1000000")
"""Reader of an amount above nothing."""
minutes = figure("0", "60", "minutes")
"""Reader of minutes."""
days = figure("0", "365", "days")
"""Reader of days."""


def price(value: object, place: Place) -> Money:
    """Read an amount of money in whole pence.

    >>> str(price("12.50", Place()))
    '12.50'
    """
    amount = pounds(value, place)
    if amount != round(amount, 2):
        raise place.mistake(f"is {shown(value)}", "write pounds and whole pence")
    return Money.of(amount)


def whole_pounds(value: object, place: Place) -> Money:
    """Read a step of whole pounds, such as a range is rounded to."""
    amount = price(value, place)
    if amount.pence < 100 or amount.pence % 100:
        raise place.mistake(f"is {shown(value)}", "write whole pounds, 1 or more")
    return amount


def table(known: Callable[[], Collection[str]], read: Read[T]) -> Read[Mapping[str, T]]:
    """Make a reader of a group of entries under names that are known.

    >>> table(lambda: ("lime",), hours)({"lime": "0.5"}, Place())["lime"]
    Decimal('0.5')
    """
    named = key(known)

    def read_all(value: object, place: Place) -> Mapping[str, T]:
        given = group(value, place)
        if not given:
            raise place.mistake("is empty", "write at least one entry")
        entries = {
            named(name, place.at(name)): read(entry, place.at(name))
            for name, entry in given.items()
        }
        return MappingProxyType(entries)

    return read_all


def mortars() -> tuple[str, ...]:
    """Return the mortars a wall may be found in."""
    return tuple(mortar.value for mortar in Mortar)


def any_or_mortars() -> tuple[str, ...]:
    """Return the mortars, and the word for all of them."""
    return (ANY, *mortars())


@cache
def symbols() -> Mapping[str, Unit]:
    """Return the units by their symbols."""
    return MappingProxyType({unit.symbol: unit for unit in Unit})


def unit(value: object, place: Place) -> Unit:
    """Read the symbol of a unit.

    >>> unit("m²", Place())
    <Unit.SQUARE_METRE: ('m²', 2, 'MTK')>
    """
    return symbols()[key(lambda: tuple(symbols()))(value, place)]


def keyed(read: Read[T], called: str, by: Callable[[T], Any]) -> Read[Mapping[Any, T]]:
    """Make a reader of a list whose entries are then found by a key, each key once."""
    entries = listed(read, called, (0, MOST_ENTRIES))

    def read_all(value: object, place: Place) -> Mapping[Any, T]:
        found: dict[Any, T] = {}
        for entry in entries(value, place):
            if by(entry) in found:
                one = by(entry)
                label = one.value if isinstance(one, Enum) else one
                raise place.mistake(f"has '{label}' twice", "keep one of them")
            found[by(entry)] = entry
        return MappingProxyType(found)

    return read_all


def _same(build: type[T], read: Read[Any], **others: Read[Any]) -> Read[T]:
    """Make the reader of a dataclass most of whose fields are read alike."""
    readers = {entry.name: others.get(entry.name, read) for entry in fields(build)}  # type: ignore[arg-type]
    return shape(build, readers)


_grade = shape(Grade, {"title": name, "basic": pounds, "tools": pounds, "source": name})
_year = _same(
    WorkingYear,
    hours,
    weeks=figure("1", "53", "weeks"),
    hours_a_week=figure("1", "80", "hours"),
    weather_percent=below_all,
    source=name,
)
_on_costs = _same(
    OnCosts,
    percent,
    contribution_above=pounds,
    pension_above=pounds,
    training=pounds,
    source=name,
)
_gang = shape(
    Gang,
    {
        "bricklayers": figure("1", "20", "bricklayers"),
        "labourers": figure("0", "20", "labourers"),
        "source": name,
    },
)
_labour_as_written = shape(
    Labour,
    {
        "bricklayer": _grade,
        "labourer": _grade,
        "year": _year,
        "on_costs": _on_costs,
        "gang": _gang,
        "hours_a_day": hours_of_a_day,
    },
)


def labour(value: object, place: Place) -> Labour:
    """Read who is employed and how; a year must leave hours to work in."""
    found = _labour_as_written(value, place)
    if found.year.productive_hours <= 0:
        raise place.at("year").mistake(
            "leaves no hours to work in", "write fewer hours of leave, sickness and training"
        )
    return found


_material_fields: dict[str, Read[Any]] = {
    "key": name,
    "title": name,
    "unit": unit,
    "pack": text(40),
    "pack_size": some,
    "pack_price": price,
    "source": name,
    "working_minutes": whole(Limit(0, 1440, "minutes")),
}
materials = keyed(shape(Material, _material_fields), "material", lambda entry: entry.key)
"""Reader of the materials, by key."""

_step = shape(
    Step,
    {"title": name, "hours": table(any_or_mortars, hours), "source": name, "charge": pounds},
)
_output = shape(
    Output,
    {
        "item": choice(Item),
        "title": name,
        "unit": unit,
        "steps": listed(_step, "step", (0, 50)),
        "usual_depth_mm": figure("0", "500", "mm"),
        "percent_per_mm": percent,
        "materials": lambda value, place: table(lambda: group(value, place), some)(value, place),
    },
)
outputs = keyed(_output, "output", lambda entry: entry.item)
"""Reader of the outputs, by kind of work."""

repointing = shape(
    Repointing,
    {
        "hours": table(mortars, table(bond_keys, hours)),
        "like": table(bond_keys, key(bond_keys)),
        "raking_share": figure("0", "1"),
        "usual_joint": figure("1", "100", "metres"),
        "sources": table(mortars, name),
    },
)
"""Reader of the hours of whole panels."""

_stock: Shape[Stock] = Shape(
    lambda length_mm, price: Stock(length_mm, price.pence),
    {"length_mm": whole(Limit(100, 20_000, "mm")), "price": price},
    ("length_mm", "price"),
)
stocks = listed(_stock, "bar", (1, 50))
"""Reader of the lengths bars are sold in."""

_hired = shape(Hired, {"a_day": pounds, "least_days": days})
_owned = _same(Owned, pounds, life_hours=some)
_plant_as_written = shape(
    Plant,
    {
        "title": name,
        "items": lambda value, place: frozenset(
            listed(choice(Item), "item", (1, len(Item)))(value, place)
        ),
        "source": name,
        "owned": _owned,
        "hired": _hired,
    },
)


def _plant(value: object, place: Place) -> Plant:
    found = _plant_as_written(value, place)
    if (found.owned is None) == (found.hired is None):
        raise place.mistake("is not either owned or hired", "write one of the two")
    if found.owned is not None and found.owned.resale > found.owned.price:
        raise place.mistake("is sold for more than it cost", "write a smaller resale")
    return found


plants = listed(_plant, "plant", (0, 50))
"""Reader of the plant."""
_access_as_written = _same(Access, pounds, scaffold_least_m2=some, source=name)


def access(value: object, place: Place) -> Access:
    """Read what reaching the work costs, which never falls as it reaches higher."""
    found = _access_as_written(value, place)
    if not found.is_in_order:
        raise place.mistake(
            "makes higher work cheaper",
            "write prices that rise from hop-up to tower to scaffold, hire too",
        )
    return found


timing = _same(
    Timing,
    hours,
    wet_on_wet=flag,
    grout_wait_days=days,
    brick_wait_days=days,
    look_ins=whole(Limit(0, 30, "visits")),
    source=name,
)
"""Reader of how the contractor works."""

_profit_fields: dict[str, Read[Any]] = {"kind": choice(ProfitKind), "percent": below_all}
additions = shape(
    Additions,
    {
        "risk_percent": percent,
        "overhead_percent": percent,
        "profit": shape(Profit, _profit_fields),
    },
)
"""Reader of risk, overhead and profit."""

tax = shape(
    TaxHabits,
    {
        "country": key(lambda: ("GB", "IE", "DE", "US")),
        "registered": flag,
        "rounding": choice(Rounding),
        "deduction": choice(Deduction),
        "sales_tax": choice(SalesTax),
        "sales_tax_percent": percent,
    },
)
"""Reader of how the trader is taxed."""
