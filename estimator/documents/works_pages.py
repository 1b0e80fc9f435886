"""How the parts that only papers about the works have become blocks on pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer, Table

from estimator.documents import agreed_pages, styles, tables
from estimator.documents.agreed_content import AgreedPaper
from estimator.documents.agreed_pages import Laying
from estimator.documents.page import Landmark, Places, Rule
from estimator.documents.parts import Story, all_short, height_of
from estimator.documents.tables import LONGEST_CELL, Command
from estimator.documents.text import clean, paragraph, pieces
from estimator.documents.works_blocks import PADDING, AlertBlock, TickBox
from estimator.documents.works_chart import ChartKeys, DayChart
from estimator.documents.works_content import (
    Alert,
    Blank,
    Chart,
    Framed,
    Grid,
    Plate,
    Steps,
    Topic,
    Topics,
)
from estimator.documents.works_drawing import WorksDrawing
from estimator.documents.works_grid import grid_table
from estimator.documents.works_styles import cells

FRAME = 2.0
"""Weight of the line round what is not agreed."""
LETTERS_KEPT = 900
STEP = 30.0
WRITTEN = 23.0
"""Height of a line to write on by hand."""
SIGNING = 176.0
"""Room for a title, and for the signature under the lines."""
MOST_KEPT = 180.0
"""Height up to which a table is moved whole to the next page; a longer one goes on over it."""
LEAST_STEPS = 84.0
"""Room that steps need with their title: two of them."""
TITLE = 30.0
"""Height of a title with the room under it."""
LEAST = 110.0
"""Room a title needs with what stands under it."""


def lay_out(content: AgreedPaper) -> bytes:
    """Return a paper about the works as a PDF; the same content gives the same bytes."""
    return agreed_pages.lay_out(content, _OWN)


def _alert(alert: Alert, _places: Places) -> Iterator[Flowable]:
    look = cells(is_large=True)
    under = paragraph(alert.under, look.alert_under) if alert.under else None
    yield AlertBlock(paragraph(alert.text, look.alert), under)
    yield Spacer(0, styles.WIDE_GAP)


def _framed(framed: Framed, places: Places) -> Iterator[Flowable]:
    """Ink round paper, so that it is told from what stops all work; long ones go over a page."""
    look = cells(is_large=True)
    texts = [piece for text in framed.items for piece in pieces(clean(text), LONGEST_CELL)]
    rows: list[list[Flowable | str]] = [[paragraph(framed.title, look.title)]]
    rows += [[paragraph(text, look.cell)] for text in texts]
    if framed.under:
        rows.append([paragraph(framed.under, look.quiet)])
    commands: list[Command] = [
        ("BOX", (0, 0), (-1, -1), FRAME, styles.INK),
        ("LEFTPADDING", (0, 0), (-1, -1), PADDING),
        ("RIGHTPADDING", (0, 0), (-1, -1), PADDING),
        ("TOPPADDING", (0, 0), (-1, 0), PADDING - 4),
        ("BOTTOMPADDING", (0, -1), (-1, -1), PADDING - 2),
        ("NOSPLIT", (0, 0), (-1, 1)),
    ]
    yield Landmark(framed.key, framed.title, places)
    yield tables.ruled(rows, [styles.WIDTH], commands)
    yield Spacer(0, styles.WIDE_GAP)


def _grid(grid: Grid, places: Places) -> Iterator[Flowable]:
    look = cells(is_large=grid.is_large)
    table = grid_table(grid)
    head: Story = []
    if grid.title:
        head += [Landmark(grid.key, grid.title, places), paragraph(grid.title, look.title)]
    if grid.lead:
        head += [paragraph(grid.lead, look.quiet)]
    head += [Spacer(0, styles.GAP - 2)] if head else []
    notes = [paragraph(one, look.quiet) for one in grid.notes if one]
    room = sum(height_of(one, styles.WIDTH) for one in (*head, table, *notes)) + styles.GAP
    yield CondPageBreak(room if room <= MOST_KEPT else LEAST)
    yield from head
    yield table
    for note in notes:
        yield Spacer(0, 4)
        yield note
    yield Spacer(0, styles.WIDE_GAP)


def _topics(topics: Topics, places: Places) -> Iterator[Flowable]:
    """Rows of words and sentences; a long topic goes on over a page."""
    if not topics.items:
        return
    look = cells(is_large=topics.is_large)
    table = _topics_table(topics)
    room = height_of(table, styles.WIDTH) + TITLE
    yield CondPageBreak(room if room <= MOST_KEPT else LEAST)
    if topics.title:
        yield Landmark(topics.key, topics.title, places)
        yield paragraph(topics.title, look.title)
        yield Spacer(0, styles.GAP - 2)
    yield table
    yield Spacer(0, styles.WIDE_GAP)


def _topics_table(topics: Topics) -> Table:
    rows: list[list[Flowable | str]] = []
    commands: list[Command] = [
        ("LINEABOVE", (0, 0), (-1, 0), styles.STRONG_RULE, styles.INK),
        ("TOPPADDING", (0, 0), (-1, -1), 2.5),
        ("RIGHTPADDING", (0, 0), (0, -1), 8),
    ]
    for topic in topics.items:
        start = len(rows)
        rows += _topic(topic, is_large=topics.is_large)
        last = len(rows) - 1
        commands += [
            ("BOTTOMPADDING", (0, start), (-1, last), 0),
            ("BOTTOMPADDING", (0, last), (-1, last), 4),
            ("LINEBELOW", (0, last), (-1, last), styles.HAIRLINE, styles.RULE),
        ]
        # What belongs together is read together, unless it is too long for that.
        if sum(map(len, topic.texts)) <= LETTERS_KEPT:
            commands += [("NOSPLIT", (0, start), (-1, last)), ("SPAN", (0, start), (0, last))]
    return tables.ruled(rows, [topics.width, styles.WIDTH - topics.width], commands)


def _topic(topic: Topic, *, is_large: bool) -> Iterator[list[Flowable | str]]:
    look = cells(is_large=is_large)
    title, *more = pieces(clean(topic.title), LONGEST_CELL // 4)
    texts = [piece for text in topic.texts for piece in pieces(clean(text), LONGEST_CELL)]
    style = look.text_strong if topic.is_loud else look.text
    beside: Flowable | str = paragraph(title, look.text_strong)
    for text in texts:
        yield [beside, paragraph(text, style)]
        beside = paragraph(more.pop(0), look.text_strong) if more else ""
    for rest in more:
        yield [paragraph(rest, look.text_strong), ""]


def _steps(steps: Steps, places: Places) -> Iterator[Flowable]:
    look = cells(is_large=True)
    rows: list[list[Flowable | str]] = []
    for number, text in enumerate(steps.items, 1):
        first, *more = pieces(clean(text), LONGEST_CELL)
        rows.append(
            [
                paragraph(str(number), look.text_strong),
                paragraph(first, look.text),
                TickBox(is_large=True),
            ]
        )
        rows += [["", paragraph(piece, look.text), ""] for piece in more]
    table = tables.ruled(
        rows,
        [STEP, styles.WIDTH - 2 * STEP, STEP],
        [
            ("LINEABOVE", (0, 0), (-1, 0), styles.STRONG_RULE, styles.INK),
            ("LINEBELOW", (0, 0), (-1, -1), styles.HAIRLINE, styles.RULE),
            ("TOPPADDING", (0, 0), (-1, -1), 1),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ("RIGHTPADDING", (1, 0), (1, -1), 10),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ],
    )
    yield CondPageBreak(LEAST_STEPS)
    yield Landmark(steps.key, steps.title, places)
    yield paragraph(steps.title, look.title)
    yield Spacer(0, styles.GAP - 2)
    yield table
    yield Spacer(0, styles.WIDE_GAP)


def _blank(blank: Blank, places: Places) -> Iterator[Flowable]:
    look = styles.sheet()
    lines: Story = []
    for _line in range(blank.lines):
        lines += [Spacer(0, WRITTEN), Rule(weight=styles.HAIRLINE, colour=styles.MUTED)]
    # What is written and what is signed under it stay on one page.
    yield CondPageBreak(WRITTEN * blank.lines + SIGNING)
    yield Landmark(blank.key, blank.title, places)
    yield paragraph(blank.title, look.title)
    yield paragraph(blank.lead, look.quiet)
    yield from lines
    yield Spacer(0, styles.WIDE_GAP)


def _plate(plate: Plate, places: Places) -> Iterator[Flowable]:
    look = styles.sheet()
    drawing = WorksDrawing(plate, styles.WIDTH)
    title: Story = []
    if plate.title:
        title = [paragraph(plate.title, look.title), Spacer(0, styles.WIDE_GAP - 2)]
    caption = paragraph(plate.caption, look.quiet)
    head: Story = [Landmark(plate.key, plate.title or plate.key, places), *title]
    if all_short((plate.title, plate.caption)):
        yield KeepTogether([*head, drawing, Spacer(0, 4), caption])
    else:
        yield from (*head, drawing, Spacer(0, 4), caption)
    yield Spacer(0, styles.WIDE_GAP)


def _chart(chart: Chart, _places: Places) -> Iterator[Flowable]:
    yield KeepTogether([DayChart(chart), Spacer(0, styles.GAP), ChartKeys(chart.keys)])
    yield Spacer(0, styles.WIDE_GAP)


_OWN: Mapping[type, Laying] = {
    Alert: _alert,
    Framed: _framed,
    Grid: _grid,
    Topics: _topics,
    Steps: _steps,
    Blank: _blank,
    Plate: _plate,
    Chart: _chart,
}
