"""Bars on the site sheet: bed by bed, and how they are cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from estimator.documents import styles
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
from estimator.documents.works_looks import (
    Heads,
    boxes_of,
    by_mark,
    columns_of,
    looked_at,
    meant,
)
from estimator.documents.works_words import millimetres, signed
from estimator.takeoff.lines import Mark
from estimator.works.cutting_order import StockBar
from estimator.works.site_sheet import SheetBar, SheetBed, SheetSide, SiteSheet

NUMBER, PLACE, DEEP, CUT, STOCK, BOX = 40.0, 39.0, 32.0, 40.0, 40.0, 22.0
LOOK, INITIALS, GAP = 32.0, 45.0, 6.0
LENGTH, OF = 92.0, 56.0


def bars(
    sheet: SiteSheet, edges: Mapping[str, Edge], lap_mm: int, alone: frozenset[Mark] = frozenset()
) -> Iterator[Part]:
    """Yield the bars of each side, lowest bed first, with all that is looked at for each.

    Args:
        sheet: What the gang is told.
        edges: What places are measured from, by elevation.
        lap_mm: How far pieces of a bar lie side by side. [mm]
        alone: Bars that are not agreed, and left alone.
    """
    cut_from = _stock_of(sheet.stock_bars)
    sides = [side for side in sheet.sides if side.bars]
    held = by_mark(sheet)

    def row(bar: SheetBar, side: SheetSide, edge: Edge, heads: Heads) -> GridRow:
        looks = boxes_of(held.get(bar.mark, ()), heads)
        made = _bar(bar, side, edge, cut_from, lap_mm, looks)
        if bar.mark not in alone:
            return made
        return replace(made, under="\n".join((say("works.withheld_bar"), made.under)).strip())

    for side in sides:
        edge = edges[side.elevation]
        heads = looked_at((held.get(bar.mark, ()) for bar in side.bars), is_short=True)
        looks = columns_of(heads, LOOK, INITIALS)
        rest = NUMBER + 2 * PLACE + DEEP + CUT + STOCK + BOX + sum(one.width for one in looks)
        yield Grid(
            f"bars-{side.elevation}",
            say("works.bars") if len(sides) == 1 else f"{say('works.bars')}: {side.name}",
            (
                GridColumn("", NUMBER),
                GridColumn(say("works.bar_under"), styles.WIDTH - rest),
                GridColumn(say("works.bar_from"), PLACE, is_right=True),
                GridColumn(say("works.bar_to"), PLACE, is_right=True),
                GridColumn(say("works.bar_depth"), DEEP, is_right=True),
                GridColumn(say("works.bar_cut"), CUT, is_right=True),
                GridColumn(say("works.bar_stock"), STOCK, is_right=True),
                *looks,
                GridColumn(say("works.bar_set"), BOX),
            ),
            (GridGroup("", tuple(row(bar, side, edge, heads) for bar in side.bars)),),
            lead=_lead(edge, heads),
            notes=(" ".join(_thin_notes(side, edge)),),
            is_large=True,
            gap=GAP,
        )


def cutting(sheet: SiteSheet, kerf_mm: int) -> Iterator[Part]:
    """Yield the stock lengths in the order they are cut, each piece with its bar."""
    if not sheet.stock_bars:
        return
    yield Grid(
        "cutting",
        say("works.cutting"),
        (
            GridColumn("", LENGTH),
            GridColumn(say("works.cut_of"), OF, is_right=True),
            GridColumn(say("works.cut_pieces"), 0),
            GridColumn(say("works.cut_left"), OF, is_right=True, is_quiet=True),
            GridColumn(say("works.done"), 26.0),
        ),
        (GridGroup("", tuple(map(_stock, sheet.stock_bars))),),
        lead=_kerf(kerf_mm),
        notes=(say("works.cut_mark"),),
        is_large=True,
    )


def _kerf(kerf_mm: int) -> str:
    return say("works.cutting_kerf", kerf=str(kerf_mm)) if kerf_mm else say("works.cutting_lead")


def _lead(edge: Edge, heads: Heads) -> str:
    """Return what bars are measured from, and what the boxes of their rows mean."""
    looks = (say("works.holds_boxes"), meant(heads), say("works.holds_lead")) if heads else ()
    return " ".join((_measured_from(edge), *looks))


def _measured_from(edge: Edge) -> str:
    lead = say("works.where_bars", edge=edge.words)
    return f"{lead} {say('works.minus')}" if edge.is_inside else lead


def _bar(
    bar: SheetBar,
    side: SheetSide,
    edge: Edge,
    cut_from: Mapping[Mark, list[int]],
    lap_mm: int,
    looks: tuple[Cell, ...],
) -> GridRow:
    start, end = from_edge(edge, bar.left_mm, bar.right_mm)
    return GridRow(
        (
            Number(bar_number(bar.mark)),
            str(bar.course),
            signed(start),
            signed(end),
            str(bar.slot_depth_mm),
            "\n".join(map(str, bar.pieces_mm)),
            "\n".join(map(str, cut_from[bar.mark])),
            *looks,
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
    pieces = ", ".join(
        say("works.cut_piece", length=str(one.length_mm), bar=bar_number(one.bar))
        for one in bar.pieces
    )
    number = say("works.cut_stock", number=str(bar.number))
    return GridRow((number, metres(bar.length_mm), pieces, str(bar.offcut_mm), Box()))
