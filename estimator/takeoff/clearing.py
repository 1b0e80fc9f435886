"""Sheets before the work, cleaning the wall after it, and the rubble taken away."""

from __future__ import annotations

from estimator.takeoff.lines import Item
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Box
from estimator.takeoff.work import MM2_PER_M2, MM_PER_M, Detail, Part, counted, line, need, two
from estimator.units import Unit


def clearing_part(side: Side, box: Box, work: Part) -> Part:
    """Measure protection, making good and waste for all the work of one side.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> outline = ((0, 0), (3000, 0), (3000, 900), (0, 900))
    >>> wall = side_of(Elevation("f", "Front", outline), shipped(), "")
    >>> part = clearing_part(wall, Box(0, 0, 1000, 900), Part(waste_kg=12.5, cleaned_m2=1.2))
    >>> [(one.item.value, str(one.quantity)) for one in part.lines]
    [('make_good', '1.20 m²'), ('protect', '3.00 m²'), ('clear_waste', '12.50 kg')]
    """
    sheets, how = _sheets_m2(side, box)
    here = (side.mark(),)
    cleaned = f"{two(work.cleaned_m2)} m² of wall brushed down where it was worked on"
    waste = f"{two(work.waste_kg)} kg of old mortar and brick, as it lay in the wall"
    lines = (
        *line(side, Item.MAKE_GOOD, work.cleaned_m2, Unit.SQUARE_METRE, Detail(cleaned, here)),
        *line(side, Item.PROTECT, sheets, Unit.SQUARE_METRE, Detail(how, here)),
        *line(side, Item.CLEAR_WASTE, work.waste_kg, Unit.KILOGRAM, Detail(waste, here)),
    )
    return Part(lines, need("protection", Item.PROTECT, sheets, Unit.SQUARE_METRE, how))


def _sheets_m2(side: Side, box: Box) -> tuple[float, str]:
    """Return the sheets on the ground before the work, and over the openings it touches."""
    rules = side.rules
    width = box.right - box.left + 2 * rules.protect_margin_mm
    ground = width * rules.protect_depth_mm / MM2_PER_M2
    text = f"{two(width / MM_PER_M)} m × {two(rules.protect_depth_mm / MM_PER_M)} m on the ground"
    near = box.wider(rules.protect_margin_mm)
    openings = [
        one
        for one in side.elevation.openings
        if one.left_mm < near.right
        and one.left_mm + one.width_mm > near.left
        and one.bottom_mm < near.top
        and one.bottom_mm + one.height_mm > near.bottom
    ]
    if not openings:
        return ground, text
    over = sum(one.width_mm * one.height_mm for one in openings) / MM2_PER_M2
    return ground + over, f"{text} + {two(over)} m² over {counted(len(openings), 'opening')}"
