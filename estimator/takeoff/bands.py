"""A region band by band: how much of a stretch at some level lies in it, asked many times."""

from __future__ import annotations

from estimator.masonry.region import NEAR_MM, Region
from estimator.takeoff.stretches import Box, clipped

Row = tuple[tuple[float, float, float], ...]
"""Left, right and how much of the band's height a part fills, from 0 to 1."""


class Bands:
    """A region that remembers its bands: every bar, perpend and bed asks for the same few."""

    def __init__(self, region: Region) -> None:
        """Keep the region; nothing is worked out yet."""
        self.region = region
        self._rows: dict[tuple[float, float], Row | None] = {}

    def length(self, box: Box) -> float:
        """Return the mean length of a box that lies in the region, over the box's height [mm].

        Exact: parts with slanted sides are clipped as areas.

        >>> Bands(Region.rectangle(0, 0, 900, 9)).length(Box(500, 0, 1500, 9))
        400.0
        """
        key = (box.bottom, box.top)
        if key not in self._rows:
            self._rows[key] = self._row(*key)
        row = self._rows[key]
        if row is None:
            return clipped(self.region, box).area_mm2 / (box.top - box.bottom)
        held = 0.0
        for left, right, height in row:
            start = left if left > box.left else box.left
            end = right if right < box.right else box.right
            if end > start:
                held += (end - start) * height
        return held

    def share(self, box: Box) -> float:
        """Return how much of a box lies in the region, from 0 to 1.

        >>> Bands(Region.rectangle(0, 0, 900, 9)).share(Box(500, 0, 1500, 9))
        0.4
        """
        return self.length(box) / (box.right - box.left)

    def _row(self, bottom: float, top: float) -> Row | None:
        """Return the parts of a band, or None where any has a slanted side."""
        row = []
        # Written out, not asked of each part: a wall is asked for a hundred bands or more.
        for part in self.region.parts:
            low = bottom if bottom > part.bottom else part.bottom
            high = top if top < part.top else part.top
            if high - low <= NEAR_MM:
                continue
            if not part.is_upright:
                return None
            row.append((part.left_bottom, part.right_bottom, (high - low) / (top - bottom)))
        return tuple(row)
