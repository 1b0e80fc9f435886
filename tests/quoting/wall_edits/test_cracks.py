from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.quoting.edits import Step
from estimator.quoting.wall_edits import cracks
from estimator.quoting.wall_edits.changing import whole_point
from estimator.survey.questions import question
from estimator.survey.ranges import Range, settled
from estimator.survey.survey import (
    Answer,
    BedRun,
    Brickwork,
    Crack,
    Reading,
    SteppedRun,
    StraightRun,
    TracedRun,
    WidthAt,
)
from estimator.survey.wall import coursing_of, path_of
from tests.quoting.wall_edits.works import STEPS, WINDOW, refused, wall, work
from tests.survey.strategies import brickworks

LINE = ((500.0, 80.0), (900.0, 455.0), (1400.0, 455.0))
stepped_runs = st.builds(
    SteppedRun,
    st.integers(0, 4000).map(float),
    st.integers(1, 8),
    st.integers(1, 20).map(float),
    st.sampled_from(("left", "right")),
    st.integers(0, 6),
)


def drawn(**fields: object) -> Crack:
    return Crack("a", TracedRun(LINE), 2.0, **fields)  # type: ignore[arg-type]


def test_a_crack_is_traced_and_its_width_is_open_until_measured() -> None:
    edit = cracks.trace(work(), "front", [(500.2, 80), *LINE[1:]], cuts=(2,))
    (crack,) = wall(edit).cracks
    assert (crack.id, crack.run) == ("a", TracedRun(LINE, cuts=(2,)))
    assert crack.width_mm == question("width").unknown
    assert (edit.step, edit.about) == (Step.CRACK, "")
    assert wall(cracks.trace(edit.after, "front", LINE, width_mm=2.26)).cracks[1].width_mm == 2.3


def test_a_new_crack_takes_no_letter_of_one_that_was_read() -> None:
    read = Reading("a", "top", "2026-11-25", 1.2)
    job = work()
    job = replace(job, survey=replace(job.survey, readings=(read,)))
    assert wall(cracks.trace(job, "front", LINE)).cracks[0].id == "b"


def test_a_crack_off_the_wall_is_refused() -> None:
    with refused("crack a: point 2 is 9,000 mm along, outside the wall"):
        cracks.trace(work(), "front", [(500, 80), (9000, 400)])
    with refused("there is no brickwork along this crack; draw it on the wall"):
        cracks.trace(work(openings=(WINDOW,)), "front", [(1800, 1200), (2500, 1800)])
    with refused("a crack has two ends"):
        cracks.trace(work(), "front", [(500, 80)])
    with refused("there is no such leg to cut; the crack has 2"):
        cracks.trace(work(), "front", LINE, cuts=(3,))


def test_a_told_crack_is_plain_once_a_point_of_it_is_moved() -> None:
    told = replace(STEPS, run=SteppedRun(300.0, 2, Range(6.0, 8.0, 10.0)))
    job = work(cracks=(told,))
    points = cracks.points_of(job, "front", "a")
    edit = cracks.move_point(job, "front", "a", 16, (points[15][0], points[15][1] + 150))
    run = wall(edit).cracks[0].run
    assert isinstance(run, TracedRun)
    assert run.points[:15] == points[:15]
    assert edit.about == "front/crack/a/point/16"
    # Its width is told still: nobody measured it.
    assert wall(edit).cracks[0].width_mm == told.width_mm


@given(stepped_runs, brickworks())
def test_a_stepped_crack_takes_the_same_way_drawn_through_its_corners(
    run: SteppedRun, brickwork: Brickwork
) -> None:
    coursing = coursing_of(brickwork)
    path = path_of(Crack("a", run, 2.0), coursing)
    corners = [whole_point(point) for point in path.points]
    assert path_of(Crack("a", TracedRun(tuple(corners)), 2.0), coursing) == path
    assert path_of(Crack("a", cracks.as_traced(run, coursing), 2.0), coursing) == path


@given(st.integers(0, 4000).map(float), st.integers(1, 8), st.integers(1, 20), brickworks())
def test_a_straight_crack_is_as_long_drawn_through_its_corners(
    x: float, course: int, courses: int, brickwork: Brickwork
) -> None:
    coursing = coursing_of(brickwork)
    run = StraightRun(x, course, float(courses))
    path = path_of(Crack("a", run, 2.0), coursing)
    again = path_of(Crack("a", cracks.as_traced(run, coursing), 2.0), coursing)
    assert (again.perpends, again.bricks) == (path.perpends, path.bricks)
    assert again.length_m == pytest.approx(path.length_m, abs=courses * 0.001)


def test_a_crack_along_a_bed_keeps_to_it() -> None:
    coursing = coursing_of(Brickwork())
    run = BedRun(3, 100.0, 900.0)
    assert cracks.as_traced(run, coursing) == TracedRun(((100, 155), (900, 155)))


