"""What was done where, on paper: beside what was planned, with batches, depths and signatures."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence

from estimator.contract.so_far import SoFar
from estimator.contract.works import Feature, Held
from estimator.documents import agreed_words, works_figure, works_pages, works_words
from estimator.documents.agreed_content import AgreedPaper, Big, Bigs, Part, Prose
from estimator.documents.agreed_words import Named, listed
from estimator.documents.content import Text, Tone
from estimator.documents.formats import short_day
from estimator.documents.wording import say
from estimator.documents.works_content import (
    Cell,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
    Noted,
    Number,
    Topic,
    Topics,
)
from estimator.documents.works_figure import bar_number
from estimator.documents.works_words import initials, item_words
from estimator.quoting.quotation import Trader
from estimator.takeoff.lines import Mark, Measure
from estimator.works.as_built import AsBuilt, BuiltMark, State, as_built
from estimator.works.hold_points import HoldPoint
from estimator.works.marks import elevation_of
from estimator.works.site_work import site_work
from estimator.works.withheld import withheld, withheld_marks, work_agreed

NUMBER, ON, BATCH, DEPTH, SIGNED = 34.0, 84.0, 84.0, 54.0, 66.0
FIRST_HEIGHT = 330.0
"""Height of the wall on the first page, in points."""
NOTED = {
    State.NOT_NOTED: Noted.OPEN,
    State.DONE: Noted.DONE,
    State.DEVIATES: Noted.OTHERWISE,
    State.NOT_PLANNED: Noted.OTHERWISE,
}


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
    return works_pages.lay_out(content)


def content_of(
    so_far: SoFar,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    pictures: Mapping[str, bytes],
) -> AgreedPaper:
    """Return all that the paper says."""
    work, built = site_work(so_far), as_built(so_far)
    agreed, alone = work_agreed(so_far).measure, withheld_marks(withheld(so_far))
    named = Named(
        heading=say("works.as_built_heading"),
        under=say("works.as_built_under"),
        number=number,
        facts=tuple(works_words.facts(so_far, number, date)),
    )
    noted = {**dict.fromkeys(alone, Noted.OPEN), **noted_of(built)}
    plates = works_figure.plates(work.survey, work.measure, noted=noted, height=FIRST_HEIGHT)
    parts: list[Part] = [
        _bigs(built, agreed),
        *plates,
        _table(built),
        _deviations(built),
        *_holds(built, so_far.held),
        *works_words.photographs(work.survey, built.captions, pictures),
    ]
    return agreed_words.paper(so_far, trader, named, parts)


def noted_of(built: AsBuilt) -> Mapping[Mark, Noted]:
    """Return how far each mark has come, as its number is drawn."""
    return {mark.mark: NOTED[mark.state] for mark in built.marks}


def _bigs(built: AsBuilt, measure: Measure) -> Bigs:
    bars = {bar.id for bar in measure.bars}
    done = sum(1 for mark in built.marks if mark.mark in bars and mark.done)
    signed = sum(len(mark.signed) for mark in built.marks)
    other = sum(1 for mark in built.marks if NOTED[mark.state] is Noted.OTHERWISE)
    looked = Big(say("works.ab_looked"), _of(signed, signed + len(built.missing)))
    told = [looked, Big(say("works.ab_other"), str(other))]
    if bars:
        told.insert(0, Big(say("works.ab_bars"), _of(done, len(bars))))
    return Bigs(tuple(told))


def _of(count: int, every: int) -> str:
    return say("works.ab_of", count=str(count), all=str(every))


def _table(built: AsBuilt) -> Grid:
    sides: dict[str, list[GridRow]] = {}
    for mark in built.marks:
        if mark.done or mark.items:
            sides.setdefault(mark.side, []).append(_mark(mark))
    return Grid(
        "built",
        say("works.ab_marks"),
        (
            GridColumn("", NUMBER),
            GridColumn(say("works.ab_where"), 0),
            GridColumn(say("works.ab_on"), ON),
            GridColumn(say("works.ab_batch"), BATCH),
            GridColumn(say("works.ab_depth"), DEPTH, is_right=True),
        ),
        tuple(GridGroup(side, tuple(rows)) for side, rows in sides.items()),
    )


def _mark(mark: BuiltMark) -> GridRow:
    number: Cell = ""
    if mark.words.startswith("Bar "):
        number = Number(bar_number(mark.mark), NOTED[mark.state])
    under = list(_planned(mark))
    if not mark.done:
        return GridRow((number, mark.words, say("works.ab_none"), "", ""), " ".join(under))
    what = listed(tuple(dict.fromkeys(one.what for one in mark.done)))
    if what:
        under.append(say("works.ab_done", done=what))
    days = "\n".join(dict.fromkeys(short_day(one.on) for one in mark.done))
    batches = "\n".join(dict.fromkeys(one.batch for one in mark.done if one.batch))
    depths = [one.depth_mm for one in mark.done if one.depth_mm]
    depth = say("works.ab_depth_mm", depth=str(depths[-1])) if depths else ""
    return GridRow((number, mark.words, days, batches, depth), " ".join(under))


def _planned(mark: BuiltMark) -> Iterator[str]:
    if not mark.items:
        yield say("works.ab_unplanned")
        return
    planned = mark.planned or listed(tuple(map(item_words, mark.items)))
    yield say("works.ab_planned", planned=planned)


def _deviations(built: AsBuilt) -> Part:
    topics = []
    for mark in built.marks:
        texts = [one.deviation for one in mark.done if one.deviation.strip()]
        if mark.shallow_mm:
            texts.append(say("works.ab_shallow", depth=str(mark.shallow_mm)))
        if texts:
            topics.append(Topic(mark.words, tuple(texts)))
    title = say("works.ab_deviations")
    if topics:
        return Topics("deviations", title, tuple(topics))
    return Prose("deviations", title, (Text(say("works.ab_no_deviation"), Tone.QUIET),))


def _holds(built: AsBuilt, held: Sequence[Held]) -> Iterator[Part]:
    """Yield who looked at what, in one table for places with the same points."""
    alike: dict[tuple[Feature, ...], list[BuiltMark]] = {}
    for mark in built.marks:
        held_there = {point.feature for point in (*mark.signed, *mark.missing)}
        if held_there:
            order = tuple(one for one in Feature if one in held_there)
            alike.setdefault(order, []).append(mark)
    who = _shorts(one.by for one in held)
    notes = tuple(
        say("works.ab_holds_who", initials=short, name=name) for name, short in who.items() if short
    )
    for place, (features, marks) in enumerate(alike.items()):
        is_last = place == len(alike) - 1
        yield Grid(
            f"holds-{place}",
            "" if place else say("works.ab_holds"),
            (
                GridColumn(say("works.hold_place"), 0),
                *(GridColumn(say(f"works.feature_{one.name.lower()}"), SIGNED) for one in features),
            ),
            (GridGroup("", tuple(_held(mark, features, who) for mark in marks)),),
            lead="" if place else say("works.ab_holds_lead"),
            notes=(" ".join(notes),) if is_last else (),
        )


def _shorts(names: Iterable[str]) -> Mapping[str, str]:
    """Return each name with its initials, numbered where others have the same."""
    alike: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        alike.setdefault(initials(name), []).append(name)
    return {
        name: short if len(same) == 1 or not short else f"{short}{place}"
        for short, same in alike.items()
        for place, name in enumerate(same, start=1)
    }


def _held(mark: BuiltMark, features: tuple[Feature, ...], who: Mapping[str, str]) -> GridRow:
    points = {point.feature: point for point in (*mark.signed, *mark.missing)}
    is_side = mark.mark == elevation_of(mark.mark)
    where = mark.side if is_side else mark.words
    return GridRow((where, *(_signed(points.get(one), who) for one in features)))


def _signed(point: HoldPoint | None, who: Mapping[str, str]) -> str:
    if point is None:
        return ""
    if point.signed_on is None:
        return say("works.ab_not_signed")
    day = short_day(point.signed_on).partition(" ")[2]
    return say(
        "works.ab_signed", initials=who.get(point.signed_by, initials(point.signed_by)), day=day
    )
