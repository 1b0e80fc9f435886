"""What is filled in by hand: boxes to tick, lines to sign, the form to cancel with."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import Flowable, KeepTogether, Spacer

from estimator.documents import styles
from estimator.documents.blocks import FillLine, Tick
from estimator.documents.content import Acceptance, CancelForm, Fact
from estimator.documents.page import Landmark, Places, Rule
from estimator.documents.parts import Story, all_short, columns
from estimator.documents.text import paragraph

SIGN_LINE = 26.0
TOP = styles.PAGE_HEIGHT - 100.0
"""Over this there is only the running head of a page. [pt]"""


def acceptance(given: Acceptance, places: Places) -> Iterator[Flowable]:
    """Boxes to tick and lines to sign, on one page."""
    look = styles.sheet()
    body: Story = [
        Rule(weight=styles.STRONG_RULE, colour=styles.INK),
        Spacer(0, styles.GAP),
        Landmark("acceptance", given.title, places),
        paragraph(given.title, look.title),
        paragraph(given.lead, look.body),
        Spacer(0, styles.GAP),
    ]
    for title, price in given.options:
        body += [*_tick(title, price), Spacer(0, 5)]
    body += [Spacer(0, 3)] * bool(given.ticks)
    for tick in given.ticks:
        body += [Tick(paragraph(tick, look.cell)), Spacer(0, 4)]
    name, signature, date = (FillLine(label) for label in given.fields)
    half = styles.WIDTH / 2 - styles.GAP
    body += [Spacer(0, SIGN_LINE - 10), name, Spacer(0, SIGN_LINE)]
    body += [columns([[signature], [], [date]], [half + 60, 2 * styles.GAP, half - 60])]
    if given.closing:
        body += [Spacer(0, styles.GAP), paragraph(given.closing, look.quiet)]
    yield KeepTogether(body)
    yield Spacer(0, styles.WIDE_GAP)


def form(given: CancelForm, places: Places) -> Iterator[Flowable]:
    """The form to cut off and send, on one page."""
    look = styles.sheet()
    body: Story = [
        CutLine(weight=styles.HAIRLINE, colour=styles.MUTED, dash=(4, 3)),
        Spacer(0, styles.GAP),
        Landmark("form", given.title, places),
        paragraph(given.title, look.title),
        paragraph(given.lead, look.quiet),
        Spacer(0, styles.GAP),
        paragraph(given.to.label, look.quiet),
        paragraph(given.to.value, look.body),
        Spacer(0, styles.GAP),
        paragraph(given.statement, look.body),
        Spacer(0, styles.GAP),
    ]
    for one in given.fields:
        body += [*_filled_in(one), Spacer(0, 5)]
    body.append(paragraph(given.star, look.quiet))
    yield KeepTogether(body)


class CutLine(Rule):
    """A line to cut along; at the top of a page there is nothing to cut off."""

    def draw(self) -> None:
        """Draw it, unless nothing stands over it."""
        if self.canv.absolutePosition(0, 0)[1] < TOP:
            super().draw()


def _tick(title: str, price: str) -> Story:
    look = styles.sheet()
    if all_short((title,)):
        return [Tick(paragraph(title, look.strong), price)]
    return [Tick(paragraph("", look.strong), price), paragraph(title, look.strong)]


def _filled_in(one: Fact) -> Story:
    look = styles.sheet()
    if all_short((one.value,)):
        return [FillLine(one.label, value=paragraph(one.value, look.body))]
    return [paragraph(one.label, look.quiet), paragraph(one.value, look.body)]
