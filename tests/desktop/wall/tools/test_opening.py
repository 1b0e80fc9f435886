"""Windows, doors and vents drawn by hand and by keys."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.particulars.opening_form import OpeningForm, OpeningToolForm
from estimator.desktop.wall.tools.ghosts import Said, Trial
from estimator.desktop.wall.tools.opening import OpeningTool
from tests.desktop.wall.at_the_wall import Hands, Key, hands_on
from tests.desktop.wall.tools.test_outline import bare


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[Hands]:
    with hands_on(qtbot, tmp_path, bare()) as found:
        found.take("opening")
        yield found


def kind(hands: Hands) -> str:
    tool = hands.drafting.tool
    assert isinstance(tool, OpeningTool)
    return tool.kind


def test_a_box_is_a_window_on_half_bricks_and_courses(hands: Hands) -> None:
    hands.drag((1100, 880), (1500, 1200), (2300, 1930))
    (window,) = hands.wall.openings
    assert window.kind == "window"
    assert window.bottom_mm % 75 == 0 and window.height_mm % 75 == 0
    # So many half bricks and one joint more: 112.5 mm each and 10 mm, rounded to a millimetre.
    halves = (window.width_mm - 10) / 112.5
    assert halves == pytest.approx(round(halves), abs=0.01)
    assert hands.drafting.selection == f"front/opening/{window.id}"
    hands.undo()
    assert not hands.wall.openings


def test_the_size_is_said_in_mm_and_in_bricks_and_courses(hands: Hands) -> None:
    hands.drag((1100, 900), (2300, 1950), let_go=False)
    (words,) = [one.words for one in hands.drafting.tool.ghosts() if isinstance(one, Said)]
    size, count = words.split("\n")
    assert size.endswith(" × 1,050 mm")
    assert count.endswith("bricks × 14 courses")
    QTest.keyClick(hands.board, Key.Key_Escape)
    assert not hands.drafting.is_trying and not hands.wall.openings


def test_a_click_sets_a_usual_window(hands: Hands) -> None:
    hands.click((2250, 1500))
    (window,) = hands.wall.openings
    assert (window.width_mm, window.height_mm) == (1200, 1050)
    assert window.left_mm < 2250 < window.left_mm + 1200


def test_a_door_stands_on_the_foot_of_the_wall(hands: Hands) -> None:
    hands.press(Key.Key_2)
    assert kind(hands) == "door"
    hands.drag((1000, 600), (1900, 2100))
    (door,) = hands.wall.openings
    assert (door.kind, door.bottom_mm) == ("door", 0)
    hands.drafting.select("")
    hands.click((3500, 1500))
    usual = hands.wall.openings[-1]
    assert (usual.bottom_mm, usual.width_mm, usual.height_mm) == (0, 900, 2100)


def test_a_vent_takes_the_place_of_a_brick(hands: Hands) -> None:
    hands.press(Key.Key_3)
    hands.click((1000, 300))
    (vent,) = hands.wall.openings
    assert (vent.width_mm, vent.height_mm) == (215, 65)
    assert vent.bottom_mm % 75 == 10, "on top of a bed"


def test_the_buttons_below_choose_the_kind_too(hands: Hands) -> None:
    button = next(
        one
        for one in hands.form.findChildren(type(hands.form.fields[0].buttons["door"]))  # type: ignore[attr-defined]
        if one.text() == "Door"
    )
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert kind(hands) == "door"
    hands.column.take_focus()
    hands.press(Key.Key_1)
    assert hands.form.fields[0].buttons["window"].isChecked()  # type: ignore[attr-defined]


def test_by_keys_alone(hands: Hands) -> None:
    hands.press(Key.Key_Return, Key.Key_Right, Key.Key_Right, Key.Key_Right)
    for _course in range(4):
        hands.press(Key.Key_Up)
    assert not hands.wall.openings
    hands.press(Key.Key_Return)
    (window,) = hands.wall.openings
    assert window.height_mm == 300
    hands.press(Key.Key_Delete)
    assert not hands.wall.openings


def test_a_press_on_an_opening_selects_it(hands: Hands) -> None:
    hands.click((2250, 1500))
    (window,) = hands.wall.openings
    hands.drafting.select("")
    hands.click((2250, 1500))
    assert hands.wall.openings == (window,)
    assert hands.drafting.selection.endswith(window.id)


def test_what_a_click_would_make_is_offered_before_it_is_pressed(hands: Hands) -> None:
    place = (2250.0, 1500.0)
    QTest.mouseMove(hands.board, hands.at(place))
    (words,) = [one.words for one in hands.drafting.tool.ghosts() if isinstance(one, Said)]
    assert words == "Window"
    (offered,) = [one for one in hands.drafting.tool.ghosts() if isinstance(one, Trial)]
    hands.click(place)
    (window,) = hands.wall.openings
    assert offered.points[0] == pytest.approx((window.left_mm, window.bottom_mm), abs=1)
    hands.drafting.tool.hover(place)
    assert not hands.drafting.tool.ghosts(), "nothing is offered over an opening"


def test_a_tool_taken_up_again_offers_its_choices_and_leaves_what_it_drew(hands: Hands) -> None:
    hands.click((2250, 1500))
    (window,) = hands.wall.openings
    assert isinstance(hands.form, OpeningForm)
    hands.column.rail.buttons["opening"].click()
    hands.settle()
    assert isinstance(hands.form, OpeningToolForm) and not hands.drafting.selection
    assert hands.wall.openings == (window,)


def test_another_tool_never_pulls_at_the_opening_that_was_drawn(hands: Hands) -> None:
    """A crack from the corner of a door began by pulling the door wider."""
    hands.click((2250, 1500))
    (window,) = hands.wall.openings
    hands.take("crack")
    assert not hands.drafting.selection
    corner = (window.left_mm + window.width_mm, window.bottom_mm)
    hands.drag(corner, (corner[0] + 300, corner[1] - 300))
    assert hands.wall.openings == (window,)


def test_the_whole_wall_stays_in_sight_while_sizes_take_room(hands: Hands) -> None:
    """The foot of the wall, where doors stand, lay under the sizes of the window before."""
    hands.board.fit()
    hands.still()
    hands.click((2250, 1500))
    hands.settle()
    hands.still()
    assert hands.board.view is not None
    for corner in ((0.0, 0.0), (0.0, 2700.0)):
        assert 0 <= hands.board.view.at(*corner)[1] <= hands.board.height()
