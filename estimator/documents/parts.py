"""Blocks that papers of every kind are made of: letterhead, titles, sections, columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Spacer, Table

from estimator.documents import styles, tables
from estimator.documents.content import Fact, Points, Section, Steps, Text, Tone
from estimator.documents.page import Places, Rule, Sheet, SideHead
from estimator.documents.text import paragraph

SHORT = 260
"""Letters that a text beside another may have; longer ones get the whole width."""
LEAST_SECTION = 62.0
"""Room a section needs on a page to start there: its heading and a few lines."""
FACT_LABEL, FACT_VALUE = 66.0, 272.0
Story = list[Flowable]


def letterhead(content: Sheet) -> Iterator[Flowable]:
    """Whose paper: the name on the left, how to reach them on the right, a rule under both."""
    look, head = styles.sheet(), content.letterhead
    name = paragraph(head.name, look.name) if head.name else paragraph(head.draft, look.warning)
    left: Story = [name, Spacer(0, 2), paragraph(head.under, look.quiet)]
    if all_short((head.name, head.under, *head.contact)):
        right: Story = [paragraph(line, look.quiet_right) for line in head.contact]
        yield columns([left, right], [styles.WIDTH * 0.54, styles.WIDTH * 0.46])
    else:
        yield from left
        yield from (paragraph(line, look.quiet) for line in head.contact)
    yield Spacer(0, styles.GAP)
    yield Rule(weight=styles.STRONG_RULE, colour=styles.INK)
    yield Spacer(0, styles.WIDE_GAP - 2)


def titles(content: Sheet) -> Iterator[Flowable]:
    """Which paper it is, and its facts beside it."""
    look = styles.sheet()
    title: Story = [
        paragraph(content.heading, look.heading),
        paragraph(content.under_heading, look.under_heading),
    ]
    if all_short(fact.value for fact in content.facts):
        # A long heading takes room from what stands beside it, and keeps to one line.
        wide = stringWidth(content.heading, look.heading.fontName, look.heading.fontSize)
        value = min(FACT_VALUE, styles.WIDTH - FACT_LABEL - wide - styles.WIDE_GAP - 1)
        wide = styles.WIDTH - FACT_LABEL - value - styles.WIDE_GAP
        yield columns([title, [], [_facts(content.facts, value)]], [wide, styles.WIDE_GAP, None])
    else:
        yield from title
        yield Spacer(0, styles.GAP)
        for fact in content.facts:
            yield paragraph(fact.label, look.quiet)
            yield paragraph(fact.value, look.body)
    yield Spacer(0, styles.WIDE_GAP - 4)


def _facts(facts: Sequence[Fact], value: float) -> Table:
    look = styles.sheet()
    rows = [[paragraph(one.label, look.label), paragraph(one.value, look.right)] for one in facts]
    return grid(rows, [FACT_LABEL, value], bottom=1.5)


def section(content: Section, places: Places) -> Iterator[Flowable]:
    """A section of a later page: heading in the side column, text beside it."""
    yield CondPageBreak(LEAST_SECTION)
    yield Rule()
    yield Spacer(0, styles.GAP - 3)
    yield SideHead(content.key, content.title, places)
    yield from _indented(blocks(content))
    yield Spacer(0, styles.GAP - 1)


def _indented(blocks: Iterable[Flowable]) -> Iterator[Flowable]:
    """Move paragraphs into the text column; tables stand at the right edge by themselves."""
    for block in blocks:
        if isinstance(block, Paragraph):
            block.style = styles.moved(block.style)
        yield block


def blocks(section: Section) -> Iterator[Flowable]:
    """Yield what stands under a heading."""
    look = styles.sheet()
    by_tone = {Tone.PLAIN: look.body, Tone.QUIET: look.quiet, Tone.STRONG: look.strong}
    for block in section.blocks:
        if isinstance(block, Text):
            yield paragraph(block.text, by_tone[block.tone])
            yield Spacer(0, 3)
        elif isinstance(block, Points):
            yield from (paragraph(one, look.point, bullet="–") for one in block.items)
        else:
            yield from _steps(block)


def _steps(steps: Steps) -> Iterator[Flowable]:
    yield paragraph(steps.title, styles.sheet().strong)
    if steps.rows:
        yield tables.steps_table(steps)
    yield Spacer(0, styles.GAP)


def columns(cells: Sequence[Story], widths: Sequence[float | None]) -> Table:
    """Return blocks side by side, level at the top."""
    return grid([list(cells)], widths)


def grid(rows: Sequence[list[Any]], widths: Sequence[float | None], *, bottom: float = 0) -> Table:
    """Return rows of blocks with no lines and no room between them."""
    style = [
        ("FONTNAME", (0, 0), (-1, -1), styles.REGULAR),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), bottom),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ]
    return Table(rows, colWidths=widths, style=style, hAlign="LEFT")


def height_of(block: Flowable, width: float) -> float:
    """Return how high a block is at a width."""
    return float(block.wrap(width, styles.PAGE_HEIGHT)[1])


def all_short(texts: Iterable[str]) -> bool:
    """Whether texts may stand in columns, which cannot go on over a page."""
    return all(len(text) <= SHORT and text.count("\n") < 8 for text in texts)
