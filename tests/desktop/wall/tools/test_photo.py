"""The photograph's tool: a dark line followed between two clicks, offered, taken or dropped."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.tools.photo import PhotoTool
from tests.desktop.wall.photos.desk import PhotoHands, photo_hands
from tests.desktop.wall.photos.scenes import CRACK, LONG_OF_CRACK, bare_wall

Key = Qt.Key


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[PhotoHands]:
    with photo_hands(qtbot, tmp_path / "file", bare_wall()) as made:
        made.drop_photograph(tmp_path)
        made.mark()
        made.finish()
        yield made


def tool(hands: PhotoHands) -> PhotoTool:
    found = hands.drafting.tool
    assert isinstance(found, PhotoTool)
    return found


def test_a_dark_line_between_two_clicks_is_offered_and_taken(hands: PhotoHands) -> None:
    """The painted crack is found from end to end, and as long as it was painted."""
    QTest.keyClick(hands.board, Key.Key_L)
    hands.click(CRACK[0])
    assert hands.survey.elevations[0].cracks == ()
    hands.click(CRACK[-1])
    hands.qtbot.waitUntil(lambda: tool(hands).following.offer is not None, timeout=20_000)
    offer = tool(hands).following.offer
    assert offer is not None
    assert offer.is_believed
    assert hands.survey.elevations[0].cracks == ()
    QTest.keyClick(hands.board, Key.Key_Return)
    hands.settle()
    picture = hands.drafting.picture()
    assert picture is not None
    (crack,) = picture.cracks
    along = sum(math.dist(a, b) for a, b in pairwise(crack.points))
    assert along == pytest.approx(LONG_OF_CRACK, rel=0.01)
    hands.undo()
    assert hands.survey.elevations[0].cracks == ()


def test_where_there_is_no_line_the_offer_says_so(hands: PhotoHands) -> None:
    QTest.keyClick(hands.board, Key.Key_L)
    hands.click((2400.0, 1700.0))
    hands.click((2950.0, 1950.0))
    hands.qtbot.waitUntil(lambda: tool(hands).following.offer is not None, timeout=20_000)
    offer = tool(hands).following.offer
    assert offer is not None
    assert not offer.is_believed
    assert any("may be a joint" in getattr(one, "words", "") for one in tool(hands).ghosts())


def test_escape_drops_the_offer_and_then_stops_following(hands: PhotoHands) -> None:
    QTest.keyClick(hands.board, Key.Key_L)
    hands.click(CRACK[0])
    QTest.keyClick(hands.board, Key.Key_Escape)
    assert tool(hands).following.start is None
    assert tool(hands).following.is_on
    QTest.keyClick(hands.board, Key.Key_Escape)
    assert not tool(hands).following.is_on
    assert hands.drafting.tool.name == "photo"
    assert not hands.session.work.survey.elevations[0].cracks


def test_off_the_photograph_nothing_is_followed(hands: PhotoHands) -> None:
    said: list[str] = []
    hands.drafting.said.connect(said.append)
    QTest.keyClick(hands.board, Key.Key_L)
    hands.album.hide(hands.photo, hidden=True)
    hands.click(CRACK[0])
    hands.click(CRACK[-1])
    assert any("no photograph lies to scale" in one.lower() for one in said)


def test_the_tool_puts_down_what_it_had_in_hand(hands: PhotoHands) -> None:
    hands.album.marking.begin(hands.photo)
    assert hands.pane.isVisible()
    QTest.mouseClick(hands.column.rail.buttons["point"], Qt.MouseButton.LeftButton)
    hands.settle()
    assert not hands.pane.isVisible()
    assert hands.board.isVisible()
    assert hands.drafting.selection == ""


def test_the_tool_begins_with_the_points_of_a_photograph_that_has_none(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with photo_hands(qtbot, tmp_path / "file", bare_wall()) as hands:
        hands.take("photo")
        assert "Drop a photograph of this wall here" in hands.photo_form.empty.text()
        hands.drop_photograph(tmp_path)
        hands.take("point")
        hands.take("photo")
        assert hands.pane.isVisible()
