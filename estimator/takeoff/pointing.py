"""Pointing where we cut and along the crack, wherever no whole panel is repointed over it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.masonry.crack import Along
from estimator.masonry.joints import bed_in
from estimator.takeoff.brickwork import RoundBricks
from estimator.takeoff.lines import Bar, Item, Mark
from estimator.takeoff.panel import Panel
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Box, Stretch, less, merged, share_in
from estimator.takeoff.work import (
    L_PER_M3,
    MM2_PER_M2,
    MM_PER_M,
    NOTHING,
    Detail,
    Part,
    line,
    mortar_needs,
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


def rake_depth_mm(side: Side) -> float:
    """Return how deep the joints of this wall are raked, by the wider of bed and perpend [mm]."""
    coursing = side.coursing
    return side.rules.rake_depth_mm(max(coursing.bed_mm, coursing.perpend_mm))


def slot_part(side: Side, bars: Sequence[Bar], panel: Panel | None) -> Part:
    """Measure the pointing in front of the bars, but for what lies in a panel."""
    if not bars:
        return NOTHING
    length = sum(bar.length_mm for bar in bars) / MM_PER_M
    covered = 0.0
    if panel is not None:
        covered = sum(
            bed_in(side.coursing, panel.net, bar.course, left=bar.left_mm, right=bar.right_mm)
            for bar in bars
        )
    outside = max(length - covered, 0.0)
    depth = side.rules.pointing_over_slot_mm
    text = f"{length:.2f} m of slots"
    if covered:
        text += f" less {covered:.2f} m in the panel"
    marks = tuple(bar.id for bar in bars)
    lines = line(
        side, Item.POINT_SLOT, outside, Unit.METRE, Detail(f"{text}, {depth} mm deep", marks, depth)
    )
    if not lines:
        return NOTHING
    size = f"{outside:.2f} m × {side.slot_height_mm:g} mm × {depth:g} mm"
    litres = volume_l(outside, side.slot_height_mm, depth)
    return Part(lines, _mortar(side, Item.POINT_SLOT, litres, size))


def crack_part(side: Side, done: Done, panel: Panel | None) -> Part:
    """Measure the raking and pointing along the cracks: beds in metres, perpends by number."""
    depth = rake_depth_mm(side)
    marks = tuple(side.mark("crack", laid.crack.id) for laid in side.cracks)
    bed, in_slots = _bed_m(side, done, panel)
    lines = line(
        side,
        Item.POINT_CRACK_BED,
        bed,
        Unit.METRE,
        Detail(f"{bed:.2f} m along beds{in_slots}, {depth:g} mm deep", marks, depth),
    )
    perpends, left_out = _perpends(side, done, panel)
    perpend_marks = tuple(_perpend_mark(side, course, face) for course, face in perpends)
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
                f"{bed:.2f} m × {coursing.bed_mm:g} mm × {depth:g} mm",
            ),
            *_mortar(
                side,
                Item.POINT_PERPEND,
                perpend_litres,
                f"{high:.2f} m × {coursing.perpend_mm:g} mm × {depth:g} mm",
            ),
        ),
        (bed_litres + perpend_litres) / L_PER_M3 * side.rules.mortar_kg_m3,
        (bed + high) * MM_PER_M * side.rules.make_good_band_mm / MM2_PER_M2,
    )


def _mortar(side: Side, item: Item, litres: float, size: str):  # type: ignore[no-untyped-def]
    waste = side.rules.pointing_waste
    text = f"{size} = {litres:.2f} L + {waste:g} % waste"
    return mortar_needs(side, item, with_waste(litres, waste), text)


def _bed_m(side: Side, done: Done, panel: Panel | None) -> tuple[float, str]:
    """Return the metres of bed to point along the cracks, and what was left out in words."""
    beds: dict[int, list[Stretch]] = defaultdict(list)
    for laid in side.cracks:
        for piece in laid.path.of(Along.BED):
            beds[piece.course].append(tuple(sorted((piece.start[0], piece.end[0]))))  # type: ignore[arg-type]
    total = rest = 0.0
    for course, stretches in beds.items():
        for left, right in merged(stretches):
            total += _bed_length(side, course, left, right, None)
        for left, right in less(stretches, done.on_bed(course)):
            rest += _bed_length(side, course, left, right, panel)
    words = f" of {total:.2f} m, the rest in slots or covered" if total - rest > 0.005 else ""
    return rest, words


def _bed_length(side: Side, course: int, left: float, right: float, panel: Panel | None) -> float:
    length = bed_in(side.coursing, side.wall.net, course, left=left, right=right)
    if panel is not None:
        length -= bed_in(side.coursing, panel.net, course, left=left, right=right)
    return max(length, 0.0)


def _perpends(side: Side, done: Done, panel: Panel | None) -> tuple[list[tuple[int, int]], str]:
    """Return the perpends to point along the cracks, each once, and what was left out in words."""
    met = {
        (piece.course, piece.face)
        for laid in side.cracks
        for piece in laid.path.of(Along.PERPEND)
        if side.wall.net.holds(_middle(piece.start, piece.end))
    }
    beside = met & done.bricks.perpends
    rest = sorted(met - beside)
    words = f", {len(beside)} beside new bricks left out" if beside else ""
    if panel is None:
        return rest, words
    outside = [one for one in rest if share_in(panel.net, perpend_box(side, *one)) < 0.5]
    if len(outside) < len(rest):
        words += f", {len(rest) - len(outside)} in the panel left out"
    return outside, words


def _middle(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2


def perpend_box(side: Side, course: int, face: int) -> Box:
    """Return the rectangle of a perpend, by its course and the face on its left [mm]."""
    left = side.coursing.rhythm(course).face_span(face)[1]
    return Box(
        left,
        side.coursing.course_bottom(course),
        left + side.coursing.perpend_mm,
        side.coursing.course_top(course),
    )


def _perpend_mark(side: Side, course: int, face: int) -> Mark:
    return side.mark("perpend", course, side.wall.place_of(course, face))
