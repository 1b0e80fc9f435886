"""How long pointing takes on the terrace, where a frame is 16 ms. Skipped in the ordinary run:

python -m pytest tests/benchmarks/test_pointing.py --benchmark-only
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import cycle
from pathlib import Path
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from PySide6.QtWidgets import QApplication

from estimator.desktop.columns import Columns
from estimator.desktop.money import sharing
from estimator.desktop.theme.look import LOOK, load_fonts
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.hits import in_order
from tests.desktop.fakes import demo_survey, rest, session_on


@pytest.fixture
def columns(qapp: QApplication, tmp_path: Path) -> Iterator[Columns]:
    load_fonts()
    LOOK.apply(Scheme.LIGHT)
    session = session_on(tmp_path, demo_survey("terrace"))
    made = Columns(session)
    made.finish()
    made.resize(1366, 680)
    made.show()
    qapp.processEvents()
    yield made
    rest(session)
    made.close()
    made.deleteLater()
    session.filing.close()


def test_a_mark_hovered_over_lights_its_prices(
    columns: Columns, qapp: QApplication, benchmark: Any
) -> None:
    board = columns.wall.board
    assert board.picture is not None
    shapes = cycle(in_order(board.picture))
    for key in ("BEDS", "BARS", "CRACK", "PROTECT"):
        columns.money.ladder.open(key)
    qapp.processEvents()

    def point() -> None:
        board.choose(next(shapes))
        qapp.processEvents()

    benchmark.pedantic(point, rounds=200)


def test_a_price_hovered_over_lights_its_marks(
    columns: Columns, qapp: QApplication, benchmark: Any
) -> None:
    rows = cycle(row for row in columns.money.ladder.rows[:6] if row.row.marks)

    def point() -> None:
        columns.wall.light(next(rows).row.marks)
        qapp.processEvents()

    benchmark.pedantic(point, rounds=200)


def test_the_first_mark_after_an_edit_has_its_shares_worked_out(
    columns: Columns, benchmark: Any
) -> None:
    sight = columns.money._session.sight

    def work_out() -> None:
        sharing._kept.clear()
        sharing.shares(sight, sight.options[0])

    benchmark.pedantic(work_out, rounds=50)


def test_before_and_after_is_brought_up(
    columns: Columns, qapp: QApplication, benchmark: Any
) -> None:
    def bring() -> None:
        columns.compare()
        qapp.processEvents()

    def put_away() -> tuple[tuple[()], dict[str, Any]]:
        if columns.is_comparing:
            columns.compare()
            qapp.processEvents()
        return (), {}

    benchmark.pedantic(bring, setup=put_away, rounds=20)
