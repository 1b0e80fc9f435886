"""A region band by band: how much of a stretch at some level lies in it, asked many times."""

from __future__ import annotations

from typing import NamedTuple

from estimator.masonry import rhythm
from estimator.masonry.region import NEAR_MM, Region, Trapezoid
from estimator.takeoff.stretches import Box


class Upright(NamedTuple):
    """A part of a band with upright sides."""

    left: float
    right: float
    share: float
    """How much of the band's height it fills, from 0 to 1."""


class Row(NamedTuple):
    """The parts of a region in one band."""

    uprights: list[Upright]
    slanted: list[Trapezoid]


class Bands:
    """A region that remembers its bands: every bar, perpend and bed asks for the same few."""

    def __init__(self, region: Region) -> None:
        """Keep the region; nothing is worked out yet."""
        self.region = region
        self._rows: dict[tuple[float, float], Row] = {}

    def length(self, box: Box) -> float:
        """Return the mean length of a box that lies in the region, over the box's height [mm].

        Exact: the parts with slanted sides are clipped as areas.

        >>> Bands(Region.rectangle(0, 0, 900, 9)).length(Box(500, 0, 1500, 9))
        400.0
        """
        key = (box.bottom, box.top)
        row = self._rows.get(key)
        if row is None:
            row = self._rows[key] = self._row(*key)
        held = 0.0
        for left, right, share in row.uprights:
            start = left if left > box.left else box.left
            end = right if right < box.right else box.right
            if end > start:
                held += (end - start) * share
        for part in row.slanted:
            held += _area(part, box) / (box.top - box.bottom)
        return held

    def share(self, box: Box) -> float:
        """Return how much of a box lies in the region, from 0 to 1.

        >>> Bands(Region.rectangle(0, 0, 900, 9)).share(Box(500, 0, 1500, 9))
        0.4
        """
        return self.length(box) / (box.right - box.left)

    def _row(self, bottom: float, top: float) -> Row:
        """Return the parts of a band."""
        row = Row([], [])
        # Written out, not asked of each part: a wall is asked for a hundred bands or more.
        for part in self.region.parts:
            low = bottom if bottom > part.bottom else part.bottom
            high = top if top < part.top else part.top
            if high - low <= NEAR_MM:
                continue
            if part.is_upright:
                share = (high - low) / (top - bottom)
                row.uprights.append(Upright(part.left_bottom, part.right_bottom, share))
            else:
                cut = part.between(low, high)
                row.slanted.extend([cut] if cut is not None else [])
        return row


def _area(part: Trapezoid, box: Box) -> float:
    """Return the area of a part between the upright lines of a box's sides [mm²]."""
    between = rhythm.Stretch(box.left, box.right)
    left = _mean(between, part.left_bottom, part.left_top)
    return (part.top - part.bottom) * (_mean(between, part.right_bottom, part.right_top) - left)


def _mean(stretch: rhythm.Stretch, low: float, high: float) -> float:
    """Return the mean of what lies left of a straight side between its two ends [mm]."""
    # The same integral the joints are measured by, so that the two agree to the last bit.
    if abs(high - low) <= NEAR_MM:
        return stretch.upto((low + high) / 2)
    return (stretch.running(high) - stretch.running(low)) / (high - low)
