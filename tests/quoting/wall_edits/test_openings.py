from __future__ import annotations

import pytest

from estimator.quoting.edits import Step
from estimator.quoting.wall_edits import openings
from estimator.survey.survey import CrackedBrick, Lintel, Opening, Treatment
from tests.quoting.wall_edits.works import GABLE, WINDOW, refused, wall, work

SIZES = {"left_mm": 500.0, "bottom_mm": 900.0, "width_mm": 900.0, "height_mm": 1200.0}


def test_an_opening_is_drawn_and_named_by_what_it_is() -> None:
    edit = openings.add_opening(work(), "front", **{**SIZES, "left_mm": 499.6})
    assert wall(edit).openings == (Opening("window", 500, 900, 900, 1200),)
    assert (edit.step, edit.about) == (Step.OPENING, "")
    more = openings.add_opening(edit.after, "front", **{**SIZES, "left_mm": 2000.0})
    assert wall(more).openings[1].id == "window-2"
    door = {"left_mm": 3200.0, "bottom_mm": 0.0, "width_mm": 900.0, "height_mm": 2000.0}
    edit = openings.add_opening(more.after, "front", kind="door", lintel=Lintel.STONE, **door)
    assert (wall(edit).openings[2].id, wall(edit).openings[2].lintel) == ("door", Lintel.STONE)


def test_an_opening_stays_on_the_wall() -> None:
    beyond = r"the window would reach beyond the {}; the wall is {} mm {}\."
    with refused(beyond.format("right end of the wall", "4,500", "wide")):
        openings.add_opening(work(), "front", **{**SIZES, "left_mm": 3700})
    with refused(beyond.format("left end of the wall", "4,500", "wide")):
        openings.add_opening(work(), "front", **{**SIZES, "left_mm": -10})
    with refused(beyond.format("top of the wall", "2,700", "high")):
        openings.add_opening(work(), "front", **{**SIZES, "height_mm": 1900})
    with refused("the window would reach beyond the edge of the wall"):
        openings.add_opening(work(outline=GABLE), "front", **{**SIZES, "height_mm": 2500})
    with refused("the window would be 0 mm wide; draw it larger"):
        openings.add_opening(work(), "front", **{**SIZES, "width_mm": 0})


def test_an_opening_that_reached_past_the_drawn_wall_before_is_let_stand() -> None:
    past = Opening("w1", 4000.0, 900.0, 900.0, 900.0)
    edit = openings.change_opening(work(openings=(past,)), "front", "w1", kind="door")
    assert wall(edit).openings[0].kind == "door"
    with refused("the window would reach beyond the right end"):
        openings.move_opening(work(openings=(past,)), "front", "w1", 4100, 900)


def test_two_openings_do_not_lie_over_each_other() -> None:
    with refused("the window would lie over another opening; move one of them aside"):
        openings.add_opening(work(openings=(WINDOW,)), "front", **{**SIZES, "left_mm": 1000})


def test_an_opening_is_not_drawn_over_a_marked_brick() -> None:
    marked = work(bricks=(CrackedBrick(16, 4, Treatment.REPLACE),))
    with refused("brick 4 in course 16 is marked and would be gone; take its mark off first"):
        openings.add_opening(marked, "front", **SIZES)


def test_an_opening_is_changed_and_moved() -> None:
    edit = openings.change_opening(work(openings=(WINDOW,)), "front", "w1", width_mm=1200.2)
    assert (wall(edit).openings[0].width_mm, edit.about) == (1200, "front/opening/w1/width_mm")
    edit = openings.move_opening(work(openings=(WINDOW,)), "front", "w1", 1000, 600)
    assert wall(edit).openings == (Opening("w1", 1000, 600, 1350, 1200),)
    assert edit.about == "front/opening/w1/place"
    with pytest.raises(TypeError):
        openings.change_opening(work(openings=(WINDOW,)), "front", "w1", id="w2")


def test_a_lintel_that_no_longer_shows_bears_on_nothing() -> None:
    shown = openings.change_opening(
        work(openings=(WINDOW,)), "front", "w1", lintel_mm=150, lintel_bearing_mm=100
    )
    assert wall(shown).openings[0].lintel_bearing_mm == 100
    gone = openings.change_opening(shown.after, "front", "w1", lintel_mm=0)
    assert wall(gone).openings[0].lintel_bearing_mm == 0
    with refused("the window: the bearing of its lintel is 100, but no lintel shows"):
        openings.change_opening(work(openings=(WINDOW,)), "front", "w1", lintel_bearing_mm=100)


def test_an_opening_is_taken_out() -> None:
    assert wall(openings.remove_opening(work(openings=(WINDOW,)), "front", "w1")).openings == ()
    with refused("the opening is no longer there"):
        openings.remove_opening(work(), "front", "w1")
