"""What measuring one kind of work yields, and the small makers of lines and needs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from estimator.takeoff import grout_and_mortar
from estimator.takeoff.lines import Item, Line, Mark, Need, Surety
from estimator.takeoff.side import Side
from estimator.units import Quantity, Unit

MM_PER_M = 1000.0
MM2_PER_M2 = 1_000_000.0
MM3_PER_L = 1_000_000.0
L_PER_M3 = 1000.0
NOISE = 1e-9
"""Lifts a half that binary noise has pressed down; quantities clear the same noise."""


@dataclass(frozen=True, slots=True)
class Part:
    """The lines and needs of one kind of work on one side, and what it leaves to clear up."""

    lines: tuple[Line, ...] = ()
    needs: tuple[Need, ...] = ()
    waste_kg: float = 0.0
    cleaned_m2: float = 0.0
    """Face of wall dirtied and cleaned again [m²]."""


NOTHING = Part()


class Detail(NamedTuple):
    """What stands beside the quantity of a line."""

    working: str
    marks: tuple[Mark, ...]
    depth_mm: float = 0.0
    surety: Surety = Surety.MEASURED


def line(side: Side, item: Item, amount: float, unit: Unit, detail: Detail) -> tuple[Line, ...]:
    """Return one line, or none where there is nothing of it.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = side_of(Elevation("f", "F", ((0, 0), (900, 0), (900, 750), (0, 750))), shipped(), "")
    >>> line(wall, Item.CUT_SLOT, 0.0, Unit.METRE, Detail("none", ("f",)))
    ()
    """
    quantity = Quantity.of(amount, unit)
    if quantity.amount <= 0:
        return ()
    # What was told on the telephone is neither measured nor counted.
    is_seen = detail.surety is Surety.ALLOWED or not side.is_told
    conditions = side.conditions(detail.depth_mm)
    return (
        Line(
            item,
            side.elevation.id,
            quantity,
            detail.working,
            detail.marks,
            conditions,
            detail.surety if is_seen else Surety.ASSUMED,
        ),
    )


def need(material: str, item: Item, amount: float, unit: Unit, working: str) -> tuple[Need, ...]:
    """Return one need, or none where nothing is needed.

    >>> need("grout", Item.SET_BAR, 2.3, Unit.LITRE, "")[0].quantity.amount
    Decimal('2.30')
    """
    quantity = Quantity.of(amount, unit)
    return (Need(material, quantity, working, item),) if quantity.amount > 0 else ()


def mortar_needs(side: Side, item: Item, litres: float, working: str) -> tuple[Need, ...]:
    """Return what goes into so many litres of the new mortar, waste in.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = side_of(Elevation("f", "F", ((0, 0), (900, 0), (900, 750), (0, 750))), shipped(), "")
    >>> mortar_needs(wall, Item.REPOINT, 0.0, "none")
    ()
    """
    if litres <= 0:
        return ()
    return tuple(
        Need(part.material, part.quantity, f"{working}: {part.working}", item)
        for part in grout_and_mortar.constituents(side.new_mortar, litres)
        if part.quantity.amount > 0
    )


def with_waste(litres: float, percent: float) -> float:
    """Return an amount with its waste added.

    >>> with_waste(2.0, 15)
    2.3
    """
    return round(litres * (100 + percent) / 100, 9)


def counted(count: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    >>> counted(1, "opening"), counted(2, "patch", "patches")
    ('1 opening', '2 patches')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def listed(names: Sequence[str]) -> str:
    """Return names as they are said one after another.

    >>> listed(["a", "b", "c"]), listed(["a"])
    ('a, b and c', 'a')
    """
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def two(value: float) -> str:
    """Write a figure of a working with two decimals, rounded half up as quantities are.

    >>> two(1.125), two(2.5)
    ('1.13', '2.50')
    """
    return f"{value + NOISE:.2f}"


def volume_l(length_m: float, height_mm: float, depth_mm: float) -> float:
    """Return the volume of a joint [L].

    >>> volume_l(8.0, 10, 25)
    2.0
    """
    return length_m * height_mm * depth_mm / MM_PER_M


def together(parts: Iterable[Part]) -> Part:
    """Return several parts as one, in their order.

    >>> together([Part(waste_kg=1.0), Part(waste_kg=2.0)]).waste_kg
    3.0
    """
    parts = tuple(parts)
    return Part(
        tuple(one for part in parts for one in part.lines),
        tuple(one for part in parts for one in part.needs),
        sum(part.waste_kg for part in parts),
        sum(part.cleaned_m2 for part in parts),
    )
