"""Small parts of a page: the tinted promise, a box to tick, a line to fill in."""

from __future__ import annotations

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable, Paragraph

from estimator.documents import styles

PADDING = 9.0
BOX = 10.0
LABEL = 150.0
"""Width of the label before a value that is filled in already."""


class Tinted(Flowable):
    """A paragraph on the one tint of the paper."""

    def __init__(self, words: Paragraph) -> None:
        super().__init__()
        self._words = words

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the room taken."""
        self.width = width
        self.height = self._words.wrap(width - 2 * PADDING, height)[1] + 2 * PADDING - 3
        return self.width, self.height

    def draw(self) -> None:
        """Draw the tint, then the words."""
        self.canv.setFillColor(styles.ACT_TINT)
        self.canv.roundRect(0, 0, self.width, self.height, 4, stroke=0, fill=1)
        self._words.drawOn(self.canv, PADDING, PADDING - 1.5)


class Tick(Flowable):
    """A box to tick, what it says, and perhaps a price at the right."""

    def __init__(self, words: Paragraph, price: str = "") -> None:
        super().__init__()
        self._words, self._price = words, price

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the room taken."""
        self.width = width
        self._price_width = stringWidth(self._price, styles.SEMIBOLD, styles.BODY)
        room = width - 2 * BOX - self._price_width - styles.GAP
        self.height = self._words.wrap(room, height)[1]
        return self.width, self.height

    def draw(self) -> None:
        """Draw box, words and price."""
        canvas = self.canv
        canvas.setStrokeColor(styles.INK)
        canvas.setLineWidth(0.8)
        canvas.rect(0, self.height - BOX - 1.5, BOX, BOX, stroke=1, fill=0)
        self._words.drawOn(canvas, 2 * BOX, 0)
        canvas.setFillColor(styles.INK)
        canvas.setFont(styles.SEMIBOLD, styles.BODY)
        canvas.drawRightString(self.width, self.height - BOX, self._price)


class FillLine(Flowable):
    """A label and a line to write on, or a value that stands on it already."""

    def __init__(self, label: str, *, value: Paragraph | None = None) -> None:
        super().__init__()
        self._label, self._value = label, value

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the room taken."""
        self.width = width
        self.height = 16.0
        if self._value is not None:
            self.height = max(self.height, self._value.wrap(width - LABEL, height)[1] + 3)
        return self.width, self.height

    def draw(self) -> None:
        """Draw label, line and value."""
        canvas = self.canv
        canvas.setFillColor(styles.MUTED)
        canvas.setFont(styles.REGULAR, styles.SMALL)
        canvas.drawString(0, self.height - 12 if self._value is not None else 3, self._label)
        start = LABEL
        if self._value is None:
            start = stringWidth(self._label, styles.REGULAR, styles.SMALL) + styles.GAP
        else:
            self._value.drawOn(canvas, LABEL, 3)
        canvas.setStrokeColor(styles.MUTED)
        canvas.setLineWidth(styles.HAIRLINE)
        canvas.line(start, 0, self.width, 0)
