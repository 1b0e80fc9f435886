"""A wall with a window and a lintel, taken off with pencil and paper; every figure by hand.

UK metric brick in stretcher bond: 75 mm courses, 10 mm joints, bricks 225 mm apart. 500 mm of bar
beyond the crack, 50 mm kept from an edge, steps of 50 mm, 500 mm of lap, stock of 3 m at the most.
"""

from __future__ import annotations

import pytest

from estimator.survey.survey import (
    Area,
    Crack,
    CrackedBrick,
    Elevation,
    HandBar,
    Lintel,
    Opening,
    ThinBed,
    TracedRun,
    Treatment,
)
from estimator.takeoff.lines import Item
from estimator.takeoff.scope import REPOINT
from tests.takeoff.walls import amount, line, measured, needed, rectangle, side, upright, wall

WINDOW = Opening("w", 2400, 450, 900, 600, "window", 75, Lintel.CONCRETE, 160, 150)
"""Head at 1,050; the lintel shows from there to 1,210, from 2,250 to 3,450 along."""
CRACK = upright("a", 2020)
"""24 courses, so 8 bars, in the beds under courses 2, 5, 8 … 23."""


def test_net_area_is_less_the_window_its_sill_and_its_lintel() -> None:
    # 4.5 × 2.7 = 12.15; 0.9 × 0.6 = 0.54; sill 0.9 × 0.075 = 0.0675; lintel 1.2 × 0.16 = 0.192.
    net = side(wall(openings=(WINDOW,))).wall.net.area_mm2
    assert net == pytest.approx((12.15 - 0.54 - 0.0675 - 0.192) * 1e6)


def test_slots_beside_the_window_and_the_lintel() -> None:
    # Beds 8, 11 and 14 lie beside the window: 2,400 - 50 - 2,020 = 330 to the right and 500 to the
    # left are 830, so 850. Bed 17, from 1,200 to 1,210, runs into the lintel: 180 and 500 are 680,
    # so 700. The other four have their metre: 4.00 + 3 × 0.85 + 0.70 = 7.25.
    found = measured(wall(CRACK, openings=(WINDOW,)))
    assert [(bar.course, bar.pieces_mm) for bar in found.bars] == [
        (2, (1000,)),
        (5, (1000,)),
        (8, (850,)),
        (11, (850,)),
        (14, (850,)),
        (17, (700,)),
        (20, (1000,)),
        (23, (1000,)),
    ]
    assert [bar.anchorage_mm for bar in found.bars[2:6]] == [330, 330, 330, 180]
    assert amount(found, Item.CUT_SLOT) == 7.25
    # Of the grout: 7.25 m × 10 mm × 15 mm = 1.0875 L, and 15 % more.
    assert needed(found, "grout") == pytest.approx(1.25)
    (short,) = [one for one in found.notices if one.code == "short_bar"]
    assert "bar 6 reaches less than 300 mm" in short.text


def test_a_bar_by_hand_over_the_lintel_is_lapped_and_skimmed() -> None:
    # Bed 18 lies over the lintel. 4,180 is over 3,000: with a lap 4,680 to cut, 3,000 and 1,680.
    # The thin bed lies under it from 2,000 to 2,600.
    set_by_hand = HandBar("h", 18, 20, 4200)
    thin = ThinBed(18, 2000, 2600, 6.0)
    found = measured(wall(CRACK, openings=(WINDOW,), bars=(set_by_hand,), thin_beds=(thin,)))
    (bar,) = [one for one in found.bars if one.hand]
    assert bar.pieces_mm == (3000, 1680)
    assert amount(found, Item.CUT_SLOT) == pytest.approx(7.25 + 4.18)
    assert amount(found, Item.SET_BAR) == pytest.approx(7.25 + 4.68)
    assert (amount(found, Item.LAP_BAR), amount(found, Item.SKIM_ARRIS)) == (1, 0.6)


def test_joints_of_an_area_below_the_window() -> None:
    # 2.25 m wide and 4 courses high: 4 beds of 2.25 m, 4 × 10 perpends of 65 mm.
    found = measured(wall(areas=(Area("x", rectangle(2250, 300)),)), scope=REPOINT)
    assert amount(found, Item.RAKE_OUT) == pytest.approx(9.00 + 2.60)
    assert amount(found, Item.REPOINT) == pytest.approx(0.68)  # 0.675, rounded half up


def test_a_crack_cut_through_bricks_on_one_leg_only() -> None:
    # The first leg goes up at 220 along the joints: odd courses have their perpend there, even
    # ones at 107.5 or 332.5. The second goes up through courses 5 and 6 at 275: 55 mm from the
    # perpend at 220, which is near (a quarter of 225 is 56.25), and 57.5 mm from that at 332.5.
    front = wall(
        Crack("a", TracedRun(((220, 5), (220, 305), (275, 305), (275, 455)), cuts=(3,)), 2.0)
    )
    laid = side(front)
    path = laid.cracks[0].path
    # In course 6 a half brick ends at 102.5, so the one to 327.5 is its second.
    assert [laid.wall.place_of(course, face) for course, face in path.bricks] == [2]
    assert path.bricks[0][0] == 6
    assert (path.perpends, path.courses) == (5, (1, 2, 3, 4, 5, 6))


def test_mortar_and_bricks_round_two_halves() -> None:
    # Two neighbours in one course: beds 2 × (10 + 215 + 10 + 215 + 10) = 920 mm, 3 perpends of
    # 65 mm = 195 mm, half of 102.5 mm deep: (0.92 + 0.195) × 10 × 51.25 = 0.571 L, × 1.3 = 0.743.
    halves = tuple(CrackedBrick(3, place, Treatment.REPLACE, half=True) for place in (3, 4))
    found = measured(wall(bricks=halves))
    laying = [
        need.working
        for need in found.needs
        if need.item is Item.REPLACE_HALF_BRICK and need.material != "facing_brick"
    ]
    said = "0.92 m of bed and 0.20 m of perpend, 51.25 mm deep = 0.57 L × 1.3"
    assert laying
    assert all(said in working for working in laying)
    # 2 and 1 spare.
    assert needed(found, "facing_brick") == 3
    assert line(found, Item.REPLACE_HALF_BRICK).quantity.amount == 2


def test_the_first_bed_over_the_lintel_is_free_at_its_very_top() -> None:
    # With 150 mm the lintel ends at 1,200, just under the bed of course 17: a metre again.
    lower = Opening("w", 2400, 450, 900, 600, "window", 75, Lintel.CONCRETE, 150, 150)
    over: Elevation = wall(CRACK, openings=(lower,))
    assert [bar.pieces_mm for bar in measured(over).bars if bar.course == 17] == [(1000,)]
