"""Which openings come off the square metres that are printed, by a chosen measuring rule.

Only printed areas follow the rule. Metres of joint are always those that are really there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce

from estimator.masonry.region import NEAR_MM, Region
from estimator.survey.survey import Opening
from estimator.survey.wall import rings_of
from estimator.takeoff.rules import Rules, VoidMethod
from estimator.takeoff.stretches import Box, share_in
from estimator.takeoff.work import two
from estimator.units import rounded

MM2_PER_M2 = 1_000_000.0
EDGE_MM = 1.0
"""A void nearer to the boundary than this touches it."""

NAMES = {
    VoidMethod.NRM2: "NRM2",
    VoidMethod.SMM7: "SMM7",
    VoidMethod.IS_1200: "IS 1200",
    VoidMethod.OWN: "the house rule",
}


@dataclass(frozen=True, slots=True)
class Void:
    """A hole in a measured area."""

    width_mm: float
    height_mm: float
    at_boundary: bool = False
    """Whether it touches the edge of the measured area: such a void always comes off."""
    lintel_m2: float = 0.0
    """What shows of a lintel wider than it, which is no brickwork either [m²]."""

    @property
    def area_m2(self) -> float:
        """Area [m²]."""
        return self.width_mm * self.height_mm / MM2_PER_M2 + self.lintel_m2


def threshold_m2(rules: Rules) -> float:
    """Return the area up to which a void is kept in, by the rule chosen [m²].

    >>> from estimator.takeoff.rules import changed, shipped
    >>> threshold_m2(shipped()), threshold_m2(changed(shipped(), void_method="smm7"))
    (0.5, 0.1)
    """
    return {
        VoidMethod.NRM2: rules.nrm2_void_m2,
        VoidMethod.SMM7: rules.smm7_void_m2,
        VoidMethod.IS_1200: rules.is1200_small_m2,
        VoidMethod.OWN: rules.own_void_m2,
    }[rules.void_method]


def kept_m2(void: Void, rules: Rules) -> float:
    """Return how much of a void stays in the measured area of one face [m²].

    At or under the threshold all of it stays. By IS 1200 a void over the large size comes off and
    its reveals, two jambs and the head, are added.

    >>> from estimator.takeoff.rules import shipped
    >>> kept_m2(Void(1000, 500), shipped()), kept_m2(Void(1000, 510), shipped())
    (0.5, 0.0)
    """
    area = float(rounded(void.area_m2, 4))
    if void.at_boundary:
        return 0.0
    if area <= threshold_m2(rules):
        return void.area_m2
    if rules.void_method is VoidMethod.IS_1200 and area > rules.is1200_large_m2:
        return (2 * void.height_mm + void.width_mm) * rules.reveal_mm / MM2_PER_M2
    return 0.0


def voids_in(outline: Region, net: Region, openings: Iterable[Opening]) -> tuple[Void, ...]:
    """Return the openings that lie in an area, wholly or at its boundary.

    >>> outline = Region.rectangle(0, 0, 3000, 3000)
    >>> window = Opening("w", 1000, 1000, 600, 500)
    >>> net = outline.without(Region.of(*rings_of(window)))
    >>> voids_in(outline, net, [window])
    (Void(width_mm=600, height_mm=500.0, at_boundary=False, lintel_m2=0.0),)
    """
    found = []
    for opening in openings:
        boxes = [Box(*ring[0], *ring[2]) for ring in rings_of(opening)]
        if all(share_in(outline, box) <= NEAR_MM for box in boxes):
            continue
        round_all = reduce(Box.joined, boxes)
        around, area = round_all.wider(EDGE_MM), sum(box.area_mm2 for box in boxes)
        # All round a void wholly inside there is brickwork: a rim as wide as the edge allows.
        rim = share_in(net, around) * around.area_mm2
        whole = around.area_mm2 - area
        inside = share_in(outline, around) >= 1 - NEAR_MM and rim >= whole * (1 - 1e-6)
        width, height = boxes[0].right - boxes[0].left, boxes[0].top - boxes[0].bottom
        lintel_m2 = sum(box.area_mm2 for box in boxes[1:]) / MM2_PER_M2
        found.append(Void(width, height, not inside, lintel_m2))
    return tuple(found)


def measured_m2(net_m2: float, voids: Sequence[Void], rules: Rules) -> tuple[float, str]:
    """Return the area that is printed, and how it was come by.

    >>> from estimator.takeoff.rules import shipped
    >>> area, how = measured_m2(8.7, [Void(600, 500)], shipped())
    >>> area, how[:55]
    (9.0, '8.70 m² of brickwork + 0.30 m² of voids kept in by NRM2')
    """
    kept = sum(kept_m2(void, rules) for void in voids)
    name, limit = NAMES[rules.void_method], threshold_m2(rules)
    if kept:
        text = (
            f"{two(net_m2)} m² of brickwork + {two(kept)} m² of voids kept in by {name} "
            f"(up to {limit:g} m²; joints are net all the same)"
        )
        return net_m2 + kept, text
    if voids:
        what = "1 void" if len(voids) == 1 else f"{len(voids)} voids"
        return net_m2, f"{two(net_m2)} m² of brickwork, {what} taken out by {name}"
    return net_m2, f"{two(net_m2)} m² of brickwork, no voids"
