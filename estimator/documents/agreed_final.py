"""The final account: from the quotation over every variation and payment to the last penny."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from estimator.contract.contract import Sold
from estimator.contract.so_far import SoFar
from estimator.contract.statement import AccountLine, FinalAccount, final_account
from estimator.contract.variation import Valued, ValuedBy
from estimator.documents import agreed_words, formats
from estimator.documents.agreed_balance import balance_of, retained_note, titled, uncounted
from estimator.documents.agreed_content import (
    AgreedPaper,
    Big,
    Bigs,
    Column,
    Ledger,
    Line,
    Lines,
    Part,
    Terms,
)
from estimator.documents.agreed_paying import paying
from estimator.documents.agreed_sums import (
    MONEY,
    before_and_with,
    climbed,
    is_charged,
    sum_columns,
    tax_sums,
)
from estimator.documents.agreed_words import Named, change_figure, day, figure, money
from estimator.documents.content import Fact, Sum
from estimator.documents.wording import say
from estimator.money import NOTHING, Money, total
from estimator.quoting.quotation import Trader

QUANTITY, RATE, AMOUNT, BASIS = 64.0, 54.0, 64.0, 40.0


def content_of(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> AgreedPaper:
    """Return all that the final account says."""
    account = final_account(so_far)
    is_final = so_far.completion is not None or so_far.called_off is not None
    parts: list[Part] = [
        _bigs(account, is_final=is_final),
        _ladder(so_far, account),
        *_codes(account),
        *_papers(account),
        _payments(account),
        _settled(account),
    ]
    if account.open > NOTHING:
        quoted = account.invoices[-1].number if account.invoices else number
        parts.append(paying(so_far, trader, quoted, ""))
    parts += [*uncounted(account), _every_line(so_far, account)]
    named = Named(
        heading=say("account.final_heading" if is_final else "account.interim_heading"),
        under=say("account.final_under" if is_final else "account.interim_under"),
        number=number,
        facts=(*agreed_words.numbered(number, date), *agreed_words.whom(so_far)),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def _bigs(account: FinalAccount, *, is_final: bool) -> Bigs:
    price = Big(
        say("account.price" if is_final else "account.price_now"),
        money(account.price.total),
        agreed_words.tax_words(account.price.taxes),
    )
    if not account.not_invoiced:
        return Bigs((price, balance_of(account.balance)))
    later = say("account.later", amount=money(account.not_invoiced))
    return Bigs((price, replace(balance_of(account.open), under=later)))


def _ladder(so_far: SoFar, account: FinalAccount) -> Ledger:
    """Return the quotation, each variation by its number with its bases, and the final sum."""
    contract = agreed_words.contract_of(so_far)
    steps = [
        (titled(one), _bases(one), one.net) for one in (*account.variations, *account.not_done)
    ]
    is_final = so_far.completion is not None or so_far.called_off is not None
    return Ledger(
        "ladder",
        say("account.ladder"),
        sum_columns(account.price),
        (Lines("", tuple(climbed(contract, steps))),),
        (
            Sum(
                say("account.final_sum" if is_final else "account.sum_now"),
                before_and_with(account.price),
                is_final=True,
            ),
        ),
    )


def _bases(one: AccountLine) -> str:
    """Return what of a variation was valued on which footing."""
    return " · ".join(f"{basis.value} {change_figure(amount)}" for basis, amount in one.bases)


def _codes(account: FinalAccount) -> Iterator[Terms]:
    used = {basis for one in account.variations for basis, _amount in one.bases}
    if used:
        yield Terms(
            "codes",
            tuple(
                Fact(basis.value, say(f"variation.code_{basis.value.lower()}"))
                for basis in ValuedBy
                if basis in used
            ),
        )


def _papers(account: FinalAccount) -> Iterator[Ledger]:
    """Yield every invoice and credit note, before tax and with it."""
    lines = [
        Line(
            say("account.invoice", number=one.number, date=day(one.date)),
            _three(account, one.net, one.gross),
        )
        for one in account.invoices
    ]
    lines += [
        Line(
            say("account.credit", number=one.number, date=day(one.date), invoice=one.invoice),
            _three(account, -one.net, -one.gross),
        )
        for one in account.credits
    ]
    net = total(one.net for one in account.invoices) - total(one.net for one in account.credits)
    if lines:
        yield Ledger(
            "papers",
            say("account.papers"),
            sum_columns(account.price),
            (Lines("", tuple(lines)),),
            (Sum(say("account.invoiced"), _three(account, net, account.gross), is_final=True),),
        )


def _three(account: FinalAccount, net: Money, gross: Money) -> tuple[str, ...]:
    if not is_charged(account.price):
        return (figure(net),)
    return figure(net), figure(gross - net), figure(gross)


def _payments(account: FinalAccount) -> Ledger:
    lines = []
    for one in account.payments:
        gaps = {"date": day(one.on), "how": one.note.strip() or one.how.value}
        words = say("account.payment", **gaps)
        if one.invoice:
            words = say("account.payment_for", invoice=one.invoice, **gaps)
        lines.append(Line(words, (figure(one.amount),)))
    return Ledger(
        "payments",
        say("account.payments"),
        (Column(say("account.sum"), MONEY),),
        (Lines("", tuple(lines)),) if lines else (),
        (
            Sum(
                say("account.paid_total" if lines else "account.paid_nothing"),
                (figure(account.paid),),
                is_final=True,
            ),
        ),
    )


def _settled(account: FinalAccount) -> Ledger:
    """Return the price less what was deducted and paid: what is still owed, or nothing."""
    charged = is_charged(account.price)
    rows = [
        (
            say("account.settle_price" if charged else "account.settle_price_plain"),
            account.price.total,
        )
    ]
    if account.deducted:
        rows.append((say("account.settle_deducted"), -account.deducted))
    rows.append((say("account.settle_paid"), -account.paid))
    balance = account.balance
    key = "settle_none"
    if balance:
        key = "settle_balance" if balance > NOTHING else "settle_back"
        if balance > NOTHING and not account.open:
            key = "settle_later"
    sums = [Sum(say(f"account.{key}"), (figure(abs_of(balance)),), is_final=True)]
    if account.not_invoiced and account.open:
        sums.append(Sum(say("account.settle_open"), (figure(account.open),)))
        sums.append(Sum(say("account.settle_not_invoiced"), (figure(account.not_invoiced),)))
    return Ledger(
        "settled",
        say("account.settle"),
        (Column(say("account.sum"), MONEY),),
        (Lines("", tuple(Line(words, (figure(amount),)) for words, amount in rows)),),
        tuple(sums),
        note=retained_note(account),
    )


def abs_of(amount: Money) -> Money:
    """Return a sum without its sign.

    >>> str(abs_of(Money(-120)))
    '1.20'
    """
    return max(amount, -amount)


def _every_line(so_far: SoFar, account: FinalAccount) -> Ledger:
    """Return every line of the contract, then every line of each variation agreed."""
    contract = agreed_words.contract_of(so_far)
    accepted = say("variation.accepted", number=contract.quotation)
    groups = [Lines(accepted, tuple(map(_sold, contract.lines)), (figure(contract.net), ""))]
    for one in so_far.agreed:
        words = say("variation.agreed", number=one.number, title=one.variation.title)
        summed = change_figure(one.variation.net)
        groups.append(Lines(words, tuple(map(_valued, one.variation.lines)), (summed, "")))
    groups += [Lines(one.title, (), (change_figure(one.net), "")) for one in account.not_done]
    charged = is_charged(account.price)
    titles = (
        say("work.before_tax"),
        say("work.total_tax" if charged else "work.total"),
        say("work.net_only"),
    )
    sums = tax_sums(account.price, titles, figure)
    return Ledger(
        "lines",
        say("account.lines"),
        (
            Column(say("account.quantity"), QUANTITY, is_quiet=True),
            Column(say("account.rate"), RATE, is_quiet=True),
            Column(say("account.sum"), AMOUNT),
            Column(say("account.basis"), BASIS, is_quiet=True),
        ),
        tuple(groups),
        tuple(Sum(one.title, (*one.figures, ""), one.is_final) for one in sums),
        note=say("account.lines_note"),
        is_fine=True,
    )


def _sold(line: Sold) -> Line:
    quantity = agreed_words.amount_of(line.quantity, line.unit)
    return Line(line.description, (quantity, formats.rate(line.rate), figure(line.amount), ""))


def _valued(line: Valued) -> Line:
    quantity = agreed_words.change_of(line.change, line.unit)
    is_sum = line.change == Decimal(0)
    rate = "" if is_sum else agreed_words.true_minus(formats.rate(line.rate))
    return Line(line.description, (quantity, rate, change_figure(line.amount), line.basis.value))
