"""Rows made a few at a turn: in order, each once, whatever comes and goes meanwhile."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop.works.rows import AT_ONCE, Rows

keys = st.lists(st.sampled_from("abcdefghijklm"), unique=True)


def rows_in(parent: QWidget) -> tuple[Rows[QLabel, str], QVBoxLayout]:
    layout = QVBoxLayout(parent)
    return Rows(layout, QLabel, QLabel.setText, parent), layout


def order(layout: QVBoxLayout) -> list[QWidget | None]:
    return [layout.itemAt(place).widget() for place in range(layout.count())]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.lists(keys, max_size=4), st.integers(0, 2))
def test_what_is_wanted_last_is_there_in_order(
    qtbot: QtBot, wanted: list[list[str]], turns: int
) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    made, layout = rows_in(parent)
    for listed in wanted:
        made.show({key: f"{key}{len(listed)}" for key in listed})
        for _turn in range(turns):
            made._some()
    last = wanted[-1] if wanted else []
    rows = made.all()
    assert list(rows) == last
    assert order(layout) == list(rows.values())
    assert [row.text() for row in rows.values()] == [f"{key}{len(last)}" for key in last]


def test_a_few_come_at_a_turn_and_those_that_are_there_stay(qtbot: QtBot) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    made, _layout = rows_in(parent)
    every = [str(number) for number in range(3 * AT_ONCE)]
    made.show(dict.fromkeys(every, "x"))
    assert made.rows == {}
    with qtbot.waitSignal(made.grown):
        pass
    assert list(made.rows) == every[:AT_ONCE]
    first = made.rows["0"]
    qtbot.waitUntil(lambda: list(made.rows) == every)
    made.show(dict.fromkeys(every[1:], "x") | {"0": "y"})
    assert made.rows["0"] is first
    assert first.text() == "y"
