"""How far sizes that look plain may lie off: counts made ranges, drawn cracks and areas redrawn.

A crack told by its steps holds its range itself. One that was traced, and an area that was drawn,
are points; so each draw lets the crack end sooner or run on further, and a told area be smaller or
larger, by as much as the price book says of counts (house rule).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from estimator.masonry.region import Point, Region
from estimator.survey.ranges import Range, Told
from estimator.survey.survey import (
    Area,
    Basis,
    Crack,
    Elevation,
    SteppedRun,
    StraightRun,
    Survey,
    TracedRun,
)
from estimator.survey.wall import coursing_of, wall_of

HUNDRED = 100.0
HALVINGS = 20
"""Steps in which the edge of a wall is looked for: to a thousandth of a millimetre in a metre."""
Draw = Callable[[str, Range], float]


def widened(survey: Survey, percent: float, *, further_bricks: float = 0) -> Survey:
    """Return a survey with plain counts turned into ranges so many per cent wide to either side.

    Cracks never grow beyond the top of their wall. Ranges that were told stay as told.

    >>> from estimator.survey.survey import Party, Site
    >>> wall = Elevation("f", "F", ((0, 0), (3000, 0), (3000, 2400), (0, 2400)),
    ...     cracks=(Crack("a", StraightRun(500, 1, 20), 2.0),))
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), (wall,))
    >>> widened(seen, 25).elevations[0].cracks[0].run.courses
    Range(low=15.0, likely=20, high=25.0)
    """
    return replace(
        survey,
        elevations=tuple(
            replace(
                elevation,
                cracks=tuple(_wider_crack(elevation, crack, percent) for crack in elevation.cracks),
                hidden_bricks=_wider_count(elevation.hidden_bricks, further_bricks),
            )
            for elevation in survey.elevations
        ),
    )


def is_plain(survey: Survey) -> bool:
    """Whether nothing that moves a price is a range; a width moves none.

    >>> from estimator.survey.survey import Party, Site
    >>> wall = Elevation("f", "F", ((0, 0), (3000, 0), (3000, 2400), (0, 2400)),
    ...     cracks=(Crack("a", StraightRun(500, 1, 20), Range(0.3, 2, 5)),))
    >>> is_plain(Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (wall,)))
    True
    """
    counts: list[Told] = [elevation.hidden_bricks for elevation in survey.elevations]
    counts += [
        crack.run.courses
        for elevation in survey.elevations
        for crack in elevation.cracks
        if isinstance(crack.run, SteppedRun | StraightRun)
    ]
    return not any(isinstance(count, Range) and count.low < count.high for count in counts)


def redrawn(survey: Survey, draw: Draw, percent: float) -> Survey:
    """Return a survey with every traced crack, and every told area, drawn larger or smaller.

    Args:
        survey: One without ranges.
        draw: Takes a number from a range, by the path of what it is for.
        percent: How much longer or shorter a crack, or larger or smaller an area, may be.

    >>> from estimator.survey.survey import Party, Site
    >>> wall = Elevation("f", "F", ((0, 0), (3000, 0), (3000, 2400), (0, 2400)),
    ...     cracks=(Crack("a", TracedRun(((500, 0), (500, 1000))), 2.0),))
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), (wall,))
    >>> redrawn(seen, lambda path, told: told.high, 25).elevations[0].cracks[0].run.points
    ((500, 0), (500.0, 1250.0))
    """
    share = percent / HUNDRED
    span = Range(1 - share, 1.0, 1 + share)

    def factor(path: str) -> float:
        return draw(path, span)

    elevations = tuple(
        _with_cracks(old, f"elevations[{n}]", factor) for n, old in enumerate(survey.elevations)
    )
    if survey.basis is Basis.TOLD:
        elevations = tuple(
            _with_areas(old, f"elevations[{n}]", factor) for n, old in enumerate(elevations)
        )
    return replace(survey, elevations=elevations)


Factor = Callable[[str], float]
"""Draws how many times as large a part is, by its path."""


def _with_cracks(old: Elevation, path: str, factor: Factor) -> Elevation:
    cracks = tuple(
        replace(
            crack,
            run=run_to(crack.run, factor(f"{path}.cracks[{n}].run.points"), wall_of(old).gross),
        )
        if isinstance(crack.run, TracedRun)
        else crack
        for n, crack in enumerate(old.cracks)
    )
    return replace(old, cracks=cracks)


def _with_areas(old: Elevation, path: str, factor: Factor) -> Elevation:
    areas = tuple(
        _scaled(area, factor(f"{path}.areas[{n}].outline")) for n, area in enumerate(old.areas)
    )
    return replace(old, areas=areas)


def run_to(run: TracedRun, factor: float, wall: Region) -> TracedRun:
    """Return a traced crack of so many times its length, its upper end moved.

    It ends sooner on its own way, or goes on the way its last leg goes as far as there is wall.

    >>> wall = Region.rectangle(0, 0, 900, 900)
    >>> run_to(TracedRun(((300, 0), (300, 400), (600, 800)), cuts=(2,)), 0.5, wall)
    TracedRun(points=((300, 0), (300, 400), (330.0, 440.0)), through_bricks=False, cuts=(2,))
    """
    if run.points[-1][1] < run.points[0][1]:
        return _turned(run_to(_turned(run), factor, wall))
    legs = list(pairwise(run.points))
    left = factor * sum(math.dist(*leg) for leg in legs)
    points = [run.points[0]]
    for number, (start, end) in enumerate(legs, 1):
        length = math.dist(start, end)
        is_last = number == len(legs)
        if left > length and not is_last:
            points.append(end)
            left -= length
            continue
        if left > length:
            points.append(_out_to(start, end, left / length, wall))
        else:
            points.append(_on(start, end, left / length))
        break
    cuts = tuple(leg for leg in run.cuts if leg < len(points))
    return replace(run, points=tuple(points), cuts=cuts)


def _turned(run: TracedRun) -> TracedRun:
    """Return a traced crack drawn from its other end."""
    legs = len(run.points) - 1
    cuts = tuple(sorted(legs + 1 - leg for leg in run.cuts))
    return replace(run, points=run.points[::-1], cuts=cuts)


def _on(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _out_to(start: Point, end: Point, share: float, wall: Region) -> Point:
    """Return the place so far along a leg and beyond it, or the last on that way in the wall."""
    if wall.holds(_on(start, end, share)):
        return _on(start, end, share)
    inside, outside = 1.0, share
    for _step in range(HALVINGS):
        middle = (inside + outside) / 2
        inside, outside = (
            (middle, outside) if wall.holds(_on(start, end, middle)) else (inside, middle)
        )
    return _on(start, end, inside)


def _scaled(area: Area, factor: float) -> Area:
    """Return an area so many times as large, about its middle."""
    across, up = zip(*area.outline, strict=True)
    middle = (min(across) + max(across)) / 2, (min(up) + max(up)) / 2
    side = math.sqrt(factor)
    return replace(area, outline=tuple(_on(middle, corner, side) for corner in area.outline))


def _wider_count(told: Told, further: float) -> Told:
    if isinstance(told, Range) or not further:
        return told
    return Range(max(told - further, 0.0), told, told + further)


def _wider_crack(elevation: Elevation, crack: Crack, percent: float) -> Crack:
    run = crack.run
    if not isinstance(run, SteppedRun | StraightRun) or isinstance(run.courses, Range):
        return crack
    courses = run.courses
    coursing = coursing_of(elevation.brickwork)
    top = max(y for _x, y in elevation.outline)
    room = (top - coursing.bed_bottom(run.course)) // coursing.gauge_mm
    share = percent / HUNDRED
    high = max(min(courses * (1 + share), room), courses)
    low = max(courses * (1 - share), min(courses, 1.0))
    return replace(crack, run=replace(run, courses=Range(low, courses, high)))
