"""A daywork sheet: hours by person and day, materials, plant, percentages, and what was signed.

Source: RICS, *Definition of Prime Cost of Daywork*, option A (a percentage on prime cost).
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal

from estimator.contract.daywork import DayworkSheet, Hours
from estimator.contract.daywork_sums import DayworkSums, daywork_sums, hand_over_by
from estimator.contract.so_far import SoFar
from estimator.documents import agreed_pages, agreed_words
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
from estimator.documents.agreed_sums import MONEY
from estimator.documents.agreed_words import Named, day, figure, money
from estimator.documents.content import Acceptance, Sum, Text, Tone
from estimator.documents.formats import plain
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader

DAY, HOURS, RATE, QUANTITY = 110.0, 50.0, 62.0, 130.0


def render(so_far: SoFar, key: str, *, trader: Trader, number: str, date: datetime.date) -> bytes:
    """Return a daywork sheet as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
        KeyError: when there is no sheet of that key.
    """
    content = content_of(so_far, key, trader=trader, number=number, date=date)
    return agreed_pages.lay_out(content)


def content_of(
    so_far: SoFar, key: str, *, trader: Trader, number: str, date: datetime.date
) -> AgreedPaper:
    """Return all that the paper says."""
    sheet = next((one for one in so_far.daywork if one.key == key), None)
    if sheet is None:
        raise KeyError(key)
    sums = daywork_sums(sheet)
    parts: list[Part] = [
        _what(sheet),
        _bigs(so_far, sheet, sums),
        _labour(sheet, sums),
        _spent(so_far, sheet, sums),
        *_signed(sheet),
    ]
    named = Named(
        heading=say("daywork.heading"),
        under=say("daywork.under"),
        number=number,
        facts=tuple(_facts(so_far, sheet, number, date)),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def _facts(
    so_far: SoFar, sheet: DayworkSheet, number: str, date: datetime.date
) -> Iterator[tuple[str, str]]:
    yield from agreed_words.numbered(number, date)
    varied = [one for one in so_far.variations if one.variation.key == sheet.variation]
    yield say("daywork.variation"), (varied[0].number if varied else "") or say("daywork.none")
    if sheet.hours and sheet.signed_on is None:
        last = max(one.on for one in sheet.hours)
        yield say("daywork.hand_over"), day(hand_over_by(last))
    yield from agreed_words.whom(so_far)


def _what(sheet: DayworkSheet) -> Prose:
    return Prose("what", say("daywork.what"), (Text(sheet.what.strip()),))


def _bigs(so_far: SoFar, sheet: DayworkSheet, sums: DayworkSums) -> Bigs:
    tax = say("daywork.before_tax" if agreed_words.is_taxed(so_far) else "options.no_tax")
    worked = sum((one.hours for one in sheet.hours), Decimal(0))
    return Bigs(
        (
            Big(say("daywork.big"), money(sums.net), tax),
            Big(say("daywork.hours_title"), say("daywork.total_hours", hours=plain(worked))),
        )
    )


def _labour(sheet: DayworkSheet, sums: DayworkSums) -> Ledger:
    """Return hours by person and day, the days in order."""
    in_order = sorted(sheet.hours, key=lambda one: one.on)
    return Ledger(
        "labour",
        say("daywork.labour"),
        (
            Column(say("daywork.day"), DAY, is_quiet=True),
            Column(say("daywork.hours"), HOURS),
            Column(say("daywork.a_hour"), RATE, is_quiet=True),
            Column(say("daywork.sum"), MONEY),
        ),
        (Lines("", tuple(map(_person, in_order))),),
        tuple(_with_percent("labour", sums)),
    )


def _person(one: Hours) -> Line:
    who = say("daywork.person", who=one.who, trade=one.trade) if one.trade.strip() else one.who
    cost = one.a_hour.times(one.hours)
    return Line(who, (day(one.on), plain(one.hours), figure(one.a_hour), figure(cost)))


def _spent(so_far: SoFar, sheet: DayworkSheet, sums: DayworkSums) -> Ledger:
    """Return materials and plant, and under them what the whole sheet comes to."""
    taxed = agreed_words.is_taxed(so_far)
    kinds = [("materials", sheet.materials), ("plant", sheet.plant)]
    spent = [(kind, those) for kind, those in kinds if those]
    struck = [one for kind, _those in spent for one in _with_percent(kind, sums)]
    title = say("daywork.net" if taxed else "daywork.net_only")
    return Ledger(
        "spent",
        say("daywork.spent" if spent else "daywork.sums"),
        (
            Column(say("daywork.quantity") if spent else "", QUANTITY, is_quiet=True),
            Column(say("daywork.cost"), MONEY),
        ),
        tuple(
            Lines(
                say(f"daywork.{kind}"),
                tuple(Line(one.what, (one.quantity, figure(one.cost))) for one in those),
            )
            for kind, those in spent
        ),
        (*struck, Sum(title, (figure(sums.net),), is_final=True)),
    )


def _with_percent(kind: str, sums: DayworkSums) -> Iterator[Sum]:
    """Yield what something costs, and what its percentage adds."""
    share = {"labour": sums.labour, "materials": sums.materials, "plant": sums.plant}[kind]
    yield Sum(say(f"daywork.{kind}_cost"), (figure(share.prime_cost),))
    words = say(f"daywork.percent_{kind}", percent=plain(share.percent))
    yield Sum(words, (figure(share.addition),))


def _signed(sheet: DayworkSheet) -> Iterator[Part]:
    """Yield what a signature says, and what it does not; the block, or who has signed."""
    if sheet.signed_by.strip() and sheet.signed_on is not None:
        signed = say("daywork.signed_by", who=sheet.signed_by.strip(), date=day(sheet.signed_on))
        texts = (Text(signed, Tone.STRONG), Text(say("daywork.signed_lead")))
        yield Prose("signed", say("daywork.signed_title"), texts)
        return
    yield Acceptance(
        title=say("daywork.signed_title"),
        lead=say("daywork.signed_lead"),
        options=(),
        ticks=(),
        fields=tuple(say(f"acceptance.{name}") for name in ("name", "signature", "date")),
        closing="",
    )
