"""Reading a made PDF back with libraries that had no part in making it."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import pypdf
import pypdfium2
from reportlab.pdfbase.pdfmetrics import stringWidth

from estimator.documents import styles


@dataclass(frozen=True, slots=True)
class Placed:
    """A run of text with where it stands on its page [pt]."""

    page: int
    text: str
    left: float
    base: float
    right: float
    size: float


def reader(paper: bytes) -> pypdf.PdfReader:
    """The paper, opened."""
    return pypdf.PdfReader(io.BytesIO(paper))


@lru_cache(maxsize=8)
def pages(paper: bytes) -> tuple[str, ...]:
    """The text of each page, by pypdf."""
    return tuple(page.extract_text() for page in reader(paper).pages)


def quick_pages(paper: bytes) -> list[str]:
    """The text of each page, by pdfium, which is quicker."""
    with pypdfium2.PdfDocument(paper) as opened:
        return [page.get_textpage().get_text_range() for page in opened]


def flat(text: str) -> str:
    """A text without white space, which line ends change."""
    return re.sub(r"\s+", "", text)


@lru_cache(maxsize=8)
def placed(paper: bytes) -> tuple[Placed, ...]:
    """Every run of text with its place."""
    found: list[Placed] = []
    for number, page in enumerate(reader(paper).pages, 1):

        def note(text: str, cm: Any, tm: Any, font: Any, size: float, page: int = number) -> None:
            shown = text.strip("\n")
            if not shown.strip() or font is None:
                return
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            name = styles.SEMIBOLD if "Semibold" in font["/BaseFont"] else styles.REGULAR
            wide = stringWidth(shown, name, size)
            found.append(Placed(page, shown, x, y, x + wide, size))

        page.extract_text(visitor_text=note)
    return tuple(found)
