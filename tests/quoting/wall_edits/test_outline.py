from __future__ import annotations

from estimator.quoting.edits import Step
from estimator.quoting.wall_edits import outline, sides
from estimator.survey.ranges import Range
from estimator.survey.survey import (
    Area,
    Crack,
    CrackedBrick,
    Ground,
    StraightRun,
    Treatment,
    WallEnd,
)
from tests.quoting.wall_edits.works import GABLE, STEPS, WINDOW, refused, wall, work
from tests.survey.walls import OUTLINE


def test_a_wall_takes_another_width_and_its_left_end_stays() -> None:
    edit = outline.set_size(work(), "front", width_mm=5000.4)
    assert wall(edit).outline == ((0, 0), (5000, 0), (5000, 2700), (0, 2700))
    assert (edit.step, edit.about) == (Step.WALL, "front/width")
    assert edit.after.survey.drawn


def test_a_gable_stays_a_gable_with_its_eaves_at_the_height() -> None:
    edit = outline.set_size(work(outline=GABLE), "front", height_mm=3000)
    assert wall(edit).outline == ((0, 0), (4500, 0), (4500, 3000), (2250, 4500), (0, 3000))
    edit = outline.set_size(work(outline=GABLE), "front", width_mm=6000)
    assert wall(edit).outline == ((0, 0), (6000, 0), (6000, 2700), (3000, 4200), (0, 2700))


def test_any_other_outline_is_stretched() -> None:
    step = ((0.0, 0.0), (4000.0, 0.0), (4000.0, 1000.0), (2000.0, 1000.0), (2000.0, 2000.0))
    edit = outline.set_size(work(outline=step), "front", width_mm=2000, height_mm=1000)
    assert wall(edit).outline == ((0, 0), (2000, 0), (2000, 500), (1000, 500), (1000, 1000))


def test_a_wall_is_not_made_so_small_that_a_mark_is_left_outside() -> None:
    with refused("the window would reach beyond the right end of the wall; move the window first"):
        outline.set_size(work(openings=(WINDOW,)), "front", width_mm=2500)
    with refused("crack a would then lie outside the wall; move it or take it off first"):
        outline.set_size(work(cracks=(STEPS,)), "front", height_mm=400)
    brick = CrackedBrick(20, 3, Treatment.PATCH)
    with refused("brick 3 in course 20 would then lie outside the wall"):
        outline.set_size(work(bricks=(brick,)), "front", height_mm=1200)
    area = Area("area", ((4000.0, 0.0), (4400.0, 0.0), (4400.0, 300.0)))
    with refused("the area to repoint would then lie outside the wall"):
        outline.set_size(work(areas=(area,)), "front", width_mm=3000)


def test_a_wall_has_a_size() -> None:
    with refused("the width must be more than nothing; give it in millimetres"):
        outline.set_size(work(), "front", width_mm=-4)
    with refused("the height is no size"):
        outline.set_size(work(), "front", height_mm=float("nan"))


def test_a_told_crack_stays_a_range_while_its_wall_is_changed() -> None:
    told = Crack("a", StraightRun(2000.0, 2, Range(6.0, 8.0, 10.0)), Range(1.0, 2.0, 3.0))
    edit = outline.set_size(work(cracks=(told,)), "front", width_mm=5000)
    assert wall(edit).cracks == (told,)


def test_a_gable_is_set_and_taken_off() -> None:
    up = outline.set_gable(work(), "front", eaves_mm=2700, ridge_mm=4200)
    assert wall(up).outline == GABLE
    assert wall(outline.drop_gable(up.after, "front")).outline == OUTLINE
    aside = outline.set_gable(work(), "front", eaves_mm=2700, ridge_mm=4200, ridge_at_mm=1000)
    assert wall(aside).outline[3] == (1000, 4200)


def test_a_gable_that_is_none_is_refused() -> None:
    with refused("the ridge must be higher than the eaves; the eaves are 2,700 mm up"):
        outline.set_gable(work(), "front", eaves_mm=2700, ridge_mm=2700)
    with refused("the ridge would be beside the wall; the wall is 4,500 mm wide"):
        outline.set_gable(work(), "front", eaves_mm=2700, ridge_mm=3700, ridge_at_mm=4600)
    with refused("this wall has no gable"):
        outline.drop_gable(work(), "front")


