"""What the job keeps of its works: the plan, what was built, what it took."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from estimator.money import Money
from estimator.takeoff.lines import Item, Mark


class Nation(Enum):
    """Whose bank holidays are kept."""

    ENGLAND_AND_WALES = "England and Wales"
    SCOTLAND = "Scotland"
    NORTHERN_IRELAND = "Northern Ireland"


@dataclass(frozen=True, slots=True)
class Expected:
    """One day's weather as a forecast said, typed in."""

    on: datetime.date
    least_c: Decimal
    """Least temperature of day and night. [°C]"""
    greatest_c: Decimal | None = None
    heavy_rain: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """When the works are done and by whom; tasks follow one another from the start."""

    start: datetime.date
    gang: tuple[str, ...] = ()
    """Who comes."""
    nation: Nation = Nation.ENGLAND_AND_WALES
    working_week: tuple[int, ...] = (0, 1, 2, 3, 4)
    """Days worked, Monday is 0."""
    closed: tuple[datetime.date, ...] = ()
    """Days on which this firm does not work."""
    start_hour: int = 8
    not_before: tuple[tuple[str, datetime.date], ...] = ()
    """Tasks put off to a day, by their keys."""
    expected: tuple[Expected, ...] = ()
    """The weather as it was forecast when the plan was kept."""
    expected_on: datetime.date | None = None
    """The day that forecast was typed."""


@dataclass(frozen=True, slots=True)
class Built:
    """What was done at one mark, as built."""

    mark: Mark
    on: datetime.date
    what: str
    batch: str = ""
    """Number on the bag, tub or pack."""
    depth_mm: int = 0
    """Depth of slot or rake reached, 0 where it does not matter. [mm]"""
    deviation: str = ""
    """What differs from what was planned, and why."""
    photos: tuple[str, ...] = ()
    """Hashes of photographs that show it."""
    captions: tuple[str, ...] = ()
    """What is written under each of them, in their order."""


@dataclass(frozen=True, slots=True)
class Used:
    """A material used up."""

    material: str
    """Key in the price book."""
    quantity: Decimal
    cost: Money


@dataclass(frozen=True, slots=True)
class Booking:
    """Hours of bricklayers on one kind of work on one day, and materials with it."""

    on: datetime.date
    item: Item | None
    """None for setting up, travel and the like."""
    hours: Decimal
    """Of a bricklayer with the gang. [h]"""
    done: Decimal = Decimal(0)
    """How much was done in them, in the unit the work is measured in; 0 while not finished."""
    who: str = ""
    used: tuple[Used, ...] = ()


class Feature(Enum):
    """What a hold point makes sure of before the work goes on."""

    DEPTH = "depth reached"
    DRY_FIT = "bar fits dry"
    DUST_OUT = "dust out"
    DAMPED = "damped"
    POINTING_DEPTH = "pointing depth left"
    COVERED = "covered and damp"


@dataclass(frozen=True, slots=True)
class Held:
    """One hold point signed off."""

    feature: Feature
    mark: Mark
    on: datetime.date
    by: str


@dataclass(frozen=True, slots=True)
class Completion:
    """The works are complete."""

    on: datetime.date
    by: str
    notes: tuple[str, ...] = ()
    """What the customer should know, in plain sentences."""
