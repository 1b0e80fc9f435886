"""The confirmation of a contract: what was accepted, by whom, how it is paid and changed."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal

from estimator.contract.contract import Contract, StageDue
from estimator.contract.so_far import SoFar
from estimator.contract.sums import price_of
from estimator.documents import agreed_cancel, agreed_pages, agreed_words
from estimator.documents.agreed_cancel import Right
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
from estimator.documents.agreed_sums import MONEY, stage_sums, tax_sums
from estimator.documents.agreed_words import Named
from estimator.documents.content import Acceptance, Block, Points, Section, Text, Tone
from estimator.documents.formats import plain
from estimator.documents.offered import HALF_DAY
from estimator.documents.wording import counted, say
from estimator.money import total
from estimator.pricing.offer import Group
from estimator.pricing.tax_habits import Deduction
from estimator.quoting.quotation import Trader

DUE = 130.0
SHARE = 60.0


def render(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> bytes:
    """Return the confirmation as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    return agreed_pages.lay_out(content_of(so_far, trader=trader, number=number, date=date))


def content_of(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> AgreedPaper:
    """Return all that the paper says."""
    contract = agreed_words.contract_of(so_far)
    right = agreed_cancel.right_of(so_far, date)
    parts: list[Part] = [
        _accepted(contract),
        _bigs(so_far),
        _work(contract),
        *_stages(contract),
        _paying(so_far),
        _start(so_far, right),
        _changes(so_far),
        _limits(),
        *_given(trader),
        *_rights(so_far),
    ]
    if right is not None:
        parts.append(agreed_cancel.notice(trader, right))
    else:
        parts += agreed_cancel.urgent(so_far)
    parts += _signing(contract, right, trader)
    if right is not None:
        parts.append(agreed_cancel.contract_form(so_far, trader))
    named = Named(
        heading=say("contract.heading"),
        under=say("contract.under"),
        number=number,
        facts=tuple(_facts(so_far, number, date)),
    )
    return agreed_words.paper(so_far, trader, named, parts, ("start", "cancel"))


def _facts(so_far: SoFar, number: str, date: datetime.date) -> Iterator[tuple[str, str]]:
    contract = agreed_words.contract_of(so_far)
    yield from agreed_words.numbered(number, date)
    yield say("contract.quotation"), contract.quotation
    yield (
        say("contract.accepted_on"),
        say(
            "contract.accepted_value",
            date=agreed_words.day(contract.accepted_on),
            how=agreed_words.manner(contract.how),
        ),
    )
    yield from agreed_words.whom(so_far, with_contract=False)


def _accepted(contract: Contract) -> Prose:
    blocks: tuple[Block, ...] = (
        Text(
            say(
                "contract.accepted",
                who=contract.accepted_by,
                option=contract.scope.title,
                number=contract.quotation,
                date=agreed_words.day(contract.accepted_on),
                how=agreed_words.manner(contract.how),
            ),
            Tone.STRONG,
        ),
        Text(say("contract.frozen")),
    )
    return Prose("accepted", say("contract.accepted_title"), blocks)


def _bigs(so_far: SoFar) -> Bigs:
    contract = agreed_words.contract_of(so_far)
    price = price_of(contract, contract.net)
    under = say("contract.time_open")
    if so_far.plan is not None:
        under = say("contract.time_start", date=agreed_words.day(so_far.plan.start))
    return Bigs(
        (
            Big(
                say("contract.price"),
                agreed_words.money(price.total),
                agreed_words.tax_words(price.taxes),
            ),
            Big(say("contract.time"), _days(contract.working_days), under=under),
        )
    )


def _days(days: Decimal) -> str:
    if days == HALF_DAY:
        return say("contract.time_half")
    return counted("contract.time_days", float(days), days=plain(days))


def _work(contract: Contract) -> Ledger:
    """Return what the parts of the work come to; every line of it stands in the quotation."""
    lines = []
    for group in Group:
        sold = [line.amount for line in contract.lines if line.group is group]
        if sold:
            lines.append(Line(group.value, (agreed_words.figure(total(sold)),)))
    titles = say("work.before_tax"), say("work.total_tax"), say("work.net_only")
    price = price_of(contract, contract.net)
    if any(not tax.charged for tax in price.taxes):
        titles = titles[0], say("work.total"), titles[2]
    return Ledger(
        "work",
        say("contract.work"),
        (Column(say("contract.sum_column"), MONEY),),
        (Lines("", tuple(lines)),),
        tuple(tax_sums(price, titles, agreed_words.figure)),
    )


def _stages(contract: Contract) -> Iterator[Ledger]:
    """Yield the parts of the price with their sums, as each will be invoiced."""
    if not contract.stages:
        return
    priced = stage_sums(contract)
    lines = tuple(
        Line(
            stage.title,
            (
                say(f"contract.due_{stage.due.name.lower()}"),
                agreed_words.percent(stage.percent),
                agreed_words.figure(price.total),
            ),
        )
        for stage, price in priced
    )
    taxed = any(tax.charged for _stage, price in priced for tax in price.taxes)
    yield Ledger(
        "stages",
        say("contract.stages"),
        (
            Column(say("contract.due"), DUE, is_quiet=True),
            Column(say("contract.share"), SHARE, is_quiet=True),
            Column(say("contract.with_tax_column" if taxed else "contract.sum_column"), MONEY),
        ),
        (Lines("", lines),),
    )


def _paying(so_far: SoFar) -> Section:
    contract = agreed_words.contract_of(so_far)
    household = agreed_words.is_household(so_far)
    points = []
    if not price_of(contract, contract.net).taxes:
        points.append(say("payment.not_registered"))
    elif household:
        points.append(say("payment.tax"))
    days = str(contract.due_days)
    points.append(
        say("contract.stage_days" if contract.stages else "contract.no_stages", days=days)
    )
    if any(stage.due is StageDue.ON_ACCEPTANCE for stage in contract.stages):
        points.append(say("contract.deposit" if household else "contract.deposit_business"))
    points += _kept_back(contract)
    if not household:
        points.append(say("payment.late"))
    return Section("paying", say("contract.paying"), (Points(tuple(points)),))


def _kept_back(contract: Contract) -> Iterator[str]:
    kept = contract.retention
    if kept.percent:
        key = "contract.retention_months" if kept.months else "contract.retention"
        yield counted(key, kept.months, percent=plain(kept.percent), months=str(kept.months))
    if contract.terms.deduction not in (Deduction.NONE, Deduction.GROSS):
        yield say("contract.scheme")


def _start(so_far: SoFar, right: Right | None) -> Section:
    contract = agreed_words.contract_of(so_far)
    first = say("contract.start_open")
    if so_far.plan is not None:
        first = say("contract.start_planned", date=agreed_words.day(so_far.plan.start))
    days = _days(contract.working_days)
    texts = [Text(first), Text(say("contract.start_days", days=f"{days[:1].lower()}{days[1:]}"))]
    if right is not None:
        last = agreed_words.day(right.last_day)
        if right.early_start is not None:
            asked = agreed_words.day(right.early_start)
            texts.append(Text(say("contract.start_asked", date=asked, last=last)))
        else:
            texts.append(Text(say("contract.start_waits", last=last), Tone.STRONG))
            texts.append(Text(say("contract.start_pay")))
    return Section("start", say("contract.start"), tuple(texts))


def _changes(so_far: SoFar) -> Section:
    contract = agreed_words.contract_of(so_far)
    points = [say(f"variations.{key}") for key in ("agree", "rates", "paper")]
    if contract.further_brick:
        key = "further" if agreed_words.is_taxed(so_far) else "further_no_tax"
        points.append(say(f"contract.{key}", rate=agreed_words.money(contract.further_brick)))
    return Section("variations", say("headings.variations"), (Points(tuple(points)),))


def _limits() -> Section:
    texts = (
        Text(say("limits.cause"), Tone.STRONG),
        Text(say("limits.structure")),
        Text(say("limits.watch")),
    )
    return Section("limits", say("headings.limits"), texts)


def _given(trader: Trader) -> Iterator[Section]:
    """Yield the trader's own words, as they stood on the quotation."""
    for key in ("guarantee", "insurance", "complaints"):
        words: str = getattr(trader, key)
        if words.strip():
            yield Section(key, say(f"headings.{key}"), (Text(words.strip()),))


def _rights(so_far: SoFar) -> Iterator[Section]:
    """Yield what the law gives a household, whatever is agreed."""
    if agreed_words.is_household(so_far):
        yield Section("rights", say("headings.rights"), (Text(say("limits.rights")),))


def _signing(contract: Contract, right: Right | None, trader: Trader) -> Iterator[Acceptance]:
    """Yield a block to sign where the answer was spoken, or an early start may be asked for."""
    may_ask = right is not None and right.early_start is None
    if not contract.how.is_spoken and not may_ask:
        return
    last = agreed_words.day(right.last_day) if right is not None else ""
    ticks = []
    if right is not None and contract.how.is_spoken:
        ticks.append(say("acceptance.told"))
    if may_ask:
        ticks.append(say("contract.tick_early", last=last))
    reach = agreed_words.contact(trader)
    yield Acceptance(
        title=say("contract.sign"),
        lead=(
            say("contract.sign_spoken")
            if contract.how.is_spoken
            else say("contract.sign_early", last=last)
        ),
        options=(),
        ticks=tuple(ticks),
        fields=tuple(say(f"acceptance.{name}") for name in ("name", "signature", "date")),
        closing=say("acceptance.return", contact=reach) if reach else "",
    )
