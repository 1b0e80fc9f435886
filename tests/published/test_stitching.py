"""Stitching against worked values from outside: counts, metres, litres, grout per metre of slot.

No published text gives a whole worked stitch. The figures are common practice of the trade (every
third course, 500 mm each side, slots 25 mm in a leaf and 35 mm in a solid wall) and the arithmetic
that follows from them; where a value is from memory or a computation, it says so.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from estimator.survey.survey import Brickwork, WallBuild
from estimator.takeoff.beds import beds_for, spacing_for
from estimator.takeoff.grout_and_mortar import grout_litres
from estimator.takeoff.lines import Item
from estimator.takeoff.rules import changed, rule_info, shipped
from estimator.takeoff.stitching import stitch
from tests.takeoff.walls import amount, measured, needed, side, upright, wall

SOLID = Brickwork(build=WallBuild.SOLID)


@pytest.mark.parametrize(
    ("height_mm", "every", "bars"),
    [
        # Courses of 75 mm, count = ceil(courses / spacing): computed, the spacing common practice.
        (1500, 3, 7),
        (1800, 3, 8),
        (2400, 4, 8),
        (2700, 6, 6),
    ],
)
def test_number_of_stitches(height_mm: int, every: int, bars: int) -> None:
    rules = changed(shipped(), spacing_courses=every)
    front = wall(upright("a", 2020, 1, height_mm // 75), height=3000)
    assert len(stitch(side(front, rules)).bars) == bars


def test_crack_of_1800_mm_every_third_course() -> None:
    # 24 courses of 75 mm: 8 bars of 1.0 m in a solid wall. Grout behind 10 mm of pointing is
    # 8 × (35 - 10) × 10 / 1000 = 2.0 L with the bar left out of the void, 1.774 L with it taken
    # off as a full circle (8 × 0.2217, computed); plus 15 % waste 2.30 and 2.04 L.
    found = measured(wall(upright("a", 2020), brickwork=SOLID))
    assert [bar.pieces_mm for bar in found.bars] == [(1000,)] * 8
    assert amount(found, Item.CUT_SLOT) == 8.0
    assert needed(found, "grout") == 2.30
    with_bar = grout_litres(
        8, slot_depth_mm=35, pointing_depth_mm=10, bed_mm=10, bar_mm=6, ignore_bar=False
    )
    assert with_bar == pytest.approx(1.774, abs=0.002)
    assert with_bar * 1.15 == pytest.approx(2.040, abs=0.002)


def test_bricks_and_perpends_of_a_straight_crack() -> None:
    # A straight crack in half bond passes a perpend and a brick in every two courses: computed
    # from the bond. 24 courses: 12 perpends to point.
    assert amount(measured(wall(upright("a", 220, 1, 24))), Item.POINT_PERPEND) == 12


def test_mortar_over_the_slots() -> None:
    # 8 m of slot × 10 mm × 10 mm = 0.80 L: computed.
    found = measured(wall(upright("a", 2020)))
    (working,) = {
        need.working
        for need in found.needs
        if need.item is Item.POINT_SLOT and need.material == "sand"
    }
    assert working.startswith("8.00 m × 10 mm × 10 mm = 0.80 L + 15 % waste")


@pytest.mark.parametrize(
    ("build", "bed", "litres"),
    [
        # Grout per metre of slot, bar ignored, 10 mm pointing: computed.
        (WallBuild.SOLID, 10, 0.250),
        (WallBuild.SOLID, 12, 0.300),
        (WallBuild.SOLID, 8, 0.200),
        (WallBuild.OUTER_LEAF, 10, 0.150),
    ],
)
def test_grout_per_metre(build: WallBuild, bed: float, litres: float) -> None:
    brickwork = Brickwork(build=build, bed_usual_mm=bed)
    found = measured(wall(upright("a", 2020), brickwork=brickwork))
    metres = amount(found, Item.CUT_SLOT)
    assert needed(found, "grout") == pytest.approx(metres * litres * 1.15, abs=0.006)


def test_slot_depths() -> None:
    # Common practice, no source: 25 mm in an outer leaf or veneer, 35 mm in a solid wall.
    # 25 is 24 % of a 102.5 mm leaf and 35 would be 34 %: computed.
    depths = {
        build: side(wall(brickwork=Brickwork(build=build))).slot_depth_mm for build in WallBuild
    }
    assert depths == {WallBuild.SOLID: 35, WallBuild.OUTER_LEAF: 25, WallBuild.VENEER: 25}
    assert round(100 * 25 / 102.5) == 24
    assert round(100 * 35 / 102.5) == 34


def test_every_third_course_is_225_mm_in_metric_brick() -> None:
    # Common practice: every third course, 225 mm in UK metric brick; 249 mm at 73 mm high bricks.
    beds = beds_for(1, 24, spacing_for(24, 75, shipped()))
    assert {later - earlier for earlier, later in pairwise(beds)} == {3}
    assert (3 * 75, 3 * 83) == (225, 249)


def test_one_bar_through_two_cracks_is_the_gap_and_two_anchorages() -> None:
    # Common practice and geometry: length = gap + 2 × anchorage. Gap 450 mm: 1,450 mm.
    found = measured(wall(upright("a", 2020), upright("b", 2470)))
    assert {bar.length_mm for bar in found.bars} == {1450}


def test_cover_of_new_reinforced_work_is_said_and_not_enforced() -> None:
    # EN 1996-1-1 cl. 8.2 (from memory): 15 mm of mortar over the bar, bed 5 mm over its diameter.
    (said,) = [one for one in measured(wall(upright("a", 2020))).notices if one.code == "cover"]
    assert "15 mm" in said.text
    assert "11 mm" in said.text
    assert rule_info("cover_mm").source.trust.name == "MEMORY"


def test_no_standard_is_quoted_for_a_single_bar() -> None:
    # EN 845-3 covers meshwork and says it does not apply to single bars (scope, read).
    found = measured(wall(upright("a", 2020), upright("b", 4300)))
    said = [reason.text + reason.source for bar in found.bars for reason in bar.reasons]
    said += [notice.text + notice.source for notice in found.notices]
    said += [line.working for line in found.lines]
    assert said
    assert not [text for text in said if "845" in text]


def test_stitching_is_never_sold_as_strengthening() -> None:
    # Heron 66(1), TU Delft, abstract read: bars cut crack width, they did not raise strength.
    codes = {notice.code: notice.source for notice in measured(wall(upright("a", 2020))).notices}
    assert codes["not_stronger"] == "heron_66"


def test_a_helical_bar_left_out_understates_by_little() -> None:
    # A 6 mm bar as a full circle is 0.028 L per metre: computed.
    assert math.pi * 6**2 / 4 / 1000 == pytest.approx(0.0283, abs=0.0001)
