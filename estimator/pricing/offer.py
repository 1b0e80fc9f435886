"""A priced offer: lines that add up to the penny, the ladder behind them, tax, time and buying."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from estimator.money import Money
from estimator.notices import Notice
from estimator.takeoff.cutting import CuttingList
from estimator.takeoff.lines import Mark, Surety
from estimator.takeoff.scope import Scope
from estimator.units import Quantity


class Group(Enum):
    """Where a line stands on the customer's paper; the order is the order printed."""

    BEDS = "Cut out beds, clean and damp"
    BARS = "Bars in grout"
    CRACK = "Rake and point the crack and the cuts"
    PANEL = "Rake out and repoint the panel"
    BRICKS = "Cracked bricks"
    PROTECT = "Protection, dust extraction, waste away"
    ACCESS = "Access"
    VISITS = "Travel and setting up"
    PRELIMINARIES = "Preliminaries and risk"


@dataclass(frozen=True, slots=True)
class Part:
    """One step of how a rate was built: minutes, litres, packs, percentages."""

    title: str
    working: str
    amount: Decimal
    """Per unit of the line, or for the whole line where the working says so. [£]"""


@dataclass(frozen=True, slots=True)
class OfferLine:
    """One priced line: quantity × rate, rounded once."""

    item: str
    group: Group
    description: str
    quantity: Quantity
    rate: Decimal
    """Selling rate, whole pence. [£/unit]"""
    amount: Money
    marks: tuple[Mark, ...] = ()
    parts: tuple[Part, ...] = ()
    surety: Surety = Surety.MEASURED


@dataclass(frozen=True, slots=True)
class Rung:
    """One step of the ladder from cost to price, as the contractor sees it."""

    key: str
    """``labour``, ``materials``, ``plant``, ``access``, ``visits``, ``preliminaries``, ``risk``,
    ``overhead``, ``profit``, ``rounding``, ``minimum``, ``net``, ``tax``, ``total``."""
    title: str
    working: str
    amount: Money


@dataclass(frozen=True, slots=True)
class TaxLine:
    """Tax at one rate."""

    title: str
    rate: Decimal
    """Per cent."""
    base: Money
    amount: Money
    charged: bool = True
    """False for a reverse charge: shown, and left out of the total."""


@dataclass(frozen=True, slots=True)
class Bought:
    """One material bought for the whole job."""

    material: str
    title: str
    needed: Quantity
    packs: int
    pack_size: Decimal
    pack_price: Money
    cost: Money


@dataclass(frozen=True, slots=True)
class Mixed:
    """How often a material that stiffens is mixed."""

    title: str
    mixes: int
    at_once: Quantity
    """Most that is mixed at once; what is mixed beyond it stiffens before it is placed."""
    working_minutes: int
    """How long a mix can be worked; the bag's own time takes the place of ours. [min]"""


@dataclass(frozen=True, slots=True)
class Step:
    """One visit or wait of the programme."""

    title: str
    days: Decimal
    """Working days for a visit, calendar days for a wait. [day]"""
    is_wait: bool
    reason: str


@dataclass(frozen=True, slots=True)
class Offer:
    """One scope, priced."""

    scope: Scope
    lines: tuple[OfferLine, ...]
    rungs: tuple[Rung, ...]
    net: Money
    taxes: tuple[TaxLine, ...]
    total: Money
    """What the customer pays, tax in. [£]"""
    deduction: Money
    """Construction-scheme deduction a trade customer keeps back, nothing for others. [£]"""
    labour_hours: Decimal
    working_days: Decimal
    programme: tuple[Step, ...]
    buying: tuple[Bought, ...]
    cutting: CuttingList
    further_brick: Money
    """Selling rate for each further cracked brick, before tax. [£]"""
    notices: tuple[Notice, ...]
    visible: tuple[str, ...]
    """What is left to be seen on the wall, in plain sentences."""
    mixing: tuple[Mixed, ...] = ()
