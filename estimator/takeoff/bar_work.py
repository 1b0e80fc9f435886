"""The work of stitching: slots, bars, legs, laps, skimmed arrises and the grout behind them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from estimator.takeoff.grout_and_mortar import grout_litres
from estimator.takeoff.lines import Bar, Item, Line, Need
from estimator.takeoff.side import Side
from estimator.takeoff.work import (
    L_PER_M3,
    MM2_PER_M2,
    MM_PER_M,
    NOTHING,
    Detail,
    Part,
    counted,
    line,
    need,
    two,
    volume_l,
    with_waste,
)
from estimator.units import Unit


def bar_part(side: Side, bars: Sequence[Bar]) -> Part:
    """Measure the stitching of one side, pointing over the slots left out.

    >>> from estimator.survey.survey import Crack, Elevation, StraightRun
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> from estimator.takeoff.stitching import stitch
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    >>> side = side_of(Elevation("f", "Front", outline, cracks=(crack,)), shipped(), "")
    >>> part = bar_part(side, stitch(side).bars)
    >>> str(part.lines[0].quantity), part.lines[0].working
    ('8.00 m', '8 × 1.00 m, 25 mm deep')
    >>> str(part.needs[0].quantity), part.needs[0].working
    ('1.38 L', '8.00 m × 10 mm × 15 mm = 1.20 L + 15 % waste')
    """
    if not bars:
        return NOTHING
    marks = tuple(bar.id for bar in bars)
    depth = side.slot_depth_mm
    length = sum(bar.length_mm for bar in bars) / MM_PER_M
    cut = sum(sum(bar.pieces_mm) for bar in bars) / MM_PER_M
    pieces = lengths(piece for bar in bars for piece in bar.pieces_mm)
    slots = lengths(round(bar.length_mm) for bar in bars)
    lines = (
        *line(
            side,
            Item.CUT_SLOT,
            length,
            Unit.METRE,
            Detail(f"{slots}, {depth} mm deep", marks, depth),
        ),
        *line(
            side,
            Item.SET_BAR,
            cut,
            Unit.METRE,
            Detail(f"{pieces} of {side.rules.bar_mm:g} mm bar", marks, depth),
        ),
        *_turned(side, bars),
        *_lapped(side, bars),
        *_skimmed(side, bars),
    )
    return Part(
        lines,
        _grout(side, length),
        volume_l(length, side.slot_height_mm, depth) / L_PER_M3 * side.rules.mortar_kg_m3,
        sum(bar.face_mm for bar in bars) * side.rules.make_good_band_mm / MM2_PER_M2,
    )


def lengths(pieces_mm: Iterable[int]) -> str:
    """Return lengths as they are called out on site, longest first.

    >>> lengths([1000, 1200, 1000])
    '1 × 1.20 m + 2 × 1.00 m'
    """
    counted = sorted(Counter(pieces_mm).items(), reverse=True)
    return " + ".join(f"{count} × {_metres(piece)} m" for piece, count in counted)


def _metres(piece_mm: int) -> str:
    metres = piece_mm / MM_PER_M
    return f"{metres:.3f}" if piece_mm % 10 else f"{two(metres)}"


def _grout(side: Side, length_m: float) -> tuple[Need, ...]:
    rules, height = side.rules, side.slot_height_mm
    # The bar is left out of the void: a helical bar fills less than a full circle would, and
    # grout is bought in whole tubs.
    litres = grout_litres(
        length_m,
        slot_depth_mm=side.slot_depth_mm,
        pointing_depth_mm=rules.pointing_over_slot_mm,
        bed_mm=height,
    )
    depth = side.slot_depth_mm - rules.pointing_over_slot_mm
    working = (
        f"{two(length_m)} m × {height:g} mm × {depth:g} mm = {two(litres)} L "
        f"+ {rules.grout_waste:g} % waste"
    )
    return need("grout", Item.SET_BAR, with_waste(litres, rules.grout_waste), Unit.LITRE, working)


def _turned(side: Side, bars: Sequence[Bar]) -> tuple[Line, ...]:
    turned = [bar for bar in bars if bar.turn_left_mm or bar.turn_right_mm]
    if not turned:
        return ()
    turns = sum((bar.turn_left_mm > 0) + (bar.turn_right_mm > 0) for bar in turned)
    legs = sum(bar.turn_left_mm + bar.turn_right_mm for bar in turned) / MM_PER_M
    detail = Detail(
        f"{counted(turns, 'bend')} round a quoin, {two(legs)} m of leg",
        tuple(bar.id for bar in turned),
    )
    return line(side, Item.TURN_BAR, turns, Unit.NUMBER, detail)


def _lapped(side: Side, bars: Sequence[Bar]) -> tuple[Line, ...]:
    lapped = [bar for bar in bars if len(bar.pieces_mm) > 1]
    if not lapped:
        return ()
    laps = sum(len(bar.pieces_mm) - 1 for bar in lapped)
    detail = Detail(
        f"{counted(laps, 'lap')} of {side.rules.lap_mm} mm", tuple(bar.id for bar in lapped)
    )
    return line(side, Item.LAP_BAR, laps, Unit.NUMBER, detail)


def _skimmed(side: Side, bars: Sequence[Bar]) -> tuple[Line, ...]:
    thin = [bar for bar in bars if bar.skim_mm]
    if not thin:
        return ()
    skim = sum(bar.skim_mm for bar in thin) / MM_PER_M
    detail = Detail(
        f"{two(skim)} m of bed under {side.rules.least_bed_mm:g} mm in {counted(len(thin), 'bar')}",
        tuple(bar.id for bar in thin),
    )
    return line(side, Item.SKIM_ARRIS, skim, Unit.METRE, detail)
