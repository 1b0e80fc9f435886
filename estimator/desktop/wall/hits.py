"""What lies where on the drawing: the mark under a pointer, and the next one by keyboard."""

from __future__ import annotations

import math
from itertools import pairwise

from estimator.drawing.courses import Box
from estimator.drawing.shapes import (
    AreaShape,
    BarShape,
    BrickShape,
    CrackShape,
    LegShape,
    Picture,
    Shape,
)
from estimator.masonry.region import Point, Region


def in_order(picture: Picture) -> tuple[Shape, ...]:
    """Return what can be walked through by keyboard, from the top down."""
    lines: list[Shape] = sorted(
        (*picture.cracks, *picture.bars, *picture.legs), key=lambda one: -middle_of(one)[1]
    )
    bricks = sorted(picture.bricks, key=lambda one: (-one.course, one.place))
    return (*lines, *bricks, *picture.areas)


def middle_of(shape: Shape) -> Point:
    """Return the middle of a shape [mm]."""
    left, bottom, right, top = box_of(shape)
    return (left + right) / 2, (bottom + top) / 2


def box_of(shape: Shape) -> Box:
    """Return the box round a shape [mm]."""
    if isinstance(shape, BarShape | LegShape):
        return shape.left, shape.y, shape.right, shape.y
    if isinstance(shape, CrackShape | AreaShape):
        points = shape.points if isinstance(shape, CrackShape) else shape.corners
        across, up = [x for x, _y in points] or [0.0], [y for _x, y in points] or [0.0]
        return min(across), min(up), max(across), max(up)
    return shape.box


def along_with(picture: Picture, shape: Shape) -> frozenset[str]:
    """Return the marks meant by pointing at a shape: a crack means its perpends too."""
    joints = (one.mark for one in picture.joints if one.crack == shape.mark)
    return frozenset((shape.mark, *joints))


def nearest(picture: Picture, place: Point, reach: float) -> Shape | None:
    """Return the mark at a place: a line within reach, else the brick or area it lies in [mm]."""
    return (
        nearest_line(picture, place, reach)
        or _nearest_leg(picture, place, reach)
        or brick_at(picture, place)
        or area_at(picture, place)
    )


def nearest_line(picture: Picture, place: Point, reach: float) -> CrackShape | BarShape | None:
    """Return the crack or bar nearest to a place, if it is within reach [mm]."""
    lines: list[tuple[float, CrackShape | BarShape]] = [
        (_from_points(place, crack.points), crack) for crack in picture.cracks
    ]
    lines += [
        (_from_line(place, (bar.left, bar.y), (bar.right, bar.y)), bar) for bar in picture.bars
    ]
    near = min(lines, key=lambda one: one[0], default=None)
    return near[1] if near is not None and near[0] <= reach else None


def _nearest_leg(picture: Picture, place: Point, reach: float) -> LegShape | None:
    """Return the leg of a bar of a return nearest to a place, if it is within reach [mm].

    It can be pointed at and not selected: it is changed with its bar, on the other side.
    """
    far = [_from_line(place, (leg.left, leg.y), (leg.right, leg.y)) for leg in picture.legs]
    near = min(far, default=math.inf)
    return picture.legs[far.index(near)] if near <= reach else None


def nearest_crack(picture: Picture, place: Point, reach: float) -> CrackShape | None:
    """Return the crack nearest to a place, under a bar too, if it is within reach [mm]."""
    near = min(
        (
            (_from_points(place, crack.points), number)
            for number, crack in enumerate(picture.cracks)
        ),
        default=(math.inf, 0),
    )
    return picture.cracks[near[1]] if near[0] <= reach else None


def brick_at(picture: Picture, place: Point) -> BrickShape | None:
    """Return the marked brick a place lies in."""
    return next((one for one in picture.bricks if _holds(one, place)), None)


def area_at(picture: Picture, place: Point) -> AreaShape | None:
    """Return the area a place lies in."""
    return next((one for one in picture.areas if Region.of(one.corners).holds(place)), None)


def toward(
    picture: Picture, start: Shape, way: Point, among: tuple[Shape, ...] | None = None
) -> Shape | None:
    """Return the nearest mark in a direction; what lies aside counts as twice as far."""
    x, y = middle_of(start)
    best: tuple[float, Shape] | None = None
    for shape in in_order(picture) if among is None else among:
        to_x, to_y = middle_of(shape)
        ahead = (to_x - x) * way[0] + (to_y - y) * way[1]
        aside = abs((to_x - x) * way[1]) + abs((to_y - y) * way[0])
        far = ahead + 2 * aside
        if shape.mark != start.mark and ahead > 1 and (best is None or far < best[0]):
            best = far, shape
    return None if best is None else best[1]


def _holds(brick: BrickShape, place: Point) -> bool:
    left, bottom, right, top = brick.box
    return left <= place[0] <= right and bottom <= place[1] <= top


def _from_points(place: Point, points: tuple[Point, ...]) -> float:
    return min((_from_line(place, *ends) for ends in pairwise(points)), default=math.inf)


def _from_line(place: Point, start: Point, end: Point) -> float:
    """Return how far a place lies from a straight line between two ends [mm]."""
    along = end[0] - start[0], end[1] - start[1]
    length = along[0] ** 2 + along[1] ** 2
    share = 0.0
    if length:
        share = (place[0] - start[0]) * along[0] + (place[1] - start[1]) * along[1]
        share = min(max(share / length, 0.0), 1.0)
    return math.dist(place, (start[0] + share * along[0], start[1] + share * along[1]))
