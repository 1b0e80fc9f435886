"""The contract: the frozen quotation as it was accepted, and the terms that came with it."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from estimator.money import NOTHING, Money
from estimator.pricing.offer import Group
from estimator.pricing.terms import Terms
from estimator.takeoff.lines import Mark
from estimator.takeoff.scope import Scope
from estimator.units import Unit


class Manner(Enum):
    """How somebody gave an answer, or was told."""

    SIGNED = "signed"
    EMAIL = "by e-mail"
    MESSAGE = "by message"
    TELEPHONE = "by telephone"
    IN_PERSON = "in person"

    @property
    def is_spoken(self) -> bool:
        """Whether nothing is in writing yet."""
        return self in (Manner.TELEPHONE, Manner.IN_PERSON)


class Made(Enum):
    """Where a contract was made; the law on cancelling looks at it."""

    AT_THEIR_HOME = "at the customer's home"
    AT_A_DISTANCE = "at a distance"
    AT_OUR_PREMISES = "at our premises"


class StageDue(Enum):
    """When a part of the price falls due."""

    ON_ACCEPTANCE = "on acceptance"
    AT_START = "when work starts"
    DURING = "during the work"
    ON_COMPLETION = "on completion"


@dataclass(frozen=True, slots=True)
class StageTerm:
    """One part of the price, as agreed beforehand; the last takes the balance."""

    title: str
    percent: Decimal
    due: StageDue


@dataclass(frozen=True, slots=True)
class Retention:
    """What the customer keeps back of the price before tax; nothing for households, as a rule."""

    percent: Decimal = Decimal(0)
    months: int = 0
    """From completion to the second half [month]."""


@dataclass(frozen=True, slots=True)
class Cancelling:
    """What the law on cancelling needs to know of how a contract was made."""

    made: Made = Made.AT_A_DISTANCE
    notice_given: datetime.date | None = None
    """When the customer was given the notice of the right to cancel; None for never."""
    is_urgent: bool = False
    """Whether the customer asked for this very visit, for urgent repairs."""
    early_start: datetime.date | None = None
    """When the customer expressly asked, in writing, that work start within the time."""
    goods_arrive: datetime.date | None = None
    """Last day goods that stay goods are delivered, None where all is built in."""


@dataclass(frozen=True, slots=True)
class Sold:
    """One line of the price as it stands: what, how much, at which rate, for how much."""

    item: str
    group: Group
    description: str
    unit: Unit
    rate: Decimal
    """Before tax, whole pence. [£/unit]"""
    quantity: Decimal
    amount: Money
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class Contract:
    """What was agreed, frozen: nothing in it is ever worked out again from later rates."""

    quotation: str
    """Number of the accepted paper."""
    scope: Scope
    """The accepted option."""
    accepted_by: str
    how: Manner
    accepted_on: datetime.date
    revision: int
    """Of the job's survey that was quoted."""
    survey: str
    """The text of that survey's file."""
    book: str
    """The text of the price book it was priced with."""
    rules: tuple[tuple[str, str], ...]
    """Every rule of the takeoff at that time, by name, as text."""
    terms: Terms
    net: Money
    """The price as printed, before tax."""
    total: Money
    """The price as printed, tax in."""
    lines: tuple[Sold, ...]
    """The accepted option's lines, as printed; they add up to ``net``."""
    offered: tuple[Sold, ...]
    """The lines of every other option on the same paper: quoted rates too."""
    further_brick: Money
    """Rate promised for each further cracked brick, before tax; nothing for none."""
    working_days: Decimal
    materials_cost: Money
    """What materials and hire cost us of it, for the construction scheme's deduction."""
    stages: tuple[StageTerm, ...] = ()
    due_days: int = 14
    """Days from an invoice to when it should be paid. [day]"""
    retention: Retention = Retention()
    cancelling: Cancelling = Cancelling()
    drift: Money = NOTHING
    """What the engine made of the same survey at acceptance less what was printed, normally
    nothing; a difference is said where variations are drawn up."""
