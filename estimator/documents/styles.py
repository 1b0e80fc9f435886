"""The look of the paper in one place: colours, type, spaces. Nothing else holds one.

Colours are the desk's light tokens; text on white keeps 4.5 : 1 in grey print too.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from estimator import resources

INK = HexColor("#22262B")
MUTED = HexColor("#565D65")
RULE = HexColor("#D8D2C5")
ACT = HexColor("#1B5E73")
ACT_TINT = HexColor("#E3EEF1")
CAUTION = HexColor("#7A4E00")
PAPER = HexColor("#FFFFFF")
CRACK = HexColor("#A3261B")
BAR = HexColor("#0B6A7B")
BRICK = HexColor("#E7D3C6")
MORTAR = HexColor("#F6F2EA")
GROUND = HexColor("#EDE7DB")
GLASS = HexColor("#F1F2F2")
FRAME = HexColor("#8B8D8C")
SILL = HexColor("#D3D2C6")

REGULAR = "SourceSansPro-Regular"
SEMIBOLD = "SourceSansPro-Semibold"

PAGE_WIDTH, PAGE_HEIGHT = A4
MARGIN = 18 * mm
WIDTH = PAGE_WIDTH - 2 * MARGIN
"""Width of everything printed."""
SIDE = 122.0
"""Width of the column that headings of later pages stand in."""
TEXT_WIDTH = WIDTH - SIDE
"""Width of the text beside them: about 80 letters to a line."""
HAIRLINE = 0.5
STRONG_RULE = 0.9
GAP = 8.0
WIDE_GAP = 16.0
FOOT_LEADING = 12.0
BODY = 10.25
SMALL = 9.5


@dataclass(frozen=True, slots=True)
class Sheet:
    """Every style a paragraph may have."""

    name: ParagraphStyle
    heading: ParagraphStyle
    under_heading: ParagraphStyle
    title: ParagraphStyle
    subtitle: ParagraphStyle
    body: ParagraphStyle
    strong: ParagraphStyle
    quiet: ParagraphStyle
    quiet_right: ParagraphStyle
    label: ParagraphStyle
    right: ParagraphStyle
    point: ParagraphStyle
    letter: ParagraphStyle
    price: ParagraphStyle
    warning: ParagraphStyle
    cell: ParagraphStyle
    cell_strong: ParagraphStyle
    line: ParagraphStyle
    line_strong: ParagraphStyle


@lru_cache(maxsize=1)
def register_fonts() -> frozenset[int]:
    """Register both weights once, and return the characters both of them have."""
    known: set[int] | None = None
    for name in (REGULAR, SEMIBOLD):
        font = TTFont(name, str(resources.path(f"fonts/{name}.ttf")))
        pdfmetrics.registerFont(font)
        known = set(font.face.charToGlyph) if known is None else known & set(font.face.charToGlyph)
    return frozenset(known or ())


@lru_cache(maxsize=1)
def sheet() -> Sheet:
    """Return the styles, made once."""
    register_fonts()
    body = ParagraphStyle(
        "body",
        fontName=REGULAR,
        bulletFontName=REGULAR,
        fontSize=BODY,
        leading=14,
        textColor=INK,
        splitLongWords=1,
        allowWidows=0,
        allowOrphans=0,
    )

    def like(name: str, size: float, leading: float, **changes: Any) -> ParagraphStyle:
        return ParagraphStyle(name, parent=body, fontSize=size, leading=leading, **changes)

    bold: dict[str, Any] = {"fontName": SEMIBOLD}
    quiet: dict[str, Any] = {"textColor": MUTED}
    return Sheet(
        name=like("name", 19, 23, **bold),
        heading=like("heading", 26, 30, **bold),
        under_heading=like("under_heading", 11, 15, **quiet),
        title=like("title", 13, 17, **bold),
        subtitle=like("subtitle", 11, 14, **bold),
        body=body,
        strong=like("strong", BODY, 14, **bold),
        quiet=like("quiet", SMALL, 12.5, **quiet),
        quiet_right=like("quiet_right", SMALL, 12.5, alignment=TA_RIGHT, **quiet),
        label=like("label", 10, 13, **quiet),
        right=like("right", 10, 13, alignment=TA_RIGHT),
        point=like("point", BODY, 14, leftIndent=12, bulletIndent=0, spaceAfter=1.5),
        letter=like("letter", 11, 14, textColor=ACT, **bold),
        price=like("price", 20, 24, **bold),
        warning=like("warning", SMALL, 12.5, textColor=CAUTION, **bold),
        cell=like("cell", 10, 13),
        cell_strong=like("cell_strong", 11, 14, **bold),
        line=like("line", SMALL, 12),
        line_strong=like("line_strong", SMALL, 12, **bold),
    )


@lru_cache(maxsize=32)
def moved(style: ParagraphStyle) -> ParagraphStyle:
    """Return a style moved into the text column of later pages."""
    return ParagraphStyle(
        f"{style.name} moved",
        parent=style,
        leftIndent=style.leftIndent + SIDE,
        bulletIndent=style.bulletIndent + SIDE,
    )
