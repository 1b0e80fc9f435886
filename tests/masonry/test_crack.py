"""Cracks: every piece is on the joint net, and the path has no gap."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from estimator.masonry.bond import bond, bond_keys
from estimator.masonry.brick import brick_format
from estimator.masonry.coursing import Coursing, laid
from estimator.masonry.crack import (
    HAND_MM,
    Along,
    CrackPath,
    along_bed,
    stepped,
    straight,
    traced,
)
from estimator.masonry.region import Point
from tests.masonry.oracle import walls

UK = laid(brick_format("uk_metric"), bond("stretcher"))
place = st.floats(-3000, 3000, allow_nan=False).map(lambda x: round(x, 2))
courses = st.integers(1, 30)
lines = st.lists(st.tuples(place, place), min_size=2, max_size=6)
lean = st.sampled_from(["right", "left"])
following = st.sampled_from(["the joints", "the bricks"])


def is_on_the_net(coursing: Coursing, path: CrackPath) -> bool:
    return all(
        {
            Along.BED: lies_in_bed,
            Along.PERPEND: lies_in_perpend,
            Along.BRICK: lies_in_brick,
        }[piece.along](coursing, piece.course, piece.face, (piece.start, piece.end))
        for piece in path.pieces
    )


def lies_in_bed(coursing: Coursing, course: int, face: int, ends: tuple[Point, Point]) -> bool:
    return face == 0 and ends[0][1] == ends[1][1] == coursing.bed_middle(course)


def spans_course(coursing: Coursing, course: int, ends: tuple[Point, Point]) -> bool:
    levels = {ends[0][1], ends[1][1]}
    return levels == {coursing.bed_middle(course), coursing.bed_middle(course + 1)}


def lies_in_perpend(coursing: Coursing, course: int, face: int, ends: tuple[Point, Point]) -> bool:
    rhythm = coursing.rhythm(course)
    left, right = rhythm.face_span(face)[1], rhythm.face_span(face + 1)[0]
    middle = (left + right) / 2
    upright = ends[0][0] == ends[1][0] == pytest.approx(middle, abs=1e-6)
    return upright and spans_course(coursing, course, ends)


def lies_in_brick(coursing: Coursing, course: int, face: int, ends: tuple[Point, Point]) -> bool:
    left, right = coursing.rhythm(course).face_span(face)
    return left <= ends[0][0] == ends[1][0] <= right and spans_course(coursing, course, ends)


def has_no_gap(path: CrackPath) -> bool:
    return all(before.end == after.start for before, after in pairwise(path.pieces))


def goes_course_by_course(path: CrackPath) -> bool:
    """Whether it goes from a course to a neighbour, or comes back through the same one."""
    through = [piece for piece in path.pieces if piece.along is not Along.BED]
    return all(abs(a.course - b.course) <= 1 for a, b in pairwise(through))


def is_sound(coursing: Coursing, path: CrackPath) -> bool:
    return is_on_the_net(coursing, path) and has_no_gap(path) and goes_course_by_course(path)


@given(walls(), lines, following)
def test_a_drawn_line_follows_the_net(
    coursing: Coursing, points: list[Point], follows: str
) -> None:
    path = traced(coursing, points, through_bricks=follows == "the bricks")
    assert path.pieces
    assert is_sound(coursing, path)
    assert follows == "the bricks" or not path.bricks


@given(walls(), lines)
def test_a_drawn_line_starts_and_ends_where_it_was_drawn(
    coursing: Coursing, points: list[Point]
) -> None:
    # A short upright line that reaches no mid-height is laid through its course instead.
    assume(points[0][0] != points[-1][0])
    path = traced(coursing, points)
    # An end as near to its first or last joint as a hand can draw lies on that joint.
    assert path.points[0][0] == pytest.approx(points[0][0], abs=HAND_MM + 1e-6)
    assert path.points[-1][0] == pytest.approx(points[-1][0], abs=HAND_MM + 1e-6)
    assert path.points[0][1] == pytest.approx(points[0][1], abs=coursing.gauge_mm / 2 + 1e-6)
    assert path.points[-1][1] == pytest.approx(points[-1][1], abs=coursing.gauge_mm / 2 + 1e-6)


@given(walls(), lines)
def test_a_drawn_line_is_never_far_from_its_path(coursing: Coursing, points: list[Point]) -> None:
    widest = max(max(r.faces_mm) for r in coursing.rhythms) + coursing.perpend_mm
    xs = [x for x, _ in points]
    for x, _ in traced(coursing, points).points:
        assert min(xs) - widest <= x <= max(xs) + widest


@given(walls(), lines)
def test_drawn_the_other_way_it_is_the_same_crack(coursing: Coursing, points: list[Point]) -> None:
    there, back = traced(coursing, points), traced(coursing, points[::-1])
    assert there.courses == back.courses
    assert there.length_m == pytest.approx(back.length_m)


@given(walls(), place, place, place, place, st.floats(0.05, 0.95))
def test_a_point_more_on_a_straight_line_changes_nothing(
    coursing: Coursing, x: float, y: float, dx: float, dy: float, share: float
) -> None:
    ends = [(x, y), (x + dx, y + dy)]
    between = (x + dx * share, y + dy * share)
    plain, dotted = traced(coursing, ends), traced(coursing, [ends[0], between, ends[1]])
    assert dotted.courses == plain.courses
    # Rounding may tip a place that lies exactly half-way between two perpends.
    assert dotted.joint_m == pytest.approx(plain.joint_m, abs=0.3)


@given(walls(), place, place, courses, lean, st.integers(0, 12))
def test_steps_are_on_the_net(
    coursing: Coursing, x: float, y: float, count: int, leans: str, turn_after: int
) -> None:
    path = stepped(coursing, (x, y), count, leans_right=leans == "right", turn_after=turn_after)
    assert is_sound(coursing, path)
    assert path.courses == tuple(range(coursing.course_at(y), coursing.course_at(y) + count))
    assert path.perpends == count
    assert not path.bricks


@given(walls(), place, place, courses, lean, st.integers(0, 12))
def test_steps_always_move_their_way_and_to_the_next_perpend(
    coursing: Coursing, x: float, y: float, count: int, leans: str, turn_after: int
) -> None:
    path = stepped(coursing, (x, y), count, leans_right=leans == "right", turn_after=turn_after)
    widest = max(max(r.faces_mm) for r in coursing.rhythms) + coursing.perpend_mm
    steps = [piece.start[0] for piece in path.of(Along.PERPEND)]
    for number, (before, after) in enumerate(pairwise(steps), start=1):
        rightward = (leans == "right") != (0 < turn_after <= number)
        moved = after - before if rightward else before - after
        assert 0 < moved <= widest + 1e-6


@given(walls(), place, place, courses)
def test_a_plumb_crack_stays_by_its_line(
    coursing: Coursing, x: float, y: float, count: int
) -> None:
    path = straight(coursing, (x, y), count)
    assert is_sound(coursing, path)
    assert path.perpends + len(path.bricks) == count == len(path.courses)
    widest = max(r.repeat_mm / len(r.faces_mm) for r in coursing.rhythms)
    assert all(abs(px - x) <= widest / 4 + 1e-6 for px, _ in path.points)


@given(place, st.integers(1, 40))
def test_a_plumb_crack_in_stretcher_bond_breaks_every_other_brick(x: float, pairs: int) -> None:
    # Wherever the line falls: dossier of crack geometry in stretcher bond, computed from the bond.
    path = straight(UK, (x, 5), 2 * pairs)
    assert (path.perpends, len(path.bricks)) == (pairs, pairs)


@given(walls(), st.integers(-5, 40), place, place)
def test_a_crack_along_a_bed(coursing: Coursing, course: int, left: float, right: float) -> None:
    path = along_bed(coursing, course, left, right)
    assert is_sound(coursing, path)
    assert path.joint_m == pytest.approx(abs(right - left) / 1000, abs=1e-9)
    assert path.courses == ()


@given(walls(), lines, following)
def test_lengths_fit_together(coursing: Coursing, points: list[Point], follows: str) -> None:
    path = traced(coursing, points, through_bricks=follows == "the bricks")
    assert 0 <= path.joint_m <= path.length_m + 1e-12
    assert path.length_m <= path.run_m + 1e-9


@given(walls(), lines)
def test_its_reach_on_a_bed_holds_all_its_pieces_there(
    coursing: Coursing, points: list[Point]
) -> None:
    path = traced(coursing, points)
    for piece in path.of(Along.BED):
        span = path.span_on_bed(piece.course)
        assert span is not None
        assert span[0] <= min(piece.start[0], piece.end[0])
        assert span[1] >= max(piece.start[0], piece.end[0])


def test_one_stepped_course_is_177_5_mm_of_joint() -> None:
    # Crack geometry in stretcher bond: a perpend of 65 and half a brick of bed, 112.5.
    ten, eleven = (stepped(UK, (220, 5), count).joint_m for count in (10, 11))
    assert eleven - ten == pytest.approx(0.1775)
    run = stepped(UK, (220, 5), 11).points
    rise = math.degrees(math.atan2(run[-1][1] - run[1][1], run[-1][0] - run[1][0]))
    assert rise == pytest.approx(33.7, abs=0.05)


def test_a_level_run_then_a_rising_run() -> None:
    path = traced(UK, [(0, 5), (1000, 5), (1000, 300)])
    assert path.pieces[0].along is Along.BED
    assert path.pieces[0].end == (895, 5)
    assert path.courses == (1, 2, 3, 4)


def test_a_line_falling_is_the_line_rising_turned_round() -> None:
    up, down = (traced(UK, ends) for ends in ([(0, 5), (600, 380)], [(600, 380), (0, 5)]))
    assert up.points == down.points[::-1]


def test_a_line_over_a_crest_comes_down_again() -> None:
    path = traced(UK, [(0, 5), (445, 155), (890, 5)])
    assert [piece.course for piece in path.pieces if piece.along is not Along.BED] == [1, 2, 2, 1]


def test_a_line_up_and_down_one_perpend_is_measured_once() -> None:
    path = traced(UK, [(220, 5), (220, 60), (221, 5)])
    assert path.joint_m == pytest.approx(0.066)


def test_a_line_inside_one_course_lies_on_the_nearer_bed() -> None:
    low, high = traced(UK, [(0, 20), (400, 30)]), traced(UK, [(0, 60), (400, 50)])
    assert [piece.course for piece in (*low.pieces, *high.pieces)] == [1, 2]
    assert low.joint_m == high.joint_m == 0.4


def test_a_short_upright_line_goes_through_its_course() -> None:
    assert traced(UK, [(300, 50), (300, 70)]).courses == (1,)
    assert traced(UK, [(300, 15), (300, 30)], through_bricks=True).bricks == ((1, 1),)


def test_a_line_through_bricks_breaks_them() -> None:
    path = traced(UK, [(300, 5), (300, 305)], through_bricks=True)
    assert path.bricks == ((1, 1), (3, 1))
    assert path.perpends == 2


@pytest.mark.parametrize("key", bond_keys())
def test_steps_left_and_right_mirror_each_other(key: str) -> None:
    coursing = laid(brick_format("uk_metric"), bond(key))
    right, left = (stepped(coursing, (0, 5), 8, leans_right=way) for way in (True, False))
    assert right.points[-1][0] > right.points[0][0]
    assert left.points[-1][0] < left.points[0][0]


def test_steps_turn_back_after_as_many_courses_as_said() -> None:
    xs = [p.start[0] for p in stepped(UK, (220, 5), 6, turn_after=3).of(Along.PERPEND)]
    assert xs == [220, 332.5, 445, 332.5, 220, 107.5]


def test_its_reach_on_a_bed() -> None:
    path = stepped(UK, (220, 5), 3)
    assert [path.span_on_bed(bed) for bed in (1, 2, 4, 9)] == [
        (220, 220),
        (220, 332.5),
        (445, 445),
        None,
    ]


def test_a_crack_crosses_one_course_at_least() -> None:
    for lay in (stepped, straight):
        with pytest.raises(ValueError, match="one course or more"):
            lay(UK, (0, 5), 0)
    with pytest.raises(ValueError, match="two points or more"):
        traced(UK, [(0, 0)])


@given(lines, walls())
def test_a_line_whose_every_leg_cuts_is_one_through_bricks(
    points: list[Point], coursing: Coursing
) -> None:
    every = range(1, len(points))
    through = traced(coursing, points, through_bricks=True)
    assert traced(coursing, points, cuts=every) == through
    assert traced(coursing, points, through_bricks=True, cuts=every) == through
    assert traced(coursing, points, cuts=()) == traced(coursing, points)


@given(lines, walls(), st.data())
def test_only_the_legs_that_cut_break_bricks(
    points: list[Point], coursing: Coursing, data: st.DataObject
) -> None:
    cuts = data.draw(st.sets(st.integers(1, len(points) - 1)))
    path = traced(coursing, points, cuts=cuts)
    broken = {
        brick
        for leg in cuts
        for brick in traced(coursing, points[leg - 1 : leg + 1], through_bricks=True).bricks
    }
    assert set(path.bricks) <= broken
    assert is_sound(coursing, path)


def test_a_line_that_ends_where_it_began_breaks_a_brick_only_where_every_leg_cuts() -> None:
    there_and_back = [(952.0, 0.0), (0.0, 0.0), (952.0, 0.0)]
    assert not traced(UK, there_and_back, cuts=[1]).bricks
    assert traced(UK, there_and_back, cuts=[1, 2]).bricks
    assert traced(UK, there_and_back).perpends == 1


def test_a_crack_cuts_in_its_second_leg_and_steps_in_its_first() -> None:
    path = traced(UK, [(220, 5), (445, 230), (445, 530)], cuts=[2])
    assert path.courses == (1, 2, 3, 4, 5, 6, 7)
    assert {course for course, _face in path.bricks} <= {4, 5, 6, 7}
    assert path.bricks
    assert not traced(UK, [(220, 5), (445, 230), (445, 530)]).bricks