def test_an_outline_is_drawn_corner_by_corner() -> None:
    drawn = ((0.2, 0), (4500, 0), (4500, 2000.5), (0, 2700))
    edit = outline.set_outline(work(), "front", drawn)
    assert wall(edit).outline == ((0, 0), (4500, 0), (4500, 2001), (0, 2700))
    edit = outline.move_corner(work(), "front", 3, (4500, 2400))
    assert wall(edit).outline[2] == (4500, 2400)
    assert edit.about == "front/corner/3"
    with refused("there is no corner 5"):
        outline.move_corner(work(), "front", 5, (0, 0))
    with refused("the wall: its outline has a side from corner 1 that crosses the side"):
        outline.set_outline(work(), "front", (OUTLINE[0], OUTLINE[2], OUTLINE[1], OUTLINE[3]))


def test_brickwork_is_changed_and_a_ratio_goes_with_its_bond() -> None:
    garden = outline.set_brickwork(work(), "front", bond="english_garden", ratio=5)
    assert wall(garden).brickwork.ratio == 5
    plain = outline.set_brickwork(garden.after, "front", bond="stretcher")
    assert wall(plain).brickwork.ratio == 0
    thin = outline.set_brickwork(work(), "front", bed_usual_mm=8.04)
    assert wall(thin).brickwork.bed_usual_mm == 8.0
    with refused("the brickwork: the thinnest bed is 12, more than the usual bed of 10 mm"):
        outline.set_brickwork(work(), "front", bed_least_mm=12)


def test_an_end_returns_to_another_side_and_that_side_back() -> None:
    two = sides.add_side(work(), name="Side").after
    edit = outline.set_end(two, "front", "left", WallEnd.QUOIN, "side")
    front, side = wall(edit), wall(edit, "side")
    assert (front.left_end, front.left_return) == (WallEnd.QUOIN, "side")
    assert (side.right_end, side.right_return) == (WallEnd.QUOIN, "front")
    gone = outline.set_end(edit.after, "front", "left", WallEnd.CONTINUES)
    assert wall(gone).left_return == ""


def test_an_end_that_cannot_be_is_refused() -> None:
    with refused("only a quoin has a return"):
        outline.set_end(work(), "front", "left", WallEnd.STOPPED, "side")
    with refused("a wall cannot return to itself"):
        outline.set_end(work(), "front", "left", WallEnd.QUOIN, "front")
    with refused("this side of the building is no longer there"):
        outline.set_end(work(), "front", "left", WallEnd.QUOIN, "side")


def test_ground_damp_course_and_notes_are_written_down() -> None:
    edit = outline.set_ground(work(), "front", datum_height_mm=600, ground=Ground.SOFT)
    assert (wall(edit).datum_height_mm, wall(edit).ground) == (600, Ground.SOFT)
    assert wall(outline.set_damp_course(work(), "front", 150.2)).damp_course_mm == 150
    assert (
        wall(outline.set_damp_course(work(damp_course_mm=9.0), "front", None)).damp_course_mm
        is None
    )
    assert wall(outline.set_ornament(work(), "front", "gas meter")).ornament == "gas meter"
    with refused("the damp course is 2,800, above the top of the wall; the wall ends 2,700 mm up"):
        outline.set_damp_course(work(), "front", 2800)


def test_movement_joints_are_added_moved_and_removed() -> None:
    one = outline.add_movement_joint(work(), "front", 2000.4).after
    two = outline.add_movement_joint(one, "front", 1000).after
    moved = outline.move_movement_joint(two, "front", 2, 1200)
    assert wall(moved).movement_joints_mm == (2000, 1200)
    assert wall(outline.remove_movement_joint(two, "front", 1)).movement_joints_mm == (1000,)
    with refused("there is a movement joint already"):
        outline.move_movement_joint(two, "front", 2, 1999)
    with refused("the movement joint would be beside the wall; the wall runs from 0 to 4,500 mm"):
        outline.add_movement_joint(work(), "front", 4500)
    with refused("there is no movement joint 3"):
        outline.remove_movement_joint(two, "front", 3)
