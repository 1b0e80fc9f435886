"""A variation on paper: what was found, each line of what changes, and the sum before and after."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Iterator, Mapping

from estimator.contract.frozen import frozen
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.sums import Running, running
from estimator.contract.variation import Standing, Valued, ValuedBy
from estimator.documents import agreed_pages, agreed_words, formats
from estimator.documents.agreed_answer import answered, asked
from estimator.documents.agreed_content import (
    AgreedPaper,
    Beside,
    Big,
    Bigs,
    Column,
    Drawings,
    Drawn,
    Ledger,
    Line,
    Lines,
    Part,
    Photographs,
    Pictured,
    Prose,
    Terms,
)
from estimator.documents.agreed_figure import Done, drawings_of
from estimator.documents.agreed_sums import ladder, tax_sums
from estimator.documents.agreed_words import Named
from estimator.documents.content import Block, Fact, Points, Section, Sum, Text, Tone
from estimator.documents.offered import HALF_DAY
from estimator.documents.wording import capital, counted, say
from estimator.money import Money, total
from estimator.pricing.offer import Group
from estimator.quoting.quotation import Trader
from estimator.survey.survey import Survey
from estimator.units import Unit

FOUND_ON_SITE = "found on site"
COLUMNS = (("was", 50.0), ("now", 50.0), ("change", 52.0), ("rate", 46.0), ("sum", 58.0))
BASIS = 36.0
BY_ITSELF = {
    ValuedBy.PROVISIONAL_SUM: "variation.group_sums",
    ValuedBy.DAYWORK: "variation.group_daywork",
}
"""Footings whose lines were measured nowhere, with the heading they stand under."""


def render(  # noqa: PLR0913 - each is said by another part of the program
    so_far: SoFar,
    key: str,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    pictures: Mapping[str, bytes] | None = None,
    finish: str = "",
) -> bytes:
    """Return a variation as an A4 PDF; the same input always gives the same bytes.

    Args:
        so_far: What the job has come to.
        key: Which variation of it.
        trader: Whose name is on the paper.
        number: Of the paper, empty for a draft.
        date: Of the paper.
        pictures: JPEG by the SHA-256 the variation names it by.
        finish: When the work is then finished, ISO 8601; empty where no plan says so.

    Raises:
        ValueError: before anything was accepted.
        KeyError: when there is no variation of that key.
    """
    content = content_of(
        so_far,
        key,
        trader=trader,
        number=number,
        date=date,
        pictures=pictures or {},
        finish=finish,
    )
    return agreed_pages.lay_out(content)


def content_of(  # noqa: PLR0913 - as the paper itself
    so_far: SoFar,
    key: str,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    pictures: Mapping[str, bytes],
    finish: str = "",
) -> AgreedPaper:
    """Return all that the paper says."""
    varied = so_far.varied(key)
    sums = running(so_far, key)
    parts: list[Part] = [
        _found(varied),
        *_seen(so_far, varied, sums, finish),
        *answered(varied),
        _lines(varied, sums),
        _codes(varied),
        *_notes(varied),
        ladder(so_far, sums),
        *_pending(so_far, varied),
        *_photographs(varied, pictures),
        *asked(so_far, varied, sums, trader=trader, number=number),
    ]
    named = Named(
        heading=say("variation.heading"),
        under=say("variation.under"),
        number=number,
        facts=tuple(_facts(so_far, varied, number, date)),
        warnings=() if number else (say("variation.draft"),),
    )
    return agreed_words.paper(so_far, trader, named, parts, ("notes", "cancel"))


def _facts(
    so_far: SoFar, varied: Varied, number: str, date: datetime.date
) -> Iterator[tuple[str, str]]:
    yield from agreed_words.numbered(number, date)
    asked_by = varied.variation.asked_by.strip()
    raised = say("variation.found_on_site") if _is_found(varied) else asked_by
    yield say("variation.asked_by"), raised
    yield from agreed_words.whom(so_far)


def _is_found(varied: Varied) -> bool:
    """Whether it was found on site, and nobody asked for it."""
    return varied.variation.asked_by.strip().casefold() in ("", FOUND_ON_SITE)


def _found(varied: Varied) -> Prose:
    variation = varied.variation
    blocks: list[Block] = [Text(variation.title, Tone.STRONG)] if variation.title.strip() else []
    blocks += [Text(one) for one in variation.found if one.strip()]
    if variation.reason.strip():
        blocks.append(Text(say("variation.reason", reason=variation.reason.strip())))
    title = say("variation.found" if _is_found(varied) else "variation.asked_for")
    return Prose("found", title, tuple(blocks))


def _seen(so_far: SoFar, varied: Varied, sums: Running, finish: str) -> Iterator[Part]:
    """Yield drawings of what changed, the two sums that lead, and what it does to the time."""
    bigs = Bigs(
        (
            Big(
                say("variation.big_change"),
                agreed_words.change(sums.change.total),
                agreed_words.tax_words(sums.after.taxes),
            ),
            Big(
                say("variation.big_after"),
                agreed_words.money(sums.after.total),
                agreed_words.tax_words(sums.after.taxes),
            ),
            _time(varied, finish),
        )
    )
    drawn = _drawn(so_far, varied)
    if len(drawn) == 1:
        yield Beside(drawn[0], bigs)
        return
    if drawn:
        yield Drawings("drawings", "", drawn)
    yield bigs


def _drawn(so_far: SoFar, varied: Varied) -> tuple[Drawn, ...]:
    contract = agreed_words.contract_of(so_far)
    variation = varied.variation
    before = Done(agreed_words.survey_of(contract), contract.scope)
    for one in so_far.variations:
        if one.variation.key == variation.key:
            break
        if one.standing.is_covered:
            before = Done(agreed_words.survey_in(one.variation.survey), one.variation.scope)
    return drawings_of(
        before,
        Done(agreed_words.survey_in(variation.survey), variation.scope),
        frozen(contract).rules,
        frozenset(mark for line in variation.lines for mark in line.marks),
    )


def _lines(varied: Varied, sums: Running) -> Ledger:
    """Return every line of the change, what is left out beside what is added."""
    variation = varied.variation
    columns = tuple(
        Column(say(f"variation.{name}"), width, is_quiet=name in ("was", "now", "rate"))
        for name, width in COLUMNS
    )
    groups, usual = [], _usual(varied)
    titles = [*(group.value for group in Group), *(say(words) for words in BY_ITSELF.values())]
    for title in titles:
        lines = [line for line in variation.lines if _stands_under(line) == title]
        if lines:
            summed = agreed_words.change_figure(total(line.amount for line in lines))
            shown = tuple(_line(line, usual) for line in lines)
            groups.append(Lines(title, shown, (summed, "")))
    return Ledger(
        "lines",
        say("variation.lines"),
        (*columns, Column(say("variation.basis"), BASIS, is_quiet=True)),
        tuple(groups),
        tuple(Sum(one.title, (*one.figures, ""), one.is_final) for one in _sums(varied, sums)),
        is_fine=True,
    )


def _stands_under(line: Valued) -> str:
    """Return the heading of a line; no measured group is that of hours, or of a sum of its own."""
    words = BY_ITSELF.get(line.basis)
    return say(words) if words else line.group.value


def _line(line: Valued, usual: Mapping[ValuedBy, str]) -> Line:
    is_usual = line.why == usual.get(line.basis)
    return Line(
        line.description,
        (*_quantities(line), agreed_words.change_figure(line.amount), line.basis.value),
        under="" if is_usual else capital(line.why.strip()),
    )


def _quantities(line: Valued) -> tuple[str, str, str, str]:
    """Return was, now, change and rate; of a sum that is only another sum, both sums."""
    if line.unit is Unit.ITEM and line.was and not line.change:
        now = Money.of(line.rate).times(line.now)
        return agreed_words.money(now - line.amount), agreed_words.money(now), formats.NONE, ""
    return (
        agreed_words.amount_of(line.was, line.unit),
        agreed_words.amount_of(line.now, line.unit),
        agreed_words.change_of(line.change, line.unit),
        agreed_words.true_minus(formats.rate(line.rate)),
    )


def _usual(varied: Varied) -> dict[ValuedBy, str]:
    """Return what most lines of a basis rest on; it is said once, beside the code."""
    counts: dict[ValuedBy, Counter[str]] = {}
    for line in varied.variation.lines:
        counts.setdefault(line.basis, Counter())[line.why] += 1
    return {basis: count.most_common(1)[0][0] for basis, count in counts.items()}


def _sums(varied: Varied, sums: Running) -> Iterator[Sum]:
    amounts = [line.amount for line in varied.variation.lines]
    more, less = (
        total(one for one in amounts if one.pence > 0),
        total(one for one in amounts if one.pence < 0),
    )
    if more and less:
        yield Sum(say("variation.added"), (agreed_words.change_figure(more),))
        yield Sum(say("variation.left_out"), (agreed_words.change_figure(less),))
    is_charged = any(tax.charged for tax in sums.after.taxes)
    with_tax = say("variation.total" if is_charged else "variation.total_reverse")
    yield from tax_sums(
        sums.change,
        (say("variation.net"), with_tax, say("variation.net_only")),
        agreed_words.change_figure,
    )


def _codes(varied: Varied) -> Terms:
    """Return what each code used means, and no other."""
    rows = []
    usual = _usual(varied)
    for basis in ValuedBy:
        if basis in usual:
            words = say(f"variation.code_{basis.value.lower()}")
            if usual[basis].strip():
                why = usual[basis].strip().rstrip(".")
                words = say("variation.code_here", words=words.rstrip("."), why=why)
            rows.append(Fact(basis.value, words))
    return Terms("codes", tuple(rows))


def _notes(varied: Varied) -> Iterator[Section]:
    notes = tuple(one for one in varied.variation.notes if one.strip())
    if notes:
        yield Section("notes", say("variation.notes"), (Points(notes),))


def _time(varied: Varied, finish: str) -> Big:
    days = varied.variation.extra_days
    words = say("variation.time_same")
    if days:
        key = "variation.time_more" if days > 0 else "variation.time_less"
        words = counted(key, float(abs(days)), days=formats.plain(abs(days)))
    if abs(days) == HALF_DAY:
        words = say("variation.time_half_more" if days > 0 else "variation.time_half_less")
    said = finish.strip()
    under = say("variation.time_finish", date=formats.date(said)) if said else ""
    return Big(say("variation.time"), words, under=under)


def _pending(so_far: SoFar, varied: Varied) -> Iterator[Ledger]:
    """Yield the other variations that move no sum, with their sums, never summed."""
    others = [
        one
        for one in so_far.variations
        if one.variation.key != varied.variation.key and one.standing is not Standing.AGREED
    ]
    if others:
        yield Ledger(
            "pending",
            say("variation.pending"),
            (Column("", 180.0, is_quiet=True), Column(say("variation.before_tax"), 84.0)),
            (Lines("", tuple(map(pending_line, others))),),
            note=say("variation.pending_note"),
        )


def pending_line(one: Varied) -> Line:
    """Return a variation that moves no sum: what it is, how it stands, what it would change."""
    title = one.variation.title
    if one.number:
        title = say("variation.agreed", number=one.number, title=title)
    sent = agreed_words.day(one.sent_on) if one.sent_on is not None else ""
    stands = say(f"variation.pending_{one.standing.value}", date=sent)
    return Line(title, (stands, agreed_words.change_figure(one.variation.net)))


def _photographs(varied: Varied, pictures: Mapping[str, bytes]) -> Iterator[Photographs]:
    survey = agreed_words.survey_in(varied.variation.survey)
    found = (_pictured(survey, name, pictures) for name in varied.variation.photos)
    shown = tuple(one for one in found if one is not None)
    if shown:
        yield Photographs("photographs", say("variation.photographs"), shown)


def _pictured(survey: Survey, name: str, pictures: Mapping[str, bytes]) -> Pictured | None:
    photo = next((one for one in survey.photos if one.picture == name), None)
    if photo is None:
        return None
    places = {one.id: one.name for one in survey.elevations}
    key = "survey.photo_name" if photo.taken else "survey.photo_name_undated"
    words = photo.caption.strip()
    words = f"{words}." if words and words[-1] not in ".!?" else words
    caption = say(
        key,
        caption=words,
        name=places.get(photo.elevation, photo.elevation),
        taken=formats.date(photo.taken),
    ).strip()
    data = pictures.get(name)
    if data is None:
        caption = f"{caption} {say('survey.missing')}"
    return Pictured(photo, data, caption)
