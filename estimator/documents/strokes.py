"""Lines and areas put straight on a page, and where places of a wall lie on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.lib.colors import Color

from estimator.drawing.courses import Box
from estimator.masonry.region import Point


class Path:
    """A path written straight as page marks; the library's own takes ten times as long.

    ``Canvas.drawPath`` asks a path only for its code.
    """

    def __init__(self) -> None:
        self._marks: list[str] = []

    def boxes(self, boxes: Iterable[Box]) -> Path:
        """Add rectangles."""
        self._marks += [
            f"{left:.2f} {bottom:.2f} {right - left:.2f} {top - bottom:.2f} re"
            for left, bottom, right, top in boxes
        ]
        return self

    def line(self, points: Sequence[Point], *, closed: bool = False) -> Path:
        """Add a line through points."""
        for number, (x, y) in enumerate(points):
            self._marks.append(f"{x:.2f} {y:.2f} {'l' if number else 'm'}")
        if closed:
            self._marks.append("h")
        return self

    def getCode(self) -> str:  # noqa: N802 - the library's name
        """Return the page marks."""
        return " ".join(self._marks)


@dataclass(frozen=True, slots=True)
class View:
    """Where places of a wall lie on the page."""

    left: float
    low: float
    per_mm: float
    """Points of the page to a millimetre of wall."""

    def at(self, point: Point) -> Point:
        """Return a place on the page."""
        return (point[0] - self.left) * self.per_mm, (point[1] - self.low) * self.per_mm

    def box(self, box: Box) -> Box:
        """Return a box on the page."""
        return (*self.at((box[0], box[1])), *self.at((box[2], box[3])))

    def line(self, points: Iterable[Point]) -> list[Point]:
        """Return a line on the page."""
        return [self.at(point) for point in points]


def pen(canvas: Any, colour: Color, width: float) -> None:
    """Take up a pen."""
    canvas.setStrokeColor(colour)
    canvas.setLineWidth(width)


def overlap(one: Box, two: Box) -> bool:
    """Whether two boxes lie on each other.

    >>> overlap((0, 0, 2, 2), (1, 1, 3, 3)), overlap((0, 0, 1, 1), (1, 0, 2, 1))
    (True, False)
    """
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]
