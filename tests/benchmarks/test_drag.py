"""How long one frame takes while a hand drags on the wall. Skipped in the ordinary run; start with

    python -m pytest tests/benchmarks/test_drag.py --benchmark-only -s

Target on two cores, off screen: a point of a crack on the terrace demo, moved, measured anew and
painted, 16 ms at the ninety-fifth of a hundred frames. The column is as wide as at 1366 by 768.
"""

from __future__ import annotations

import gc
import math
import os
import statistics
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK, load_fonts
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.column import WallColumn
from estimator.masonry.region import Point
from estimator.quoting.wall_edits import cracks
from tests.desktop.fakes import demo_survey, session_on

FRAMES = 200
P95_MS = 16.0


@pytest.fixture(autouse=True)
def dressed(qapp: QApplication) -> Iterator[None]:
    load_fonts()
    LOOK.apply(Scheme.LIGHT)
    # As the desk has it: garbage is cleared from a timer, never in the middle of a drag.
    gc.disable()
    yield
    gc.enable()


@pytest.fixture
def column(qtbot: QtBot, tmp_path: Path) -> Iterator[WallColumn]:
    session: Session = session_on(tmp_path, demo_survey("terrace"))
    made = WallColumn(session)
    qtbot.addWidget(made)
    made.resize(700, 640)
    made.show()
    qtbot.waitExposed(made)
    yield made
    session.filing.close()


def spot(column: WallColumn, place: Point) -> QPoint:
    view = column.board.view
    assert view is not None
    return QPointF(*view.at(*place)).toPoint()


def frames_ms(column: WallColumn, start: Point, way: Callable[[float], Point]) -> list[float]:
    """Press, drag so many frames and let go; the time each frame took to be painted [ms]."""
    board, took = column.board, []
    QTest.mousePress(
        board, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot(column, start)
    )
    for number in range(1, FRAMES + 1):
        by = way(number / FRAMES)
        to = spot(column, (start[0] + by[0], start[1] + by[1]))
        begin = time.perf_counter()
        QTest.mouseMove(board, to)
        board.repaint()
        took.append((time.perf_counter() - begin) * 1000)
        assert column.drafting.is_trying, column.drafting.tool.trouble
    QTest.mouseRelease(board, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, to)
    return took


def round_about(share: float) -> Point:
    """A way out and back, up and down, that never stands still."""
    turn = 2 * math.pi * share
    return 40 + 400 * math.sin(turn), 220 * math.sin(3 * turn) + 40


@pytest.mark.parametrize("crack", ["a", "c"])
def test_a_point_of_a_crack_is_dragged(benchmark: Any, column: WallColumn, crack: str) -> None:
    drafting = column.drafting
    column.rail.take("point")
    drafting.select(f"{drafting.side_id}/crack/{crack}")
    QApplication.processEvents()
    start = cracks.points_of(drafting.work, drafting.side_id, crack)[-1]
    took = benchmark.pedantic(frames_ms, args=(column, start, round_about), rounds=1, iterations=1)
    said = sorted(took)
    p95, middle = said[round(0.95 * len(said)) - 1], statistics.median(took)
    benchmark.extra_info.update(p95_ms=p95, median_ms=middle, worst_ms=said[-1])
    print(
        f"\ncrack {crack}: {FRAMES} frames, median {middle:.1f} ms, p95 {p95:.1f} ms, "
        f"worst {said[-1]:.1f} ms",
        end="",
    )
    assert p95 <= P95_MS
