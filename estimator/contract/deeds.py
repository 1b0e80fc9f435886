"""Everything that happens to a job once its quotation is out, one frozen deed at a time.

Deeds are only ever added. What a job has come to is worked out from them, each time anew
(``so_far``), so nothing that happened can be lost or be told in two ways.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from estimator.contract.account import CreditNote, Invoice, Payment
from estimator.contract.contract import Contract, Manner
from estimator.contract.daywork import DayworkSheet
from estimator.contract.variation import Standing, Variation
from estimator.contract.works import Booking, Built, Completion, Held, Plan
from estimator.money import NOTHING, Money


@dataclass(frozen=True, slots=True)
class Accepted:
    """The customer accepted an option."""

    contract: Contract


@dataclass(frozen=True, slots=True)
class CalledOff:
    """The contract was cancelled."""

    on: datetime.date
    who: str
    how: Manner
    words: str = ""
    owed: Money = NOTHING
    """For what was done, before tax: by the law, or as it was agreed with them."""


@dataclass(frozen=True, slots=True)
class Drafted:
    """A variation was drawn up; one of the same key takes the place of the draft before."""

    variation: Variation


@dataclass(frozen=True, slots=True)
class Sent:
    """A variation went out under its number."""

    variation: str
    """Its key."""
    number: str
    on: datetime.date
    how: Manner


@dataclass(frozen=True, slots=True)
class Answered:
    """A variation was agreed, declined, or taken back by us."""

    variation: str
    """Its key."""
    answer: Standing
    who: str
    how: Manner
    at: datetime.datetime
    words: str = ""


@dataclass(frozen=True, slots=True)
class Confirmed:
    """What was only spoken was confirmed in writing."""

    variation: str
    """Its key; empty for the acceptance itself."""
    number: str
    """Of the paper that confirms it."""
    on: datetime.date


@dataclass(frozen=True, slots=True)
class DayworkKept:
    """A daywork sheet; one of the same key takes the place of the one before."""

    sheet: DayworkSheet


@dataclass(frozen=True, slots=True)
class Planned:
    """The works were planned, or planned anew."""

    plan: Plan


@dataclass(frozen=True, slots=True)
class BuiltThere:
    """Something was built, or a later word on the same mark and work."""

    built: Built


@dataclass(frozen=True, slots=True)
class HeldThere:
    """A hold point was signed off."""

    held: Held


@dataclass(frozen=True, slots=True)
class Booked:
    """Hours and materials were booked."""

    booking: Booking


@dataclass(frozen=True, slots=True)
class Completed:
    """The works are complete."""

    completion: Completion


@dataclass(frozen=True, slots=True)
class Invoiced:
    """An invoice went out."""

    invoice: Invoice


@dataclass(frozen=True, slots=True)
class Credited:
    """A credit note went out."""

    note: CreditNote


@dataclass(frozen=True, slots=True)
class Paid:
    """Money came in or went back."""

    payment: Payment


@dataclass(frozen=True, slots=True)
class Struck:
    """An earlier happening was a slip: it is kept, and no longer counts.

    What went out under a number cannot be struck: it is withdrawn or credited.
    """

    happening: str
    """Its name in the file."""
    why: str


Deed = (
    Accepted
    | CalledOff
    | Drafted
    | Sent
    | Answered
    | Confirmed
    | DayworkKept
    | Planned
    | BuiltThere
    | HeldThere
    | Booked
    | Completed
    | Invoiced
    | Credited
    | Paid
    | Struck
)


@dataclass(frozen=True, slots=True)
class Happening:
    """One deed, when it was noted, and what the file calls it."""

    uid: str
    at: datetime.datetime
    deed: Deed


def counting(happenings: Iterable[Happening]) -> tuple[Happening, ...]:
    """Return what happened, but for what was struck out since.

    >>> counting(())
    ()
    """
    told = tuple(happenings)
    struck = {one.deed.happening for one in told if isinstance(one.deed, Struck)}
    return tuple(one for one in told if one.uid not in struck)
