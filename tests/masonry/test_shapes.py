"""The bricks that screen and paper draw."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings

from estimator.masonry.bond import bond
from estimator.masonry.brick import brick_format
from estimator.masonry.coursing import Coursing, laid
from estimator.masonry.joints import joints_in
from estimator.masonry.region import NOWHERE, Region
from estimator.masonry.shapes import Face, brick_faces
from tests.masonry.oracle import panels, walls

UK = laid(brick_format("uk_metric"), bond("stretcher"))


def area(face: Face) -> float:
    return (face.right - face.left) * (face.top - face.bottom)


@settings(max_examples=60)
@given(walls(), panels())
def test_bricks_of_a_course_fill_it_but_for_the_perpends(
    coursing: Coursing, region: Region
) -> None:
    shown: dict[int, float] = {}
    for face in brick_faces(coursing, region):
        shown[face.course] = shown.get(face.course, 0.0) + face.right - face.left
    for course, brick in shown.items():
        spans = region.spans_at(coursing.course_middle(course))
        upto = coursing.rhythm(course).upto
        perpend = sum(upto(right) - upto(left) for left, right in spans)
        width = sum(right - left for left, right in spans)
        assert brick + perpend == pytest.approx(width, abs=1e-5)


@settings(max_examples=60)
@given(walls(), panels())
def test_bricks_run_from_left_to_right_and_never_overlap(
    coursing: Coursing, region: Region
) -> None:
    faces = brick_faces(coursing, region)
    assert all(face.left < face.right and face.bottom < face.top for face in faces)
    for one, two in pairwise(faces):
        assert one.course < two.course or one.right <= two.left


@given(walls())
def test_in_whole_courses_bricks_and_joints_make_the_wall(coursing: Coursing) -> None:
    region = Region.rectangle(37.5, 0, 2400, coursing.gauge_mm * 8)
    brick = sum(area(face) for face in brick_faces(coursing, region))
    mortar = joints_in(coursing, region).joint_area_m2 * 1e6
    assert brick + mortar == pytest.approx(region.area_mm2, rel=1e-9)


def test_a_brick_cut_by_an_opening_shows_on_both_sides() -> None:
    wall = Region.rectangle(0, 0, 450, 75).without(Region.rectangle(50, 0, 150, 75))
    assert [(f.number, f.left, f.right) for f in brick_faces(UK, wall)] == [
        (0, 0, 50),
        (0, 150, 215),
        (1, 225, 440),
    ]


def test_under_a_gable_the_ends_are_cut() -> None:
    gable = Region.of([(0, 0), (1800, 0), (900, 900)])
    faces = [face for face in brick_faces(UK, gable) if face.course == 3]
    assert (faces[0].left, faces[-1].right) == (192.5, 1607.5)


def test_nothing_is_drawn_of_nowhere() -> None:
    assert brick_faces(UK, NOWHERE) == ()
