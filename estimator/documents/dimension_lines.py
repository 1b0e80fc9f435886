"""Dimensions on paper: rows below and right of a wall, their words above their lines.

Values stand parallel to their line and above it, read from the foot or from the right of the sheet,
and lines end in slanting strokes: the aligned way of ISO 129-1, from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.pdfbase.pdfmetrics import stringWidth

from estimator.documents import styles
from estimator.documents.strokes import View, pen
from estimator.drawing.dimensions import Dimension, Side
from estimator.masonry.region import Point

TEXT = styles.SMALL
FIRST = 15.0
"""From the wall to the line of the first row."""
PITCH = 14.5
"""From row to row."""
STROKE = 2.6
"""Half a slanting stroke, across and up."""
UNDER = 4.0
"""Room outside the last row."""
OVER = 4.2
"""From a line to the foot of the words over it."""
GAP = 2.5
"""From the wall, and from the last row, to the end of a line that leads out."""


def room(dimensions: Sequence[Dimension], side: Side) -> float:
    """Return how much room the rows at a side take.

    >>> from estimator.drawing.dimensions import Kind
    >>> one = Dimension(Kind.WIDTH, (0, 0), (900, 0), "900", Side.BELOW, row=1)
    >>> room([one], Side.BELOW), room([one], Side.RIGHT)
    (33.5, 0.0)
    """
    rows = max((one.row for one in dimensions if one.side is side), default=-1) + 1
    return FIRST + (rows - 1) * PITCH + UNDER if rows else 0.0


def words_width(words: str) -> float:
    """Return how long words are in print."""
    styles.register_fonts()
    return float(stringWidth(words, styles.REGULAR, TEXT))


def draw(canvas: Any, view: View, dimensions: Sequence[Dimension], right: float) -> None:
    """Draw all that stand beside the wall, whose right edge on the page is given."""
    _rows(canvas, [(one, _ends(view, one, 0)) for one in dimensions if one.side is Side.BELOW])
    # Turned by a quarter, a chain up the wall is one along it.
    canvas.saveState()
    canvas.translate(right, 0)
    canvas.rotate(90)
    _rows(canvas, [(one, _ends(view, one, 1)) for one in dimensions if one.side is Side.RIGHT])
    canvas.restoreState()


def _rows(canvas: Any, placed: Sequence[tuple[Dimension, tuple[float, float]]]) -> None:
    """Draw lines that lead out, then the words, then the lines they stand on."""
    pen(canvas, styles.RULE, styles.HAIRLINE)
    for one, ends in placed:
        for x in ends:
            canvas.line(x, -GAP, x, _level(one) - GAP)
    for one, (start, end) in placed:
        _words(canvas, one.words, ((start + end) / 2, _level(one) + OVER))
    for one, ends in placed:
        _line(canvas, ends, _level(one))


def _level(one: Dimension) -> float:
    return -(FIRST + one.row * PITCH)


def _ends(view: View, one: Dimension, axis: int) -> tuple[float, float]:
    start, end = sorted((view.at(one.start)[axis], view.at(one.end)[axis]))
    return start, end


def _line(canvas: Any, ends: tuple[float, float], y: float) -> None:
    pen(canvas, styles.MUTED, styles.HAIRLINE)
    canvas.line(ends[0], y, ends[1], y)
    pen(canvas, styles.MUTED, 1.0)
    for x in ends:
        canvas.line(x - STROKE, y - STROKE, x + STROKE, y + STROKE)


def _words(canvas: Any, words: str, at: Point) -> None:
    half = words_width(words) / 2
    # Lines that lead out to rows further off would run through the words.
    canvas.setFillColor(styles.PAPER)
    canvas.rect(at[0] - half - 1, at[1] - 1.6, 2 * half + 2, TEXT - 0.6, stroke=0, fill=1)
    canvas.setFillColor(styles.MUTED)
    canvas.setFont(styles.REGULAR, TEXT)
    canvas.drawCentredString(*at, words)
