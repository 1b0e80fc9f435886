"""Sums struck on papers on money: before tax, tax by rate, total; and the ladder of a contract."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from estimator.contract.contract import Contract, StageTerm
from estimator.contract.so_far import SoFar
from estimator.contract.sums import Price, Running, price_of
from estimator.documents import agreed_words
from estimator.documents.agreed_content import Column, Ledger, Line, Lines
from estimator.documents.content import Sum
from estimator.documents.wording import say
from estimator.money import Money, share_out, total

MONEY = 84.0
"""Width of a column of money."""


def tax_sums(
    price: Price, titles: tuple[str, str, str], shown: Callable[[Money], str]
) -> Iterator[Sum]:
    """Yield before tax, each tax, and the total; the total alone where no tax is charged.

    Args:
        price: What they come to.
        titles: Of the sum before tax, of the total, and of the total where there is no tax.
        shown: How a sum is written.
    """
    before, after, alone = titles
    if not price.taxes:
        yield Sum(alone, (shown(price.net),), is_final=True)
        return
    yield Sum(before, (shown(price.net),))
    alone_charged = sum(tax.charged for tax in price.taxes) == 1
    for tax in price.taxes:
        if tax.charged:
            # What was printed on the quotation may be a penny off the tax on the whole.
            amount = price.tax if alone_charged else tax.amount
            yield Sum(tax.title, (shown(amount),))
        else:
            said = say("work.reverse", title=tax.title, amount=agreed_words.money(tax.amount))
            yield Sum(said, ("",))
    yield Sum(after, (shown(price.total),), is_final=True)


def stage_sums(contract: Contract) -> list[tuple[StageTerm, Price]]:
    """Return each part of the price as it will be invoiced; the last takes the balance."""
    if not contract.stages:
        return []
    whole = price_of(contract, contract.net)
    shares = share_out(contract.net, [stage.percent for stage in contract.stages])
    priced = [price_of(contract, share) for share in shares[:-1]]
    left = whole.total - total(one.total for one in priced)
    last = replace(price_of(contract, shares[-1]), total=left)
    return list(zip(contract.stages, [*priced, last], strict=True))


def ladder(so_far: SoFar, sums: Running) -> Ledger:
    """Return the contract sum from the quotation over every agreed variation to this one."""
    contract = agreed_words.contract_of(so_far)
    steps = [
        (say("variation.agreed", number=number, title=title), "", amount)
        for number, title, amount in sums.agreed
    ]
    lines = list(climbed(contract, steps))
    if sums.agreed:
        lines.append(Line(say("variation.sum_before"), before_and_with(sums.before)))
    lines.append(Line(say("variation.sum_change"), _changes(sums.before, sums.after)))
    final = Sum(say("variation.sum_after"), before_and_with(sums.after), is_final=True)
    return Ledger(
        "ladder",
        say("variation.ladder"),
        sum_columns(sums.after),
        (Lines("", tuple(lines)),),
        (final,),
    )


def climbed(contract: Contract, steps: Iterable[tuple[str, str, Money]]) -> Iterator[Line]:
    """Yield the sum accepted, then each change with its tax: the tax after it less that before.

    Args:
        contract: What was accepted.
        steps: What each change is called, what is said under it, and what it changes before tax.
    """
    before = price_of(contract, contract.net)
    yield Line(say("variation.accepted", number=contract.quotation), before_and_with(before))
    for words, under, amount in steps:
        after = price_of(contract, before.net + amount)
        yield Line(words, _changes(before, after), under)
        before = after


def sum_columns(price: Price) -> tuple[Column, ...]:
    """Return a column before tax, of the tax and with it; one alone where none is charged."""
    names = ("before_tax", "tax", "with_tax") if is_charged(price) else ("sum",)
    return tuple(Column(say(f"variation.{name}"), MONEY) for name in names)


def is_charged(price: Price) -> bool:
    """Whether we charge tax on it."""
    return any(tax.charged for tax in price.taxes)


def before_and_with(price: Price) -> tuple[str, ...]:
    """Return a sum before tax, its tax, and both; the sum alone where none is charged."""
    figures = (price.net, price.tax, price.total)
    return _as_many(price, tuple(map(agreed_words.figure, figures)))


def _changes(before: Price, after: Price) -> tuple[str, ...]:
    figures = (after.net - before.net, after.tax - before.tax, after.total - before.total)
    return _as_many(after, tuple(map(agreed_words.change_figure, figures)))


def _as_many(price: Price, figures: tuple[str, ...]) -> tuple[str, ...]:
    return figures if is_charged(price) else figures[:1]
