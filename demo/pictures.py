"""Make three pictures the README shows: pages of a quotation and a variation, and a drawn wall.

    python demo/pictures.py

All come from the program itself. ``screens.py --readme`` makes the fourth.
"""

from __future__ import annotations

import io
import tempfile
from pathlib import Path

import pypdfium2
import screens
from gallery import make_gallery
from make_file import make_file
from PIL import Image
from PySide6.QtCore import QPoint

from estimator.command import price
from estimator.command.price import Request
from estimator.desktop import application
from estimator.documents.quotation import render
from estimator.store import jobs
from estimator.store.database import Database

HERE = Path(__file__).resolve().parent
DOTS_PER_INCH = 110
COLOURS = 128
"""Enough for text and a drawing of bricks, in a third of the size."""
PRICE = "BARS"
"""The price kept lit on the wall."""
VARIED = "quoin_cavity"
"""The job whose first variation is shown."""


def page_picture(document: bytes, page: int) -> bytes:
    """Return one page of a PDF as a small PNG; pages count from 0."""
    opened = pypdfium2.PdfDocument(document)
    drawn = opened[page].render(scale=DOTS_PER_INCH / 72).to_pil().convert("RGB")
    # Coverage keeps a rare colour, such as the red of the crack, where the median would lose it.
    small = drawn.quantize(COLOURS, method=Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)
    written = io.BytesIO()
    small.save(written, "PNG", optimize=True)
    return written.getvalue()


def quotation_picture() -> bytes:
    """Return the first page of the first quotation."""
    request = Request(HERE / "window_lime.json", firm=HERE / "firm.json")
    quotation = price.quoted(request, price.practice(request))
    return page_picture(render(quotation), 0)


def variation_picture(folder: Path) -> bytes:
    """Return the first page of a job's first variation."""
    written = [path for path in make_gallery(folder) if path.parent.name == VARIED]
    first = next(path for path in written if path.name.endswith("-variation.pdf"))
    return page_picture(first.read_bytes(), 0)


def wall_picture(folder: Path) -> bytes:
    """Return the desk with the drawn gable on it, one price kept lit, its photograph beneath."""
    make_file(folder)
    with screens.opened(folder, "light", screens.SIZES[0], 1.0) as shown:
        drawn: list[str] = []
        shown.filing.ask(drawn_job, drawn.append)
        screens.wait_until(lambda: bool(drawn))
        shown.places.open_job(drawn[0])
        screens.wait_until(lambda: shown.session.job.uid == drawn[0])
        screens.rest(shown, 1500)
        columns = shown.desk.columns
        columns.money.ladder.hold(PRICE)
        screens.rest(shown, 800)
        corner = columns.wall.mapTo(shown.desk, QPoint()) * screens.SHARPER
        return from_corner(screens.small_png(shown), corner.x(), corner.y())


def from_corner(picture: bytes, left: int, top: int) -> bytes:
    """Return what of a picture lies to the right of a place and below it [px]."""
    with Image.open(io.BytesIO(picture)) as whole:
        rest = whole.crop((left, top, *whole.size))
    written = io.BytesIO()
    rest.save(written, "PNG", optimize=True)
    return written.getvalue()


def drawn_job(database: Database) -> str:
    """Return the job whose wall was drawn."""
    return next(row.uid for row in jobs.list_jobs(database) if jobs.survey(database, row.uid).drawn)


def write(name: str, picture: bytes) -> None:
    """Write a picture beside this file."""
    (HERE / name).write_bytes(picture)
    print(f"{name}: {len(picture) / 1000:.0f} kB")


def main() -> None:
    """Make the pictures anew."""
    write("quotation.png", quotation_picture())
    with tempfile.TemporaryDirectory() as held:
        write("variation.png", variation_picture(Path(held)))
    application.application(["perpend"])
    with tempfile.TemporaryDirectory() as held:
        write("wall.png", wall_picture(Path(held)))


if __name__ == "__main__":
    main()
