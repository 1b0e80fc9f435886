"""A wall stroked to work from: numbers on the bars, courses counted up its side."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from reportlab.pdfbase.pdfmetrics import stringWidth

from estimator.documents import styles
from estimator.documents.drawing import CLEAR, ElevationDrawing
from estimator.documents.labels import Label, placed
from estimator.documents.strokes import pen
from estimator.documents.text import one_line
from estimator.documents.wording import say
from estimator.documents.works_content import Edge, Noted, Number, Plate
from estimator.drawing.courses import Box
from estimator.masonry.region import Point

NUMBER = 9.5
"""Size of the number in a badge."""
HIGH = 14.0
"""Height of a badge."""
SLANT = 3.5
"""What is cut off the corners of the badge of a bar done otherwise."""
TICK, MARK = 4.0, 7.0
EVERY, LEAST_APART = 5, 9.0
"""Courses from one that is counted to the next, and room from one number to the next."""
KEY_GAP = 5.0


class WorksDrawing(ElevationDrawing):
    """A drawing of one elevation, its bars numbered as in the tables."""

    def __init__(self, plate: Plate, width: float) -> None:
        super().__init__(plate.figure, width)
        self._plate = plate
        self._numbers = dict(plate.numbers)
        self._noted_height = (HIGH + 4) if plate.keys else 0.0
        self.height += self._noted_height

    def draw(self) -> None:
        """Draw the wall, its courses, then what the numbers mean."""
        canvas = self.canv
        canvas.saveState()
        canvas.translate(0, self._noted_height)
        super().draw()
        canvas.restoreState()
        self._noted()

    def _edges(self) -> None:
        super()._edges()
        self._courses()
        if self._plate.edge is not None:
            self._edge(self._plate.edge)

    def _courses(self) -> None:
        """Count the courses up the right side, from the lowest drawn."""
        canvas, masonry = self.canv, self.figure.picture.masonry
        bottom, top = self.figure.bounds[1], self.figure.bounds[3]
        pitch = masonry.gauge_mm * self._view.per_mm
        every = EVERY
        while every * pitch < LEAST_APART:
            every += EVERY
        pen(canvas, styles.MUTED, styles.HAIRLINE)
        canvas.setFillColor(styles.MUTED)
        canvas.setFont(styles.REGULAR, styles.SMALL)
        left = self._wall_width
        lowest = max(math.ceil(bottom / masonry.gauge_mm), 0) + 1
        for course in range(lowest, math.floor(top / masonry.gauge_mm) + 1):
            is_counted = course % every == 0 or course == 1
            middle = (course - 0.5) * masonry.gauge_mm + masonry.bed_mm / 2
            y = self._view.at((0, middle))[1]
            canvas.line(left + 2, y, left + 2 + (MARK if is_counted else TICK), y)
            if is_counted:
                canvas.drawString(left + MARK + 5, y - 3.2, str(course))
        head = self._wall_height
        canvas.drawString(left + 2, head + 3, say("works.ruler"))

    def _edge(self, edge: Edge) -> None:
        """Mark what places are measured from by an arrow under the wall."""
        if not self.figure.bounds[0] <= edge.at_mm <= self.figure.bounds[2]:
            return
        canvas = self.canv
        x = self._view.at((edge.at_mm, 0))[0]
        canvas.setFillColor(styles.INK)
        path = canvas.beginPath()
        path.moveTo(x, -1)
        path.lineTo(x - 4, -9)
        path.lineTo(x + 4, -9)
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)

    def _labels(self) -> None:
        """Put letters of cracks and numbers of bars where they hide nothing."""
        canvas, at = self.canv, self._view.at
        letters = [one for one in self._letters() if self._is_drawn(one.at)]
        badges = [
            (bar, self._numbers[bar.mark])
            for bar in self.figure.picture.bars
            if bar.mark in self._numbers
        ]
        bounds = (0.0, 0.0, self._wall_width, self._wall_height)
        labels = [
            *(
                Label(at((max(bar.left, self.figure.bounds[0]), bar.y)), (_wide(one), HIGH))
                for bar, one in badges
            ),
            *(
                Label(one.at, (stringWidth(one.text, one.font, NUMBER) + 5, NUMBER + 2), True)
                for one in letters
            ),
        ]
        boxes = placed(labels, bounds, list(self._taken()))
        for (_bar, one), box in zip(badges, boxes[: len(badges)], strict=True):
            badge(canvas, box, one)
        for word, box in zip(letters, boxes[len(badges) :], strict=True):
            left, bottom, right, top = box
            canvas.setFillColor(styles.PAPER)
            canvas.roundRect(left, bottom, right - left, top - bottom, 2, stroke=0, fill=1)
            canvas.setFillColor(styles.CRACK)
            canvas.setFont(word.font, NUMBER)
            canvas.drawCentredString((left + right) / 2, bottom + 2.4, word.text)

    def _is_drawn(self, place: Point) -> bool:
        """Whether a place on the page lies on the part of the wall that is drawn."""
        return 0 <= place[0] <= self._wall_width and 0 <= place[1] <= self._wall_height

    def _taken(self) -> Iterator[Box]:
        """Yield what numbers may not hide: cracks, bars, thin beds, and bricks that are marked."""
        yield from self._kept_free()
        for brick in self.figure.picture.bricks:
            if brick.marked is not None:
                left, bottom, right, top = self._view.box(brick.box)
                yield left - CLEAR, bottom - CLEAR, right + CLEAR, top + CLEAR

    def _noted(self) -> None:
        """Say what the shapes of the numbers mean."""
        canvas, x = self.canv, 0.0
        for noted, words in self._plate.keys:
            one = Number("1", noted)
            wide = _wide(one)
            badge(canvas, (x, 0, x + wide, HIGH), one)
            canvas.setFillColor(styles.MUTED)
            canvas.setFont(styles.REGULAR, styles.SMALL)
            canvas.drawString(x + wide + KEY_GAP, 3.8, words)
            x += wide + 2 * KEY_GAP + stringWidth(words, styles.REGULAR, styles.SMALL) + 8


def badge(canvas: Any, box: Box, one: Number) -> None:
    """Draw a number: full where it is done or planned, hollow where open, cornered otherwise."""
    left, bottom, right, top = box
    is_open = one.noted is Noted.OPEN
    canvas.setLineWidth(1.1)
    colour = styles.CAUTION if one.noted is Noted.OTHERWISE else styles.BAR
    canvas.setStrokeColor(colour)
    canvas.setFillColor(styles.PAPER if is_open else colour)
    if is_open:
        canvas.setDash(2, 1.6)
    if one.noted is Noted.OTHERWISE:
        canvas.drawPath(_cornered(canvas, box), stroke=1, fill=1)
    else:
        canvas.roundRect(left, bottom, right - left, top - bottom, HIGH / 2, stroke=1, fill=1)
    canvas.setDash()
    canvas.setFillColor(styles.BAR if is_open else styles.PAPER)
    canvas.setFont(styles.SEMIBOLD, NUMBER)
    middle = (left + right) / 2, (bottom + top) / 2
    canvas.drawCentredString(middle[0], middle[1] - NUMBER * 0.34, shown(one))


def shown(one: Number) -> str:
    """Return the number of a badge as it is printed, never longer than a few letters."""
    return one_line(one.number)[:4]


def _wide(one: Number) -> float:
    return max(HIGH, stringWidth(shown(one), styles.SEMIBOLD, NUMBER) + 8)


def _cornered(canvas: Any, box: Box) -> Any:
    left, bottom, right, top = box
    path = canvas.beginPath()
    corners: list[Point] = [
        *((left + SLANT, bottom), (right - SLANT, bottom), (right, bottom + SLANT)),
        *((right, top - SLANT), (right - SLANT, top), (left + SLANT, top)),
        *((left, top - SLANT), (left, bottom + SLANT)),
    ]
    path.moveTo(*corners[0])
    for corner in corners[1:]:
        path.lineTo(*corner)
    path.close()
    return path
