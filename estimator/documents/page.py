"""Pages: frames, the running head of later pages, and the foot with its page number.

How many pages there are is known only at the end. Each page therefore holds a place for its foot,
and all feet are drawn when the last page is done.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, BinaryIO, Protocol

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Spacer

from estimator.documents import styles
from estimator.documents.content import Fact, Foot, Letterhead, Metadata
from estimator.documents.text import fitted, one_line, paragraph
from estimator.documents.wording import capital, counted, say

FIRST, LATER = "first", "later"
RUNNING_HEAD = 30.0
"""Height of the head of later pages."""
FOOT_GAP = 16.0
CREATOR = "Perpend"


class Sheet(Protocol):
    """What every kind of paper has on its first page and round every other."""

    @property
    def letterhead(self) -> Letterhead:
        """Whose paper it is."""

    @property
    def heading(self) -> str:
        """Which paper it is."""

    @property
    def under_heading(self) -> str:
        """What is said under the heading."""

    @property
    def facts(self) -> tuple[Fact, ...]:
        """What stands beside the heading."""

    @property
    def foot(self) -> Foot:
        """What stands at the foot of every page."""

    @property
    def metadata(self) -> Metadata:
        """What the file says about itself."""


@dataclass
class Places:
    """On which page each section starts, filled while pages are made."""

    pages: dict[str, int] = field(default_factory=dict)


class FootedCanvas(Canvas):
    """A canvas that draws the foot of every page once it knows how many there are."""

    def __init__(self, *given: Any, foot: Foot, places: Places, **named: Any) -> None:
        super().__init__(*given, **named)
        self._foot, self._places = foot, places
        self._pages_done = 0

    def showPage(self) -> None:  # noqa: N802 - the library's name
        """Leave a place for the foot and end the page."""
        self._pages_done += 1
        # A form may be named before it is drawn; the library joins them when it saves.
        self.doForm(_form_name(self._pages_done))
        super().showPage()

    def save(self) -> None:
        """Draw every foot, then save."""
        for page in range(1, self._pages_done + 1):
            self.beginForm(_form_name(page))
            self._draw_foot(page)
            self.endForm()
        super().save()

    def _draw_foot(self, page: int) -> None:
        size, base = styles.SMALL, styles.MARGIN
        number = say("letterhead.page", page=str(page), pages=str(self._pages_done))
        self.setFillColor(styles.MUTED)
        self.setFont(styles.REGULAR, size)
        right = styles.PAGE_WIDTH - styles.MARGIN
        self.drawRightString(right, base, number)
        room = styles.WIDTH - 2 * styles.WIDE_GAP
        room -= stringWidth(number, styles.REGULAR, size)
        name = fitted(self._foot.name, styles.REGULAR, size, room * 0.4)
        self.drawString(styles.MARGIN, base, name)
        note = self._pointer() if page == 1 else ""
        if note:
            left = styles.MARGIN + stringWidth(name, styles.REGULAR, size) + styles.WIDE_GAP
            room -= stringWidth(name, styles.REGULAR, size)
            shown = fitted(note, styles.REGULAR, size, room)
            self.drawCentredString(left + room / 2, base, shown)
        self.setFillColor(styles.CAUTION)
        self.setFont(styles.SEMIBOLD, size)
        for number_up, warning in enumerate(reversed(self._foot.warnings), 1):
            self.drawString(styles.MARGIN, base + number_up * styles.FOOT_LEADING, warning)

    def _pointer(self) -> str:
        """Say on which pages the sections lie that the first page points to."""
        titles = [title for key, title in self._foot.pointer if key in self._places.pages]
        pages = sorted(
            self._places.pages[key] for key, _ in self._foot.pointer if key in self._places.pages
        )
        if not titles or pages[-1] == 1:
            return ""
        named = counted(
            "letterhead.pages",
            1 if pages[0] == pages[-1] else 2,
            first=str(pages[0]),
            last=str(pages[-1]),
        )
        listed = ", ".join(f"{title[:1].lower()}{title[1:]}" for title in titles)
        return say("letterhead.note", sections=capital(listed), pages=named)


class Gap(Spacer):
    """Room between two blocks; at the top of a page there is nothing to keep apart from."""

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the room taken."""
        frame = getattr(self, "_frame", None)
        if frame is not None and frame._atTop:
            return 0.0, 0.0
        size: tuple[float, float] = super().wrap(width, height)
        return size


