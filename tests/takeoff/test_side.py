from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from estimator.survey.survey import Brickwork, CrackedBrick, Treatment, WallBuild
from estimator.takeoff.stretches import Box
from tests.takeoff.strategies import elevations
from tests.takeoff.walls import side, wall


@given(elevations(), st.integers(1, 30), st.integers(1, 20))
def test_a_brick_lies_where_the_wall_says(front: object, course: int, place: int) -> None:
    laid = side(front)  # type: ignore[arg-type]
    brick = CrackedBrick(course, place, Treatment.REPLACE)
    face, box = laid.brick_at(course, place)
    assert face == laid.wall.face_of(brick)
    assert box == Box(*laid.wall.box_of(brick))
    assert laid.perpend_mark(course, face) == f"front/perpend/{course}/{place}"


def test_a_perpend_stands_right_of_its_face() -> None:
    laid = side(wall())
    face, box = laid.brick_at(2, 3)
    assert laid.perpend_box(2, face) == Box(box.right, box.bottom, box.right + 10, box.top)


def test_slots_are_deeper_in_a_solid_wall() -> None:
    assert side(wall(brickwork=Brickwork(build=WallBuild.SOLID))).slot_depth_mm == 35
    assert side(wall()).slot_depth_mm == 25


def test_conditions_are_made_once_for_a_depth() -> None:
    laid = side(wall())
    assert laid.conditions(20) is laid.conditions(20.0)
    assert laid.conditions(20).depth_mm == 20
