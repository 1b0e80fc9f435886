"""Where the money stands on paper: a statement, and the final account line by line."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from estimator.contract.so_far import SoFar
from estimator.contract.statement import (
    Entry,
    FinalAccount,
    Open,
    Statement,
    final_account,
    statement,
)
from estimator.documents import agreed_final, agreed_pages, agreed_words
from estimator.documents.agreed_balance import balance_of, retained_note
from estimator.documents.agreed_content import (
    AgreedPaper,
    Big,
    Bigs,
    Column,
    Ledger,
    Line,
    Lines,
    Part,
    Prose,
)
from estimator.documents.agreed_paying import paying
from estimator.documents.agreed_sums import (
    MONEY,
    is_charged,
)
from estimator.documents.agreed_words import Named, day, figure, money
from estimator.documents.content import Sum, Text
from estimator.documents.wording import counted, say
from estimator.money import NOTHING, total
from estimator.quoting.quotation import Trader

DAY, DUE, LATE, STANDS = 104.0, 110.0, 80.0, 110.0
AMOUNT = 64.0
FEW = 8
"""Entries up to which they are set in the larger type."""


def render_statement(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> bytes:
    """Return the statement up to a day as an A4 PDF; the same input gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    content = statement_content(so_far, trader=trader, number=number, date=date)
    return agreed_pages.lay_out(content)


def render_final(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> bytes:
    """Return the final account as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    content = agreed_final.content_of(so_far, trader=trader, number=number, date=date)
    return agreed_pages.lay_out(content)


def statement_content(
    so_far: SoFar, *, trader: Trader, number: str, date: datetime.date
) -> AgreedPaper:
    """Return all that a statement says."""
    told, account = statement(so_far, until=date), final_account(so_far)
    parts: list[Part] = [_bigs(told), *_entries(so_far, told), *_open(told)]
    if told.balance > NOTHING:
        numbers = tuple(one.number for one in told.open)
        parts.append(paying(so_far, trader, agreed_words.with_and(numbers) or number, ""))
    parts.append(_against(account))
    named = Named(
        heading=say("account.statement_heading"),
        under=say("account.statement_under", date=day(date)),
        number=number,
        facts=(*agreed_words.numbered(number, date), *agreed_words.whom(so_far)),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def _bigs(told: Statement) -> Bigs:
    items = [balance_of(told.balance)]
    if not told.entries:
        items = [Big(say("account.owed"), money(NOTHING))]
    late = total(one.amount for one in told.open if one.days_late)
    coming = [one.due for one in told.open if not one.days_late]
    if late:
        items.append(Big(say("account.overdue"), money(late)))
    if coming:
        items.append(Big(say("account.next_due"), day(min(coming))))
    return Bigs(tuple(items))


def _entries(so_far: SoFar, told: Statement) -> Iterator[Part]:
    """Yield everything asked for and paid, day by day, with what is owed after it."""
    if not told.entries:
        yield Prose("entries", "", (Text(say("account.nothing")),))
        return
    due = {one.number: one.due for one in so_far.invoices}
    lines = tuple(
        Line(
            _entry_words(one, due),
            (
                day(one.date),
                figure(one.owed) if one.owed else "",
                figure(one.paid) if one.paid else "",
                figure(one.balance),
            ),
        )
        for one in told.entries
    )
    yield Ledger(
        "entries",
        say("account.entries"),
        (
            Column(say("account.day"), DAY, is_quiet=True),
            *(Column(say(f"account.{name}"), AMOUNT) for name in ("asked", "paid", "balance")),
        ),
        (Lines("", lines),),
        is_fine=len(lines) > FEW,
    )


def _entry_words(one: Entry, due: dict[str, datetime.date]) -> str:
    match one.what:
        case "invoice":
            return say("account.entry_invoice", number=one.number, due=day(due[one.number]))
        case "credit note":
            return say("account.entry_credit", number=one.number, note=one.note)
        case "deduction":
            key = "entry_deduction_credit" if one.note else "entry_deduction"
            return say(f"account.{key}", number=one.number)
    key = "entry_payment" if one.paid >= NOTHING else "entry_refund"
    if one.number:
        return say(f"account.{key}_for", number=one.number, note=one.note)
    return say(f"account.{key}", note=one.note)


def _open(told: Statement) -> Iterator[Ledger]:
    """Yield what is not paid in full, the oldest first."""
    if not told.open:
        return
    yield Ledger(
        "open",
        say("account.open"),
        (
            Column(say("account.due"), DUE, is_quiet=True),
            Column("", LATE, is_quiet=True),
            Column(say("account.open_sum"), MONEY),
        ),
        (Lines("", tuple(map(_open_line, told.open))),),
        (
            Sum(
                say("account.open_total"),
                (figure(total(one.amount for one in told.open)),),
                is_final=True,
            ),
        ),
    )


def _open_line(one: Open) -> Line:
    late = say("account.not_late")
    if one.days_late:
        late = counted("account.days_late", one.days_late, days=str(one.days_late))
    words = say("account.open_invoice", number=one.number)
    return Line(words, (day(one.due), late, figure(one.amount)))


def _against(account: FinalAccount) -> Ledger:
    """Return how much of the contract sum is invoiced."""
    rows = (
        (say("account.contract_sum"), account.price.total),
        (say("account.invoiced"), account.gross),
    )
    charged = is_charged(account.price)
    return Ledger(
        "against",
        say("account.against"),
        (Column(say("variation.with_tax" if charged else "variation.sum"), MONEY),),
        (Lines("", tuple(Line(words, (figure(amount),)) for words, amount in rows)),),
        (Sum(say("account.not_invoiced"), (figure(account.not_invoiced),), is_final=True),),
        note=retained_note(account),
    )
