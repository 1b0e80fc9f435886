"""Words put on a drawing where they hide neither each other nor what they speak of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from estimator.documents.strokes import overlap
from estimator.drawing.courses import Box
from estimator.masonry.region import Point

OFF = 3.0
"""From a place to the label beside it, in points."""
STEPS = (0.0, 0.6, 1.2, 2.0, 3.0, 4.2)
"""How much further from its place a label may go, in its own height."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words and the place they belong to, in points of the page."""

    at: Point
    size: tuple[float, float]
    is_over: bool = False
    """Whether it stands over its place before anywhere else."""


def placed(labels: Sequence[Label], bounds: Box, taken: Sequence[Box] = ()) -> list[Box]:
    """Return a box for each label, as near to its place as one is free inside the bounds.

    Where none is free, the label takes the place that hides least of what is there.

    >>> placed([Label((50, 50), (20, 10)), Label((50, 50), (20, 10))], (0, 0, 100, 100))
    [(53.0, 45.0, 73.0, 55.0), (27.0, 45.0, 47.0, 55.0)]
    """
    full = list(taken)
    boxes = []
    for label in labels:
        places = [_inside(box, bounds) for box in _around(label)]
        # Only what lies where the label may go can be in its way.
        near = _near(places, full)
        free = (box for box in places if not any(overlap(box, one) for one in near))
        best = next(free, None) or _least_hiding(places, near)
        full.append(best)
        boxes.append(best)
    return boxes


def _around(label: Label) -> Iterator[Box]:
    """Yield boxes round a place, the nearest first: beside, over and under it, then aslant."""
    (x, y), (wide, high) = label.at, label.size
    for step in STEPS:
        off = OFF + step * high
        across = x + off, x - off - wide, x - wide / 2
        up = y - high / 2, y + off, y - off - high
        beside, over = (across[0], up[0]), (across[2], up[1])
        first = (over, beside) if label.is_over else (beside, over)
        for left, bottom in (
            *(first[0], (across[1], up[0]), first[1], (across[2], up[2])),
            *((across[0], up[1]), (across[1], up[1]), (across[0], up[2]), (across[1], up[2])),
        ):
            yield left, bottom, left + wide, bottom + high


def _least_hiding(places: Sequence[Box], near: Sequence[Box]) -> Box:
    return min(places, key=lambda box: _hidden(box, near))


def _near(places: Sequence[Box], full: Sequence[Box]) -> list[Box]:
    """Return what overlaps the box round some places."""
    left, bottom, right, top = zip(*places, strict=True)
    hull = min(left), min(bottom), max(right), max(top)
    return [one for one in full if overlap(one, hull)]


def _inside(box: Box, bounds: Box) -> Box:
    left = max(min(box[0], bounds[2] - (box[2] - box[0])), bounds[0])
    bottom = max(min(box[1], bounds[3] - (box[3] - box[1])), bounds[1])
    return left, bottom, left + box[2] - box[0], bottom + box[3] - box[1]


def _hidden(box: Box, taken: Sequence[Box]) -> float:
    return sum(
        max(min(box[2], one[2]) - max(box[0], one[0]), 0.0)
        * max(min(box[3], one[3]) - max(box[1], one[1]), 0.0)
        for one in taken
    )
