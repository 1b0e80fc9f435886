from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.notices import UserMistake
from estimator.quoting.edits import Step, Work
from estimator.quoting.wall_edits import bars
from estimator.survey.survey import Crack, HandBar, HandWork, StraightRun
from estimator.takeoff.lines import Bar, Measure, SetBy
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import LOCAL
from tests.quoting.wall_edits.works import WINDOW, refused, wall, work

SET, KEPT, LEFT_OUT = HandWork.SET, HandWork.KEPT, HandWork.LEFT_OUT
cracked = work(cracks=(Crack("a", StraightRun(2245.0, 3, 24.0), 2.0),))


def measured(job: Work) -> Measure:
    return measure(job.survey, LOCAL, shipped())


def lain(job: Work) -> list[tuple[int, float, float]]:
    return [(bar.course, bar.left_mm, bar.right_mm) for bar in measured(job).bars]


def middle_bar() -> Bar:
    found = measured(cracked).bars
    return found[len(found) // 2]


def test_a_bar_is_added_where_the_rule_has_none() -> None:
    edit = bars.add_bar(work(), "front", 5, 1800.4, 800)
    assert wall(edit).bars == (HandBar("added-1", 5, 800, 1800),)
    assert edit.step is Step.BAR
    (bar,) = measured(edit.after).bars
    assert (bar.course, bar.left_mm, bar.right_mm, bar.set_by) == (5, 800, 1800, SetBy.HAND)


def test_a_bar_with_no_brickwork_is_refused() -> None:
    with refused("there is no brickwork for a bar there; draw it in another bed"):
        bars.add_bar(work(openings=(WINDOW,)), "front", 20, 1700, 2700)
    with refused("the bar would have no length"):
        bars.add_bar(work(), "front", 5, 800, 800)


def test_no_bar_is_set_far_beyond_the_wall_drawn() -> None:
    # Where a wall goes on a bar may too, and a slip of the keys would be priced by the metre.
    with refused("the bar would reach more than 6,000 mm beyond the wall drawn; draw it shorter"):
        bars.add_bar(work(), "front", 5, 800, 90_000)
    assert bars.add_bar(work(), "front", 5, -6000, 800).after.survey.elevations[0].bars
    with refused("the course is 0"):
        bars.add_bar(work(), "front", 0, 800, 900)
    with refused("the bar set by hand reaches course 60, where there is no wall"):
        bars.add_bar(work(), "front", 60, 800, 1800)


def test_a_bar_taken_over_and_one_kept_measure_the_same() -> None:
    bar = middle_bar()
    over = measured(bars.take_over(cracked, "front", bar).after)
    kept = measured(bars.keep(cracked, "front", bar).after)
    rule = measured(cracked)
    amounts = [(line.item, line.quantity) for line in rule.lines]
    assert [(line.item, line.quantity) for line in over.lines] == amounts
    assert [(line.item, line.quantity) for line in kept.lines] == amounts
    assert lain(bars.take_over(cracked, "front", bar).after) == lain(cracked)


def test_a_bar_moved_to_another_bed_leaves_its_old_one_empty() -> None:
    bar = middle_bar()
    edit = bars.take_over(cracked, "front", bar, course=bar.course + 1)
    beds = [one[0] for one in lain(edit.after)]
    assert bar.course + 1 in beds
    assert bar.course not in beds
    assert len(beds) == len(lain(cracked))
    name = wall(edit).bars[0].id
    again = bars.change_bar(edit.after, "front", name, course=bar.course + 2)
    assert len(wall(again).bars) == 2
    back = bars.back_to_rule(again.after, "front", name)
    assert (wall(back).bars, lain(back.after)) == ((), lain(cracked))


def test_a_bar_is_lengthened_and_goes_on_being_dragged_by_its_hand() -> None:
    bar = middle_bar()
    edit = bars.take_over(cracked, "front", bar, to_mm=bar.right_mm + 150.3)
    (one,) = wall(edit).bars
    assert (one.work, one.to_mm) == (SET, round(bar.right_mm + 150.3))
    laid = next(found for found in measured(edit.after).bars if found.hand)
    further = bars.take_over(edit.after, "front", laid, from_mm=bar.left_mm - 100)
    assert wall(further).bars == (replace(one, from_mm=bar.left_mm - 100),)


def test_a_bar_is_kept_while_its_crack_changes() -> None:
    bar = middle_bar()
    kept = bars.keep(cracked, "front", bar)
    assert wall(kept).bars[0].work is KEPT
    bare = replace(wall(kept), cracks=())
    job = replace(kept.after, survey=replace(kept.after.survey, elevations=(bare,)))
    assert lain(job) == [(bar.course, bar.left_mm, bar.right_mm)]
    laid = next(found for found in measured(kept.after).bars if found.hand)
    with refused("this bar is set by hand already"):
        bars.keep(kept.after, "front", laid)


def test_a_bar_of_the_rule_is_left_out() -> None:
    bar = middle_bar()
    edit = bars.leave_out(cracked, "front", bar)
    assert wall(edit).bars[0].work is LEFT_OUT
    assert lain(edit.after) == [one for one in lain(cracked) if one[0] != bar.course]


def test_a_bar_by_hand_that_is_left_out_does_not_bring_the_rule_back() -> None:
    bar = middle_bar()
    for edit in (
        bars.take_over(cracked, "front", bar),
        bars.take_over(cracked, "front", bar, course=bar.course + 1),
        bars.keep(cracked, "front", bar),
    ):
        laid = next(found for found in measured(edit.after).bars if found.hand)
        gone = bars.leave_out(edit.after, "front", laid)
        assert lain(gone.after) == [one for one in lain(cracked) if one[0] != bar.course]


def test_a_bar_added_and_left_out_is_simply_gone() -> None:
    added = bars.add_bar(work(), "front", 5, 800, 1800)
    (laid,) = measured(added.after).bars
    assert wall(bars.leave_out(added.after, "front", laid)).bars == ()


def test_a_bar_by_hand_is_changed() -> None:
    job = bars.add_bar(work(), "front", 5, 800, 1800).after
    name = job.survey.elevations[0].bars[0].id
    edit = bars.change_bar(job, "front", name, to_mm=2000.2)
    assert (wall(edit).bars[0].to_mm, edit.about) == (2000, f"front/bar/{name}/to_mm")
    with refused("the bar is no longer there"):
        bars.back_to_rule(work(), "front", name)
    with pytest.raises(TypeError):
        bars.change_bar(job, "front", name, id="x")


def test_a_bar_of_two_millimetres_is_refused() -> None:
    # No line would hold its length, so that nothing would lead to it.
    with pytest.raises(UserMistake, match="next to no length"):
        bars.add_bar(work(), "front", 5, 668, 670)
