"""The survey as a PDF: every elevation large, what was measured on it, and what was not seen."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer, Table

from estimator.documents import styles
from estimator.documents.content import Fact
from estimator.documents.drawing import ElevationDrawing
from estimator.documents.page import FootedCanvas, Landmark, Places, document
from estimator.documents.parts import Story, all_short, columns, letterhead, section, titles
from estimator.documents.photograph import Photographed, opened
from estimator.documents.survey_content import (
    Photograph,
    Rows,
    SideSeen,
    SurveyContent,
    content_of,
)
from estimator.documents.tables import text_table
from estimator.documents.text import paragraph
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Measure

CRACK_SHARES = (0.07, 0.37, 0.16, 0.18, 0.11, 0.11)
READING_SHARES = (0.12, 0.24, 0.24, 0.16, 0.24)
FACT_LABEL = 96.0
FACTS_TOGETHER = 4
PHOTO_GAP = 18.0
PHOTO_ROOM = ((styles.WIDTH - PHOTO_GAP) / 2, 300.0)
"""Width and height a photograph may take, two to a row."""


def render(
    survey: Survey,
    measure: Measure | None,
    trader: Trader,
    pictures: Mapping[str, bytes],
    date: str,
) -> bytes:
    """Return the survey as an A4 PDF; the same input always gives the same bytes.

    Args:
        survey: What was seen or told; ranges are drawn at their likely values and said as ranges.
        measure: The work of the option drawn; None for the wall as it was seen.
        trader: Whose name is on the paper.
        pictures: JPEG by the SHA-256 the survey names it by.
        date: Of the paper, ISO 8601.
    """
    content = content_of(survey, measure, trader, pictures, date)
    written = io.BytesIO()
    places = Places()

    def canvas(*given: Any, **named: Any) -> FootedCanvas:
        return FootedCanvas(*given, foot=content.foot, places=places, **named)

    document(written, content).build(_story(content, places), canvasmaker=canvas)
    return written.getvalue()


def _story(content: SurveyContent, places: Places) -> Story:
    """Return everything in reading order."""
    story: Story = [*letterhead(content), *titles(content)]
    for number, side in enumerate(content.sides):
        story += _side(content, side, f"side-{number}", places)
    story += _photographs(content, places)
    if content.readings.rows:
        story += [CondPageBreak(120), Landmark("readings", say("survey.readings"), places)]
        story += _titled_table(say("survey.readings"), content.readings, READING_SHARES)
        story += [paragraph(say("survey.reading_note"), styles.sheet().quiet)]
        story += [Spacer(0, styles.WIDE_GAP)]
    for one in content.sections:
        story += section(one, places)
    return story


def _side(content: SurveyContent, side: SideSeen, key: str, places: Places) -> Iterator[Flowable]:
    """One elevation: drawing first, then what is measured on it."""
    look = styles.sheet()
    yield KeepTogether(
        [
            Landmark(key, side.title, places),
            paragraph(side.title, look.title),
            Spacer(0, styles.GAP),
            ElevationDrawing(side.figure, styles.WIDTH),
        ]
    )
    yield Spacer(0, 3)
    yield paragraph(side.figure.caption, look.quiet)
    yield Spacer(0, styles.WIDE_GAP)
    if side.cracks.rows:
        yield CondPageBreak(90)
        yield from _titled_table(say("survey.cracks"), side.cracks, CRACK_SHARES)
    else:
        yield paragraph(side.no_cracks, look.body)
    yield Spacer(0, styles.WIDE_GAP)
    yield CondPageBreak(70)
    yield paragraph(content.wall_title, look.subtitle)
    yield Spacer(0, 3)
    yield from _facts(side.facts)
    if side.bricks:
        yield Spacer(0, styles.GAP)
        yield CondPageBreak(60)
        yield paragraph(content.bricks_title, look.subtitle)
        yield Spacer(0, 3)
        yield from (paragraph(one, look.point, bullet="–") for one in side.bricks)
    yield Spacer(0, styles.WIDE_GAP + styles.GAP)


def _titled_table(title: str, rows: Rows, shares: Sequence[float]) -> Iterator[Flowable]:
    yield paragraph(title, styles.sheet().subtitle)
    yield Spacer(0, 3)
    yield _table(rows, shares)


def _table(rows: Rows, shares: Sequence[float]) -> Table:
    return text_table(rows.columns, rows.rows, [styles.WIDTH * share for share in shares])


def _facts(facts: Sequence[Fact]) -> Iterator[Flowable]:
    """Labels and what belongs to them; a long text may go on over a page."""
    look = styles.sheet()
    rows: list[Story] = []
    for fact in facts:
        words: tuple[Story, Story] = (
            [paragraph(fact.label, look.label)],
            [paragraph(fact.value, look.cell)],
        )
        if all_short((fact.value,)):
            row: Story = [columns([words[0], words[1]], [FACT_LABEL, styles.WIDTH - FACT_LABEL])]
        else:
            row = [*words[0], *words[1]]
        rows.append([*row, Spacer(0, 1.5)])
    for row in rows[:-FACTS_TOGETHER]:
        yield from row
    # The last few go over a page together: one line alone at its top looks forgotten.
    if all(all_short((fact.value,)) for fact in facts[-FACTS_TOGETHER:]):
        yield KeepTogether([part for row in rows[-FACTS_TOGETHER:] for part in row])
    else:
        yield from (part for row in rows[-FACTS_TOGETHER:] for part in row)


def _photographs(content: SurveyContent, places: Places) -> Iterator[Flowable]:
    """Photographs two to a row."""
    if not content.photographs:
        return
    look = styles.sheet()
    title: Story = [
        Landmark("photographs", content.photographs_title, places),
        paragraph(content.photographs_title, look.title),
        Spacer(0, styles.GAP),
    ]
    for number in range(0, len(content.photographs), 2):
        pair = content.photographs[number : number + 2]
        if all_short(one.caption for one in pair):
            cells = [_photograph(one) for one in pair]
            wide = PHOTO_ROOM[0] + PHOTO_GAP
            row: Story = [columns([*cells, []][:2], [wide, PHOTO_ROOM[0]])]
        else:
            row = [block for one in pair for block in (*_photograph(one), Spacer(0, styles.GAP))]
        yield KeepTogether([*title, *row[:1]])
        yield from row[1:]
        yield Spacer(0, styles.WIDE_GAP)
        title = []


def _photograph(one: Photograph) -> Story:
    look = styles.sheet()
    if one.data is None:
        return [paragraph(one.caption, look.quiet)]
    reader = opened(one.data)
    if reader is None:
        return [paragraph(f"{one.caption} {say('survey.broken')}", look.quiet)]
    return [
        Photographed(one.photo, reader, PHOTO_ROOM),
        Spacer(0, 3),
        paragraph(one.caption, look.quiet),
    ]
