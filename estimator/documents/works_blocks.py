"""Small parts of a page to work from: boxes to initial, numbers, the alert."""

from __future__ import annotations

from reportlab.platypus import Flowable, Paragraph

from estimator.documents import styles
from estimator.documents.text import fitted
from estimator.documents.works_content import Number
from estimator.documents.works_drawing import HIGH, badge

BOX = {True: 17.0, False: 12.0}
"""Side of a box to tick, by whether it is large: at 6 mm a gloved hand with a pencil hits it."""
WIDE = 2.4
PADDING = 11.0
SIGNED_ROOM = 2.0


class TickBox(Flowable):
    """An empty box, or the initials somebody put there."""

    def __init__(self, signed: str = "", *, is_large: bool, is_wide: bool = False) -> None:
        super().__init__()
        self._signed = signed
        self.height = BOX[is_large]
        self.width = WIDE * self.height if is_wide else self.height

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Return the room taken; initials may take all there is."""
        self._room = width
        return self.width, self.height

    def draw(self) -> None:
        """Draw the box, or the words that stand for it."""
        canvas = self.canv
        if not self._signed:
            canvas.setStrokeColor(styles.INK)
            canvas.setLineWidth(1.0)
            canvas.roundRect(0, 0.5, self.width, self.height - 1, 2, stroke=1, fill=0)
            return
        canvas.setFillColor(styles.INK)
        canvas.setFont(styles.SEMIBOLD, styles.SMALL)
        room = self._room - SIGNED_ROOM
        words = fitted(self._signed, styles.SEMIBOLD, styles.SMALL, room)
        canvas.drawString(0, self.height / 2 - 3.2, words)


class NumberMark(Flowable):
    """A number as it stands on the drawing."""

    def __init__(self, number: Number, *, is_large: bool) -> None:
        super().__init__()
        self._number = number
        self._scale = 1.25 if is_large else 1.0
        self.width, self.height = 26.0 * self._scale, HIGH * self._scale

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the room taken."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it a little larger than on the wall."""
        canvas = self.canv
        canvas.saveState()
        canvas.scale(self._scale, self._scale)
        badge(canvas, (0, 0, 22.0, HIGH), self._number)
        canvas.restoreState()


class AlertBlock(Flowable):
    """What stops the work: light on dark, across the page."""

    def __init__(self, words: Paragraph, under: Paragraph | None) -> None:
        super().__init__()
        self._words, self._under = words, under

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the room taken."""
        self.width = width
        room = width - 2 * PADDING
        self._high = self._words.wrap(room, height)[1]
        more = self._under.wrap(room, height)[1] + 3 if self._under is not None else 0.0
        self.height = self._high + more + 2 * PADDING - 2
        return self.width, self.height

    def draw(self) -> None:
        """Draw the ground, then the words."""
        canvas = self.canv
        canvas.setFillColor(styles.INK)
        canvas.roundRect(0, 0, self.width, self.height, 4, stroke=0, fill=1)
        self._words.drawOn(canvas, PADDING, self.height - PADDING - self._high + 1)
        if self._under is not None:
            self._under.drawOn(canvas, PADDING, PADDING - 1)
