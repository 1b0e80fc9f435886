"""From the content of a paper on money to the bytes of a PDF."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer

from estimator.documents import signing, styles
from estimator.documents.agreed_content import (
    AgreedPaper,
    Beside,
    Big,
    Bigs,
    Drawings,
    Drawn,
    Ledger,
    Photographs,
    Pictured,
    Prose,
    Terms,
)
from estimator.documents.agreed_drawing import StressedDrawing
from estimator.documents.agreed_tables import ledger_table, terms_table
from estimator.documents.content import Acceptance, CancelForm, Section
from estimator.documents.page import FootedCanvas, Gap, Landmark, Places, Rule, document
from estimator.documents.parts import (
    Story,
    all_short,
    blocks,
    columns,
    height_of,
    letterhead,
    section,
    titles,
)
from estimator.documents.photograph import Photographed, opened
from estimator.documents.text import paragraph
from estimator.documents.wording import say

COLUMN_GAP = 18.0
HALF = (styles.WIDTH - COLUMN_GAP) / 2
FIGURE_WIDTH = 228.0
PHOTO_ROOM = (HALF, 230.0)
"""Width and height a photograph may take, two to a row."""
MOST_KEPT = 620.0
"""Height of a ledger that is moved whole to the next page."""


Laying = Callable[[Any, Places], Iterator[Flowable]]
"""How one kind of part becomes blocks on pages."""


def lay_out(content: AgreedPaper, own: Mapping[type, Laying] | None = None) -> bytes:
    """Return a paper as a PDF; the same content gives the same bytes.

    Args:
        content: All that the paper says.
        own: How parts are laid out that only this paper has.
    """
    written = io.BytesIO()
    places = Places()

    def canvas(*given: Any, **named: Any) -> FootedCanvas:
        return FootedCanvas(*given, foot=content.foot, places=places, **named)

    story = _story(content, places, {**_LAID_OUT, **(own or {})})
    document(written, content).build(story, canvasmaker=canvas)
    return written.getvalue()


def _story(content: AgreedPaper, places: Places, laid_out: Mapping[type, Laying]) -> Story:
    """Return everything in reading order."""
    story: Story = [*letterhead(content), *titles(content)]
    before: object = None
    for part in content.parts:
        if isinstance(before, Section) and not isinstance(part, Section):
            story.append(Spacer(0, styles.GAP))
        before = part
        story += laid_out[type(part)](part, places)
    # Room left at the very end would make an empty page where the last one is full.
    while isinstance(story[-1], Spacer):
        story.pop()
    # A conditional page break is a spacer too, of another kind.
    return [Gap(0, one.height) if type(one) is Spacer else one for one in story]


def _prose(prose: Prose, places: Places) -> Iterator[Flowable]:
    if prose.title:
        yield CondPageBreak(56)
        yield Landmark(prose.key, prose.title, places)
        yield paragraph(prose.title, styles.sheet().title)
        yield Spacer(0, 3)
    yield from blocks(Section(prose.key, prose.title, prose.blocks))
    yield Spacer(0, styles.GAP)


def _bigs(bigs: Bigs, _places: Places) -> Iterator[Flowable]:
    """Figures side by side, each under a strong line of its own."""
    count = max(len(bigs.items), 1)
    width = (styles.WIDTH - COLUMN_GAP * (count - 1)) / count
    cells: list[Story] = []
    widths: list[float | None] = []
    for number, one in enumerate(bigs.items):
        if number:
            cells.append([])
            widths.append(COLUMN_GAP)
        cells.append(_big(one, width))
        widths.append(width)
    yield columns(cells, widths)
    yield Spacer(0, styles.WIDE_GAP)


def _beside(part: Beside, places: Places) -> Iterator[Flowable]:
    """The wall, and the figures one under the other beside it."""
    if not all_short((part.drawn.caption,)):
        yield from _drawn(part.drawn)
        yield Spacer(0, styles.WIDE_GAP)
        yield from _bigs(part.bigs, places)
        return
    right: Story = []
    for number, one in enumerate(part.bigs.items):
        right += [Spacer(0, styles.WIDE_GAP)] * (number > 0)
        right += _big(one, HALF)
    yield columns([_drawn(part.drawn), [], right], [HALF, COLUMN_GAP, HALF])
    yield Spacer(0, styles.WIDE_GAP)


def _big(one: Big, width: float) -> Story:
    look = styles.sheet()
    figure: Flowable = paragraph(one.figure, look.price)
    if one.beside:
        figure = columns(
            [[figure], [Spacer(0, 9), paragraph(one.beside, look.quiet_right)]],
            [width * 0.63, width * 0.37],
        )
    return [
        Rule(weight=styles.STRONG_RULE, colour=styles.INK),
        Spacer(0, 4),
        paragraph(one.label, look.subtitle),
        figure,
        *([paragraph(one.under, look.quiet)] if one.under else []),
    ]


def _ledger(ledger: Ledger, places: Places) -> Iterator[Flowable]:
    look = styles.sheet()
    table = ledger_table(ledger)
    under: Story = []
    for text, style in ((ledger.note, look.quiet), *((one, look.cell) for one in ledger.below)):
        if text:
            under += [Spacer(0, 3), paragraph(text, style)]
    # What is said under a short table never stands alone on the next page.
    room = sum(height_of(one, styles.WIDTH) for one in (table, *under)) + 1
    yield CondPageBreak(min(room, MOST_KEPT) if _is_kept(table) else 120)
    yield Landmark(ledger.key, ledger.title or ledger.key, places)
    yield table
    yield from under
    yield Spacer(0, styles.WIDE_GAP)


def _is_kept(table: Flowable) -> bool:
    return height_of(table, styles.WIDTH) < MOST_KEPT / 2


def _terms(terms: Terms, _places: Places) -> Iterator[Flowable]:
    yield terms_table(terms)
    yield Spacer(0, styles.WIDE_GAP)


def _drawings(drawings: Drawings, places: Places) -> Iterator[Flowable]:
    """Drawings two to a row or one, their titles over them."""
    if drawings.title:
        yield CondPageBreak(_room_of(drawings))
        yield Landmark(drawings.key, drawings.title, places)
        yield paragraph(drawings.title, styles.sheet().title)
        yield Spacer(0, styles.GAP)
    if drawings.is_wide:
        for one in drawings.items:
            yield KeepTogether(_drawn(one, styles.WIDTH))
            yield Spacer(0, styles.WIDE_GAP)
        return
    for number in range(0, len(drawings.items), 2):
        pair = [_drawn(one) for one in drawings.items[number : number + 2]]
        yield KeepTogether([columns([pair[0], [], *pair[1:], []][:3], [HALF, COLUMN_GAP, HALF])])
        yield Spacer(0, styles.WIDE_GAP)


def _room_of(drawings: Drawings) -> float:
    """Return the room the title and the first drawing take together."""
    if not drawings.is_wide or not drawings.items:
        return 200.0
    first = _drawn(drawings.items[0], styles.WIDTH)
    return sum(height_of(one, styles.WIDTH) for one in first) + 2 * styles.WIDE_GAP


def _drawn(one: Drawn, width: float = HALF) -> Story:
    look = styles.sheet()
    title: Story = [paragraph(one.title, look.subtitle), Spacer(0, 4)] if one.title else []
    caption = paragraph(one.caption, look.quiet)
    return [*title, StressedDrawing(one.figure, width, one.strong), Spacer(0, 3), caption]


def _photographs(photographs: Photographs, places: Places) -> Iterator[Flowable]:
    look = styles.sheet()
    title: Story = [
        Landmark(photographs.key, photographs.title, places),
        paragraph(photographs.title, look.title),
        Spacer(0, styles.GAP),
    ]
    for number in range(0, len(photographs.items), 2):
        pair = photographs.items[number : number + 2]
        if all_short(one.caption for one in pair):
            cells = [_photograph(one) for one in pair]
            row: Story = [columns([*cells, []][:2], [HALF + COLUMN_GAP, HALF])]
        else:
            row = [block for one in pair for block in (*_photograph(one), Spacer(0, styles.GAP))]
        yield KeepTogether([*title, *row[:1]])
        yield from row[1:]
        yield Spacer(0, styles.WIDE_GAP)
        title = []


def _photograph(one: Pictured) -> Story:
    look = styles.sheet()
    reader = None if one.data is None else opened(one.data)
    if reader is None:
        said = one.caption if one.data is None else f"{one.caption} {say('survey.broken')}"
        return [paragraph(said, look.quiet)]
    return [
        Photographed(one.photo, reader, PHOTO_ROOM),
        Spacer(0, 3),
        paragraph(one.caption, look.quiet),
    ]


_LAID_OUT: Mapping[type, Laying] = {
    Prose: _prose,
    Section: section,
    Bigs: _bigs,
    Beside: _beside,
    Ledger: _ledger,
    Terms: _terms,
    Drawings: _drawings,
    Photographs: _photographs,
    Acceptance: signing.acceptance,
    CancelForm: signing.form,
}
