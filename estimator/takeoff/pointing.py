"""Pointing where we cut and along the crack, wherever no whole panel is repointed over it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.takeoff.brickwork import RoundBricks
from estimator.takeoff.lines import Bar, Item, Need
from estimator.takeoff.panel import Panel
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Stretch, less, merged
from estimator.takeoff.work import (
    L_PER_M3,
    MM2_PER_M2,
    MM_PER_M,
    NOTHING,
    Detail,
    Part,
    line,
    mortar_needs,
    two,
    volume_l,
    with_waste,
)
from estimator.units import Unit

Slots = dict[int, list[Stretch]]
"""Stretches of each bed that are cut for bars, by course."""


@dataclass(frozen=True, slots=True)
class Done:
    """Joints other work already opens and fills: slots, and those round bricks taken out."""

    slots: Slots
    bricks: RoundBricks

    def on_bed(self, course: int) -> list[Stretch]:
        """Return what is done on the bed under a course."""
        return merged([*self.slots.get(course, ()), *self.bricks.beds.get(course, ())])

    @property
    def beds(self) -> set[int]:
        """The beds on which anything is done, by course."""
        return {*self.slots, *self.bricks.beds}


def slots_of(bars: Sequence[Bar]) -> Slots:
    """Return the stretches of bed that bars lie in."""
    slots: Slots = defaultdict(list)
    for bar in bars:
        slots[bar.course].append((bar.left_mm, bar.right_mm))
    return dict(slots)


def slot_part(side: Side, bars: Sequence[Bar], panel: Panel | None) -> Part:
    """Measure the pointing in front of the bars, but for what lies in a panel."""
    if not bars:
        return NOTHING
    length = sum(bar.length_mm for bar in bars) / MM_PER_M
    covered = 0.0
    if panel is not None:
        covered = sum(
            panel.bands.length(side.bed_box(bar.course, (bar.left_mm, bar.right_mm)))
            for bar in bars
        )
        covered /= MM_PER_M
    outside = max(length - covered, 0.0)
    depth = side.rules.pointing_over_slot_mm
    text = f"{two(length)} m of slots"
    if covered:
        text += f" less {two(covered)} m in the panel"
    marks = tuple(bar.id for bar in bars)
    lines = line(
        side, Item.POINT_SLOT, outside, Unit.METRE, Detail(f"{text}, {depth} mm deep", marks, depth)
    )
    if not lines:
        return NOTHING
    size = f"{two(outside)} m × {side.slot_height_mm:g} mm × {depth:g} mm"
    litres = volume_l(outside, side.slot_height_mm, depth)
    return Part(lines, _mortar(side, Item.POINT_SLOT, litres, size))


def crack_part(side: Side, done: Done, panel: Panel | None) -> Part:
    """Measure the raking and pointing along the cracks: beds in metres, perpends by number."""
    if not side.cracks or (panel is not None and not panel.is_drawn):
        # A panel that was not drawn was set out round the cracks: nothing of them lies outside.
        return NOTHING
    depth = side.rake_depth_mm
    marks = tuple(side.mark("crack", laid.crack.id) for laid in side.cracks)
    bed, in_slots = _bed_m(side, done, panel)
    lines = line(
        side,
        Item.POINT_CRACK_BED,
        bed,
        Unit.METRE,
        Detail(f"{two(bed)} m along beds{in_slots}, {depth:g} mm deep", marks, depth),
    )
    perpends, left_out = _perpends(side, done, panel)
    perpend_marks = tuple(side.perpend_mark(course, face) for course, face in perpends)
    lines += line(
        side,
        Item.POINT_PERPEND,
        len(perpends),
        Unit.NUMBER,
        Detail(
            f"{len(perpends)} perpends along the crack{left_out}, {depth:g} mm deep",
            perpend_marks,
            depth,
        ),
    )
    coursing = side.coursing
    high = len(perpends) * coursing.face_height_mm / MM_PER_M
    bed_litres = volume_l(bed, coursing.bed_mm, depth)
    perpend_litres = volume_l(high, coursing.perpend_mm, depth)
    return Part(
        lines,
        (
            *_mortar(
                side,
                Item.POINT_CRACK_BED,
                bed_litres,
                f"{two(bed)} m × {coursing.bed_mm:g} mm × {depth:g} mm",
            ),
            *_mortar(
                side,
                Item.POINT_PERPEND,
                perpend_litres,
                f"{two(high)} m × {coursing.perpend_mm:g} mm × {depth:g} mm",
            ),
        ),
        (bed_litres + perpend_litres) / L_PER_M3 * side.rules.mortar_kg_m3,
        (bed + high) * MM_PER_M * side.rules.make_good_band_mm / MM2_PER_M2,
    )


def _mortar(side: Side, item: Item, litres: float, size: str) -> tuple[Need, ...]:
    waste = side.rules.pointing_waste
    text = f"{size} = {two(litres)} L + {waste:g} % waste"
    return mortar_needs(side, item, with_waste(litres, waste), text)


def _bed_m(side: Side, done: Done, panel: Panel | None) -> tuple[float, str]:
    """Return the metres of bed to point along the cracks, and what was left out in words."""
    total = rest = 0.0
    for course, stretches in side.cracked_beds.items():
        total += sum(_outside(side, course, one, None) for one in stretches)
        left_over = less(stretches, done.on_bed(course))
        rest += sum(_outside(side, course, one, panel) for one in left_over)
    total, rest = total / MM_PER_M, rest / MM_PER_M
    words = f" of {two(total)} m, the rest in slots or covered" if total - rest > 0.005 else ""
    return rest, words


def _outside(side: Side, course: int, stretch: Stretch, panel: Panel | None) -> float:
    """Return how much of a stretch of bed is brickwork outside the panel [mm]."""
    box = side.bed_box(course, stretch)
    length = side.bands.length(box)
    return max(length - panel.bands.length(box), 0.0) if panel is not None else length


def _perpends(side: Side, done: Done, panel: Panel | None) -> tuple[list[tuple[int, int]], str]:
    """Return the perpends to point along the cracks, each once, and what was left out in words."""
    met = side.cracked_perpends
    rest = [one for one in met if one not in done.bricks.perpends]
    words = f", {len(met) - len(rest)} beside new bricks left out" if len(rest) < len(met) else ""
    if panel is None:
        return rest, words
    outside = [one for one in rest if panel.bands.share(met[one]) < 0.5]
    if len(outside) < len(rest):
        words += f", {len(rest) - len(outside)} in the panel left out"
    return outside, words
