"""Pages of a PDF as pictures and text, drawn in a thread beside the window's.

PDFium may be used by one thread at a time only, so every call of it is made under one lock; the
lock is given up between pages so that a print does not hold up what is looked at.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from PySide6.QtGui import QImage

PDFIUM = threading.Lock()
"""Held round every call of PDFium, by preview and print alike."""
POINTS_PER_INCH = 72


@dataclass(frozen=True, slots=True)
class Page:
    """One page: what is seen and what is read out."""

    image: QImage
    text: str


def drawn(
    pdf: bytes, width: int, ratio: float, *, wanted: Callable[[], bool] = lambda: True
) -> tuple[Page, ...]:
    """Return every page at a width.

    Args:
        pdf: The paper.
        width: Of a page on the screen. [px]
        ratio: Device pixels to a pixel.
        wanted: Asked before every page; the rest is left when it is no longer so.
    """
    found: list[Page] = []
    with _opened(pdf) as paper:
        for number in range(_count(paper)):
            if not wanted():
                break
            with PDFIUM:
                page = paper[number]
                image = _picture(page, width * ratio / page.get_width())
                text = _text(page)
                page.close()
            image.setDevicePixelRatio(ratio)
            found.append(Page(image, text))
    return tuple(found)


def at_resolution(pdf: bytes, dots_per_inch: float) -> Iterator[QImage]:
    """Yield one page after the other as a printer takes them, never two at once in memory."""
    with _opened(pdf) as paper:
        for number in range(_count(paper)):
            with PDFIUM:
                page = paper[number]
                image = _picture(page, dots_per_inch / POINTS_PER_INCH)
                page.close()
            yield image


@contextmanager
def _opened(pdf: bytes) -> Iterator[Any]:
    with PDFIUM:
        # Loaded in this thread, not at start-up: it takes as long as three frames.
        import pypdfium2  # type: ignore[import-untyped] # noqa: PLC0415

        paper = pypdfium2.PdfDocument(pdf)
    try:
        yield paper
    finally:
        with PDFIUM:
            paper.close()


def _count(paper: Any) -> int:
    with PDFIUM:
        return len(paper)


def _picture(page: Any, scale: float) -> QImage:
    bitmap = page.render(scale=scale, prefer_bgrx=True)
    held = QImage(
        bytes(bitmap.buffer),
        bitmap.width,
        bitmap.height,
        bitmap.stride,
        QImage.Format.Format_RGB32,
    )
    # A copy of its own: the bytes go with this function.
    picture = held.copy()
    bitmap.close()
    return picture


def _text(page: Any) -> str:
    layer = page.get_textpage()
    text: str = layer.get_text_range()
    layer.close()
    return text.replace("\r\n", "\n")
