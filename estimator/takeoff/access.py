"""How the work is reached: from the ground, a hop-up, a tower or a scaffold, by its height."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.survey.survey import Ground
from estimator.takeoff.lines import Reach
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Box
from estimator.takeoff.work import MM_PER_M

MEANS = {"ground": "the ground", "hop_up": "a hop-up", "tower": "a tower", "scaffold": "a scaffold"}


def work_box(side: Side, boxes: Sequence[Box]) -> Box | None:
    """Return the smallest box round all the work, as far as the wall is drawn, or None.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (3000, 0), (3000, 2400), (0, 2400)))
    >>> work_box(side_of(wall, shipped(), ""), [Box(-90, 0, 90, 90), Box(200, 75, 900, 150)])
    Box(left=0.0, bottom=0, right=900, top=150)
    """
    if not boxes:
        return None
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    left, bottom, right, top = side.wall.gross.bounds
    return Box(
        min(max(min(lefts), left), right),
        min(max(min(bottoms), bottom), top),
        max(min(max(rights), right), left),
        max(min(max(tops), top), bottom),
    )


def reach_for(side: Side, box: Box) -> Reach:
    """Return how work in a box is reached, and why.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (3000, 0), (3000, 2400), (0, 2400)))
    >>> found = reach_for(side_of(wall, shipped(), ""), Box(0, 0, 1200, 1800))
    >>> found.means, found.reason
    ('hop_up', 'Work up to 1.95 m: over 1.50 m needs a hop-up.')
    """
    top = box.top + side.elevation.datum_height_mm
    means, reason = _means(side, top)
    return Reach(side.elevation.id, top, box.right - box.left, means, reason)


def _means(side: Side, top_mm: float) -> tuple[str, str]:
    """Choose the means for a height; over a roof nothing but a scaffold stands."""
    rules, ground = side.rules, side.elevation.ground
    height = f"Work up to {top_mm / MM_PER_M:.2f} m"
    if ground is Ground.OVER_ROOF:
        return "scaffold", f"{height}, over a roof: a scaffold whatever the height."
    limits = (
        ("scaffold", rules.scaffold_above_mm),
        ("tower", rules.tower_above_mm),
        ("hop_up", rules.hop_up_above_mm),
    )
    for means, above in limits:
        if top_mm > above:
            reason = f"{height}: over {above / MM_PER_M:.2f} m needs {MEANS[means]}."
            if ground is Ground.SOFT:
                reason += " The ground is soft or sloping: boards and base plates under it."
            return means, reason
    return "ground", f"{height}: reached from the ground."
