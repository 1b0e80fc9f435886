"""Bricks, joints and areas on the site sheet: which, where, how deep and how much."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from estimator.documents.agreed_content import Part
from estimator.documents.figure import drawn
from estimator.documents.formats import quantity
from estimator.documents.wording import say
from estimator.documents.works_content import (
    Box,
    Edge,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
)
from estimator.documents.works_figure import from_edge
from estimator.documents.works_words import item_words, signed
from estimator.drawing.shapes import BrickShape
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Item, Line, Mark, Measure

COURSE, PLACE, AMOUNT, DEEP, BOX = 54.0, 64.0, 84.0, 66.0, 34.0
ONE_BY_ONE = frozenset(
    {Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.TURN_BRICK, Item.PATCH_BRICK}
)
"""Work on bricks that have a row each."""
TOLD_ELSEWHERE = ONE_BY_ONE | {
    *(Item.CUT_SLOT, Item.SET_BAR, Item.TURN_BAR, Item.LAP_BAR, Item.SKIM_ARRIS),
}
"""Work that has its own rows: bars and single bricks."""
DEEP_WORK = frozenset({Item.RAKE_OUT, Item.POINT_CRACK_BED, Item.POINT_PERPEND})
"""Work whose depth is a depth raked out."""


def bricks(
    survey: Survey,
    measure: Measure,
    edges: Mapping[str, Edge],
    alone: frozenset[Mark] = frozenset(),
) -> Iterator[Part]:
    """Yield the bricks to replace, turn or patch, each with its place; some are left alone."""
    done = {
        mark: line.item for line in measure.lines if line.item in ONE_BY_ONE for mark in line.marks
    }
    groups = []
    for place, side in enumerate(survey.elevations):
        if side.id not in edges:
            continue
        shapes = [one for one in drawn(survey, place, measure).bricks if one.marked is not None]
        shapes.sort(key=lambda one: (one.course, one.place))
        if shapes:
            edge = edges[side.id]
            lead = say("works.brick_where", edge=edge.words)
            groups.append(
                (lead, side.name, tuple(_brick(one, edge, done, alone) for one in shapes))
            )
    for number, (lead, name, made) in enumerate(groups):
        yield Grid(
            f"bricks-{number}",
            say("works.bricks") if len(groups) == 1 else f"{say('works.bricks')}: {name}",
            (
                GridColumn(say("works.brick_course"), COURSE),
                GridColumn(say("works.brick_place"), 0),
                GridColumn(say("works.brick_at"), PLACE, is_right=True),
                GridColumn(say("works.brick_do"), 178.0),
                GridColumn(say("works.done"), BOX),
            ),
            (GridGroup("", made),),
            lead=lead,
            is_large=True,
        )


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
    shape: BrickShape, edge: Edge, done: Mapping[Mark, Item], alone: frozenset[Mark]
) -> GridRow:
    left, _bottom, right, _top = shape.box
    start, _end = from_edge(edge, left, right)
    what = done[shape.mark].value if shape.mark in done else "left"
    return GridRow(
        (
            str(shape.course),
            say("works.brick_number", number=str(shape.place)),
            signed(start),
            say("works.withheld_brick" if shape.mark in alone else f"works.brick_{what}"),
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
