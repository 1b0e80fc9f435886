"""Bars on the site sheet: bed by bed, what is looked at for each, and how they are cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from estimator.documents.agreed_content import Part
from estimator.documents.formats import metres
from estimator.documents.wording import say
from estimator.documents.works_content import (
    Box,
    Cell,
    Edge,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
    Number,
)
from estimator.documents.works_figure import bar_number, from_edge
from estimator.documents.works_words import initials, millimetres, signed
from estimator.takeoff.lines import Mark
from estimator.works.cutting_order import StockBar
from estimator.works.hold_points import HoldPoint
from estimator.works.marks import elevation_of
from estimator.works.site_sheet import SheetBar, SheetBed, SheetSide, SiteSheet

NUMBER, PLACE, DEEP, CUT, STOCK, BOX = 42.0, 56.0, 60.0, 62.0, 78.0, 26.0
LOOK, INITIALS = 58.0, 48.0


def bars(
    sheet: SiteSheet, edges: Mapping[str, Edge], lap_mm: int, alone: frozenset[Mark] = frozenset()
) -> Iterator[Part]:
    """Yield the bars of each side, lowest bed first, measured from its edge.

    Args:
        sheet: What the gang is told.
        edges: What places are measured from, by elevation.
        lap_mm: How far pieces of a bar lie side by side. [mm]
        alone: Bars that are not agreed, and left alone.
    """
    cut_from = _stock_of(sheet.stock_bars)
    sides = [side for side in sheet.sides if side.bars]

    def row(bar: SheetBar, side: SheetSide, edge: Edge) -> GridRow:
        made = _bar(bar, side, edge, cut_from, lap_mm)
        if bar.mark not in alone:
            return made
        return replace(made, under="\n".join((say("works.withheld_bar"), made.under)).strip())

    for side in sides:
        edge = edges[side.elevation]
        yield Grid(
            f"bars-{side.elevation}",
            say("works.bars") if len(sides) == 1 else f"{say('works.bars')}: {side.name}",
            (
                GridColumn("", NUMBER),
                GridColumn(say("works.bar_bed"), 0),
                GridColumn(say("works.bar_from"), PLACE, is_right=True),
                GridColumn(say("works.bar_to"), PLACE, is_right=True),
                GridColumn(say("works.bar_depth"), DEEP, is_right=True),
                GridColumn(say("works.bar_cut"), CUT, is_right=True),
                GridColumn(say("works.bar_stock"), STOCK),
                GridColumn(say("works.bar_set"), BOX),
            ),
            (GridGroup("", tuple(row(bar, side, edge) for bar in side.bars)),),
            lead=_measured_from(edge),
            notes=tuple(_thin_notes(side, edge)),
            is_large=True,
        )


def looks(sheet: SiteSheet) -> Iterator[Part]:
    """Yield what is looked at before going on: a row for each place, a box for each thing."""
    names = {side.elevation: side.name for side in sheet.sides}
    by_mark: dict[Mark, list[HoldPoint]] = {}
    for point in sheet.hold_points:
        by_mark.setdefault(point.mark, []).append(point)
    marks = [bar.mark for side in sheet.sides for bar in side.bars]
    of_bars = {mark: by_mark.pop(mark) for mark in marks if mark in by_mark}
    title, lead = say("works.holds"), say("works.holds_lead")
    grids = [_looks("bars", of_bars, names, is_bar=True)] if of_bars else []
    alike: dict[tuple[str, ...], dict[Mark, list[HoldPoint]]] = {}
    for mark, points in by_mark.items():
        alike.setdefault(tuple(one.feature.name for one in points), {})[mark] = points
    grids += [
        _looks(str(place), found, names, is_bar=False) for place, found in enumerate(alike.values())
    ]
    for place, (key, columns, shown, notes) in enumerate(grids):
        yield Grid(
            f"holds-{key}",
            title if not place else "",
            columns,
            shown,
            lead="" if place else lead,
            notes=notes,
            is_large=True,
        )


def cutting(sheet: SiteSheet, kerf_mm: int) -> Iterator[Part]:
    """Yield the stock lengths in the order they are cut, each piece with its bar."""
    if not sheet.stock_bars:
        return
    yield Grid(
        "cutting",
        say("works.cutting"),
        (
            GridColumn("", 92.0),
            GridColumn(say("works.cut_of"), PLACE, is_right=True),
            GridColumn(say("works.cut_pieces"), 0),
            GridColumn(say("works.cut_left"), PLACE, is_right=True, is_quiet=True),
            GridColumn(say("works.done"), BOX),
        ),
        (GridGroup("", tuple(map(_stock, sheet.stock_bars))),),
        lead=_kerf(kerf_mm),
        notes=(say("works.cut_mark"),),
        is_large=True,
    )


def _kerf(kerf_mm: int) -> str:
    return say("works.cutting_kerf", kerf=str(kerf_mm)) if kerf_mm else say("works.cutting_lead")


def _measured_from(edge: Edge) -> str:
    lead = say("works.where_bars", edge=edge.words)
    return f"{lead} {say('works.minus')}" if edge.is_inside else lead


def _bar(
    bar: SheetBar, side: SheetSide, edge: Edge, cut_from: Mapping[Mark, list[int]], lap_mm: int
) -> GridRow:
    start, end = from_edge(edge, bar.left_mm, bar.right_mm)
    return GridRow(
        (
            Number(bar_number(bar.mark)),
            say("works.bar_course", course=str(bar.course)),
            signed(start),
            signed(end),
            str(bar.slot_depth_mm),
            "\n".join(map(str, bar.pieces_mm)),
            "\n".join(say("works.stock_short", number=str(one)) for one in cut_from[bar.mark]),
            Box(),
        ),
        "\n".join(_beside(bar, side, edge, lap_mm)),
    )


def _beside(bar: SheetBar, side: SheetSide, edge: Edge, lap_mm: int) -> Iterator[str]:
    """Yield what is particular about one bar."""
    for thin in _thin_under(bar, side.thin_beds):
        thickness = f"{thin.thickness_mm:g}"
        if bar.skim_mm:
            yield say("works.skim", thickness=thickness, length=millimetres(bar.skim_mm))
        else:
            first, last = from_edge(edge, thin.from_mm, thin.to_mm)
            yield say(
                "works.thin_over", thickness=thickness, first=signed(first), last=signed(last)
            )
    if bar.leg_left_mm:
        yield say("works.leg_left", length=millimetres(bar.leg_left_mm))
    if bar.leg_right_mm:
        yield say("works.leg_right", length=millimetres(bar.leg_right_mm))
    if len(bar.pieces_mm) > 1:
        yield say("works.lapped", count=str(len(bar.pieces_mm)), lap=str(lap_mm))
    near = [bar_number(one.mark) for one in side.bars if _are_neighbours(bar, one)]
    if near:
        named = ", ".join(say("works.bar_named", number=one) for one in near)
        yield say("works.neighbours", bars=named)
    if bar.by_hand:
        yield say("works.by_hand")


def _thin_under(bar: SheetBar, beds: Iterable[SheetBed]) -> Iterator[SheetBed]:
    for bed in beds:
        if bed.course == bar.course and bed.from_mm < bar.right_mm and bar.left_mm < bed.to_mm:
            yield bed


def _are_neighbours(one: SheetBar, two: SheetBar) -> bool:
    """Whether two bars lie in beds next to each other, one over the other."""
    is_over = one.left_mm < two.right_mm and two.left_mm < one.right_mm
    return abs(one.course - two.course) == 1 and is_over


def _stock_of(stock_bars: Iterable[StockBar]) -> Mapping[Mark, list[int]]:
    """Return which stock length each piece of a bar is cut from, in the order of the pieces."""
    found: dict[Mark, list[tuple[int, int]]] = {}
    for stock in stock_bars:
        for piece in stock.pieces:
            found.setdefault(piece.bar, []).append((piece.number, stock.number))
    return {mark: [number for _piece, number in sorted(places)] for mark, places in found.items()}


def _thin_notes(side: SheetSide, edge: Edge) -> Iterator[str]:
    """Yield the stretches of bed found thin, whether a bar lies in them or not."""
    for bed in side.thin_beds:
        first, last = from_edge(edge, bed.from_mm, bed.to_mm)
        yield say(
            "works.thin_note",
            course=str(bed.course),
            thickness=f"{bed.thickness_mm:g}",
            first=signed(first),
            last=signed(last),
        )


def _stock(bar: StockBar) -> GridRow:
    pieces = "\n".join(
        say("works.cut_piece", length=str(one.length_mm), bar=bar_number(one.bar))
        for one in bar.pieces
    )
    number = say("works.cut_stock", number=str(bar.number))
    return GridRow((number, metres(bar.length_mm), pieces, str(bar.offcut_mm), Box()))


def _looks(
    key: str,
    rows: Mapping[Mark, Sequence[HoldPoint]],
    names: Mapping[str, str],
    *,
    is_bar: bool,
) -> tuple[str, tuple[GridColumn, ...], tuple[GridGroup, ...], tuple[str, ...]]:
    """Return the grid of one kind of place: its columns, rows and what each column means."""
    first = next(iter(rows.values()))
    heads = [say(f"works.feature_{one.feature.name.lower()}") for one in first]
    texts: dict[str, dict[str, None]] = {}
    for points in rows.values():
        for head, point in zip(heads, points, strict=True):
            texts.setdefault(head, {})[point.text] = None
    columns = (
        *((GridColumn(say("works.hold_where"), NUMBER),) if is_bar else ()),
        GridColumn(say("works.bar_bed" if is_bar else "works.hold_place"), 0),
        *(GridColumn(head, LOOK) for head in heads),
        GridColumn(say("works.initials"), INITIALS),
    )
    by_side: dict[str, list[GridRow]] = {}
    for mark, points in rows.items():
        side = names.get(elevation_of(mark), "")
        by_side.setdefault(side, []).append(_look(mark, points, side, is_bar=is_bar))
    shown = tuple(
        GridGroup(side if len(names) > 1 else "", tuple(found)) for side, found in by_side.items()
    )
    notes = tuple(f"{head}: {'; '.join(said)}." for head, said in texts.items())
    return key, columns, shown, ("\n".join(notes),)


def _look(mark: Mark, points: Sequence[HoldPoint], side: str, *, is_bar: bool) -> GridRow:
    boxes = tuple(Box(initials(one.signed_by)) for one in points)
    if not is_bar:
        # A mark that is a whole side goes by the name of it.
        what = side if side and mark == elevation_of(mark) else points[0].what
        return GridRow((what, *boxes, Box(is_wide=True)))
    words = _bed(points[0])
    cells: tuple[Cell, ...] = (Number(bar_number(mark)), words, *boxes, Box(is_wide=True))
    return GridRow(cells)


def _bed(point: HoldPoint) -> str:
    """Return the course over the bed of a bar, as the other table says it."""
    course = point.what.rsplit(" ", 1)[-1]
    return say("works.bar_course", course=course) if course.isdigit() else point.what
