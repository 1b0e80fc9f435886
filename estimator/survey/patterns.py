"""Patterns a survey lets us see: what a crack like this is often seen with, and what to ask.

These are prompts for the person asking, never a diagnosis: no pattern is safe to judge a cause by.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise
from types import MappingProxyType

from estimator.masonry.region import Point
from estimator.notices import Notice
from estimator.survey.survey import (
    Answer,
    BedRun,
    Crack,
    Elevation,
    Opening,
    StraightRun,
    Survey,
    TracedRun,
    WallEnd,
)
from estimator.survey.triage_table import Distances, table
from estimator.survey.wall import coursing_of, path_of, ring_of

MOST_NAMED = 6


def patterns(survey: Survey) -> tuple[Notice, ...]:
    """Return a notice for each pattern seen, naming the cracks that show it.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> wall = ((0.0, 0.0), (4500.0, 0.0), (4500.0, 2700.0), (0.0, 2700.0))
    >>> front = Elevation("f", "Front", wall, cracks=(Crack("a", StraightRun(2000, 1, 8), 2.0),))
    >>> seen = Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> [notice.code for notice in patterns(seen)]
    ['through_bricks']
    """
    return tuple(
        Notice(
            notice.code, notice.severity, notice.text.format(cracks=_named(cracks)), notice.source
        )
        for code, notice in table().patterns.items()
        if (cracks := showing(code, survey))
    )


def showing(code: str, survey: Survey) -> tuple[tuple[Elevation, Crack], ...]:
    """Return the cracks that show a pattern, with their elevations.

    Raises:
        KeyError: when no pattern has that code.
    """
    seen, distances = SEEN[code], table().distances
    return tuple(
        (elevation, crack)
        for elevation in survey.elevations
        for crack in seen(elevation, distances)
    )


def _named(cracks: tuple[tuple[Elevation, Crack], ...]) -> str:
    """Name the cracks in words, the first few of many."""
    names = [f"crack {crack.id} ({elevation.name})" for elevation, crack in cracks[:MOST_NAMED]]
    more = len(cracks) - len(names)
    named = ", ".join(names) + (f" and {more} more" if more else "")
    return named[0].upper() + named[1:]


def _ends(elevation: Elevation, crack: Crack) -> tuple[Point, ...]:
    """Return the two ends of a crack as it lies on the joints, none where it meets none."""
    points = path_of(crack, coursing_of(elevation.brickwork)).points
    return (points[0], points[-1]) if points else ()


def _top(opening: Opening) -> float:
    return opening.bottom_mm + opening.height_mm


def _level_above_opening(elevation: Elevation, near: Distances) -> Iterator[Crack]:
    """Yield cracks along a bed not far above an opening."""
    for crack in elevation.cracks:
        run = crack.run
        if not isinstance(run, BedRun):
            continue
        coursing = coursing_of(elevation.brickwork)
        y = coursing.bed_middle(run.course)
        for opening in elevation.openings:
            right = opening.left_mm + opening.width_mm
            is_over = run.from_mm < right and run.to_mm > opening.left_mm
            if is_over and -coursing.gauge_mm < y - _top(opening) <= near.above_opening_mm:
                yield crack
                break


def _regular_level_lines(elevation: Elevation, near: Distances) -> Iterator[Crack]:
    """Yield cracks along beds that are equally far apart, as rows of wall ties are."""
    level = [crack for crack in elevation.cracks if isinstance(crack.run, BedRun)]
    courses = sorted({crack.run.course for crack in level if isinstance(crack.run, BedRun)})
    gaps = {high - low for low, high in pairwise(courses)}
    is_even = len(courses) >= near.tie_lines and len(gaps) == 1
    if is_even and near.tie_courses_least <= gaps.pop() <= near.tie_courses_most:
        yield from level


def _opening_corner(elevation: Elevation, near: Distances) -> Iterator[Crack]:
    """Yield cracks that start or end at the corner of an opening."""
    if not elevation.openings:
        return
    corners = [corner for opening in elevation.openings for corner in ring_of(opening)]
    for crack in elevation.cracks:
        ends = _ends(elevation, crack)
        if any(math.dist(end, corner) <= near.corner_mm for end in ends for corner in corners):
            yield crack


def _below_sill(elevation: Elevation, near: Distances) -> Iterator[Crack]:
    """Yield cracks whose upper end is under an opening."""
    if not elevation.openings:
        return
    # Openings are measured to the nearest course, so a crack may seem to end a little above one.
    slack = coursing_of(elevation.brickwork).gauge_mm
    for crack in elevation.cracks:
        if isinstance(crack.run, BedRun):
            continue
        x, y = max(_ends(elevation, crack), key=lambda end: end[1], default=(0.0, -math.inf))
        for opening in elevation.openings:
            sill = opening.bottom_mm - opening.sill_mm
            is_under = opening.left_mm <= x <= opening.left_mm + opening.width_mm
            if is_under and -slack < sill - y <= near.below_sill_mm:
                yield crack
                break


def _upright_near_end(elevation: Elevation, near: Distances) -> Iterator[Crack]:
    """Yield upright cracks of even width in a long wall, or near a quoin or stopped end."""
    across = [x for x, _y in elevation.outline]
    left, right = min(across), max(across)
    # Where the wall goes on beyond the drawing there is no end to be near.
    built_ends = [
        x
        for x, end in ((left, elevation.left_end), (right, elevation.right_end))
        if end in (WallEnd.QUOIN, WallEnd.STOPPED)
    ]
    is_long = right - left > near.long_wall_mm
    for crack in elevation.cracks:
        run = crack.run
        # A taper speaks of movement, which has a pattern of its own.
        if not isinstance(run, StraightRun) or crack.tapers is Answer.YES:
            continue
        if is_long or any(abs(run.x_mm - x) <= near.near_end_mm for x in built_ends):
            yield crack


def _through_bricks(elevation: Elevation, near: Distances) -> Iterator[Crack]:
    """Yield cracks that run straight through bricks."""
    del near
    for crack in elevation.cracks:
        run = crack.run
        if isinstance(run, StraightRun) or (isinstance(run, TracedRun) and run.through_bricks):
            yield crack


def _tapering(elevation: Elevation, near: Distances) -> Iterator[Crack]:
    """Yield cracks wider at one end."""
    del near
    return (crack for crack in elevation.cracks if crack.tapers is Answer.YES)


SEEN: Mapping[str, Callable[[Elevation, Distances], Iterator[Crack]]] = MappingProxyType(
    {
        "level_above_opening": _level_above_opening,
        "regular_level_lines": _regular_level_lines,
        "opening_corner": _opening_corner,
        "below_sill": _below_sill,
        "upright_near_end": _upright_near_end,
        "through_bricks": _through_bricks,
        "tapering": _tapering,
    }
)
"""How each pattern of the table is seen."""
