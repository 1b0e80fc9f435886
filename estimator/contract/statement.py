"""Where the money stands: a statement day by day, and the account at the end, line by line."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, replace

from estimator.contract.account import CreditNote, Invoice, Payment
from estimator.contract.contract import Contract
from estimator.contract.invoicing import invoiced
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.sums import Price, price_of
from estimator.contract.variation import Standing, ValuedBy
from estimator.money import NOTHING, Money, total


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a statement."""

    date: datetime.date
    what: str
    """``invoice``, ``credit note``, ``deduction`` or ``payment``."""
    number: str
    note: str
    owed: Money
    """What it adds to what is owed; nothing for a payment."""
    paid: Money
    """What it takes off; nothing for an invoice."""
    balance: Money
    """Owed after it."""


@dataclass(frozen=True, slots=True)
class Statement:
    """All invoices, credit notes, deductions and payments up to a day."""

    until: datetime.date
    entries: tuple[Entry, ...]
    open: tuple[Open, ...]
    """Invoices not paid in full, the oldest first."""

    @property
    def balance(self) -> Money:
        """What is owed; negative where too much was paid."""
        return self.entries[-1].balance if self.entries else NOTHING


@dataclass(frozen=True, slots=True)
class Open:
    """One invoice that is not paid in full."""

    number: str
    due: datetime.date
    amount: Money
    days_late: int
    """Days past due, 0 where it is not. [day]"""


@dataclass(frozen=True, slots=True)
class AccountLine:
    """One part of the contract sum, before tax."""

    number: str
    title: str
    net: Money
    standing: Standing | None = None
    """Of a variation; None for the contract itself."""
    bases: tuple[tuple[ValuedBy, Money], ...] = ()
    """What of it was valued on which footing."""


@dataclass(frozen=True, slots=True)
class FinalAccount:
    """The account from the quotation to the last penny."""

    original: AccountLine
    variations: tuple[AccountLine, ...]
    """Those agreed; they, the original and what was not done add up to ``price.net``."""
    uncounted: tuple[AccountLine, ...]
    """Those not agreed; they count nowhere."""
    price: Price
    """Of the work; once the contract is cancelled, of what is owed for what was done."""
    invoices: tuple[Invoice, ...]
    credits: tuple[CreditNote, ...]
    payments: tuple[Payment, ...]
    gross: Money
    """Invoiced with tax, credit notes off."""
    deducted: Money
    """Kept back by the customer for the tax office."""
    paid: Money
    not_invoiced: Money
    """Of the price with tax; what is kept back is among it."""
    retained: Money
    """Kept back, before tax."""
    not_done: tuple[AccountLine, ...] = ()
    """One line where the contract was cancelled: what is not owed any more. It counts."""

    @property
    def balance(self) -> Money:
        """What is still to come: the price less what was deducted and paid."""
        return self.price.total - self.deducted - self.paid

    @property
    def open(self) -> Money:
        """What of it is invoiced."""
        return self.balance - self.not_invoiced

    @property
    def is_settled(self) -> bool:
        """Whether nothing is owed either way."""
        return not self.balance


def statement(so_far: SoFar, *, until: datetime.date) -> Statement:
    """Return the statement up to a day, that day in.

    >>> statement(SoFar(), until=datetime.date(2026, 11, 25)).entries
    ()
    """
    found: list[Entry] = []
    for one in so_far.invoices:
        found.append(_entry(one.date, "invoice", one.number, one.asks_for.value, one.gross))
        if one.deduction:
            found.append(_entry(one.date, "deduction", one.number, "", -one.deduction))
    for note in so_far.credits:
        found.append(_entry(note.date, "credit note", note.number, note.invoice, -note.gross))
        if note.deduction:
            found.append(_entry(note.date, "deduction", note.number, note.invoice, note.deduction))
    for payment in so_far.payments:
        note_of = payment.note or payment.how.value
        found.append(_entry(payment.on, "payment", payment.invoice, note_of, -payment.amount))
    # The sort is stable: on one day invoices come before credit notes, and those before payments.
    in_order = sorted((one for one in found if one.date <= until), key=lambda one: one.date)
    return Statement(until, _balanced(in_order), _open(so_far, until))


