"""Dimensions on the board: only of what is seen, in rows that run into nothing, asked for by D."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QFontMetricsF
from pytestqt.qtbot import QtBot

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import dimension_strokes
from estimator.desktop.wall.view import Room, View, fitted
from estimator.drawing.dimensions import Dimension, occupied
from estimator.drawing.shapes import Picture
from tests.desktop.wall.hand import Hand, hand_on, plain_wall
from tests.desktop.wall.walls import demo, pictured, sight_of

SIZES = ((588, 560), (360, 480), (1068, 880))
WALLS = ("window_lime", "terrace", "quoin_cavity")


def laid(name: str, size: tuple[int, int]) -> tuple[Picture, View, dimension_strokes.Rows]:
    picture = pictured(sight_of(demo(name)))
    assert picture is not None
    masonry = picture.masonry
    view = fitted(Room(masonry.bounds, *size, masonry.gauge_mm), picture.work)
    return picture, view, dimension_strokes.laid_out(picture, view, QSize(*size))


def crowded(dimensions: Sequence[Dimension], view: View) -> Iterator[tuple[Dimension, Dimension]]:
    metrics = QFontMetricsF(LOOK.font(dimension_strokes.WORD_PX))
    taken = [
        (one, occupied(one, metrics.horizontalAdvance(one.words) / view.per_mm))
        for one in dimensions
    ]
    for number, (one, mine) in enumerate(taken):
        for other, its in taken[number + 1 :]:
            if one.row == other.row and mine[0] < its[1] - 1e-6 and its[0] < mine[1] - 1e-6:
                yield one, other


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", WALLS)
def test_only_what_is_wholly_seen_is_dimensioned_and_no_words_run_together(
    name: str, size: tuple[int, int]
) -> None:
    _picture, view, rows = laid(name, size)
    assert rows.below or rows.right
    for one in rows.below:
        ends = [view.at(x, 0)[0] for x in one.span]
        assert min(ends) >= -2 and max(ends) <= rows.edge + 2
    for one in rows.right:
        ends = [view.at(0, y)[1] for y in one.span]
        assert min(ends) >= -2 and max(ends) <= rows.foot + 2
    for some in (rows.below, rows.right):
        assert not list(crowded(some, view))
        assert {one.row for one in some} == set(range(len({one.row for one in some})))


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with hand_on(qtbot, tmp_path, plain_wall()) as one:
        yield one


def test_d_shows_dimensions_and_hides_them(hand: Hand) -> None:
    hand.column.take_focus()
    hand.take("crack")
    plain = hand.board.grab().toImage()
    hand.keys("D")
    assert hand.board.grab().toImage() != plain
    hand.keys("D")
    assert hand.board.grab().toImage() == plain


def test_the_wall_tool_shows_them_by_itself(hand: Hand) -> None:
    hand.take("wall")
    hand.board.grab()
    view = hand.board.view
    assert view is not None
    rows = hand.board._dimensioned(view)
    assert rows is not None
    assert any(one.words == "900" for one in rows.below), "the window"
