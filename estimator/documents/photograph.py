"""A photograph on paper, with the places on it that are known on the wall."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable

from estimator.documents import styles
from estimator.documents.strokes import pen
from estimator.survey.survey import Photo, PhotoPoint

MOST_PX = 60_000_000
"""Pictures of more pixels are not opened; house rule."""
JPEG = b"\xff\xd8\xff"
"""How a JPEG begins (ITU-T T.81)."""
ARM = 5.0
"""Half a cross on a known place, in points."""


def opened(data: bytes) -> ImageReader | None:
    """Return a JPEG ready to print, or None for what is none.

    >>> opened(b"no picture") is None
    True
    """
    if not data.startswith(JPEG):
        return None
    try:
        reader = ImageReader(io.BytesIO(data))
        wide, high = reader.getSize()
    except (OSError, ValueError, SyntaxError):
        return None
    return reader if 0 < wide * high <= MOST_PX else None


class Photographed(Flowable):
    """A photograph, its known places crossed and numbered."""

    def __init__(self, photo: Photo, reader: ImageReader, room: tuple[float, float]) -> None:
        super().__init__()
        self._photo, self._reader = photo, reader
        wide, high = reader.getSize()
        scale = min(room[0] / wide, room[1] / high)
        self.width, self.height = wide * scale, high * scale

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the room taken."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the picture, then the places."""
        canvas = self.canv
        canvas.drawImage(self._reader, 0, 0, self.width, self.height)
        pen(canvas, styles.FRAME, styles.HAIRLINE)
        canvas.rect(0, 0, self.width, self.height, stroke=1, fill=0)
        _places(canvas, self._photo, (self.width, self.height))


def _places(canvas: Any, photo: Photo, size: tuple[float, float]) -> None:
    points: Sequence[PhotoPoint] = photo.points if photo.width_px and photo.height_px else ()
    for number, point in enumerate(points, 1):
        x = size[0] * point.across_px / photo.width_px
        y = size[1] * (1 - point.down_px / photo.height_px)
        # Light under dark, so that the cross is seen on any wall.
        for colour, weight in ((styles.PAPER, 3.2), (styles.INK, 1.1)):
            pen(canvas, colour, weight)
            canvas.line(x - ARM, y, x + ARM, y)
            canvas.line(x, y - ARM, x, y + ARM)
        _number(canvas, str(number), (x, y), size)


def _number(canvas: Any, word: str, at: tuple[float, float], size: tuple[float, float]) -> None:
    left = at[0] + 3 if at[0] < size[0] - 16 else at[0] - 15
    bottom = at[1] + 3 if at[1] < size[1] - 16 else at[1] - 14
    canvas.setFillColor(styles.PAPER)
    canvas.roundRect(left, bottom, 12, 11, 2, stroke=0, fill=1)
    canvas.setFillColor(styles.INK)
    canvas.setFont(styles.SEMIBOLD, styles.SMALL - 1)
    canvas.drawCentredString(left + 6, bottom + 2.6, word)
