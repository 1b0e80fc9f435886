"""A crack half traced: its points, its legs that cut bricks, and the crack it draws on, if any."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from estimator.masonry.region import Point
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits import cracks
from estimator.survey.survey import TracedRun

SAME_MM = 1.0
"""Points nearer to each other than this are one [mm]."""
ENDS = 2
"""A crack has two ends."""


@dataclass(frozen=True, slots=True)
class Trace:
    """Points set so far; each change makes another."""

    points: tuple[Point, ...] = ()
    cuts: frozenset[int] = frozenset()
    """Legs that cut bricks, by number from 1."""
    draws_on: str = ""
    """Id of the crack that is drawn on; empty for a new one."""
    at_start: bool = False
    """Whether it is drawn on from its first end."""

    @property
    def is_whole(self) -> bool:
        """Whether it has two ends."""
        return len(self.points) >= ENDS

    @property
    def run(self) -> TracedRun:
        """The way it would take."""
        return TracedRun(self.points, cuts=tuple(sorted(self.cuts)))

    def on_to(self, at: Point, *, cuts: bool) -> Trace:
        """Return it with one more point; the same where that is where it ends already."""
        if self.points and math.dist(at, self.points[-1]) < SAME_MM:
            return self
        more = frozenset({len(self.points)}) if cuts and self.points else frozenset()
        return replace(self, points=(*self.points, at), cuts=self.cuts | more)

    def without_last(self) -> Trace:
        """Return it without its last point."""
        points = self.points[:-1]
        return replace(self, points=points, cuts=self.cuts - {len(points)})

    def edit(self, work: Work, side: str) -> Edit:
        """Return the edit that makes a crack of it, or draws one on.

        Raises:
            UserMistake: for a point off the wall.
        """
        if not self.draws_on:
            return cracks.trace(work, side, self.points, cuts=sorted(self.cuts))
        edit = Edit(Step.CRACK, "", work)
        for leg, point in enumerate(self.points[1:], 1):
            edit = cracks.extend(
                edit.after,
                side,
                self.draws_on,
                point,
                cuts=leg in self.cuts,
                at_start=self.at_start,
            )
        return edit