class Landmark(Flowable):
    """Notes the page a section starts on, and puts it into the outline of the file."""

    def __init__(self, key: str, title: str, places: Places) -> None:
        super().__init__()
        self.key, self.title, self._places = key, title, places

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Take no room."""
        return 0.0, 0.0

    def draw(self) -> None:
        """Note the page; nothing is drawn."""
        # A heading may be drawn twice while a block is fitted; the first place counts.
        self._places.pages.setdefault(self.key, self.canv.getPageNumber())
        self.canv.bookmarkHorizontal(self.key, 0, styles.GAP)
        self.canv.addOutlineEntry(self.title, self.key, 0)


class SideHead(Landmark):
    """A heading in the side column, level with the first line of the text beside it."""

    def draw(self) -> None:
        """Draw the heading without moving on."""
        super().draw()
        head = paragraph(self.title, styles.sheet().subtitle)
        _width, height = head.wrap(styles.SIDE - styles.WIDE_GAP, styles.PAGE_HEIGHT)
        head.drawOn(self.canv, 0, -height)


class Rule(Flowable):
    """A level line across the width."""

    def __init__(
        self,
        *,
        weight: float = styles.HAIRLINE,
        colour: Any = styles.RULE,
        dash: tuple[float, ...] = (),
    ) -> None:
        super().__init__()
        self._weight, self._colour, self._dash = weight, colour, dash

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Take the width there is."""
        self.width = width
        return width, self._weight

    def draw(self) -> None:
        """Draw the line, but not under the running head, which has one."""
        top = styles.PAGE_HEIGHT - styles.MARGIN - RUNNING_HEAD
        if self.canv.absolutePosition(0, 0)[1] > top - styles.GAP and self._weight < 0.6:
            return
        self.canv.setStrokeColor(self._colour)
        self.canv.setLineWidth(self._weight)
        self.canv.setDash(self._dash)
        self.canv.line(0, 0, self.width, 0)


def document(written: BinaryIO, content: Sheet) -> BaseDocTemplate:
    """Return an empty document with its two kinds of page and what the file says of itself."""
    low = styles.MARGIN + FOOT_GAP + styles.FOOT_LEADING * len(content.foot.warnings)
    high = styles.PAGE_HEIGHT - styles.MARGIN

    def frame(name: str, top: float) -> Frame:
        return Frame(
            styles.MARGIN,
            low,
            styles.WIDTH,
            top - low,
            leftPadding=0,
            rightPadding=0,
            topPadding=0,
            bottomPadding=0,
            id=name,
        )

    def running_head(canvas: Any, _document: Any) -> None:
        _running_head(canvas, content)

    meta = content.metadata
    return BaseDocTemplate(
        written,
        pagesize=(styles.PAGE_WIDTH, styles.PAGE_HEIGHT),
        pageTemplates=[
            PageTemplate(FIRST, [frame(FIRST, high)], autoNextPageTemplate=LATER),
            PageTemplate(LATER, [frame(LATER, high - RUNNING_HEAD)], onPage=running_head),
        ],
        title=one_line(meta.title),
        author=one_line(meta.author),
        subject=one_line(meta.subject),
        creator=CREATOR,
        producer=CREATOR,
        lang="en-GB",
        displayDocTitle=1,
        invariant=1,
        pageCompression=1,
        initialFontName=styles.REGULAR,
    )


def _running_head(canvas: Any, content: Sheet) -> None:
    """Say on later pages whose paper it is and for whom."""
    base = styles.PAGE_HEIGHT - styles.MARGIN - styles.SMALL
    size, half = styles.SMALL, styles.WIDTH / 2 - styles.GAP
    whose = content.letterhead.name or content.letterhead.draft
    canvas.setFillColor(styles.INK)
    canvas.setFont(styles.SEMIBOLD, size)
    canvas.drawString(styles.MARGIN, base, fitted(whose, styles.SEMIBOLD, size, half))
    canvas.setFillColor(styles.MUTED)
    canvas.setFont(styles.REGULAR, size)
    whom = f"{content.heading}, {content.under_heading}"
    right = styles.PAGE_WIDTH - styles.MARGIN
    canvas.drawRightString(right, base, fitted(whom, styles.REGULAR, size, half))
    canvas.setStrokeColor(styles.RULE)
    canvas.setLineWidth(styles.HAIRLINE)
    canvas.line(styles.MARGIN, base - 6, right, base - 6)


def _form_name(page: int) -> str:
    return f"foot-{page}"
