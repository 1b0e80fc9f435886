"""What was done where, on paper: beside what was planned, with batches, depths and signatures."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

from estimator.contract.so_far import SoFar
from estimator.contract.works import Built
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
from estimator.documents.content import Points, Text, Tone
from estimator.documents.wording import say
from estimator.documents.works_words import item_words
from estimator.quoting.quotation import Trader
from estimator.works.as_built import AsBuilt, BuiltMark, as_built
from estimator.works.site_work import site_work

ON, BATCH, DEPTH = 96.0, 64.0, 52.0


def render(
    so_far: SoFar,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    """Return what was built as an A4 PDF; the same input always gives the same bytes.

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
    named = Named(
        heading=say("works.as_built_heading"),
        under=say("works.as_built_under"),
        number=number,
        facts=tuple(works_words.facts(so_far, number, date)),
    )
    return agreed_words.paper(so_far, trader, named, list(parts_of(so_far, pictures)))


def parts_of(so_far: SoFar, pictures: Mapping[str, bytes]) -> Iterator[Part]:
    """Yield drawing, table, deviations and what nobody signed for."""
    work, built = site_work(so_far), as_built(so_far)
    yield works_words.walls(work.survey, work.measure)
    yield _table(built)
    told = tuple(
        _deviation(one, mark) for mark in built.marks for one in mark.done if one.deviation
    )
    yield _prose("deviations", "works.ab_deviations", told, say("works.ab_no_deviation"))
    by_place: dict[str, list[str]] = {}
    for point in built.missing:
        by_place.setdefault(point.what, []).append(point.feature.value)
    missing = tuple(f"{place}: {listed(tuple(what))}" for place, what in by_place.items())
    yield _prose("missing", "works.ab_missing", missing, say("works.ab_all_signed"))
    yield from works_words.photographs(work.survey, built.photos, pictures)


def _table(built: AsBuilt) -> Ledger:
    columns = (
        Column(say("works.ab_on"), ON, is_quiet=True),
        Column(say("works.ab_batch"), BATCH),
        Column(say("works.ab_depth"), DEPTH),
    )
    sides: dict[str, list[Line]] = {}
    for mark in built.marks:
        sides.setdefault(mark.side, []).append(_mark(mark))
    groups = tuple(Lines(side, tuple(lines)) for side, lines in sides.items())
    return Ledger("built", say("works.ab_marks"), columns, groups)


def _mark(mark: BuiltMark) -> Line:
    planned = mark.planned or listed(tuple(map(item_words, mark.items)))
    planned = planned or say("works.ab_unplanned")
    if not mark.done:
        return Line(mark.words, (say("works.ab_none"), "", ""), planned)
    last = mark.done[-1]
    beside = [planned, *dict.fromkeys(one.what for one in mark.done)]
    if mark.shallow_mm:
        beside.append(say("works.ab_shallow", depth=str(mark.shallow_mm)))
    depth = str(last.depth_mm) if last.depth_mm else ""
    batches = listed(tuple(dict.fromkeys(one.batch for one in mark.done)))
    return Line(mark.words, (day(last.on), batches, depth), listed(tuple(beside)))


def _deviation(one: Built, mark: BuiltMark) -> str:
    return f"{mark.words}: {one.deviation}"


def _prose(key: str, title: str, items: tuple[str, ...], none: str) -> Prose:
    blocks = (Points(items),) if items else (Text(none, Tone.QUIET),)
    return Prose(key, say(title), blocks)
