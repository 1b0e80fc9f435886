"""The legs of bars turned round a quoin, where they show on the elevation round it.

They are measured with their bars and nowhere else; this only says where a drawing shows them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from estimator.survey.survey import Elevation, Survey
from estimator.survey.wall import wall_of
from estimator.takeoff.lines import Bar, Mark


@dataclass(frozen=True, slots=True)
class Leg:
    """A leg as it shows on the return it is turned on to."""

    elevation: str
    """Id of the return."""
    bar: Mark
    """Id of the bar it belongs to."""
    left_mm: float
    right_mm: float
    y_mm: float
    """On the return, as high above the ground as the bar is. [mm]"""
    at_right: bool
    """Whether the quoin it comes round is the right end of the return."""


def legs_on(bars: Iterable[Bar], survey: Survey) -> tuple[Leg, ...]:
    """Return the legs of bars that show on another elevation of the survey.

    Seen from outside, a return on the left meets its wall at its own right end. Levels agree by
    their height above the ground one stands on.

    >>> from estimator.survey.survey import Basis, Crack, Party, Site, StraightRun, WallEnd
    >>> from estimator.takeoff.measure import measure
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.scope import LOCAL
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> crack = Crack("a", StraightRun(200, 1, 3), 2.0)
    >>> front = Elevation("front", "Front", outline, cracks=(crack,), left_end=WallEnd.QUOIN,
    ...     left_return="side")
    >>> side = Elevation("side", "Side", outline)
    >>> seen = Survey("1", "W", "2026-11-25", Basis.MEASURED, Party(), Site(), (front, side))
    >>> (leg,) = legs_on(measure(seen, LOCAL, shipped()).bars, seen)
    >>> leg.elevation, leg.right_mm
    ('side', 3150.0)
    """
    known = {elevation.id: elevation for elevation in survey.elevations}
    found: list[Leg] = []
    for bar in bars:
        wall = known.get(bar.elevation)
        if wall is None:
            continue
        for length, named, leftward in (
            (bar.turn_left_mm, wall.left_return, True),
            (bar.turn_right_mm, wall.right_return, False),
        ):
            if length and named in known:
                found += _leg(bar, length, wall, known[named], leftward=leftward)
    return tuple(found)


def _leg(
    bar: Bar, length: float, wall: Elevation, turned_on: Elevation, *, leftward: bool
) -> tuple[Leg, ...]:
    """Return the leg on its return, or none where there is no wall at its level."""
    y = bar.y_mm + wall.datum_height_mm - turned_on.datum_height_mm
    spans = wall_of(turned_on).gross.spans_at(y)
    if not spans:
        return ()
    left, right = spans[0][0], spans[-1][1]
    ends = (right - length, right) if leftward else (left, left + length)
    return (Leg(turned_on.id, bar.id, *ends, y, at_right=leftward),)
