"""Raking out and repointing a panel: every joint in it once, but for those other work fills."""

from __future__ import annotations

from estimator.takeoff.lines import Item
from estimator.takeoff.panel import Panel
from estimator.takeoff.pointing import Done
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Stretch, merged
from estimator.takeoff.voids import measured_m2, voids_in
from estimator.takeoff.work import (
    L_PER_M3,
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


def panel_part(side: Side, panel: Panel | None, done: Done) -> Part:
    """Measure the raking out (metres) and the repointing (square metres) of a panel.

    >>> from estimator.survey.survey import Area, Elevation
    >>> from estimator.takeoff.brickwork import RoundBricks
    >>> from estimator.takeoff.panel import panel_of
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> outline = ((0, 0), (2250, 0), (2250, 1500), (0, 1500))
    >>> wall = Elevation("f", "Front", outline, areas=(Area("all", outline),))
    >>> side = side_of(wall, shipped(), "nhl35_1_3")
    >>> nothing_done = Done({}, RoundBricks({}, frozenset()))
    >>> [str(one.quantity) for one in panel_part(side, panel_of(side, (), ()), nothing_done).lines]
    ['58.00 m', '3.38 m²']
    """
    if panel is None:
        return NOTHING
    joints, coursing, depth = panel.joints, side.coursing, side.rake_depth_mm
    slots = _on_beds(side, panel, done.slots)
    cut = sum(_on_bed(side, panel, bed, done.on_bed(bed)) for bed in done.beds)
    beside = _perpends_m(side, panel, done)
    bed, perpend = max(joints.bed_m - cut, 0.0), max(joints.perpend_m - beside, 0.0)
    text = f"{two(joints.joint_m)} m of joint in the panel"
    if slots:
        text += f", less {two(slots)} m of slots already cut"
    if cut - slots + beside > 0.005:
        text += f", less {two(cut - slots + beside)} m round new bricks"
    raked = line(
        side,
        Item.RAKE_OUT,
        bed + perpend,
        Unit.METRE,
        Detail(f"{text}, {depth:g} mm deep", panel.marks, depth),
    )
    voids = voids_in(panel.outline, panel.net, side.elevation.openings)
    area, how = measured_m2(joints.area_m2, voids, side.rules)
    repointed = line(
        side,
        Item.REPOINT,
        area,
        Unit.SQUARE_METRE,
        Detail(f"{how}; panel {panel.words}", panel.marks, depth),
    )
    opened = volume_l(bed, coursing.bed_mm, depth) + volume_l(perpend, coursing.perpend_mm, depth)
    over_slots = volume_l(slots, side.slot_height_mm, side.rules.pointing_over_slot_mm)
    waste = side.rules.pointing_waste
    size = f"{two(bed + perpend)} m of joint {depth:g} mm deep and {two(slots)} m over slots"
    needs = mortar_needs(
        side,
        Item.REPOINT,
        with_waste(opened + over_slots, waste),
        f"{size} = {two(opened + over_slots)} L + {waste:g} % waste",
    )
    kilograms = opened / L_PER_M3 * side.rules.mortar_kg_m3
    return Part((*raked, *repointed), needs, kilograms, joints.area_m2)


def _on_beds(side: Side, panel: Panel, beds: dict[int, list[Stretch]]) -> float:
    return sum(_on_bed(side, panel, bed, merged(row)) for bed, row in beds.items())


def _on_bed(side: Side, panel: Panel, course: int, stretches: list[Stretch]) -> float:
    """Return how much of stretches on one bed lies in the panel [m]."""
    boxes = (side.bed_box(course, stretch) for stretch in stretches)
    return sum(panel.bands.length(box) for box in boxes) / MM_PER_M


def _perpends_m(side: Side, panel: Panel, done: Done) -> float:
    """Return the perpends round bricks taken out, as far as they lie in the panel [m]."""
    shares = sum(panel.bands.share(side.perpend_box(*one)) for one in done.bricks.perpends)
    return shares * side.coursing.face_height_mm / MM_PER_M
