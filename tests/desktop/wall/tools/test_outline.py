"""The wall pulled by hand and by keys: sides, corners, gable, ground, ends, movement joints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.tools.frame import Handle, Part
from estimator.desktop.wall.tools.ghosts import Said
from estimator.desktop.wall.tools.outline import WallTool
from estimator.quoting.wall_edits.outline import bounds_of, gable_of
from estimator.survey.survey import Basis, Elevation, Opening, Party, Site, Survey, WallEnd
from tests.desktop.wall.at_the_wall import Hands, Key, hands_on

BOX = ((0.0, 0.0), (4500.0, 0.0), (4500.0, 2700.0), (0.0, 2700.0))
BRICK, COURSE = 225.0, 75.0
"""A UK metric brick with its perpend, and a course with its bed [mm]."""


def bare() -> Survey:
    front = Elevation("front", "Front", BOX)
    return Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[Hands]:
    with hands_on(qtbot, tmp_path, bare()) as found:
        found.take("wall")
        yield found


def tool(hands: Hands) -> WallTool:
    found = hands.drafting.tool
    assert isinstance(found, WallTool)
    return found


def handle(hands: Hands, part: Part) -> Handle:
    return next(one for one in tool(hands)._handles() if one.part is part)


def said(hands: Hands) -> str:
    return "\n".join(one.words for one in tool(hands).ghosts() if isinstance(one, Said))


def test_a_side_goes_by_whole_bricks_and_is_undone_at_once(hands: Hands) -> None:
    x, y = handle(hands, Part.RIGHT).at
    hands.drag((x, y), (x + 100, y), (x + 250, y + 3), (x + 330, y + 5))
    assert bounds_of(hands.wall.outline) == (0, 0, 4500 + BRICK, 2700)
    hands.undo()
    assert hands.wall.outline == BOX
    assert not hands.session.history.canUndo()


def test_the_size_is_said_beside_the_hand(hands: Hands) -> None:
    x, y = handle(hands, Part.RIGHT).at
    hands.drag((x, y), (x + 230, y), let_go=False)
    assert said(hands) == "4.725 m · 21 bricks"
    assert hands.wall.outline == BOX, "only tried out until it is let go"
    QTest.keyClick(hands.board, Key.Key_Escape)
    assert not hands.drafting.is_trying


def test_shift_pulls_by_single_millimetres(hands: Hands) -> None:
    x, y = handle(hands, Part.RIGHT).at
    board, shift = hands.board, Qt.KeyboardModifier.ShiftModifier
    start = hands.at((x, y))
    QTest.mousePress(board, Qt.MouseButton.LeftButton, shift, start)
    to = hands.at((x + 137, y))
    tool(hands).is_shifted = True
    assert board.view is not None
    wanted = round(board.view.place(to.x(), to.y())[0] - board.view.place(start.x(), 0)[0])
    tool(hands).draw(board.view.place(to.x(), to.y()))
    tool(hands).release(board.view.place(to.x(), to.y()))
    hands.settle()
    assert bounds_of(hands.wall.outline)[2] == pytest.approx(4500 + wanted, abs=1)


def test_a_corner_pulls_width_and_height(hands: Hands) -> None:
    x, y = handle(hands, Part.TOP_RIGHT).at
    hands.drag((x, y), (x - 440, y + 160))
    assert bounds_of(hands.wall.outline) == (0, 0, 4500 - 2 * BRICK, 2700 + 2 * COURSE)


def test_the_middle_of_the_top_makes_a_gable_and_takes_it_off(hands: Hands) -> None:
    x, y = handle(hands, Part.RIDGE).at
    hands.drag((x, y), (x + 20, y + 300))
    assert gable_of(hands.wall.outline) == (2700, 3000, 2250)
    hands.still()
    x, y = handle(hands, Part.RIDGE).at
    hands.drag((x, y), (x, y - 400))
    assert hands.wall.outline == BOX


def test_a_gable_pulled_wider_keeps_its_ridge_in_the_middle(hands: Hands) -> None:
    x, y = handle(hands, Part.RIDGE).at
    hands.drag((x, y), (x, y + 300))
    x, y = handle(hands, Part.RIGHT).at
    hands.drag((x, y), (x + 450, y))
    assert gable_of(hands.wall.outline) == (2700, 3000, 2475)


def test_clicking_an_end_goes_on_to_what_it_may_be(hands: Hands) -> None:
    at = handle(hands, Part.LEFT).at
    found = []
    for _click in range(4):
        hands.click(handle(hands, Part.LEFT).at)
        found.append(hands.wall.left_end)
    assert found == [
        WallEnd.QUOIN,
        WallEnd.STOPPED,
        WallEnd.MOVEMENT_JOINT,
        WallEnd.CONTINUES,
    ]
    assert hands.wall.right_end is WallEnd.CONTINUES
    assert at == handle(hands, Part.LEFT).at


def test_ground_and_damp_course_are_pulled(hands: Hands) -> None:
    x, y = handle(hands, Part.GROUND).at
    hands.drag((x, y), (x, y - 100))
    assert hands.wall.datum_height_mm == 250
    x, y = handle(hands, Part.DAMP).at
    hands.drag((x, y), (x, 155))
    assert hands.wall.damp_course_mm == 155, "in the middle of the bed under course 3"


def test_j_and_a_click_set_a_movement_joint_which_delete_takes_out(hands: Hands) -> None:
    hands.press(Key.Key_J)
    hands.click((2700, 1200))
    assert hands.wall.movement_joints_mm == (2700,)
    assert hands.drafting.selection == "front/joint/1"
    assert hands.size("From the left").line.text() == "2,700 mm"
    x, y = handle(hands, Part.JOINT).at
    hands.drag((x, y), (x + 230, y))
    assert hands.wall.movement_joints_mm == (2925,)
    hands.press(Key.Key_Delete)
    assert hands.wall.movement_joints_mm == ()


def test_by_keys_alone(hands: Hands) -> None:
    hands.press(Key.Key_Right)
    assert tool(hands).near is not None and tool(hands).near.part is Part.LEFT
    for _press in range(12):
        hands.press(Key.Key_Right)
    near = tool(hands).near
    assert near is not None and near.part is Part.RIGHT
    hands.press(Key.Key_Return, Key.Key_Right, Key.Key_Right, Key.Key_Return)
    assert bounds_of(hands.wall.outline)[2] == 4500 + 2 * BRICK
    hands.press(Key.Key_Return, Key.Key_Left, Key.Key_Escape)
    assert bounds_of(hands.wall.outline)[2] == 4500 + 2 * BRICK
    hands.press(Key.Key_Return, Key.Key_Return)
    assert hands.wall.right_end is WallEnd.QUOIN


def test_a_joint_by_keys_alone(hands: Hands) -> None:
    hands.press(Key.Key_J, Key.Key_Right, Key.Key_Right, Key.Key_Return)
    (x,) = hands.wall.movement_joints_mm
    assert abs(x - round(x / (BRICK / 2)) * BRICK / 2) <= 0.5, "a half brick, to the millimetre"


def test_what_cannot_be_is_said_beside_the_hand_and_changes_nothing(
    qtbot: QtBot, tmp_path: Path
) -> None:
    survey = bare()
    window = Opening("w", 3000, 900, 1200, 1050)
    front = replace(survey.elevations[0], openings=(window,))
    with hands_on(qtbot, tmp_path, replace(survey, elevations=(front,))) as hands:
        hands.take("wall")
        x, y = handle(hands, Part.RIGHT).at
        hands.drag((x, y), (2000, y), let_go=False)
        assert "window" in said(hands).lower() or "opening" in said(hands).lower()
        QTest.mouseRelease(hands.board, Qt.MouseButton.LeftButton, pos=hands.at((2000, y)))
        hands.settle()
        assert hands.wall.outline == BOX
        assert hands.column.trouble.isVisible()


def test_a_job_nobody_told_of_begins_with_a_click(qtbot: QtBot, tmp_path: Path) -> None:
    with hands_on(qtbot, tmp_path) as hands:
        assert not hands.survey.drawn
        hands.take("wall")
        assert "click to begin" in hands.column.hint.text()
        hands.press(Key.Key_Return)
        assert hands.survey.drawn
        assert bounds_of(hands.wall.outline) == (0, 0, 4500, 2700)
        assert not hands.wall.cracks and not hands.wall.openings
        hands.undo()
        assert not hands.survey.drawn


def test_a_first_wall_is_dragged_as_large_as_it_is(qtbot: QtBot, tmp_path: Path) -> None:
    with hands_on(qtbot, tmp_path) as hands:
        hands.take("wall")
        hands.drag((0, 0), (1000, 900), (1800, 1500))
        wide, high = bounds_of(hands.wall.outline)[2:]
        brick = (wide / BRICK, high / COURSE)
        assert brick == pytest.approx((round(brick[0]), round(brick[1])), abs=0.2)
        assert 1500 < wide < 2100 and 1200 < high < 1800
