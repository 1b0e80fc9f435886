"""Pointing where we cut and along the crack, wherever no whole panel is repointed over it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.takeoff.brickwork import RoundBricks
from estimator.takeoff.lines import Bar, Item, Need
from estimator.takeoff.panel import Panel
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Stretch, is_all, less, merged
from estimator.takeoff.work import (
    L_PER_M3,
    MM2_PER_M2,
    MM_PER_M,
    NOTHING,
    Detail,
    Part,
    counted,
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
        slots, bricks = self.slots.get(course), self.bricks.beds.get(course)
        return merged([*(slots or ()), *(bricks or ())]) if slots or bricks else []

    @property
    def beds(self) -> set[int]:
        """The beds on which anything is done, by course."""
        return {*self.slots, *self.bricks.beds}


def slots_of(bars: Sequence[Bar]) -> Slots:
    """Return the stretches of bed that bars lie in.

    >>> slots_of(())
    {}
    """
    slots: Slots = defaultdict(list)
    for bar in bars:
        slots[bar.course].append((bar.left_mm, bar.right_mm))
    return dict(slots)


def slot_part(side: Side, bars: Sequence[Bar], panel: Panel | None) -> Part:
    """Measure the pointing in front of the bars, but for what lies in a panel.

    >>> from estimator.survey.survey import Crack, Elevation, StraightRun
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> from estimator.takeoff.stitching import stitch
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    >>> side = side_of(Elevation("f", "Front", outline, cracks=(crack,)), shipped(), "nhl35_1_3")
    >>> slot_part(side, stitch(side).bars, None).lines[0].working
    '8.00 m of slots, 10 mm deep'
    """
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
    """Measure the raking and pointing along the cracks: beds in metres, perpends by number.

    >>> from estimator.survey.survey import Crack, Elevation, SteppedRun
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> crack = Crack("a", SteppedRun(1570, 1, 6), 2.0)
    >>> side = side_of(Elevation("f", "Front", outline, cracks=(crack,)), shipped(), "nhl35_1_3")
    >>> nothing_done = Done({}, RoundBricks({}, frozenset()))
    >>> [str(line.quantity) for line in crack_part(side, nothing_done, None).lines]
    ['0.56 m', '6 nr']
    """
    if not side.cracks or (panel is not None and _holds_cracks(side, panel)):
        return NOTHING
    bed, in_slots = _bed_m(side, done, panel)
    perpends, left_out = _perpends(side, done, panel)
    depth, coursing = side.rake_depth_mm, side.coursing
    up = len(perpends) * coursing.face_height_mm / MM_PER_M
    along = Detail(
        f"{two(bed)} m along beds{in_slots}, {depth:g} mm deep",
        tuple(side.mark("crack", laid.crack.id) for laid in side.cracks),
        depth,
    )
    across = Detail(
        f"{counted(len(perpends), 'perpend')} along the crack{left_out}, {depth:g} mm deep",
        tuple(side.perpend_mark(course, face) for course, face in perpends),
        depth,
    )
    needs, litres = _crack_mortar(side, bed, up)
    return Part(
        (
            *line(side, Item.POINT_CRACK_BED, bed, Unit.METRE, along),
            *line(side, Item.POINT_PERPEND, len(perpends), Unit.NUMBER, across),
        ),
        needs,
        litres / L_PER_M3 * side.rules.mortar_kg_m3,
        (bed + up) * MM_PER_M * side.rules.make_good_band_mm / MM2_PER_M2,
    )


def _holds_cracks(side: Side, panel: Panel) -> bool:
    """Whether a panel is known to cover every crack."""
    # A panel that was not drawn was set out round the cracks: nothing of them lies outside.
    return not panel.is_drawn or all(is_all(panel.net, laid.box) for laid in side.cracks)


def _crack_mortar(side: Side, bed_m: float, up_m: float) -> tuple[tuple[Need, ...], float]:
    """Return what goes into the raked beds and perpends, and the litres of both without waste."""
    needs: list[Need] = []
    total = 0.0
    for item, length, width in (
        (Item.POINT_CRACK_BED, bed_m, side.coursing.bed_mm),
        (Item.POINT_PERPEND, up_m, side.coursing.perpend_mm),
    ):
        litres = volume_l(length, width, side.rake_depth_mm)
        size = f"{two(length)} m × {width:g} mm × {side.rake_depth_mm:g} mm"
        needs += _mortar(side, item, litres, size)
        total += litres
    return tuple(needs), total


def _mortar(side: Side, item: Item, litres: float, size: str) -> tuple[Need, ...]:
    waste = side.rules.pointing_waste
    text = f"{size} = {two(litres)} L + {waste:g} % waste"
    return mortar_needs(side, item, with_waste(litres, waste), text)


def _bed_m(side: Side, done: Done, panel: Panel | None) -> tuple[float, str]:
    """Return the metres of bed to point along the cracks, and what was left out in words."""
    rest = 0.0
    for course, stretches in side.cracked_beds.items():
        taken = done.on_bed(course)
        if not taken and panel is None:
            rest += side.cracked_mm[course]
            continue
        left_over = less(stretches, taken) if taken else stretches
        rest += sum(_outside(side, course, one, panel) for one in left_over)
    total, rest = sum(side.cracked_mm.values()) / MM_PER_M, rest / MM_PER_M
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
    outside = [one for one in rest if panel.bands.share(side.perpend_box(*one)) < 0.5]
    if len(outside) < len(rest):
        words += f", {len(rest) - len(outside)} in the panel left out"
    return outside, words
