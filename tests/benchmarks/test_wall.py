"""How long the wall takes to paint. Skipped in the ordinary run; start with

    python -m pytest tests/benchmarks/test_wall.py --benchmark-only -s

Targets on two cores, off screen: a normal wall 700 pixels square with its brickwork kept, 6 ms; a
wall of 20,000 bricks against a floor that fills as many rectangles, by one call a colour, and
nothing else.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication

from estimator.desktop.theme.look import LOOK, load_fonts
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.board import Board
from estimator.desktop.wall.brickwork import KeptBrickwork, brick_colours
from estimator.desktop.wall.view import Room, View, fitted
from estimator.drawing.courses import TINTS, masonry_of
from estimator.drawing.shapes import Picture
from estimator.survey.survey import Elevation
from tests.desktop.wall.walls import demo, pictured, sight_of

SIDE = 700
MANY = 20_000
LARGE = QSize(2560, 1440)
"""Large enough for every brick of the large wall to be drawn as one."""
NORMAL_MS = 6.0
ROUNDS = 40


@pytest.fixture(autouse=True)
def dressed(qapp: QApplication) -> Iterator[None]:
    load_fonts()
    LOOK.apply(Scheme.LIGHT)
    yield


def best_ms(*acts: Callable[[], Any]) -> list[float]:
    """The quickest of some rounds of each, turn about, so that a busy machine slows all alike."""
    best = [float("inf")] * len(acts)
    for act in acts:
        act()
    for _round in range(ROUNDS):
        for place, act in enumerate(acts):
            start = time.perf_counter()
            act()
            best[place] = min(best[place], (time.perf_counter() - start) * 1000)
    return best


def large_picture() -> Picture:
    """A wall of stretchers, 134 courses of 150 bricks."""
    wide, high = 150 * 225.0, 134 * 75.0
    outline = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    elevation = Elevation("f", "Front", outline, datum_height_mm=5000.0)
    masonry = masonry_of(elevation)
    assert abs(sum(map(len, masonry.tinted)) - MANY) < 0.02 * MANY
    return Picture("f", "Front", masonry)


def board_with(picture: Picture, size: QSize) -> tuple[Board, QImage]:
    board = Board()
    board.resize(size)
    board.show_picture(picture)
    return board, QImage(size, QImage.Format.Format_ARGB32_Premultiplied)


@pytest.mark.parametrize("name", ["window_lime", "phone_call", "terrace", "quoin_cavity"])
def test_a_normal_wall_with_its_brickwork_kept(benchmark: Any, name: str) -> None:
    picture = pictured(sight_of(demo(name)))
    assert picture is not None
    board, image = board_with(picture, QSize(SIDE, SIDE))
    benchmark.pedantic(board.render, args=(image,), rounds=60, warmup_rounds=3)
    assert board.brickwork.painted == 1
    assert benchmark.stats.stats.min * 1000 < NORMAL_MS


def test_a_normal_wall_painted_from_nothing(benchmark: Any) -> None:
    picture = pictured(sight_of(demo("window_lime")))
    assert picture is not None
    board, image = board_with(picture, QSize(SIDE, SIDE))

    def from_nothing() -> None:
        board.brickwork = KeptBrickwork()
        board.render(image)

    benchmark.pedantic(from_nothing, rounds=40, warmup_rounds=3)


def test_the_shapes_of_a_normal_wall(benchmark: Any) -> None:
    sight = sight_of(demo("window_lime"))
    benchmark.pedantic(pictured, args=(sight,), rounds=60, warmup_rounds=3)


def test_twenty_thousand_bricks_against_bare_rectangles(benchmark: Any) -> None:
    picture = large_picture()
    room = Room(picture.masonry.bounds, LARGE.width(), LARGE.height(), 75.0)
    view = fitted(room, None)
    view = View(view.left_mm, view.top_mm, 6.4 / 75.0)
    board, image = board_with(picture, LARGE)
    kept = KeptBrickwork()
    kept.pixmap(picture, view, LARGE, 1.0)
    # A board takes its size, and with it its view, when it is first painted.
    board.render(image)
    board.view, board.brickwork = view, kept
    floor, painted, again, flat = best_ms(
        lambda: bare(image, picture, view),
        lambda: KeptBrickwork().pixmap(picture, view, LARGE, 1.0),
        lambda: board.render(image),
        lambda: flat_tint(picture),
    )
    benchmark.pedantic(board.render, args=(image,), rounds=40, warmup_rounds=3)
    assert kept.painted == 1
    benchmark.extra_info.update(floor_ms=floor, anew=painted / floor, kept=again / floor)
    print(
        f"\n{MANY} bricks on {LARGE.width()} x {LARGE.height()}: bare rectangles {floor:.1f} ms; "
        f"brickwork anew {painted:.1f} ms, {painted / floor:.2f} times; repainted with it kept "
        f"{again:.1f} ms, {again / floor:.2f} times; as a flat tint at 1200 x 800 {flat:.1f} ms",
        end="",
    )
    assert painted / floor < 3
    assert again / floor < 1


def bare(image: QImage, picture: Picture, view: View) -> None:
    """As many rectangles in as many colours, by one call for each colour."""
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    image.fill(LOOK.colour("mortar"))
    for colour, rects in zip(brick_colours(lighter=False), floor_rects(picture, view), strict=True):
        painter.setBrush(colour)
        painter.drawRects(rects)
    painter.end()


_FLOOR: list[list[QRectF]] = []


def floor_rects(picture: Picture, view: View) -> list[list[QRectF]]:
    if not _FLOOR:
        for boxes in picture.masonry.tinted:
            spots = [view.box(box) for box in boxes]
            _FLOOR.append(
                [QRectF(left, top, right - left, low - top) for left, top, right, low in spots]
            )
        assert len(_FLOOR) == TINTS
    return _FLOOR


def flat_tint(picture: Picture) -> None:
    size = QSize(1200, 800)
    room = Room(picture.masonry.bounds, size.width(), size.height(), 75.0)
    KeptBrickwork().pixmap(picture, fitted(room, None), size, 1.0)
