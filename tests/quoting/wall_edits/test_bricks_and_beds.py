from __future__ import annotations

from estimator.quoting.edits import Step
from estimator.quoting.wall_edits import bricks, thin_beds
from estimator.survey.ranges import Range
from estimator.survey.survey import CrackedBrick, ThinBed, Treatment
from tests.quoting.wall_edits.works import WINDOW, refused, wall, work

REPLACE, PATCH, LEAVE = Treatment.REPLACE, Treatment.PATCH, Treatment.LEAVE


def test_a_stroke_marks_bricks_and_marks_them_otherwise() -> None:
    edit = bricks.mark(work(), "front", [(3, 4), (3, 5), (3, 4)], REPLACE, half=True)
    assert wall(edit).bricks == (
        CrackedBrick(3, 4, REPLACE, half=True),
        CrackedBrick(3, 5, REPLACE, half=True),
    )
    assert (edit.step, edit.about) == (Step.BRICK, "")
    # Only a brick that is replaced can be half cut out.
    edit = bricks.mark(edit.after, "front", [(3, 5), (4, 4)], PATCH, half=True)
    assert wall(edit).bricks == (
        CrackedBrick(3, 4, REPLACE, half=True),
        CrackedBrick(3, 5, PATCH),
        CrackedBrick(4, 4, PATCH),
    )


def test_a_brick_that_is_not_there_is_not_marked() -> None:
    with refused("there is no brick 22 in course 1; its bricks run from 1 to 20 from the left"):
        bricks.mark(work(), "front", [(1, 22)], PATCH)
    with refused("there is no brick 0 in a course; count from 1 at the left end"):
        bricks.toggle(work(), "front", 1, 0, PATCH)
    with refused("the course is 0; count courses from 1 at the datum"):
        bricks.toggle(work(), "front", 0, 1, PATCH)
    with refused("brick 1 in course 40 reaches course 40, where there is no wall"):
        bricks.toggle(work(), "front", 40, 1, PATCH)
    with refused("brick 10 in course 20 lies in an opening; mark a brick that is there"):
        bricks.toggle(work(openings=(WINDOW,)), "front", 20, 10, PATCH)
    with refused("no brick is chosen"):
        bricks.mark(work(), "front", [], PATCH)


def test_a_mark_given_twice_is_taken_off() -> None:
    on = bricks.toggle(work(), "front", 3, 4, LEAVE)
    assert wall(on).bricks == (CrackedBrick(3, 4, LEAVE),)
    other = bricks.toggle(on.after, "front", 3, 4, REPLACE)
    assert wall(other).bricks == (CrackedBrick(3, 4, REPLACE),)
    half = bricks.toggle(other.after, "front", 3, 4, REPLACE, half=True)
    assert wall(half).bricks == (CrackedBrick(3, 4, REPLACE, half=True),)
    assert wall(bricks.toggle(half.after, "front", 3, 4, REPLACE, half=True)).bricks == ()


def test_marks_are_taken_off() -> None:
    job = work(bricks=(CrackedBrick(3, 4, REPLACE), CrackedBrick(3, 5, PATCH)))
    assert wall(bricks.unmark(job, "front", [(3, 4), (9, 9)])).bricks == (
        CrackedBrick(3, 5, PATCH),
    )


def test_further_bricks_are_allowed_for_and_are_plain() -> None:
    edit = bricks.set_hidden(work(hidden_bricks=Range(0.0, 2.0, 4.0)), "front", 3)
    assert wall(edit).hidden_bricks == 3
    with refused("the number of further bricks is -1"):
        bricks.set_hidden(work(), "front", -1)


def test_a_thin_bed_is_marked_by_a_stroke_either_way() -> None:
    edit = thin_beds.mark_thin(work(), "front", 4, 900.4, 300, 6.2)
    assert wall(edit).thin_beds == (ThinBed(4, 300, 900, 6.0),)
    assert edit.step is Step.BED


def test_what_is_marked_later_lies_over_what_was_marked_before() -> None:
    job = work(thin_beds=(ThinBed(4, 300.0, 1500.0, 6.0), ThinBed(5, 300.0, 900.0, 6.0)))
    edit = thin_beds.mark_thin(job, "front", 4, 600, 900, 4)
    assert wall(edit).thin_beds == (
        ThinBed(4, 300, 600, 6),
        ThinBed(4, 900, 1500, 6),
        ThinBed(5, 300, 900, 6),
        ThinBed(4, 600, 900, 4),
    )
    joined = thin_beds.mark_thin(job, "front", 4, 1500, 1800, 6)
    assert wall(joined).thin_beds == (ThinBed(5, 300, 900, 6), ThinBed(4, 300, 1800, 6))


def test_a_thin_bed_is_changed_and_taken_off() -> None:
    job = work(thin_beds=(ThinBed(4, 300.0, 900.0, 6.0),))
    edit = thin_beds.change_thin(job, "front", 1, to_mm=1200)
    assert wall(edit).thin_beds == (ThinBed(4, 300, 1200, 6),)
    assert edit.about == "front/thin/1/to_mm"
    assert wall(thin_beds.remove_thin(job, "front", 1)).thin_beds == ()
    with refused("there is no thin bed 2"):
        thin_beds.remove_thin(job, "front", 2)
    with refused("the thin bed under course 4: its thickness is 12, more than the usual"):
        thin_beds.change_thin(job, "front", 1, thickness_mm=12)
    with refused("the thin bed under course 4: its right end is 200, not beyond its left end, 300"):
        thin_beds.change_thin(job, "front", 1, to_mm=200)
    with refused("a thin bed is thicker than nothing"):
        thin_beds.mark_thin(work(), "front", 4, 300, 900, 0)
