"""How long work takes: hours of one bricklayer for a unit of each kind, by what is in the way.

Outputs hang on the work and its conditions, never on how much of it there is, so that twice the
work is never priced at less than the work.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.notices import UserMistake
from estimator.takeoff.lines import Conditions, Item
from estimator.units import Unit

ANY = "any"
HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a piece of work, for one unit of it."""

    title: str
    hours: Mapping[str, Decimal]
    """By the mortar in the wall, or ``any`` [h/unit]."""
    source: str
    charge: Decimal = Decimal(0)
    """Paid to others for each unit, such as tipping [£/unit]."""

    def hours_in(self, mortar: str) -> Decimal:
        """Return the hours in a mortar; in one not known, the longest, so as not to run short."""
        found = self.hours.get(mortar, self.hours.get(ANY))
        return found if found is not None else max(self.hours.values(), default=Decimal(0))


@dataclass(frozen=True, slots=True)
class Output:
    """What a unit of one kind of work takes."""

    item: Item
    title: str
    """As the customer reads it."""
    unit: Unit
    steps: tuple[Step, ...]
    usual_depth_mm: Decimal = Decimal(0)
    """Depth the hours hold for; deeper takes longer. 0 where depth does not matter [mm]."""
    percent_per_mm: Decimal = Decimal(0)
    materials: Mapping[str, Decimal] | None = None
    """Materials that are part of the rate itself, each unit [in the unit the material has]."""

    def deepened(self, depth_mm: int) -> Decimal:
        """Return how many times the hours a depth takes."""
        over = depth_mm - self.usual_depth_mm
        if not self.usual_depth_mm or over <= 0:
            return Decimal(1)
        return 1 + over * self.percent_per_mm / HUNDRED


@dataclass(frozen=True, slots=True)
class Repointing:
    """Hours to rake out and repoint a whole panel, by mortar and bond."""

    hours: Mapping[str, Mapping[str, Decimal]]
    """By mortar in the wall, then bond [h/m²]."""
    like: Mapping[str, str]
    """Bonds with no hours of their own, and the bond whose hours they take."""
    raking_share: Decimal
    """Share of the hours that goes into raking out."""
    usual_joint: Decimal
    """Joint in a square metre where a line does not say [m/m²]."""
    sources: Mapping[str, str]
    """By mortar in the wall."""

    def found_as(self, conditions: Conditions) -> str:
        """Return the mortar whose hours are taken.

        A mortar nobody named takes the longest hours, so as not to run short.

        >>> from estimator.pricing.price_book import shipped
        >>> shipped().repointing.found_as(Conditions())
        'hard cement'
        """
        if conditions.mortar in self.hours:
            return conditions.mortar
        return max(self.hours, key=lambda mortar: max(self.hours[mortar].values()))

    def panel_hours(self, conditions: Conditions) -> Decimal:
        """Return the hours to rake out and repoint a square metre [h/m²].

        >>> from estimator.pricing.price_book import shipped
        >>> table = shipped().repointing
        >>> table.panel_hours(Conditions(mortar="hard cement", bond="stretcher"))
        Decimal('1.0764')
        """
        by_bond = self.hours[self.found_as(conditions)]
        bond = self.like.get(conditions.bond, conditions.bond)
        return by_bond.get(bond, max(by_bond.values()))


@dataclass(frozen=True, slots=True)
class Taken:
    """Time taken by one step of a unit of work."""

    title: str
    hours: Decimal
    charge: Decimal
    source: str


def taken(output: Output, repointing: Repointing, conditions: Conditions) -> tuple[Taken, ...]:
    """Return the steps of a unit of work under its conditions.

    Raking out is measured in metres of joint and repointing in square metres; the hours of a panel
    are shared between the two.

    >>> from estimator.pricing.price_book import shipped
    >>> book = shipped()
    >>> steps = taken(book.output(Item.CUT_SLOT), book.repointing, Conditions(depth_mm=35))
    >>> steps[0].title, steps[0].hours
    ('Cut the joint', Decimal('0.1094'))
    """
    deeper = output.deepened(conditions.depth_mm)
    source = repointing.sources.get(repointing.found_as(conditions), "")
    # Cost books print hours for raking and repointing together, by the square metre.
    if output.item is Item.RAKE_OUT:
        metres = Decimal(conditions.joint_m_per_m2 or repointing.usual_joint)
        hours = repointing.panel_hours(conditions) * repointing.raking_share / metres * deeper
        return (Taken("Rake out and brush clean", hours, Decimal(0), source),)
    if output.item is Item.REPOINT:
        hours = repointing.panel_hours(conditions) * (1 - repointing.raking_share) * deeper
        return (Taken("Damp, fill and finish the joints", hours, Decimal(0), source),)
    return tuple(
        Taken(step.title, step.hours_in(conditions.mortar) * deeper, step.charge, step.source)
        for step in output.steps
    )


def hours_of(output: Output, repointing: Repointing, conditions: Conditions) -> Decimal:
    """Return the hours of one bricklayer for a unit of work [h/unit].

    >>> from estimator.pricing.price_book import shipped
    >>> book = shipped()
    >>> hours_of(book.output(Item.REPLACE_BRICK), book.repointing, Conditions(mortar="lime"))
    Decimal('0.75')
    """
    return sum((step.hours for step in taken(output, repointing, conditions)), Decimal(0))


def output_for(outputs: Mapping[Item, Output], item: Item, unit: Unit) -> Output:
    """Return the output of a kind of work.

    Raises:
        UserMistake: when the price book has none, or has it in another unit.

    >>> from estimator.pricing.price_book import shipped
    >>> output_for(shipped().outputs, Item.SET_BAR, Unit.METRE).title
    'Set helical bars in grout'
    """
    output = outputs.get(item)
    if output is None:
        raise UserMistake(
            f"the price book has no output for '{item.value}'",
            do="add it to its outputs",
            field="outputs",
        )
    if output.unit is not unit:
        raise UserMistake(
            f"the price book has '{item.value}' in {output.unit.symbol}",
            why=f"it is measured in {unit.symbol}",
            do="change the unit of that output",
            field="outputs",
        )
    return output
