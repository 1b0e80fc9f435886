"""Printed or seen in grey, the wall still tells a crack from a bar, and each brick from the next.

WCAG 2.2, 1.4.1 (use of colour): what is looked at is the drawing as the desk paints it, without its
colours. Each mark is painted alone over the same brickwork, so that what differs is its shape.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, QSize
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.board import Board
from estimator.drawing.courses import Box, masonry_of
from estimator.drawing.shapes import (
    BarShape,
    BrickShape,
    BrickState,
    CrackShape,
    Picture,
    Shape,
)
from tests.desktop.wall.walls import demo

SIZE = QSize(720, 560)
LEAST_STROKES = 40
WHOLE_MM = 180.0
ROUND_PX = 10
"""How much is looked at round a mark [px]."""
INKED = 24
"""A grey this far from the bare wall's is a stroke; brickwork itself is painted alike each time."""
APART = 0.25
"""Share of all strokes of two marks that only one of them has."""
SCHEMES = (Scheme.LIGHT, Scheme.DARK)


@pytest.fixture
def board(qapp: QApplication) -> Board:
    made = Board()
    made.resize(SIZE)
    made.show_picture(bare())
    # A view that somebody chose stays while the wall is the same: every mark is seen from there.
    made.zoom(1.6, QPointF(SIZE.width() / 2, SIZE.height() / 2))
    return made


def bare() -> Picture:
    """A wall without a mark on it."""
    return Picture("f", "Front", masonry_of(demo("terrace").elevations[0]))


def place() -> tuple[Box, Box]:
    """A whole brick in the middle of the wall, and the bed over it for three bricks."""
    masonry = bare().masonry
    middle = ((masonry.wall[0] + masonry.wall[2]) / 2, (masonry.wall[1] + masonry.wall[3]) / 2)
    whole = [one for tint in masonry.tinted for one in tint if one[2] - one[0] > WHOLE_MM]
    brick = min(whole, key=lambda one: abs(one[0] - middle[0]) + abs(one[1] - middle[1]))
    bed = brick[3] + masonry.bed_mm / 2
    return brick, (brick[0], bed, brick[0] + 3 * (brick[2] - brick[0]), bed)


def painted(board: Board, shape: Shape | None, box: Box) -> tuple[bytes, int]:
    """What is round a box of the wall, with one mark on it: grey values, and how wide a row is."""
    picture = bare()
    if isinstance(shape, CrackShape):
        picture = replace(picture, cracks=(shape,))
    elif isinstance(shape, BarShape):
        picture = replace(picture, bars=(shape,))
    elif isinstance(shape, BrickShape):
        picture = replace(picture, bricks=(shape,))
    board.show_picture(picture)
    assert board.view is not None
    left, top, right, bottom = (round(edge) for edge in board.view.box(box))
    near = QRect(QPoint(left, top), QPoint(right, bottom))
    near = near.adjusted(-ROUND_PX, -ROUND_PX, ROUND_PX, ROUND_PX)
    assert board.rect().contains(near)
    plain = board.grab(near).toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    wide, step = plain.width(), plain.bytesPerLine()
    held = bytes(plain.constBits())
    rows = (held[row * step : row * step + wide] for row in range(plain.height()))
    return b"".join(rows), wide


def strokes(board: Board, shape: Shape) -> dict[tuple[int, int], int]:
    """Where a mark changes the grey of the wall: row, column, and by how much."""
    box = place()[isinstance(shape, CrackShape | BarShape)]
    (without, wide), (with_it, _wide) = painted(board, None, box), painted(board, shape, box)
    return {
        divmod(at, wide): after - before
        for at, (before, after) in enumerate(zip(without, with_it, strict=True))
        if abs(after - before) > INKED
    }


def apart(one: dict[tuple[int, int], int], two: dict[tuple[int, int], int]) -> float:
    """Share of the places either mark strokes that the other leaves, or strokes the other way."""
    both = one.keys() | two.keys()
    unlike = [at for at in both if abs(one.get(at, 0) - two.get(at, 0)) > INKED]
    return len(unlike) / len(both)


def marks() -> dict[str, Shape]:
    """A crack and a bar along one bed, sure and likely, and one brick in each state."""
    brick, (left, bed, right, _bed) = place()
    line = ((left, bed), (right, bed))
    ends, length = (False, False), right - left
    found: dict[str, Shape] = {
        "crack": CrackShape("f/crack/a", "", line, (), ()),
        "likely crack": CrackShape("f/crack/a", "", (), line, ()),
        "bar": BarShape("f/bar/1", left, right, bed, ends, 12, length, ("a",), False),
        "guessed bar": BarShape("f/bar/1", left, right, bed, ends, 12, length, ("a",), True),
    }
    for state in BrickState:
        found[state.value] = BrickShape("f/brick/12.3", brick, state, 12, 3, False)
    return found


LINES = ("crack", "likely crack", "bar", "guessed bar")
BRICKS = tuple(state.value for state in BrickState)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_marks_differ_in_shape_in_grey(board: Board, scheme: Scheme) -> None:
    LOOK.apply(scheme)
    seen = {name: strokes(board, shape) for name, shape in marks().items()}
    assert not [name for name, places in seen.items() if len(places) < LEAST_STROKES]
    shares = {
        pair: apart(seen[pair[0]], seen[pair[1]])
        for pair in (*combinations(LINES, 2), *combinations(BRICKS, 2))
    }
    assert not {pair: share for pair, share in shares.items() if share < APART}


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_mark_is_no_further_from_itself_than_nothing(board: Board, scheme: Scheme) -> None:
    """The measure itself: the same mark painted twice differs nowhere."""
    LOOK.apply(scheme)
    for shape in marks().values():
        assert apart(strokes(board, shape), strokes(board, shape)) == 0


@pytest.mark.parametrize("scheme", SCHEMES)
def test_only_a_bar_has_upright_ends(board: Board, scheme: Scheme) -> None:
    """A crack along a bed and a bar in it: the ends tell them apart, whatever their colours."""
    LOOK.apply(scheme)
    found = marks()
    tall = {name: len({row for row, _ in strokes(board, found[name])}) for name in LINES}
    assert min(tall["bar"], tall["guessed bar"]) >= 1.5 * max(tall["crack"], tall["likely crack"])
