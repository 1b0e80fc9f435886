"""The ledger of jobs as a table: every invoice, credit note, deduction and payment in its row.

RFC 4180, UTF-8 with the mark by which spreadsheets know it; dates as ISO 8601 writes them. Nothing
is rounded here: a balance is the gross of its job so far, less what was deducted and paid.
"""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum

from estimator.contract.account import CreditNote, Invoice
from estimator.contract.so_far import SoFar
from estimator.exchange.formula_guard import guarded
from estimator.money import NOTHING, Money
from estimator.notices import UserMistake
from estimator.pricing.offer import TaxLine

BEFORE_TAX = ("Date", "Job", "Customer", "Kind", "Number", "About", "Words", "Net")
AFTER_TAX = ("Gross", "Deducted", "Paid", "Balance")
"""The taxes stand between the two, a column for each that occurs."""


class Kind(Enum):
    """What a row is about."""

    BROUGHT_FORWARD = "brought forward"
    INVOICE = "invoice"
    DEDUCTION = "deduction"
    CREDIT_NOTE = "credit note"
    PAYMENT = "payment"


@dataclass(frozen=True, slots=True)
class JobAccount:
    """A job whose account is to be written down."""

    job: str
    """What the trader calls it."""
    customer: str
    so_far: SoFar


@dataclass(frozen=True, slots=True)
class Row:
    """One row; what takes something off what is owed is positive only where it is paid."""

    on: datetime.date
    account: JobAccount
    kind: Kind
    number: str = ""
    about: str = ""
    """Number of the paper it belongs to."""
    words: str = ""
    net: Money | None = None
    taxes: tuple[TaxLine, ...] = ()
    gross: Money = NOTHING
    deducted: Money = NOTHING
    paid: Money = NOTHING
    balance: Money = NOTHING
    """Owed on this job after it."""

    @property
    def change(self) -> Money:
        """How much more is owed with it."""
        return self.gross - self.deducted - self.paid


def ledger(
    accounts: Iterable[JobAccount],
    *,
    first: datetime.date | None = None,
    last: datetime.date | None = None,
) -> tuple[Row, ...]:
    """Return the rows of some jobs, job by job in order of days.

    Args:
        accounts: The jobs.
        first: The first day wanted; what is owed from before is brought forward into one row.
        last: The last day wanted, that day in.

    Raises:
        UserMistake: when the last day lies before the first.

    >>> ledger([JobAccount("A-1", "Ines Marlowe", SoFar())])
    ()
    """
    if first is not None and last is not None and last < first:
        raise UserMistake(
            f"the last day, {last.isoformat()}, lies before the first, {first.isoformat()}",
            do="write a later last day",
        )
    return tuple(
        row for account in accounts for row in _from(_balanced(_rows(account)), first, last)
    )


def to_csv(
    accounts: Iterable[JobAccount],
    *,
    first: datetime.date | None = None,
    last: datetime.date | None = None,
) -> bytes:
    r"""Return the ledger of some jobs as CSV.

    A tax the customer accounts for has a column of its own and is no part of the gross.

    Raises:
        UserMistake: when the last day lies before the first.

    >>> to_csv([]).decode("utf-8-sig")
    'Date,Job,Customer,Kind,Number,About,Words,Net,Gross,Deducted,Paid,Balance\r\n'
    """
    rows = ledger(accounts, first=first, last=last)
    titles = _titles(rows)
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_MINIMAL)
    writer.writerow([*BEFORE_TAX, *map(guarded, titles), *AFTER_TAX])
    writer.writerows(list(_cells(row, titles)) for row in rows)
    # Half a letter somebody pasted must not keep a whole ledger from being written.
    return out.getvalue().encode("utf-8-sig", errors="replace")


def _rows(account: JobAccount) -> list[Row]:
    """Return a job's rows in order of days; on one day as they stand here."""
    now = account.so_far
    rows = [row for one in now.invoices for row in _invoiced(account, one)]
    rows += [row for one in now.credits for row in _credited(account, one)]
    rows += [
        Row(
            one.on,
            account,
            Kind.PAYMENT,
            about=one.invoice,
            words=": ".join(filter(None, (one.how.value, one.note))),
            paid=one.amount,
        )
        for one in now.payments
    ]
    return sorted(rows, key=lambda row: row.on)


def _invoiced(account: JobAccount, one: Invoice) -> Iterator[Row]:
    words = one.asks_for.value
    yield Row(one.date, account, Kind.INVOICE, one.number, "", words, one.net, one.taxes, one.gross)
    if one.deduction:
        yield Row(one.date, account, Kind.DEDUCTION, about=one.number, deducted=one.deduction)


def _credited(account: JobAccount, one: CreditNote) -> Iterator[Row]:
    taken_off = tuple(replace(tax, base=-tax.base, amount=-tax.amount) for tax in one.taxes)
    yield Row(
        one.date,
        account,
        Kind.CREDIT_NOTE,
        one.number,
        one.invoice,
        one.why,
        -one.net,
        taken_off,
        -one.gross,
    )
    if one.deduction:
        yield Row(one.date, account, Kind.DEDUCTION, about=one.number, deducted=-one.deduction)


def _balanced(rows: Iterable[Row]) -> Iterator[Row]:
    balance = NOTHING
    for row in rows:
        balance += row.change
        yield replace(row, balance=balance)


def _from(
    rows: Iterable[Row], first: datetime.date | None, last: datetime.date | None
) -> Iterator[Row]:
    """Yield the rows of a span, with what is owed from before it in front."""
    before: Row | None = None
    found: list[Row] = []
    for row in rows:
        if first is not None and row.on < first:
            before = row
        elif last is None or row.on <= last:
            found.append(row)
    if before is not None and first is not None:
        yield Row(first, before.account, Kind.BROUGHT_FORWARD, balance=before.balance)
    yield from found


def _titles(rows: Iterable[Row]) -> tuple[str, ...]:
    """Return what the taxes of some rows are called: charged ones first, high rates first."""
    found = {(tax.charged, tax.rate, tax.title) for row in rows for tax in row.taxes}
    in_order = sorted(found, key=lambda one: (not one[0], -one[1], one[2]))
    return tuple(dict.fromkeys(title for _charged, _rate, title in in_order))


def _cells(row: Row, titles: Sequence[str]) -> Iterator[str]:
    yield row.on.isoformat()
    yield guarded(row.account.job)
    yield guarded(row.account.customer)
    yield row.kind.value
    yield guarded(row.number)
    yield guarded(row.about)
    yield guarded(row.words)
    yield "" if row.net is None else str(row.net)
    for title in titles:
        amounts = [tax.amount.pounds for tax in row.taxes if tax.title == title]
        yield f"{sum(amounts, Decimal(0)):f}" if amounts else ""
    is_bill = row.kind in (Kind.INVOICE, Kind.CREDIT_NOTE)
    yield str(row.gross) if is_bill else ""
    yield str(row.deducted) if row.kind is Kind.DEDUCTION else ""
    yield str(row.paid) if row.kind is Kind.PAYMENT else ""
    yield str(row.balance)
