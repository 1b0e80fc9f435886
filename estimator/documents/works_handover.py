"""What a customer is told of finished work: what went in, what shows, how to look after it."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_words
from estimator.documents.agreed_words import day, listed
from estimator.documents.formats import metres
from estimator.documents.wording import counted, in_words, say
from estimator.documents.works_content import Topic, Topics
from estimator.documents.works_words import mix_words
from estimator.pricing.price_book import PriceBook
from estimator.survey.survey import Survey
from estimator.takeoff.grout_and_mortar import Mortar
from estimator.takeoff.lines import Item, Measure
from estimator.works.programme import TaskKind, programme
from estimator.works.site_work import SiteWork
from estimator.works.weather import mortars_of

NEW_BRICKS = frozenset({Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK})
"""Bricks that stand in the wall now; those only allowed for do not."""
LAID = NEW_BRICKS | {Item.TURN_BRICK}
POINTED = frozenset({Item.REPOINT, Item.POINT_SLOT, Item.POINT_CRACK_BED, Item.POINT_PERPEND})
NAMED = {
    "grout": ("mat_grout", frozenset({Item.SET_BAR})),
    "facing_brick": ("mat_bricks", NEW_BRICKS),
    "patch_mortar": ("mat_patch", frozenset({Item.PATCH_BRICK})),
}
"""Materials told of by themselves, with the work that puts them into the wall; what mortar is made
of is told with the mortar."""


def materials(work: SiteWork, batches: Sequence[str]) -> Topics:
    """Return what is in the wall now; how much was bought is nobody's business but ours.

    Args:
        work: What was done.
        batches: Numbers on bags and tubs that are told nowhere else.
    """
    topics = list(_bars(work.measure, work.book))
    items = {line.item for line in work.measure.lines}
    for key, (title, put_in_by) in NAMED.items():
        if items & put_in_by and key in work.book.materials:
            said = say("works.mat_one", title=work.book.materials[key].title)
            topics.append(Topic(say(f"works.{title}"), (said,)))
    mixed = tuple(_mixed(one, work.book) for one in mortars_of(work.measure))
    if mixed:
        topics.append(Topic(say("works.mat_mortar"), mixed))
    if batches:
        topics.append(Topic(say("works.mat_batches"), (listed(batches),)))
    return Topics("materials", say("works.materials"), tuple(topics))


def shows(work: SiteWork) -> tuple[str, ...]:
    """Return what will still be seen, and how it changes."""
    items = {line.item for line in work.measure.lines}
    said = list(work.offer.visible)
    if items & POINTED:
        said.append(say("works.weathers"))
    if items & NEW_BRICKS:
        said.append(say("works.weathers_brick"))
    if items & (POINTED | NEW_BRICKS):
        said.append(say("works.bloom"))
    return tuple(dict.fromkeys(said))


def care(so_far: SoFar, work: SiteWork) -> Topics:
    """Return how the wall is looked after: until when it stays covered, and what harms it."""
    topics = list(_covered(so_far, work))
    topics.append(Topic(say("works.about_cleaning"), (say("works.care_wash"),)))
    if work.measure.bars:
        topics.append(Topic(say("works.about_fixing"), (say("works.care_drill"),)))
    return Topics("care", say("works.care"), tuple(topics))


def limits(work: SiteWork) -> Topics:
    """Return what the repair does and what it does not, side by side."""
    items = {line.item for line in work.measure.lines}
    does = []
    if work.measure.bars:
        does.append(say("works.does_bars"))
    if items & LAID:
        does.append(say("works.does_bricks"))
    if items & POINTED:
        does.append(say("works.does_pointing"))
    not_done = [say("works.limit_cause"), say("works.limit_design"), *_report(work.survey)]
    topics = [Topic(say("works.does_title"), tuple(does))] if does else []
    topics += [
        Topic(say("works.does_not_title"), tuple(not_done), is_loud=True),
    ]
    return Topics("limits", say("works.limits"), tuple(topics))


def watch() -> Topics:
    """Return what to look for, and what to do when it is seen."""
    return Topics(
        "watch",
        say("works.watch"),
        tuple(
            Topic(say(f"works.{title}"), (say(f"works.{text}"),))
            for title, text in (
                ("watch_when", "watch_what"),
                ("watch_do_title", "watch_do"),
                ("watch_now_title", "watch_now"),
            )
        ),
    )


def _covered(so_far: SoFar, work: SiteWork) -> Iterator[Topic]:
    """Yield until when the pointing stays covered; nothing where that is over."""
    kinds = mortars_of(work.measure)
    if not kinds:
        return
    days = max(one.cure_days for one in kinds)
    noted = [one.on for one in so_far.built]
    noted += [one.last for one in programme(so_far) if one.kind is TaskKind.VISIT]
    until = max(noted) + datetime.timedelta(days=days) if noted else None
    if until is None:
        words = say("works.care_damp", days=str(days))
    elif so_far.completion is None or until > so_far.completion.on:
        words = say("works.care_until", day=day(until))
    else:
        return
    yield Topic(say("works.about_covers"), (words,))
    yield Topic(say("works.about_frost"), (say("works.care_frost"),))


def _bars(measure: Measure, book: PriceBook) -> Iterator[Topic]:
    if not measure.bars:
        return
    count = len(measure.bars)
    said = say(
        "works.mat_bar",
        title=book.bars.title,
        count=counted("works.bar_count", count, number=in_words(count)),
        length=metres(sum(sum(bar.pieces_mm) for bar in measure.bars)),
    )
    yield Topic(say("works.mat_bars"), (said,))


def _mixed(one: Mortar, book: PriceBook) -> str:
    names: Mapping[str, str] = {key: value.title for key, value in book.materials.items()}
    parts = [
        (names.get(part.material, part.material), f"{part.parts:g}") for part in one.ingredients
    ]
    return say("works.mat_mixed", title=one.title, parts=mix_words(parts))


def _report(survey: Survey) -> Iterator[str]:
    report = survey.engineers_report
    if report is not None:
        reference = agreed_words.listed((report.reference, report.date))
        yield say("works.limit_report", engineer=report.engineer, reference=reference)
