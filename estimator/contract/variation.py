"""A variation: what was found, what it changes, and how each change is valued."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from estimator.money import Money, total
from estimator.pricing.offer import Group
from estimator.takeoff.lines import Mark
from estimator.takeoff.scope import Scope
from estimator.units import Unit


class ValuedBy(Enum):
    """On what footing a change is valued; the value is the code that stands on paper.

    The order is the order in which they are tried. Source: JCT Standard Building Contract 2016 as
    read on isurv.com, and RICS, *Valuing change*.
    """

    CONTRACT_RATE = "CR"
    PRO_RATA = "PR"
    FAIR_RATE = "FR"
    PROVISIONAL_QUANTITY = "PQ"
    PROVISIONAL_SUM = "PS"
    DAYWORK = "DW"


class Standing(Enum):
    """How far a variation has come; only an agreed one moves the contract sum."""

    DRAFTED = "drafted"
    SENT = "sent"
    AGREED = "agreed"
    DECLINED = "declined"
    WITHDRAWN = "withdrawn"

    @property
    def is_open(self) -> bool:
        """Whether it still waits for an answer."""
        return self in (Standing.DRAFTED, Standing.SENT)

    @property
    def is_covered(self) -> bool:
        """Whether the work in it is not to be offered again."""
        return self in (Standing.DRAFTED, Standing.SENT, Standing.AGREED)


@dataclass(frozen=True, slots=True)
class Valued:
    """One line of a variation: what it was, what it is, and what that changes."""

    item: str
    group: Group
    description: str
    unit: Unit
    rate: Decimal
    """Before tax. [£/unit]"""
    was: Decimal
    now: Decimal
    amount: Money
    """Of the change: what is now less what was, each rounded as printed; negative where less."""
    basis: ValuedBy
    why: str = ""
    """What the line rests on, in words: whose rate, or why another."""
    marks: tuple[Mark, ...] = ()
    """What it is about on the wall."""

    @property
    def change(self) -> Decimal:
        """How much more, or less where negative [unit]."""
        return self.now - self.was


@dataclass(frozen=True, slots=True)
class Variation:
    """One change to the contract, complete on its face: nothing in it is worked out again."""

    key: str
    """What the job calls it, from its first draft on: ``a``, ``b``…"""
    date: datetime.date
    title: str
    """In a few words: four more cracked bricks, one thin bed."""
    asked_by: str
    """Who asked for it, or ``found on site``."""
    found: tuple[str, ...]
    """What was found, in plain sentences."""
    reason: str
    lines: tuple[Valued, ...]
    extra_days: Decimal
    """Working days more, or less where negative. [day]"""
    scope: Scope
    """What is done with it agreed: the same as before, or another choice."""
    revision: int
    """Of the survey as found."""
    survey: str
    """The text of that survey's file."""
    photos: tuple[str, ...] = ()
    """Hashes of photographs that show it."""
    notes: tuple[str, ...] = ()
    """What else has to be said on paper: a rate open to review, rates of today's book."""
    all_found: bool = False
    """Whether nothing more will be found, so that an allowance is counted down with it."""

    @property
    def net(self) -> Money:
        """What it changes, before tax."""
        return total(line.amount for line in self.lines)