def test_points_are_put_in_and_taken_out_with_the_cuts_of_their_legs() -> None:
    job = work(cracks=(replace(drawn(), run=TracedRun(LINE, cuts=(1,))),))
    more = cracks.insert_point(job, "front", "a", 1, (700, 230))
    assert wall(more).cracks[0].run == TracedRun((LINE[0], (700, 230), *LINE[1:]), cuts=(1, 2))
    less = cracks.drop_point(more.after, "front", "a", 2)
    assert wall(less).cracks[0].run == TracedRun(LINE, cuts=(1,))
    first = cracks.drop_point(job, "front", "a", 1)
    assert wall(first).cracks[0].run == TracedRun(LINE[1:])
    last = cracks.drop_point(job, "front", "a", 3)
    assert wall(last).cracks[0].run == TracedRun(LINE[:2], cuts=(1,))
    with refused("a crack has two ends; take the whole crack off instead"):
        cracks.drop_point(last.after, "front", "a", 1)
    with refused("there is no leg 3; extend the crack beyond its end instead"):
        cracks.insert_point(job, "front", "a", 3, (700, 230))


def test_a_leg_is_cut_and_follows_the_joints_again() -> None:
    job = work(cracks=(drawn(),))
    cut = cracks.cut_leg(job, "front", "a", 1, cuts=True)
    assert wall(cut).cracks[0].run == TracedRun(LINE, cuts=(1,))
    assert wall(cracks.cut_leg(cut.after, "front", "a", 1, cuts=False)).cracks == (drawn(),)
    whole = work(cracks=(replace(drawn(), run=TracedRun(LINE, through_bricks=True)),))
    part = cracks.cut_leg(whole, "front", "a", 2, cuts=False)
    assert wall(part).cracks[0].run == TracedRun(LINE, cuts=(1,))
    with refused("there is no leg 3"):
        cracks.cut_leg(job, "front", "a", 3, cuts=True)


def test_a_crack_is_drawn_on_from_either_end() -> None:
    job = work(cracks=(replace(drawn(), run=TracedRun(LINE, cuts=(2,))),))
    on = cracks.extend(job, "front", "a", (1800, 700), cuts=True)
    assert wall(on).cracks[0].run == TracedRun((*LINE, (1800, 700)), cuts=(2, 3))
    back = cracks.extend(job, "front", "a", (300, 5), at_start=True)
    assert wall(back).cracks[0].run == TracedRun(((300, 5), *LINE), cuts=(3,))


def test_widths_are_measured_on_the_crack_and_the_widest_counts() -> None:
    job = work(cracks=(replace(drawn(), width_mm=Range(1.0, 2.0, 4.0)),))
    one = cracks.set_width(job, "front", "a", 1200, 470, 1.24)
    assert wall(one).cracks[0].widths == (WidthAt(1200, 455, 1.2),)
    assert wall(one).cracks[0].width_mm == 1.2
    two = cracks.set_width(one.after, "front", "a", 1000, 455, 3)
    assert (wall(two).cracks[0].width_mm, two.step) == (3, Step.WIDTH)
    again = cracks.set_width(two.after, "front", "a", 1010, 455, 2)
    assert [width.width_mm for width in wall(again).cracks[0].widths] == [1.2, 2]
    dropped = cracks.drop_width(again.after, "front", "a", 2)
    assert wall(dropped).cracks[0].width_mm == 1.2
    last = cracks.drop_width(dropped.after, "front", "a", 1)
    assert (wall(last).cracks[0].widths, wall(last).cracks[0].width_mm) == ((), 1.2)
    with refused("this place is not on crack a; point at the crack"):
        cracks.set_width(job, "front", "a", 3000, 2000, 1)


def test_the_width_of_a_crack_is_that_of_its_widest_place() -> None:
    widths = (WidthAt(900, 455, 2.0), WidthAt(1200, 455, 1.5))
    job = work(cracks=(drawn(widths=widths),))
    edit = cracks.change_crack(job, "front", "a", width_mm=4)
    assert [width.width_mm for width in wall(edit).cracks[0].widths] == [4, 1.5]
    with refused("crack a is 1.5 mm wide at another place"):
        cracks.change_crack(job, "front", "a", width_mm=1)


def test_what_is_said_of_a_crack_is_changed() -> None:
    edit = cracks.change_crack(work(cracks=(drawn(),)), "front", "a", both_faces=Answer.YES)
    assert wall(edit).cracks == (drawn(both_faces=Answer.YES),)
    assert edit.about == "front/crack/a/both_faces"
    with pytest.raises(TypeError):
        cracks.change_crack(work(cracks=(drawn(),)), "front", "a", id="b")


def test_a_crack_is_taken_off_and_its_readings_stay() -> None:
    job = work(cracks=(drawn(),))
    read = (Reading("a", "top", "2026-11-25", 1.2),)
    job = replace(job, survey=replace(job.survey, readings=read))
    edit = cracks.remove_crack(job, "front", "a")
    assert (wall(edit).cracks, edit.after.survey.readings) == ((), read)
    with refused("the crack is no longer there"):
        cracks.move_point(edit.after, "front", "a", 1, (0, 0))


def test_the_points_that_can_be_moved_are_those_of_the_likely_crack() -> None:
    told = replace(STEPS, run=SteppedRun(300.0, 2, Range(6.0, 8.0, 10.0)))
    points = cracks.points_of(work(cracks=(told,)), "front", "a")
    path = path_of(settled(told), coursing_of(Brickwork()))
    assert points == tuple(whole_point(point) for point in path.points)


def test_a_crack_that_stands_still_is_told_to_be_drawn_on() -> None:
    # It was once told to choose none, which is what to do with the ratio of a bond.
    with refused(
        "crack a: point 2 is the same as the point before it; draw it on to another place"
    ):
        cracks.trace(work(), "front", [(900, 80), (900, 80)])
