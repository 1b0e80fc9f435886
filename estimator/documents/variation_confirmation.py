"""The confirmation, the same day, of a variation that was agreed by word of mouth."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from estimator.contract.so_far import SoFar, Varied
from estimator.contract.sums import Running, running
from estimator.documents import agreed_answer, agreed_pages, agreed_words
from estimator.documents.agreed_content import AgreedPaper, Big, Bigs, Part, Prose
from estimator.documents.agreed_sums import ladder
from estimator.documents.agreed_words import Named, change, clock, day, manner, money, tax_words
from estimator.documents.content import Acceptance, Block, Text, Tone
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader


def render(so_far: SoFar, key: str, *, trader: Trader, number: str, date: datetime.date) -> bytes:
    """Return the confirmation as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted, or while nobody has agreed to the variation.
        KeyError: when there is no variation of that key.
    """
    content = content_of(so_far, key, trader=trader, number=number, date=date)
    return agreed_pages.lay_out(content)


def content_of(
    so_far: SoFar, key: str, *, trader: Trader, number: str, date: datetime.date
) -> AgreedPaper:
    """Return all that the paper says."""
    varied = so_far.varied(key)
    if varied.answered_at is None or varied not in so_far.agreed:
        raise ValueError("nobody has agreed to this variation yet")
    sums = running(so_far, key)
    parts: list[Part] = [
        _agreed(varied, varied.answered_at, trader),
        _bigs(sums),
        ladder(so_far, sums),
        *agreed_answer.notice_of(so_far, sums, trader),
        _signing(varied, trader),
        *agreed_answer.form_of(so_far, varied, sums, trader=trader, number=varied.number),
    ]
    named = Named(
        heading=say("variation.confirm_heading"),
        under=say("variation.confirm_under"),
        number=number,
        facts=tuple(_facts(so_far, varied, varied.answered_at, number, date)),
    )
    return agreed_words.paper(so_far, trader, named, parts, ("cancel",))


def _facts(
    so_far: SoFar,
    varied: Varied,
    answered_at: datetime.datetime,
    number: str,
    date: datetime.date,
) -> Iterator[tuple[str, str]]:
    yield from agreed_words.numbered(number, date)
    yield say("variation.variation"), varied.number
    yield (
        say("variation.agreed_on"),
        say(
            "variation.agreed_value",
            date=day(answered_at.date()),
            time=clock(answered_at),
            how=manner(varied.how),
        ),
    )
    yield from agreed_words.whom(so_far)


def _agreed(varied: Varied, answered_at: datetime.datetime, trader: Trader) -> Prose:
    blocks: list[Block] = [
        Text(
            say(
                "variation.confirm_agreed",
                who=varied.who,
                number=varied.number,
                title=varied.variation.title,
                how=manner(varied.how),
                date=day(answered_at.date()),
                time=clock(answered_at),
            ),
            Tone.STRONG,
        )
    ]
    if varied.words.strip():
        blocks.append(Text(say("variation.answered_words", words=varied.words.strip())))
    reach = agreed_words.contact(trader)
    wrong = say("variation.confirm_wrong_plain")
    if reach:
        wrong = say("variation.confirm_wrong", contact=reach)
    return Prose("agreed", say("variation.confirm_title"), (*blocks, Text(wrong)))


def _bigs(sums: Running) -> Bigs:
    tax = tax_words(sums.after.taxes)
    return Bigs(
        (
            Big(say("variation.big_change"), change(sums.change.total), tax),
            Big(say("variation.big_now"), money(sums.after.total), tax),
        )
    )


def _signing(varied: Varied, trader: Trader) -> Acceptance:
    reach = agreed_words.contact(trader)
    return Acceptance(
        title=say("contract.sign"),
        lead=say("variation.confirm_lead", number=varied.number),
        options=(),
        ticks=(),
        fields=tuple(say(f"acceptance.{name}") for name in ("name", "signature", "date")),
        closing=say("acceptance.return", contact=reach) if reach else "",
    )