def final_account(so_far: SoFar) -> FinalAccount:
    """Return the account; it may be drawn up at any time, and is final once all is done.

    Raises:
        ValueError: before anything was accepted.
    """
    contract = _contract(so_far)
    price, done = price_of(contract, so_far.due), invoiced(so_far)
    gross = done.work - done.retained + done.charged
    agreed: list[AccountLine] = []
    others: list[AccountLine] = []
    for one in so_far.variations:
        (agreed if one.standing is Standing.AGREED else others).append(_line(one))
    return FinalAccount(
        original=AccountLine(contract.quotation, contract.scope.title, contract.net),
        variations=tuple(agreed),
        uncounted=tuple(others),
        price=price,
        invoices=so_far.invoices,
        credits=so_far.credits,
        payments=so_far.payments,
        gross=gross,
        deducted=done.deduction,
        paid=total(one.amount for one in so_far.payments),
        not_invoiced=price.total - gross,
        retained=done.retained,
        not_done=tuple(_not_done(so_far)),
    )


def open_on(so_far: SoFar, number: str) -> Money:
    """Return what of an invoice is not paid, credit notes taken off; nothing for one there is not.

    >>> str(open_on(SoFar(), "I-0001"))
    '0.00'
    """
    return _left(so_far).get(number, NOTHING)


def _left(so_far: SoFar) -> dict[str, Money]:
    """Return what of each invoice is open: payments that name none go to the oldest first."""
    left = {one.number: one.payable for one in so_far.invoices}
    for note in so_far.credits:
        if note.invoice in left:
            left[note.invoice] -= note.payable
    loose = NOTHING
    for payment in so_far.payments:
        if payment.invoice in left:
            left[payment.invoice] -= payment.amount
        else:
            loose += payment.amount
    # What is too much on one invoice goes to the next as well.
    for number, amount in left.items():
        if amount < NOTHING:
            loose -= amount
            left[number] = NOTHING
    for number, amount in left.items():
        used = max(min(amount, loose), NOTHING)
        left[number], loose = amount - used, loose - used
    return _given_back(so_far, left, -loose) if loose < NOTHING else left


def _given_back(so_far: SoFar, left: dict[str, Money], back: Money) -> dict[str, Money]:
    """Return what is open with money that went back in it: a cheque that bounced, say.

    Nobody said for which invoice; what was paid last is open again first.
    """
    stands = {one.number: one.payable for one in so_far.invoices}
    for note in so_far.credits:
        if note.invoice in stands:
            stands[note.invoice] -= note.payable
    for number in reversed(left):
        again = max(min(stands[number] - left[number], back), NOTHING)
        left[number], back = left[number] + again, back - again
    return left


def _open(so_far: SoFar, until: datetime.date) -> tuple[Open, ...]:
    left = _left(_up_to(so_far, until))
    return tuple(
        Open(one.number, one.due, left[one.number], max((until - one.due).days, 0))
        for one in so_far.invoices
        if left.get(one.number, NOTHING) > NOTHING
    )


def _up_to(so_far: SoFar, until: datetime.date) -> SoFar:
    """Return what was invoiced, credited and paid by a day."""
    return replace(
        so_far,
        invoices=tuple(one for one in so_far.invoices if one.date <= until),
        credits=tuple(one for one in so_far.credits if one.date <= until),
        payments=tuple(one for one in so_far.payments if one.on <= until),
    )


def _entry(date: datetime.date, what: str, number: str, note: str, change: Money) -> Entry:
    is_owed = what != "payment"
    owed, paid = (change, NOTHING) if is_owed else (NOTHING, -change)
    return Entry(date, what, number, note, owed, paid, change)


def _balanced(entries: list[Entry]) -> tuple[Entry, ...]:
    """Return entries with the running balance in them."""
    balance, found = NOTHING, []
    for one in entries:
        balance += one.owed - one.paid
        found.append(Entry(one.date, one.what, one.number, one.note, one.owed, one.paid, balance))
    return tuple(found)


def _line(one: Varied) -> AccountLine:
    by: dict[ValuedBy, Money] = {}
    for line in one.variation.lines:
        by[line.basis] = by.get(line.basis, NOTHING) + line.amount
    bases = tuple((basis, by[basis]) for basis in ValuedBy if basis in by)
    return AccountLine(one.number, one.variation.title, one.variation.net, one.standing, bases)


def _not_done(so_far: SoFar) -> Iterator[AccountLine]:
    if so_far.called_off is not None:
        title = "Not done: the contract was cancelled"
        yield AccountLine("", title, so_far.due - so_far.net)


def _contract(so_far: SoFar) -> Contract:
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    return so_far.contract
