"""What a customer answers to a variation: the block to sign, or the answer that was given."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from estimator.contract.so_far import SoFar, Varied
from estimator.contract.sums import Running
from estimator.contract.variation import Standing
from estimator.documents import agreed_cancel, agreed_words
from estimator.documents.agreed_content import Part, Prose
from estimator.documents.content import Acceptance, Block, Text, Tone
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader


def answered(varied: Varied) -> Iterator[Part]:
    """Yield what was answered, where an answer was given."""
    if varied.standing.is_open or varied.answered_at is None:
        return
    blocks: list[Block] = [
        Text(
            say(
                f"variation.answered_{varied.standing.value}",
                who=varied.who,
                how=agreed_words.manner(varied.how),
                date=agreed_words.day(varied.answered_at.date()),
                time=agreed_words.clock(varied.answered_at),
            ),
            Tone.STRONG,
        )
    ]
    if varied.words.strip():
        blocks.append(Text(say("variation.answered_words", words=varied.words.strip())))
    yield Prose("answered", "", tuple(blocks))


def asked(
    so_far: SoFar, varied: Varied, sums: Running, *, trader: Trader, number: str
) -> Iterator[Part]:
    """Yield the notice where it is needed, and the block to sign, while there is no answer."""
    if varied.standing in (Standing.DECLINED, Standing.WITHDRAWN):
        return
    yield from notice_of(so_far, sums, trader)
    if varied.standing.is_open:
        may_cancel = agreed_cancel.may_cancel_change(so_far, sums)
        is_less = varied.variation.net.pence < 0
        begun = say("variation.not_started_less" if is_less else "variation.not_started")
        block = _block(sums, trader=trader, number=number, may_cancel=may_cancel)
        yield replace(block, lead=f"{block.lead} {begun}")
    yield from form_of(so_far, varied, sums, trader=trader, number=number)


def notice_of(so_far: SoFar, sums: Running, trader: Trader) -> Iterator[Part]:
    """Yield the notice of the right to cancel a change, where there is one."""
    if agreed_cancel.may_cancel_change(so_far, sums):
        yield agreed_cancel.change_notice(trader)


def form_of(
    so_far: SoFar, varied: Varied, sums: Running, *, trader: Trader, number: str
) -> Iterator[Part]:
    """Yield the form to cancel a change with, where there is a right to."""
    if agreed_cancel.may_cancel_change(so_far, sums):
        yield agreed_cancel.change_form(so_far, varied, trader=trader, number=number)


def _block(sums: Running, *, trader: Trader, number: str, may_cancel: bool) -> Acceptance:
    reach = agreed_words.contact(trader)
    tax = ""
    if sums.after.taxes:
        is_charged = any(one.charged for one in sums.after.taxes)
        tax = say("variation.said_with" if is_charged else "variation.said_before")
    ticks = (say("variation.answer_told"), say("variation.answer_early")) if may_cancel else ()
    return Acceptance(
        title=say("variation.answer"),
        lead=say(
            "variation.answer_lead" if number else "variation.answer_lead_draft",
            number=number,
            change=agreed_words.change(sums.change.total),
            after=agreed_words.money(sums.after.total),
            tax=tax,
        ),
        options=(
            (say("variation.answer_yes"), agreed_words.change(sums.change.total)),
            (say("variation.answer_no"), ""),
        ),
        ticks=ticks,
        fields=tuple(say(f"acceptance.{name}") for name in ("name", "signature", "date")),
        closing=(
            say("variation.answer_return", contact=reach)
            if reach
            else say("variation.answer_return_plain")
        ),
    )
