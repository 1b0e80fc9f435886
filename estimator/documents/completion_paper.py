"""The completion paper for the customer: what was done, what it does, and what it does not."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

from estimator.contract.so_far import SoFar
from estimator.contract.works import Completion
from estimator.documents import (
    agreed_words,
    works_figure,
    works_handover,
    works_pages,
    works_withheld,
    works_words,
)
from estimator.documents.agreed_content import AgreedPaper, Column, Ledger, Line, Lines, Part, Prose
from estimator.documents.agreed_words import Named, day
from estimator.documents.as_built_paper import NOTED, noted_of
from estimator.documents.content import Acceptance, Points, Text, Tone
from estimator.documents.formats import metres, quantity, short_day
from estimator.documents.wording import say
from estimator.documents.works_content import (
    Blank,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
    Noted,
    Number,
)
from estimator.documents.works_figure import bar_number
from estimator.pricing.offer import Group
from estimator.pricing.work_lines import GROUPS, describe, merged
from estimator.quoting.quotation import Trader
from estimator.takeoff.lines import Bar, Item
from estimator.units import Quantity
from estimator.works.as_built import AsBuilt, BuiltMark, as_built
from estimator.works.marks import side_name
from estimator.works.site_work import SiteWork, site_work
from estimator.works.withheld import withheld, withheld_marks, work_agreed

AMOUNT = 80.0
NUMBER, LONG, ON, BATCH = 34.0, 60.0, 84.0, 96.0
HEIGHT = 225.0
"""Height of a wall on the page, in points."""
FEW = 8
"""Lines of work up to which they are set in the larger type."""
TO_WRITE = 4
"""Lines to write on what is to be put right."""
POINTED = ("watch", "snags", "guarantee")
"""What the foot of the first page points to."""
ASIDE = (Item.MAKE_GOOD, Item.PROTECT, Item.CLEAR_WASTE, Item.ALLOWED_BRICK)
"""Work that nobody looks for on a finished wall, and bricks that were only allowed for."""


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
    work, built, done = work_agreed(so_far), as_built(so_far), so_far.completion
    named = Named(
        heading=say("works.completion_heading"),
        under=say("works.completion_under"),
        number=number,
        facts=(
            *works_words.facts(so_far, number, date),
            (say("works.done_on"), _done_on(done)),
        ),
    )
    open_ones = dict.fromkeys(withheld_marks(withheld(so_far)), Noted.OPEN)
    noted = noted_of(built) if so_far.built else open_ones
    parts: list[Part] = [
        _done(work),
        *works_withheld.not_claimed(so_far),
        works_handover.limits(work),
        works_handover.care(so_far, work),
        *works_figure.plates(work.survey, site_work(so_far).measure, noted=noted, height=HEIGHT),
        *_bars(work, built),
        works_handover.materials(work, _batches_besides(work, built)),
        *_points("shows", works_handover.shows(work)),
        works_handover.watch(),
        _snags(so_far, built),
        *_guarantee(trader),
        *works_words.photographs(work.survey, built.captions, pictures),
        Blank(
            "to_put_right",
            say("works.to_put_right"),
            say("works.to_put_right_lead"),
            TO_WRITE,
        ),
        _taken_over(),
    ]
    return works_words.pointing(agreed_words.paper(so_far, trader, named, parts), POINTED)


def _done_on(done: Completion | None) -> str:
    if done is None:
        return ""
    return say("works.done_by", day=day(done.on), by=done.by) if done.by.strip() else day(done.on)


def _done(work: SiteWork) -> Ledger:
    """Return what was done, as it was measured: each kind of work and how much of it.

    Bricks stand here as they are marked on the wall: what was only allowed for was not done.
    """
    groups: dict[Group, list[Line]] = {}
    measured = [line for line in work.measure.lines if line.item not in ASIDE]
    for (item, conditions, _surety), one in merged(measured).items():
        text = describe(work.book.output(item), conditions)
        amount = quantity(Quantity(one.quantity, one.unit))
        groups.setdefault(GROUPS[item], []).append(Line(text, (amount,)))
    return Ledger(
        "done",
        say("works.what_was_done"),
        (Column("", AMOUNT),),
        tuple(Lines(one.value, tuple(groups[one])) for one in Group if one in groups),
        is_fine=sum(map(len, groups.values())) > FEW,
    )


def _batches_besides(work: SiteWork, built: AsBuilt) -> tuple[str, ...]:
    """Return the batches that are not told beside the bars."""
    bars = {bar.id for bar in work.measure.bars}
    told = {one.batch for mark in built.marks if mark.mark in bars for one in mark.done}
    return tuple(one for one in built.batches if one not in told)


def _bars(work: SiteWork, built: AsBuilt) -> Iterator[Part]:
    """Yield where each bar lies, and where it is noted when it was set and out of which batch."""
    if not work.measure.bars:
        return
    told = {mark.mark: mark for mark in built.marks}
    is_noted = any(mark.done for mark in built.marks)
    sides: dict[str, list[GridRow]] = {}
    for bar in work.measure.bars:
        row = _noted_bar(bar, told[bar.id]) if is_noted else _bar(bar, Noted.PLANNED)
        sides.setdefault(side_name(bar.id, work.survey), []).append(row)
    signed = sum(len(mark.signed) for mark in built.marks)
    checks = say("works.checks_signed", signed=str(signed), all=str(signed + len(built.missing)))
    columns = (
        GridColumn("", NUMBER),
        GridColumn(say("works.bar_bed"), 0),
        GridColumn(say("works.bar_long"), LONG, is_right=True),
        GridColumn(say("works.ab_on"), ON),
        GridColumn(say("works.ab_batch"), BATCH),
    )
    yield Grid(
        "bars",
        say("works.bars_done"),
        columns if is_noted else columns[:3],
        tuple(
            GridGroup(side if len(sides) > 1 else "", tuple(rows)) for side, rows in sides.items()
        ),
        lead=say("works.bars_done_lead"),
        notes=(checks,) if signed else (),
    )


def _bar(bar: Bar, noted: Noted) -> GridRow:
    return GridRow(
        (
            Number(bar_number(bar.id), noted),
            say("works.bar_course", course=str(bar.course)),
            metres(bar.length_mm),
        )
    )


def _noted_bar(bar: Bar, mark: BuiltMark) -> GridRow:
    day_set = short_day(mark.done[-1].on) if mark.done else say("works.ab_none")
    batches = "\n".join(dict.fromkeys(one.batch for one in mark.done if one.batch))
    return GridRow((*_bar(bar, NOTED[mark.state]).cells, day_set, batches))


def _snags(so_far: SoFar, built: AsBuilt) -> Prose:
    told = so_far.completion.notes if so_far.completion else ()
    said = (
        *(one for one in told if one.strip()),
        *(
            f"{mark.words}: {one.deviation}"
            for mark in built.marks
            for one in mark.done
            if one.deviation.strip()
        ),
    )
    said = tuple(dict.fromkeys(said))
    blocks = (Points(said),) if said else (Text(say("works.no_snags"), Tone.QUIET),)
    return Prose("snags", say("works.snags"), blocks)


def _guarantee(trader: Trader) -> Iterator[Part]:
    if trader.guarantee.strip():
        yield Prose("guarantee", say("works.guarantee"), (Text(trader.guarantee),))


def _points(key: str, items: tuple[str, ...]) -> Iterator[Part]:
    if items:
        yield Prose(key, say(f"works.{key}"), (Points(items),))


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
