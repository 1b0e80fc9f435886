"""From the content of a paper to the bytes of a PDF: what stands where, page by page."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, Spacer

from estimator.documents import signing, styles, tables
from estimator.documents.blocks import Tinted
from estimator.documents.content import (
    Choice,
    Content,
    Section,
)
from estimator.documents.drawing import ElevationDrawing
from estimator.documents.figure import Figure
from estimator.documents.page import FootedCanvas, Landmark, Places, Rule, document
from estimator.documents.parts import (
    LEAST_SECTION,
    SHORT,
    Story,
    all_short,
    blocks,
    columns,
    height_of,
    letterhead,
    section,
    titles,
)
from estimator.documents.text import paragraph

FIGURE_WIDTH = 228.0
"""Width of a drawing with its upright dimension."""
COLUMN_GAP = 18.0
BESIDE_HEIGHT = 420.0
"""Options higher than this no longer stand beside the drawing."""
MOST_KEPT = 600.0
"""Height of a table that is moved whole to the next page."""


def lay_out(content: Content) -> bytes:
    """Return a paper as a PDF; the same content gives the same bytes."""
    written = io.BytesIO()
    places = Places()

    def canvas(*given: Any, **named: Any) -> FootedCanvas:
        return FootedCanvas(*given, foot=content.foot, places=places, **named)

    document(written, content).build(_story(content, places), canvasmaker=canvas)
    return written.getvalue()


def _story(content: Content, places: Places) -> Story:
    """Return everything in reading order."""
    story = [
        *letterhead(content),
        *titles(content),
        *_saw(content.saw, places),
        *_figure_and_choices(content),
        *_work(content, places),
        *_more_figures(content, places),
        *_schedule(content, places),
    ]
    for one in content.sections:
        story += section(one, places)
    if content.acceptance is not None:
        story += signing.acceptance(content.acceptance, places)
    if content.form is not None:
        story += signing.form(content.form, places)
    return story


def _saw(section: Section, places: Places) -> Iterator[Flowable]:
    yield Landmark(section.key, section.title, places)
    yield paragraph(section.title, styles.sheet().title)
    yield Spacer(0, 3)
    yield from blocks(section)
    yield Spacer(0, styles.GAP)


def _figure_and_choices(content: Content) -> Iterator[Flowable]:
    """The wall and what is offered for it, side by side where there is room."""
    first = _figure(content.figures[0]) if content.figures else []
    width = styles.WIDTH - FIGURE_WIDTH - COLUMN_GAP
    # A side-by-side block cannot go on over a page, so its height is taken first.
    beside: Story = []
    for number, choice in enumerate(content.choices):
        beside += [Spacer(0, styles.WIDE_GAP)] * (number > 0)
        beside += _choice(choice, width)
    height = sum(height_of(one, width) for one in beside)
    fits = height <= BESIDE_HEIGHT and all(map(_is_short, content.choices))
    if first and fits and all_short((content.figures[0].caption,)):
        yield columns([first, beside], [FIGURE_WIDTH + COLUMN_GAP, width])
    else:
        yield from first
        for choice in content.choices:
            yield Spacer(0, styles.GAP)
            yield CondPageBreak(LEAST_SECTION + styles.GAP)
            yield from _choice(choice, styles.WIDTH)
    yield Spacer(0, styles.WIDE_GAP - 6)


def _figure(shapes: Figure) -> Story:
    caption: Flowable = paragraph(shapes.caption, styles.sheet().quiet)
    if all_short((shapes.caption,)):
        # The caption keeps to the width of the drawing, not of the column it stands in.
        caption = columns([[caption]], [FIGURE_WIDTH])
    return [ElevationDrawing(shapes, FIGURE_WIDTH), Spacer(0, 3), caption]


def _choice(choice: Choice, width: float) -> Story:
    """One option: rule, letter and title, price, what will be seen, time."""
    look = styles.sheet()
    title: Flowable = columns(
        [[paragraph(choice.letter, look.letter)], [paragraph(choice.title, look.subtitle)]],
        [18.0, width - 18.0],
    )
    if len(choice.title) > SHORT:
        title = paragraph(f"{choice.letter}  {choice.title}", look.subtitle)
    price = columns(
        [
            [paragraph(choice.price, look.price)],
            [Spacer(0, 9), paragraph(choice.beside_price, look.quiet_right)],
        ],
        [width * 0.63, width * 0.37],
    )
    rest = [paragraph(choice.under_price, look.strong)] if choice.under_price else []
    rest += [paragraph(" ".join(choice.visible), look.cell)] if choice.visible else []
    return [
        Rule(weight=styles.STRONG_RULE, colour=styles.INK),
        Spacer(0, 4),
        title,
        price,
        Spacer(0, 1),
        *rest,
        Spacer(0, 2),
        paragraph(choice.time, look.quiet),
    ]


def _work(content: Content, places: Places) -> Iterator[Flowable]:
    work = content.work
    # The table is one block, so it is known beforehand whether it goes on this page.
    table = tables.work_table(work)
    yield CondPageBreak(min(height_of(table, styles.WIDTH) + 1, MOST_KEPT))
    yield Landmark("work", work.title, places)
    yield table
    if work.promise:
        yield Spacer(0, styles.GAP)
        yield Tinted(paragraph(work.promise, styles.sheet().cell))
    yield Spacer(0, styles.WIDE_GAP)


def _more_figures(content: Content, places: Places) -> Iterator[Flowable]:
    """The other elevations, two to a row."""
    rest = content.figures[1:]
    if not rest:
        return
    yield CondPageBreak(220)
    yield Landmark("figures", content.figures_title, places)
    yield paragraph(content.figures_title, styles.sheet().title)
    yield Spacer(0, styles.GAP)
    if not all_short(shapes.caption for shapes in rest):
        for shapes in rest:
            yield from (*_figure(shapes), Spacer(0, styles.WIDE_GAP))
        return
    for number in range(0, len(rest), 2):
        pair = [_figure(shapes) for shapes in rest[number : number + 2]]
        yield columns([*pair, []][:2], [styles.WIDTH / 2, styles.WIDTH / 2])
        yield Spacer(0, styles.WIDE_GAP)


def _schedule(content: Content, places: Places) -> Iterator[Flowable]:
    schedule = content.schedule
    yield CondPageBreak(160)
    yield Landmark("schedule", schedule.title, places)
    yield paragraph(schedule.title, styles.sheet().title)
    yield paragraph(schedule.note, styles.sheet().quiet)
    yield Spacer(0, styles.GAP / 2)
    yield tables.schedule_table(schedule)
    yield Spacer(0, styles.WIDE_GAP)


def _is_short(choice: Choice) -> bool:
    return all_short((choice.title, choice.time, *choice.visible)) and len(choice.visible) < 12
