"""An elevation framed to work from: bars numbered, courses counted, places from one edge."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from reportlab.lib.units import mm

from estimator.documents import styles
from estimator.documents.figure import (
    Figure,
    Key,
    Sign,
    bar_keys,
    bricks_in,
    drawn,
    ends_of,
    explained,
    ground_of,
    low_of,
    part_worked_on,
    scale_for,
)
from estimator.documents.formats import metres
from estimator.documents.wording import say
from estimator.documents.works_content import Edge, Noted, Number, Plate
from estimator.drawing.courses import Box
from estimator.drawing.dimensions import Dimension, Kind, Side
from estimator.drawing.shapes import Picture
from estimator.survey.survey import Elevation, Survey, Treatment, WallEnd
from estimator.takeoff.lines import Mark, Measure

RULER = 34.0
"""Room for the courses counted up the right side, in points."""
HEIGHT = 400.0
"""Height on paper a wall may take, in points; house rule."""
CROP_FROM = 25
"""From this scale on only the part worked on is drawn, where that makes it larger; house rule."""
READ_TO, PART_SCALE = 50, 40
"""Scale from which on a wall is drawn in parts, and that of the parts; house rule."""
ROUND_MM = 350.0
"""Wall drawn round the work where only a part is [mm]; house rule."""


def plates(
    survey: Survey,
    measure: Measure,
    *,
    noted: Mapping[Mark, Noted] | None = None,
    height: float = HEIGHT,
) -> tuple[Plate, ...]:
    """Return a drawing of every side there is work on.

    Args:
        survey: The wall.
        measure: The work.
        noted: How far each bar has come; none where only the plan is drawn.
        height: What a wall may take on the page, in points.
    """
    worked = {line.elevation for line in measure.lines}
    return tuple(
        one
        for place, side in enumerate(survey.elevations)
        if side.id in worked
        for one in _of_side(survey, place, measure, noted, height)
    )


def _of_side(
    survey: Survey,
    place: int,
    measure: Measure,
    noted: Mapping[Mark, Noted] | None,
    height: float,
) -> Iterator[Plate]:
    """Yield one drawing of a side, or several where its numbers could not be read in one."""
    side = survey.elevations[place]
    picture = _bare(drawn(survey, place, measure))
    edge = edge_of(side, picture) if noted is None else None
    parts = list(_parts(picture, height))
    for number, bounds in enumerate(parts, 1):
        name = side.name
        if len(parts) > 1:
            name = say("works.part_of", name=name, number=str(number), all=str(len(parts)))
        numbers = tuple(
            (bar.mark, Number(bar_number(bar.mark), (noted or {}).get(bar.mark, Noted.PLANNED)))
            for bar in picture.bars
            if _is_in(bounds, (bar.left, bar.y, bar.right, bar.y))
        )
        is_part = len(parts) == 1 and bounds != picture.masonry.wall
        caption = "works.caption_part" if is_part else "works.caption"
        figure = _framed(picture, bounds, height)
        scale = say("figure.scale", number=str(figure.scale))
        figure = replace(figure, caption=say(caption, name=name, scale=scale))
        shown = {one.noted for _mark, one in numbers} - {Noted.PLANNED}
        keys = tuple((one, say(f"works.noted_{one.value}")) for one in Noted if one in shown)
        yield Plate(f"wall-{side.id}-{number}", name, figure, numbers, edge, figure.caption, keys)


def _parts(picture: Picture, height: float) -> Iterator[Box]:
    """Yield what is drawn of a wall: all its work at once, or in parts that can be read."""
    room_mm = _room_mm(height)
    bounds, scale = part_worked_on(picture, room_mm, crop_from=CROP_FROM, round_mm=ROUND_MM)
    if scale <= READ_TO:
        yield bounds
        return
    left, bottom, right, top = bounds
    across = math.ceil((right - left) / (room_mm[0] * PART_SCALE))
    up = math.ceil((top - low_of(picture, bounds)) / (room_mm[1] * PART_SCALE))
    wide, high = (right - left) / across, (top - bottom) / up
    boxes = [
        (left + x * wide, bottom + y * high, left + (x + 1) * wide, bottom + (y + 1) * high)
        for y in range(up)
        for x in range(across)
    ]
    yield from [box for box in boxes if _has_work(picture, box)] or [bounds]


def _has_work(picture: Picture, bounds: Box) -> bool:
    boxes = [(bar.left, bar.y, bar.right, bar.y) for bar in picture.bars]
    boxes += [brick.box for brick in picture.bricks if brick.marked is not None]
    shapes = [crack.points for crack in picture.cracks] + [one.corners for one in picture.areas]
    boxes += [
        (min(x), min(y), max(x), max(y))
        for points in shapes
        if points
        for x, y in (tuple(zip(*points, strict=True)),)
    ]
    return any(_is_in(bounds, box) for box in boxes)


def _is_in(bounds: Box, box: Box) -> bool:
    """Whether something reaches into the part drawn."""
    left, bottom, right, top = bounds
    return box[0] < right and left < box[2] and box[1] <= top and bottom <= box[3]


def _room_mm(height: float) -> tuple[float, float]:
    return (styles.WIDTH - RULER) / mm, height / mm


def bar_number(mark: Mark) -> str:
    """Return the number of a bar, as the paper calls it.

    >>> bar_number("front/bar/3")
    '3'
    """
    return mark.rsplit("/", 1)[-1]


def edge_of(side: Elevation, picture: Picture) -> Edge:
    """Return what places are measured from: an end that is there, else a jamb, else the drawing.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (wall,))
    >>> edge_of(wall, drawn(seen, 0, None)).words
    'the left end of the drawing: mark it on the wall first'
    """
    left, _bottom, right, _top = picture.masonry.wall
    if side.left_end is not WallEnd.CONTINUES:
        return Edge(say("works.edge_left", end=_end(side.left_end)), left)
    if side.right_end is not WallEnd.CONTINUES:
        return Edge(say("works.edge_right", end=_end(side.right_end)), right, is_leftward=True)
    if side.openings:
        middle = _middle(picture)
        nearest = min(side.openings, key=lambda one: abs(one.left_mm + one.width_mm / 2 - middle))
        kind = nearest.kind.strip().lower() or say("works.opening")
        # Two of a kind one over the other have the same jamb; the higher ones only by chance.
        return Edge(say("works.edge_jamb", kind=kind), nearest.left_mm, is_inside=True)
    return Edge(say("works.edge_drawn"), left)


def from_edge(edge: Edge, left_mm: float, right_mm: float) -> tuple[float, float]:
    """Return how far the ends of a stretch lie from an edge, the nearer end of the wall first [mm].

    >>> from_edge(Edge("the left end", 0), 800, 1900), from_edge(
    ...     Edge("the right end", 4000, is_leftward=True), 800, 1900)
    ((800, 1900), (2100, 3200))
    """
    if edge.is_leftward:
        return edge.at_mm - right_mm, edge.at_mm - left_mm
    return left_mm - edge.at_mm, right_mm - edge.at_mm


def _end(end: WallEnd) -> str:
    return say(f"works.end_{end.name.lower()}")


def _middle(picture: Picture) -> float:
    work = picture.work or picture.masonry.wall
    return (work[0] + work[2]) / 2


def _bare(picture: Picture) -> Picture:
    """Return a picture without what only a survey measures: how wide cracks are."""
    return replace(picture, cracks=tuple(replace(one, widths=()) for one in picture.cracks))


def _framed(picture: Picture, bounds: Box, height: float) -> Figure:
    low = low_of(picture, bounds)
    scale = scale_for(bounds[2] - bounds[0], bounds[3] - low, _room_mm(height))
    across = bounds[2] - bounds[0]
    width = Dimension(Kind.WIDTH, bounds[:2], (bounds[2], bounds[1]), metres(across), Side.BELOW)
    return Figure(
        picture,
        bounds,
        scale,
        bricks_in(picture, bounds, scale),
        ends_of(picture, bounds),
        ground_of(picture, bounds),
        (width,),
        "",
        explained(_keys(picture)),
        is_survey=True,
    )


def _keys(picture: Picture) -> tuple[Key, ...]:
    keys = list(bar_keys(picture.bars))
    if picture.thin_beds:
        keys.append(Sign.THIN_BED)
    if picture.masonry.damp_course is not None:
        seen = picture.masonry.damp_course_seen
        keys.append(Sign.DAMP_COURSE if seen else Sign.USUAL_DAMP_COURSE)
    if picture.areas:
        keys.append(Sign.AREA)
    marked = [one.marked for one in picture.bricks]
    return (*keys, *(one for one in Treatment if one in marked))
