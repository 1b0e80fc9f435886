"""Bricks, joints and areas on the site sheet: which, where, how deep and how much."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from estimator.documents.agreed_content import Part
from estimator.documents.figure import drawn
from estimator.documents.formats import quantity
from estimator.documents.wording import say
from estimator.documents.works_content import (
    Box,
    Cell,
    Edge,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
)
from estimator.documents.works_figure import from_edge
from estimator.documents.works_looks import INITIALS, LOOK, boxes_of, columns_of, looked_at, meant
from estimator.documents.works_words import item_words, signed
from estimator.drawing.shapes import BrickShape
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Item, Line, Mark, Measure
from estimator.works.hold_points import HoldPoint

COURSE, NTH, AMOUNT, DEEP, BOX = 46.0, 50.0, 84.0, 66.0, 34.0
ONE_BY_ONE = frozenset(
    {Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.TURN_BRICK, Item.PATCH_BRICK}
)
"""Work on bricks that have a row each."""
TOLD_ELSEWHERE = ONE_BY_ONE | {
    *(Item.CUT_SLOT, Item.SET_BAR, Item.TURN_BAR, Item.LAP_BAR, Item.SKIM_ARRIS),
    *(Item.MAKE_GOOD, Item.PROTECT, Item.CLEAR_WASTE),
}
"""Work that has its own rows: bars and single bricks, and what is a step of the order of work."""
DEEP_WORK = frozenset({Item.RAKE_OUT, Item.POINT_CRACK_BED, Item.POINT_PERPEND})
"""Work whose depth is a depth raked out."""


def bricks(
    survey: Survey,
    measure: Measure,
    edges: Mapping[str, Edge],
    held: Mapping[Mark, Sequence[HoldPoint]],
    alone: frozenset[Mark] = frozenset(),
) -> Iterator[Part]:
    """Yield the bricks to replace, turn or patch, each with its place and what is looked at.

    Args:
        survey: The wall.
        measure: What is done to it.
        edges: What places are measured from, by elevation.
        held: What is looked at before going on, by its mark.
        alone: Bricks that are not agreed, and left alone.
    """
    done = {
        mark: line.item for line in measure.lines if line.item in ONE_BY_ONE for mark in line.marks
    }
    groups = []
    for place, side in enumerate(survey.elevations):
        if side.id not in edges:
            continue
        shapes = _marked(survey, place, measure)
        if shapes:
            edge = edges[side.id]
            lead = say("works.brick_where", edge=edge.words)
            heads = looked_at(held.get(one.mark, ()) for one in shapes)
            rows = tuple(
                _brick(one, edge, done, boxes_of(held.get(one.mark, ()), heads), alone)
                for one in shapes
            )
            groups.append((f"{lead} {meant(heads)}".strip(), side.name, heads, rows))
    for number, (lead, name, heads, made) in enumerate(groups):
        yield Grid(
            f"bricks-{number}",
            say("works.bricks") if len(groups) == 1 else f"{say('works.bricks')}: {name}",
            (
                GridColumn(say("works.brick_course"), COURSE),
                GridColumn(say("works.brick_place"), NTH),
                GridColumn(say("works.brick_at"), NTH, is_right=True),
                GridColumn(say("works.brick_do"), 0),
                *columns_of(heads, LOOK, INITIALS),
                GridColumn(say("works.done"), BOX),
            ),
            (GridGroup("", made),),
            lead=lead,
            is_large=True,
        )


def told_at(survey: Survey, measure: Measure, edges: Mapping[str, Edge]) -> tuple[Mark, ...]:
    """Return the bricks that have a row each."""
    return tuple(
        one.mark
        for place, side in enumerate(survey.elevations)
        if side.id in edges
        for one in _marked(survey, place, measure)
    )


def _marked(survey: Survey, place: int, measure: Measure) -> list[BrickShape]:
    """Return the bricks marked on a side, course by course."""
    shapes = [one for one in drawn(survey, place, measure).bricks if one.marked is not None]
    return sorted(shapes, key=lambda one: (one.course, one.place))


def amounts(survey: Survey, measure: Measure) -> Iterator[Part]:
    """Yield joints and areas: how deep they are raked, and how much of everything there is."""
    groups = []
    for side in survey.elevations:
        lines = [
            line
            for line in measure.lines
            if line.elevation == side.id and line.item not in TOLD_ELSEWHERE
        ]
        if lines:
            groups.append(GridGroup(side.name, tuple(_rows(lines))))
    if len(groups) == 1:
        groups = [replace(groups[0], title="")]
    if groups:
        yield Grid(
            "amounts",
            say("works.joints"),
            (
                GridColumn(say("works.work_what"), 0),
                GridColumn(say("works.work_depth"), DEEP, is_right=True),
                GridColumn(say("works.work_amount"), AMOUNT, is_right=True),
                GridColumn(say("works.done"), BOX),
            ),
            tuple(groups),
            lead=say("works.joints_where") if measure.panels else "",
            is_large=True,
        )


def _brick(
    shape: BrickShape,
    edge: Edge,
    done: Mapping[Mark, Item],
    looks: tuple[Cell, ...],
    alone: frozenset[Mark],
) -> GridRow:
    left, _bottom, right, _top = shape.box
    start, _end = from_edge(edge, left, right)
    what = done[shape.mark].value if shape.mark in done else "left"
    return GridRow(
        (
            str(shape.course),
            str(shape.place),
            signed(start),
            say("works.withheld_brick" if shape.mark in alone else f"works.brick_{what}"),
            *looks,
            Box(),
        )
    )


def _rows(lines: list[Line]) -> Iterator[GridRow]:
    """Yield a row for each kind of work at each depth."""
    summed: dict[tuple[Item, int], list[Line]] = {}
    for line in lines:
        deep = line.conditions.depth_mm if line.item in DEEP_WORK else 0
        summed.setdefault((line.item, deep), []).append(line)
    for (item, deep), found in summed.items():
        amount = found[0].quantity
        for line in found[1:]:
            amount += line.quantity
        depth = f"{deep} mm" if deep else ""
        yield GridRow((item_words(item), depth, quantity(amount), Box()))
