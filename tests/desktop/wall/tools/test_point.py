"""Pointing: everything on the wall is selected, dragged by its handles, nudged and removed."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.tools import found, handles
from estimator.masonry.region import Point
from estimator.survey.survey import Area, Crack, CrackedBrick, ThinBed, TracedRun, Treatment
from tests.desktop.wall.hand import CRACK, CTRL, SHIFT, WINDOW, Hand, hand_on, plain_wall

ESCAPE, DELETE = Qt.Key.Key_Escape, Qt.Key.Key_Delete
TRACED = Crack("b", TracedRun(((3100.0, 305.0), (3300.0, 605.0), (3100.0, 905.0))), 1.0)
REPOINT = Area("area", ((300.0, 1500.0), (1200.0, 1500.0), (1200.0, 2100.0), (300.0, 2100.0)))


@pytest.fixture
def full(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    """A wall with one of everything."""
    wall = plain_wall(
        cracks=(CRACK, TRACED),
        bricks=(CrackedBrick(14, 14, Treatment.REPLACE),),
        areas=(REPOINT,),
        thin_beds=(ThinBed(16, 400.0, 1000.0, 6.0),),
        movement_joints_mm=(3500.0,),
        damp_course_mm=155.0,
    )
    with hand_on(qtbot, tmp_path, wall) as one:
        yield one


def riser(hand: Hand) -> Point:
    """The middle of the first perpend the second crack runs up, clear of bars."""
    points = hand.picture.cracks[1].points
    low, high = next((a, b) for a, b in pairwise(points) if a[1] != b[1])
    return low[0], (low[1] + high[1]) / 2


PLACES: dict[str, Point] = {
    "front/opening/window": (2250.0, 1500.0),
    "front/area/area": (700.0, 1800.0),
    "front/thin/1": (500.0, 1130.0),
    "front/joint/1": (3500.0, 1500.0),
    "front/damp": (2500.0, 155.0),
    "front/outline/2": (3600.0, 1300.0),
    "front/outline/3": (1500.0, 2400.0),
}


@pytest.mark.parametrize("mark", PLACES)
def test_a_click_selects_what_is_there(full: Hand, mark: str) -> None:
    full.click(PLACES[mark])
    assert full.selection == mark
    assert handles.frame(full.drafting) or handles.of(full.drafting, mark)
    full.keys(ESCAPE)
    assert not full.selection


def test_cracks_bars_and_bricks_are_selected_too(full: Hand) -> None:
    for shape in (full.picture.cracks[1], full.picture.bricks[0]):
        places = {
            "front/crack/b": riser(full),
            "front/brick/14/14": (2900.0, 1020.0),
        }
        full.click(places[shape.mark])
        assert full.selection == shape.mark
    bar = full.picture.bars[0]
    full.click((bar.left + 60, bar.y))
    assert full.selection == bar.mark


def test_the_keyboard_walks_through_everything(full: Hand) -> None:
    full.column.take_focus()
    met = []
    for _press in found.every(full.drafting):
        full.keys(Qt.Key.Key_PageDown)
        met.append(full.selection)
    assert set(met) == set(found.every(full.drafting))
    assert set(PLACES) | {"front/crack/a", "front/brick/14/14"} <= set(met)
    full.keys(Qt.Key.Key_PageUp)
    assert full.selection == met[-2]


def test_an_opening_is_dragged_by_a_side_in_one_step(full: Hand) -> None:
    before = full.session.work
    full.click(PLACES["front/opening/window"])
    side = (WINDOW.left_mm + WINDOW.width_mm, WINDOW.bottom_mm + WINDOW.height_mm / 2)
    full.press(side, (side[0] + 40, side[1]), (side[0] + 110, side[1] + 30))
    assert full.session.work is before and full.drafting.is_trying
    (said,) = full.words()
    assert said.startswith("1,01") and " by 1,200 mm" in said
    full.let_go((side[0] + 110, side[1] + 30))
    (window,) = full.wall.openings
    assert window.width_mm == pytest.approx(1010, abs=20)
    assert (window.left_mm, window.height_mm) == (WINDOW.left_mm, WINDOW.height_mm)
    full.undo()
    assert full.session.work == before


def test_two_drags_are_two_steps(full: Hand) -> None:
    full.click(PLACES["front/opening/window"])
    top = (WINDOW.left_mm + WINDOW.width_mm / 2, WINDOW.bottom_mm + WINDOW.height_mm)
    full.drag(top, (top[0], top[1] - 75))
    once = full.session.work
    full.drag((top[0], top[1] - 75), (top[0], top[1] - 150))
    assert full.wall.openings[0].height_mm == WINDOW.height_mm - 150
    full.undo()
    assert full.session.work == once


def test_an_opening_is_moved_whole_and_escape_puts_it_back(full: Hand) -> None:
    before = full.session.work
    place = PLACES["front/opening/window"]
    full.click(place)
    full.press(place, (place[0] - 60, place[1] + 20), (place[0] - 225, place[1] + 75))
    assert full.drafting.plain.openings[0].left_mm < WINDOW.left_mm
    full.keys(ESCAPE)
    full.let_go(place)
    assert full.session.work is before
    assert full.drafting.plain.openings == (WINDOW,)
    full.drag(place, (place[0] - 60, place[1] + 20), (place[0] - 225, place[1] + 75))
    (moved,) = full.wall.openings
    assert (moved.width_mm, moved.height_mm) == (WINDOW.width_mm, WINDOW.height_mm)
    assert moved.bottom_mm == WINDOW.bottom_mm + 75


def test_an_opening_dragged_off_the_wall_is_refused_in_words(full: Hand) -> None:
    before = full.session.work
    place = PLACES["front/opening/window"]
    full.click(place)
    full.press(place, (place[0], place[1] + 200), (place[0], place[1] + 700))
    assert any("top of the wall" in words for words in full.words())
    full.let_go((place[0], place[1] + 700))
    assert full.session.work is before
    assert "top of the wall" in full.said[-1]


def test_a_point_of_a_crack_is_dragged(full: Hand) -> None:
    full.click(riser(full))
    point = full.joint(9, 14)
    full.drag((3300.0, 605.0), (3320.0, 640.0), point)
    run = full.wall.cracks[1].run
    assert isinstance(run, TracedRun)
    assert run.points[1] == pytest.approx(point, abs=1)
    assert run.points[0] == (3100.0, 305.0)


def test_the_wall_its_joint_its_damp_course_and_a_thin_bed_are_dragged(full: Hand) -> None:
    full.click(PLACES["front/joint/1"])
    full.drag((3500.0, 1400.0), (3450.0, 1400.0), (3400.0, 1400.0))
    assert full.wall.movement_joints_mm[0] < 3450
    full.click(PLACES["front/damp"])
    full.drag((2500.0, 155.0), (2500.0, 200.0), (2500.0, 235.0))
    assert full.wall.damp_course_mm == 230
    full.click(PLACES["front/outline/3"])
    full.drag((1500.0, 2400.0), (1500.0, 2330.0), (1500.0, 2250.0))
    assert max(y for _x, y in full.wall.outline) == 2250
    full.click(PLACES["front/thin/1"])
    full.drag((1000.0, 1130.0), (1100.0, 1130.0), (1200.0, 1130.0))
    assert full.wall.thin_beds[0].to_mm == pytest.approx(1200, abs=15)


def test_an_area_is_dragged_by_a_corner_and_moved_whole(full: Hand) -> None:
    full.click(PLACES["front/area/area"])
    full.drag((1200.0, 2100.0), (1250.0, 2150.0), (1400.0, 2250.0))
    corner = full.wall.areas[0].outline[2]
    assert corner[1] == 2250 and corner[0] == pytest.approx(1400, abs=60)
    full.drag((700.0, 1800.0), (700.0, 1850.0), (700.0, 1875.0))
    assert min(y for _x, y in full.wall.areas[0].outline) == 1575


@pytest.mark.parametrize("mark", [*PLACES, "front/crack/b", "front/bar/1"])
def test_ctrl_and_an_arrow_move_what_is_selected(full: Hand, mark: str) -> None:
    before = full.session.work
    full.drafting.select(mark)
    kind = mark.split("/")[1]
    if kind == "thin":
        full.keys("H")
    key = (
        Qt.Key.Key_Down
        if kind in ("damp", "bar") or mark.endswith("outline/3")
        else Qt.Key.Key_Left
    )
    full.keys(key, held=CTRL)
    coarse = full.session.work
    assert coarse != before, full.said
    if kind not in ("damp", "bar"):
        full.keys(key, held=CTRL | SHIFT)
        assert full.session.work != coarse, full.said
        full.undo()
    full.undo()
    assert full.session.work == before


def test_a_crack_point_is_moved_by_keys_alone(full: Hand) -> None:
    full.column.take_focus()
    full.drafting.select("front/crack/b")
    full.keys("H", "H")
    full.keys(Qt.Key.Key_Up, held=CTRL)
    run = full.wall.cracks[1].run
    assert isinstance(run, TracedRun)
    assert run.points[1] == (3300.0, 680.0)
    full.keys(Qt.Key.Key_Right, held=CTRL | SHIFT)
    moved = full.wall.cracks[1].run
    assert isinstance(moved, TracedRun) and moved.points[1] == (3301.0, 680.0)


@pytest.mark.parametrize(
    "mark",
    [
        "front/opening/window",
        "front/area/area",
        "front/thin/1",
        "front/joint/1",
        "front/damp",
        "front/crack/b",
        "front/brick/14/14",
        "front/bar/1",
    ],
)
def test_delete_takes_what_is_selected_off_in_one_step(full: Hand, mark: str) -> None:
    before = full.session.work
    count = len(full.picture.bars)
    full.drafting.select(mark)
    full.keys(DELETE)
    assert full.session.work != before, full.said
    assert not full.selection
    if mark == "front/bar/1":
        assert len(full.picture.bars) == count - 1
    else:
        assert mark not in found.every(full.drafting) or mark == "front/damp"
    full.undo()
    assert full.session.work == before


def test_a_side_of_the_wall_cannot_be_taken_off(full: Hand) -> None:
    before = full.session.work
    full.drafting.select("front/outline/2")
    full.keys(DELETE)
    assert full.session.work is before


def test_handles_that_would_lie_on_each_other_wait_for_a_nearer_look(full: Hand) -> None:
    full.drafting.select("front/crack/a")
    many = handles.of(full.drafting, "front/crack/a")
    shown = [one for one in full.drafting.tool.ghosts() if hasattr(one, "spot")]
    assert 2 <= len(shown) <= len(many)
    spots = [full.at(one.at) for one in shown]
    for number, one in enumerate(spots):
        for other in spots[number + 1 :]:
            assert (one - other).manhattanLength() >= 17


def test_all_of_what_is_selected_is_in_sight_once_its_sizes_have_taken_their_room(
    full: Hand, qtbot: QtBot
) -> None:
    full.board.zoom(2.0)
    qtbot.waitUntil(lambda: not full.board.is_moving)
    full.click(riser(full))
    assert full.selection.endswith("/crack/b")

    def is_in_sight() -> bool:
        ends = [full.at(point) for point in full.picture.cracks[1].points]
        return all(full.board.rect().contains(end) for end in ends)

    qtbot.waitUntil(is_in_sight)


def test_delete_is_offered_only_where_it_removes_something(hand: Hand) -> None:
    hand.drafting.select("front/outline/1")
    assert "Drag a handle" in hand.hint and "Delete" not in hand.hint
    hand.drafting.select("front/opening/window")
    assert "Delete" in hand.hint
