"""The completion paper for the customer: what was done, what it does, and what it does not."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_pages, agreed_words, works_words
from estimator.documents.agreed_content import (
    AgreedPaper,
    Column,
    Ledger,
    Line,
    Lines,
    Part,
    Prose,
)
from estimator.documents.agreed_words import Named, day, listed
from estimator.documents.content import Acceptance, Points, Text, Tone
from estimator.documents.formats import quantity
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader
from estimator.takeoff.grout_and_mortar import mortar
from estimator.takeoff.lines import Item
from estimator.works.as_built import AsBuilt, as_built
from estimator.works.site_work import SiteWork, site_work

AMOUNT = 80.0
ASIDE = {one.value for one in (Item.MAKE_GOOD, Item.PROTECT, Item.CLEAR_WASTE)}
"""Work that nobody looks for on a finished wall."""


def render(
    so_far: SoFar,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    """Return the completion paper as an A4 PDF; the same input always gives the same bytes.

    Args:
        so_far: What the job has come to.
        trader: Whose name is on the paper.
        number: Of the paper, empty for none.
        date: Of the paper.
        pictures: JPEG by the SHA-256 what was built names it by.

    Raises:
        ValueError: before anything was accepted.
    """
    content = content_of(so_far, trader=trader, number=number, date=date, pictures=pictures or {})
    return agreed_pages.lay_out(content)


def content_of(
    so_far: SoFar,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    pictures: Mapping[str, bytes],
) -> AgreedPaper:
    """Return all that the paper says."""
    work, built, done = site_work(so_far), as_built(so_far), so_far.completion
    named = Named(
        heading=say("works.completion_heading"),
        under=say("works.completion_under"),
        number=number,
        facts=(
            *works_words.facts(so_far, number, date),
            (say("works.done_on"), day(done.on) if done else ""),
            (say("works.done_by"), done.by if done else ""),
        ),
    )
    parts: list[Part] = [
        _done(work),
        works_words.walls(work.survey, work.measure),
        *_materials(work, built),
        *_points("shows", "works.shows", work.offer.visible),
        _care(work),
        _limits(),
        _snags(so_far, built),
        *_guarantee(trader),
        *works_words.photographs(work.survey, built.photos, pictures),
        _taken_over(),
    ]
    return agreed_words.paper(so_far, trader, named, parts)


def _done(work: SiteWork) -> Ledger:
    """Return what was done, as it was agreed: each kind of work and how much of it."""
    groups: dict[str, list[Line]] = {}
    kinds = {item.value for item in Item} - ASIDE
    for line in work.offer.lines:
        if line.item in kinds:
            amount = quantity(line.quantity)
            groups.setdefault(line.group.value, []).append(Line(line.description, (amount,)))
    return Ledger(
        "done",
        say("works.what_was_done"),
        (Column("", AMOUNT),),
        tuple(Lines(title, tuple(lines)) for title, lines in groups.items()),
    )


def _materials(work: SiteWork, built: AsBuilt) -> Iterator[Part]:
    said = [say("works.packs", count=str(one.packs), title=one.title) for one in work.offer.buying]
    if built.batches:
        said.append(f"{say('works.ab_batches')}: {listed(built.batches)}")
    yield from _points("materials", "works.materials", tuple(said))


def _care(work: SiteWork) -> Prose:
    keys = {line.conditions.new_mortar for line in work.measure.lines} - {""}
    days = max((mortar(key).cure_days for key in keys), default=0)
    said = [say("works.care_weather")]
    if days:
        said = [say("works.care_damp", days=str(days)), say("works.care_frost"), *said]
    return Prose("care", say("works.care"), (Points(tuple(said)),))


def _limits() -> Prose:
    does = say("works.limit_does")
    rest = tuple(say(f"works.{one}") for one in ("limit_cause", "limit_design", "watch"))
    return Prose("limits", say("works.limits"), (Text(does, Tone.STRONG), Points(rest)))


def _snags(so_far: SoFar, built: AsBuilt) -> Prose:
    told = so_far.completion.notes if so_far.completion else ()
    said = (*told, *(one.deviation for one in built.deviations))
    said = tuple(dict.fromkeys(said))
    blocks = (Points(said),) if said else (Text(say("works.no_snags"), Tone.QUIET),)
    return Prose("snags", say("works.snags"), blocks)


def _guarantee(trader: Trader) -> Iterator[Part]:
    if trader.guarantee.strip():
        yield Prose("guarantee", say("works.guarantee"), (Text(trader.guarantee),))


def _points(key: str, title: str, items: tuple[str, ...]) -> Iterator[Part]:
    if items:
        yield Prose(key, say(title), (Points(tuple(dict.fromkeys(items))),))


def _taken_over() -> Acceptance:
    return Acceptance(
        title=say("works.accept_title"),
        lead=say("works.accept_lead"),
        options=(),
        ticks=(),
        fields=(
            say("acceptance.name"),
            say("acceptance.signature"),
            say("acceptance.date"),
        ),
        closing="",
    )
