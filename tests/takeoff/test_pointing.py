from __future__ import annotations

from estimator.survey.survey import (
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    SteppedRun,
    Treatment,
)
from estimator.takeoff.lines import Item
from estimator.takeoff.scope import LOCAL, Work, own
from tests.takeoff.walls import amount, line, measured, needed, wall, window

POINT_ONLY = own("Point", frozenset({Work.POINT_CRACK}))


def test_a_stepped_crack_pointed_only() -> None:
    # Six courses in half bond: 6 perpends of 65 mm and 5 half-bricks of bed of 112.5 mm, 0.5625 m.
    crack = Crack("a", SteppedRun(2020, 3, 6), 2.0)
    found = measured(wall(crack), scope=POINT_ONLY)
    assert amount(found, Item.POINT_PERPEND) == 6
    assert amount(found, Item.POINT_CRACK_BED) == 0.56
    assert found.bars == ()


def test_bed_in_a_slot_is_pointed_once() -> None:
    # Stitched in beds 4 and 7: of the beds 4 to 8 the crack runs along, two are in slots, so
    # 3 × 112.5 = 337.5 mm are left.
    found = measured(wall(Crack("a", SteppedRun(2020, 3, 6), 2.0)))
    assert [bar.course for bar in found.bars] == [4, 7]
    assert amount(found, Item.POINT_CRACK_BED) == 0.34
    assert "the rest in slots or covered" in line(found, Item.POINT_CRACK_BED).working


def test_two_cracks_on_one_bed_are_pointed_once() -> None:
    # 1000 to 1800 and 1500 to 2200: 1.2 m together.
    cracks = (Crack("a", BedRun(5, 1000, 1800), 1.0), Crack("b", BedRun(5, 1500, 2200), 1.0))
    assert amount(measured(wall(*cracks)), Item.POINT_CRACK_BED) == 1.2


def test_no_pointing_in_an_opening() -> None:
    crack = Crack("a", BedRun(5, 1000, 1800), 1.0)
    found = measured(wall(crack, openings=(window(1200, 150, 400, 600),)))
    assert amount(found, Item.POINT_CRACK_BED) == 0.4


def test_perpends_beside_new_bricks_are_in_the_bricks() -> None:
    # The brick right of the lowest perpend is replaced: it takes that perpend with it, and the bed
    # over it, 112.5 mm of the crack.
    crack = Crack("a", SteppedRun(2020, 3, 6), 2.0)
    plain = measured(wall(crack), scope=POINT_ONLY)
    place = int(line(plain, Item.POINT_PERPEND).marks[0].rsplit("/", 1)[1])
    brick = CrackedBrick(3, place + 1, Treatment.REPLACE)
    both = own("Both", frozenset({Work.POINT_CRACK, Work.BRICKS}))
    found = measured(wall(crack, bricks=(brick,)), scope=both)
    assert amount(found, Item.POINT_PERPEND) == 5
    assert "1 beside new bricks left out" in line(found, Item.POINT_PERPEND).working
    assert amount(found, Item.POINT_CRACK_BED) == 0.45


def test_marks_name_perpends_by_course_and_place() -> None:
    found = measured(wall(Crack("a", SteppedRun(220, 1, 2), 2.0)))
    # The first perpend lies after the first brick of course 1, the next after the second face of
    # course 2, which begins with half a brick.
    assert line(found, Item.POINT_PERPEND).marks == ("front/perpend/1/1", "front/perpend/2/2")


def test_wide_joints_are_raked_deeper() -> None:
    # 15 mm joints: twice the width is 30 mm.
    crack = Crack("a", BedRun(5, 1000, 2000), 1.0)
    brickwork = Brickwork(bed_usual_mm=15, perpend_mm=10)
    found = measured(wall(crack, brickwork=brickwork), scope=LOCAL)
    assert line(found, Item.POINT_CRACK_BED).conditions.depth_mm == 30
    # 1 m × 15 × 30 mm = 0.45 L, × 1.15 = 0.5175 L; 1:1:6 takes 0.75 × 1.33 of sand, 1.6 kg/L.
    assert needed(found, "sand") == round(0.5175 * 1.33 * 0.75 * 1.6, 2)
