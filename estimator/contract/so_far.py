"""What a job has come to, worked out from its deeds."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from estimator.contract.account import CreditNote, Invoice, Payment
from estimator.contract.contract import Contract, Manner
from estimator.contract.daywork import DayworkSheet
from estimator.contract.deeds import (
    Accepted,
    Answered,
    Booked,
    BuiltThere,
    CalledOff,
    Completed,
    Confirmed,
    Credited,
    DayworkKept,
    Deed,
    Drafted,
    Happening,
    HeldThere,
    Invoiced,
    Paid,
    Planned,
    Sent,
    Struck,
    counting,
)
from estimator.contract.variation import Standing, Variation
from estimator.contract.works import Booking, Built, Completion, Held, Plan
from estimator.money import Money, total


@dataclass(frozen=True, slots=True)
class Varied:
    """A variation and what became of it."""

    variation: Variation
    standing: Standing = Standing.DRAFTED
    number: str = ""
    """Empty until it is sent."""
    sent_on: datetime.date | None = None
    who: str = ""
    how: Manner | None = None
    answered_at: datetime.datetime | None = None
    words: str = ""
    confirmed_by: str = ""
    """Number of the paper that confirms what was only spoken."""

    @property
    def wants_confirming(self) -> bool:
        """Whether it was agreed by word of mouth, and nothing in writing went out since."""
        is_spoken = self.how is not None and self.how.is_spoken
        return self.standing is Standing.AGREED and is_spoken and not self.confirmed_by


@dataclass(frozen=True, slots=True)
class Then:
    """What was agreed when something was noted on the wall: its marks are those of that work."""

    contract: Contract | None
    agreed: tuple[Varied, ...]


@dataclass(frozen=True, slots=True)
class SoFar:
    """What a job has come to; empty before anything was accepted."""

    contract: Contract | None = None
    contract_confirmed_by: str = ""
    called_off: CalledOff | None = None
    variations: tuple[Varied, ...] = ()
    """In the order they were first drawn up."""
    daywork: tuple[DayworkSheet, ...] = ()
    plan: Plan | None = None
    built: tuple[Built, ...] = ()
    built_then: tuple[Then, ...] = ()
    """For each of ``built``; of those beyond it nothing else was agreed since."""
    held: tuple[Held, ...] = ()
    held_then: tuple[Then, ...] = ()
    """For each of ``held``, alike."""
    bookings: tuple[Booking, ...] = ()
    completion: Completion | None = None
    invoices: tuple[Invoice, ...] = ()
    credits: tuple[CreditNote, ...] = ()
    payments: tuple[Payment, ...] = ()

    @property
    def agreed(self) -> tuple[Varied, ...]:
        """The variations that move the contract sum."""
        return tuple(one for one in self.variations if one.standing is Standing.AGREED)

    @property
    def net(self) -> Money:
        """The contract sum now, before tax: the original and every agreed variation.

        Raises:
            ValueError: before anything was accepted.
        """
        if self.contract is None:
            raise ValueError("nothing has been accepted yet")
        return self.contract.net + total(one.variation.net for one in self.agreed)

    @property
    def due(self) -> Money:
        """What is to be invoiced in all, before tax.

        It is the contract sum; once the contract is cancelled, what is owed for what was done.

        Raises:
            ValueError: before anything was accepted.
        """
        return self.net if self.called_off is None else self.called_off.owed

    def varied(self, key: str) -> Varied:
        """Return a variation by its key.

        Raises:
            KeyError: when there is none of that key.
        """
        found = next((one for one in self.variations if one.variation.key == key), None)
        if found is None:
            raise KeyError(key)
        return found


def so_far(happenings: Iterable[Happening]) -> SoFar:
    """Return what a job has come to.

    >>> so_far(()).contract is None
    True
    """
    folding = _Folding()
    for one in counting(happenings):
        folding.take(one.deed)
    return folding.result()


@dataclass(slots=True)
class _Folding:
    """Deeds taken in one by one."""

    so_far: SoFar = SoFar()
    variations: dict[str, Varied] = field(default_factory=dict)
    daywork: dict[str, DayworkSheet] = field(default_factory=dict)
    then: Then | None = None
    """What is agreed by now; None where that may have changed."""

    def take(self, deed: Deed) -> None:  # noqa: PLR0912 - one short arm for each kind of deed
        """Take one deed in."""
        now = self.so_far
        match deed:
            case Accepted(contract):
                # What was varied, or complete, before it was cancelled is no part of the next one.
                self.variations.clear()
                self.then = None
                now = replace(
                    now,
                    contract=contract,
                    contract_confirmed_by="",
                    called_off=None,
                    completion=None,
                )
            case CalledOff():
                now = replace(now, called_off=deed)
            case Drafted() | Sent() | Answered():
                self._vary(deed)
            case Confirmed(key, number):
                if key:
                    self.variations[key] = replace(self.variations[key], confirmed_by=number)
                else:
                    now = replace(now, contract_confirmed_by=number)
            case DayworkKept(sheet):
                self.daywork[sheet.key] = sheet
            case Planned(plan):
                now = replace(now, plan=plan)
            case BuiltThere(built):
                then = (*now.built_then, self._then())
                now = replace(now, built=(*now.built, built), built_then=then)
            case HeldThere(held):
                then = (*now.held_then, self._then())
                now = replace(now, held=(*now.held, held), held_then=then)
            case Booked(booking):
                now = replace(now, bookings=(*now.bookings, booking))
            case Completed(completion):
                now = replace(now, completion=completion)
            case Invoiced(invoice):
                now = replace(now, invoices=(*now.invoices, invoice))
            case Credited(note):
                now = replace(now, credits=(*now.credits, note))
            case Paid(payment):
                now = replace(now, payments=(*now.payments, payment))
            case Struck():
                pass
        self.so_far = now

    def _then(self) -> Then:
        if self.then is None:
            self.then = Then(self.so_far.contract, self.result().agreed)
        return self.then

    def _vary(self, deed: Drafted | Sent | Answered) -> None:
        self.then = None
        if isinstance(deed, Drafted):
            key = deed.variation.key
            before = self.variations.get(key)
            # A draft is drawn up anew as often as one likes; what went out is never changed.
            if before is None or before.standing is Standing.DRAFTED:
                self.variations[key] = Varied(deed.variation)
            return
        before = self.variations[deed.variation]
        if isinstance(deed, Sent):
            after = replace(before, standing=Standing.SENT, number=deed.number, sent_on=deed.on)
        else:
            after = replace(
                before,
                standing=deed.answer,
                who=deed.who,
                how=deed.how,
                answered_at=deed.at,
                words=deed.words,
            )
        self.variations[deed.variation] = after

    def result(self) -> SoFar:
        """Return what they come to."""
        return replace(
            self.so_far,
            variations=tuple(self.variations.values()),
            daywork=tuple(self.daywork.values()),
        )
