"""Make the pictures the README shows, from the same papers a customer would get.

    python demo/pictures.py

Needs the development extras, for pypdfium2.
"""

from __future__ import annotations

import io
from pathlib import Path

import pypdfium2
from PIL import Image

from estimator.command import price
from estimator.command.price import Request
from estimator.documents.quotation import render

HERE = Path(__file__).resolve().parent
DOTS_PER_INCH = 110
COLOURS = 128
"""Enough for text and a drawing of bricks, in a third of the size."""


def page_picture(document: bytes, page: int) -> bytes:
    """Return one page of a PDF as a small PNG; pages count from 0."""
    opened = pypdfium2.PdfDocument(document)
    drawn = opened[page].render(scale=DOTS_PER_INCH / 72).to_pil().convert("RGB")
    # Coverage keeps a rare colour, such as the red of the crack, where the median would lose it.
    small = drawn.quantize(COLOURS, method=Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)
    written = io.BytesIO()
    small.save(written, "PNG", optimize=True)
    return written.getvalue()


def main() -> None:
    """Write the picture of the first page of the first quotation."""
    request = Request(HERE / "window_lime.json", firm=HERE / "firm.json")
    quotation = price.quoted(request, price.practice(request))
    target = HERE / "quotation.png"
    target.write_bytes(page_picture(render(quotation), 0))
    print(f"{target.name}: {target.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
