"""Bars worked out by hand: UK metric brick, 500 mm anchorage, steps of 50 mm, unless said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.notices import Severity
from estimator.survey.survey import Brickwork, Crack, ThinBed, TracedRun, WallEnd
from estimator.takeoff.bars import cut_pieces
from estimator.takeoff.lines import Bar, Item
from estimator.takeoff.rules import changed, shipped
from tests.takeoff.walls import amount, line, measured, upright, wall, window


def first(*args: object, **more: object) -> Bar:
    """The lowest bar of a wall."""
    return measured(wall(*args, **more)).bars[0]  # type: ignore[arg-type]


def codes(bar: Bar) -> list[str]:
    return [reason.code for reason in bar.reasons]


def text(bar: Bar, code: str) -> str:
    return " ".join(reason.text for reason in bar.reasons if reason.code == code)


def test_a_bar_with_room_on_both_sides() -> None:
    bar = first(upright("a", 2020))
    assert (bar.left_mm, bar.right_mm, bar.pieces_mm) == (1520, 2520, (1000,))
    assert codes(bar) == ["spacing", "anchorage"]
    assert text(bar, "spacing") == (
        "Every third course from the lower end of crack a: the bed under course 2."
    )


def test_two_cracks_share_a_bar() -> None:
    # Cracks at 2020 and 2470: 450 mm apart, anchorages 1520 to 2520 and 1970 to 2970. One bar
    # from 1520 to 2970 is 1450 mm, already a step of 50.
    found = measured(wall(upright("a", 2020), upright("b", 2470)))
    assert [(bar.left_mm, bar.right_mm) for bar in found.bars] == [(1520, 2970)] * 8
    assert found.bars[0].cracks == ("a", "b")
    assert (
        text(found.bars[0], "shared")
        == "Cracks a and b lie within 450 mm here: one bar serves them."
    )


def test_a_later_crack_takes_the_beds_of_its_neighbour() -> None:
    # Alone, crack b from course 2 would be stitched in beds 3, 6, 9; beside a it takes 5 and 8.
    found = measured(wall(upright("a", 2020, 1, 12), upright("b", 2470, 2, 9)))
    assert {bar.course for bar in found.bars} == {2, 5, 8, 11} | {
        bar.course for bar in found.bars if bar.cracks == ("b",)
    }
    assert [bar.course for bar in found.bars if bar.cracks == ("a", "b")] == [5, 8]


def test_cracks_far_apart_share_nothing() -> None:
    found = measured(wall(upright("a", 1120), upright("b", 3370)))
    assert {bar.cracks for bar in found.bars} == {("a",), ("b",)}


def test_a_window_shortens_a_bar() -> None:
    # The window begins at 2400: 380 mm right of the crack at 2020. 50 mm are kept from it, so the
    # bar runs from 1520 to 2350: 830 mm; 20 more on the left make 850, the next step.
    bar = first(upright("a", 2020), openings=(window(2400, 0, 900, 1200),))
    assert (bar.left_mm, bar.right_mm, bar.pieces_mm) == (1500, 2350, (850,))
    assert text(bar, "opening") == "Shortened on the right: the window is 380 mm from the crack."


def test_a_sill_is_no_brickwork() -> None:
    # The window stands from 225 up but its sill reaches down to 75, the bed under course 2.
    bar = first(upright("a", 2020), openings=(window(2400, 225, 900, 600, sill=150),))
    assert bar.right_mm == 2350


def test_a_lintel_shortens_a_bar() -> None:
    # The head of the window is at 500 and its lintel reaches 650, from 2300 on: in the bed under
    # course 8, 525 to 535, it is 280 mm from the crack. That under course 11, at 750, is over it.
    over = replace(window(2400, 0, 900, 500), lintel_mm=150, lintel_bearing_mm=100)
    bars = {bar.course: bar for bar in measured(wall(upright("a", 2020), openings=(over,))).bars}
    assert text(bars[5], "opening").startswith("Shortened on the right: the window is 380 mm")
    assert text(bars[8], "opening").startswith("Shortened on the right: the lintel is 280 mm")
    assert (bars[8].right_mm, bars[11].right_mm) == (2250, 2520)


def test_a_bar_that_its_neighbour_keeps_short_says_so() -> None:
    # Bars of 1020 mm from 160 and from 1510, 330 mm apart: for the next step of 500 the first would
    # need 480 more, and has 160 at the most to the end of the wall and 165 half-way to the other.
    rules = changed(shipped(), bar_rounding_mm=500, anchorage_mm=510)
    both = (upright("a", 670, 1, 3), upright("b", 2020, 1, 3))
    low, high = measured(wall(*both, left_end=WallEnd.STOPPED), rules=rules).bars
    assert (low.left_mm, low.right_mm) == (160, 1180)
    assert text(low, "neighbour") == (
        "Not cut to the next step of 500 mm: the next bar in this bed is 330 mm away."
    )
    assert high.pieces_mm == (1500,)
    assert "neighbour" not in codes(high)


def test_too_little_beyond_the_crack_asks_the_engineer() -> None:
    # 180 mm to the window, 50 of them kept: 130 mm is under the 300 mm least.
    found = measured(wall(upright("a", 2020), openings=(window(2200, 0, 900, 2700),)))
    (said,) = [notice for notice in found.notices if notice.code == "short_bar"]
    assert said.severity is Severity.REFER
    assert "130 mm" in text(found.bars[0], "short")
    assert found.bars[0].anchorage_mm == 130


def test_a_bar_turns_round_a_quoin() -> None:
    # The quoin is 320 mm right of the crack: 180 of the 500 mm are missing, and the leg is those
    # and 150 mm more = 330 mm. 500 + 320 + 330 = 1150 mm, a step already.
    bar = first(upright("a", 2020), width=2340, right_end=WallEnd.QUOIN)
    assert (bar.left_mm, bar.right_mm) == (1520, 2340)
    assert (bar.turn_left_mm, bar.turn_right_mm) == (0, 330)
    assert bar.pieces_mm == (1150,)
    assert (
        text(bar, "quoin")
        == "Turned round the quoin on the right: 320 mm straight, 330 mm round it."
    )
    found = measured(wall(upright("a", 2020), width=2340, right_end=WallEnd.QUOIN))
    assert amount(found, Item.TURN_BAR) == 8
    assert amount(found, Item.CUT_SLOT) == 9.2


def test_a_quoin_a_little_near_only_shortens() -> None:
    # 480 mm to the quoin: stopping 50 mm short of it leaves 430, 70 missing: not worth a bend.
    bar = first(upright("a", 2020), width=2500, right_end=WallEnd.QUOIN)
    assert bar.turn_right_mm == 0
    assert bar.right_mm == 2450
    assert "quoin" in codes(bar)


def test_a_stopped_end_shortens() -> None:
    # 320 mm to the end of the wall, 50 kept: 500 + 270 = 770, and 30 on the left make 800.
    bar = first(upright("a", 2020), width=2340, right_end=WallEnd.STOPPED)
    assert (bar.left_mm, bar.right_mm, bar.pieces_mm) == (1490, 2290, (800,))
    assert text(bar, "end") == "Shortened on the right: the wall ends 320 mm from the crack."


def test_a_wall_that_runs_on_carries_the_bar_beyond_the_drawing() -> None:
    bar = first(upright("a", 2020), width=2340)
    assert bar.right_mm == 2520
    assert text(bar, "end") == "Runs on to the right 180 mm beyond what is drawn."


def test_a_bar_never_crosses_a_movement_joint() -> None:
    # The joint is 400 mm right of the crack: the bar ends 50 mm before it, 500 + 350 = 850 mm.
    found = measured(wall(upright("a", 2020), movement_joints_mm=(2420.0,)))
    bar = found.bars[0]
    assert (bar.left_mm, bar.right_mm) == (1520, 2370)
    assert "never crosses the movement joint 400 mm away" in text(bar, "movement_joint")
    assert "beside_movement_joint" not in {notice.code for notice in found.notices}


def test_a_crack_beside_a_movement_joint_is_said() -> None:
    found = measured(wall(upright("a", 2020), movement_joints_mm=(2220.0,)))
    assert "beside_movement_joint" in {notice.code for notice in found.notices}


def test_cracks_on_both_sides_of_a_movement_joint_keep_their_own_bars() -> None:
    found = measured(wall(upright("a", 2020), upright("b", 2470), movement_joints_mm=(2245.0,)))
    assert {bar.cracks for bar in found.bars} == {("a",), ("b",)}


def test_an_end_that_is_a_movement_joint_stops_a_bar() -> None:
    assert first(upright("a", 2020), width=2340, right_end=WallEnd.MOVEMENT_JOINT).right_mm == 2290


def test_a_verge_stops_a_bar() -> None:
    # A gable: at the bed under course 2, in the middle of its 10 mm from 75 to 85, the right verge
    # of slope 1 in 1 is at 4500 - 85 at its top. The crack at 4020 has 395 mm, 50 of them kept.
    gable = ((0.0, 0.0), (4500.0, 0.0), (2250.0, 2250.0))
    bar = first(upright("a", 4020, 1, 3), outline=gable)
    assert bar.right_mm == pytest.approx(4500 - 85 - 50, abs=0.01)
    assert "the wall ends" in text(bar, "end")


def test_a_lap() -> None:
    # Cracks at 1120 and 3820 with others between them every 675 mm: one bar of 2700 + 1000 = 3700.
    # Stock of 3000 at the most: 3000 + 1200 lapped 500 mm = 3700.
    cracks = [upright(f"c{n}", 1120 + 675 * n, 1, 3) for n in range(5)]
    found = measured(wall(*cracks, width=6000))
    assert [bar.pieces_mm for bar in found.bars] == [(3000, 1200)]
    assert amount(found, Item.SET_BAR) == 4.2
    assert amount(found, Item.CUT_SLOT) == 3.7
    assert amount(found, Item.LAP_BAR) == 1
    assert "2 pieces lapped 500 mm" in text(found.bars[0], "lap")


@pytest.mark.parametrize(
    ("length", "pieces"),
    [
        (3000, (3000,)),
        # 3001 would leave an end of 501 mm; the first piece gives 99 so that it is 600.
        (3001, (2901, 600)),
        (8000, (3000, 3000, 3000)),
        (8100, (3000, 3000, 3000, 600)),
    ],
)
def test_pieces(length: int, pieces: tuple[int, ...]) -> None:
    rules = shipped()
    found = cut_pieces(length, rules)
    assert found == pieces
    assert sum(found) - (len(found) - 1) * rules.lap_mm == length
    assert max(found) <= 3000
    assert min(found) >= min(600, length)


def test_bars_of_one_metre_only() -> None:
    # Common practice: 1 m is the usual length bought. 1150 mm is 1000 + 650 lapped 500.
    assert cut_pieces(1150, changed(shipped(), stock_lengths_mm=[1000])) == (1000, 650)
    assert cut_pieces(1000, changed(shipped(), stock_lengths_mm=[1000])) == (1000,)


def test_a_thin_stretch_is_skimmed() -> None:
    # The bed under course 2 is 6 mm thin from 1800 to 2200; the bar runs 1520 to 2520: 400 mm.
    thin = (ThinBed(2, 1800, 2200, 6),)
    found = measured(wall(upright("a", 2020), thin_beds=thin))
    assert [bar.skim_mm for bar in found.bars] == [400] + [0] * 7
    assert found.bars[0].thin
    assert amount(found, Item.SKIM_ARRIS) == 0.4
    assert line(found, Item.SKIM_ARRIS).marks == ("front/bar/1",)
    assert "thin_bed" in codes(found.bars[0])


def test_beds_all_too_thin_are_skimmed_all_along() -> None:
    # Courses of 65 + 6 = 71 mm; 24 of them, 8 bars of 1 m, all skimmed and 8 mm high.
    found = measured(wall(upright("a", 2020), brickwork=Brickwork(bed_usual_mm=6)))
    assert amount(found, Item.SKIM_ARRIS) == amount(found, Item.CUT_SLOT) == 8
    assert {bar.bed_mm for bar in found.bars} == {8}


def test_thin_beds_without_a_place_are_asked_for() -> None:
    found = measured(wall(upright("a", 2020), brickwork=Brickwork(bed_least_mm=6)))
    assert "thin_beds_unplaced" in {notice.code for notice in found.notices}


def test_a_crack_along_one_bed_is_pointed_only() -> None:
    along = Crack("a", TracedRun(((1000, 155), (1800, 155))), 2.0)
    found = measured(wall(along))
    assert found.bars == ()
    assert str(line(found, Item.POINT_CRACK_BED).quantity) == "0.80 m"
    assert "along_bed" in {notice.code for notice in found.notices}


def test_a_crack_not_to_be_stitched_is_pointed_only() -> None:
    crack = Crack("a", upright("a", 2020).run, 2.0, stitch=False)
    found = measured(wall(crack))
    assert found.bars == ()
    assert amount(found, Item.POINT_PERPEND) == 12


def test_no_bar_where_the_crack_is_in_an_opening() -> None:
    found = measured(wall(upright("a", 2020), openings=(window(1800, 600, 600, 600),)))
    assert not [bar for bar in found.bars if 600 < bar.y_mm < 1200]
    assert "no_room" in {notice.code for notice in found.notices}


def test_no_bar_where_there_is_room_for_next_to_none() -> None:
    # Two movement joints 200 mm apart with the crack between them: 100 mm are left for a bar.
    found = measured(wall(upright("a", 2020), movement_joints_mm=(1920.0, 2120.0)))
    assert found.bars == ()
    assert "no_room" in {notice.code for notice in found.notices}


def test_a_leg_alone_is_no_bar() -> None:
    # The quoin on one side and a movement joint a millimetre off on the other.
    found = measured(
        wall(upright("a", 220, 1, 2), left_end=WallEnd.QUOIN, movement_joints_mm=(1.0, 230.0)),
        wall(upright("a", 0, 1, 2), id="b", left_end=WallEnd.QUOIN, movement_joints_mm=(1.0,)),
    )
    assert all(bar.face_mm >= 150 for bar in found.bars)


def test_steps_can_be_turned_off() -> None:
    rules = changed(shipped(), bar_rounding_mm=1)
    front = wall(upright("a", 2020), openings=(window(2400, 0, 900, 1200),))
    assert measured(front, rules=rules).bars[0].pieces_mm == (830,)
