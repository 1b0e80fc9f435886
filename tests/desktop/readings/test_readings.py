from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPointF, Qt
from pytestqt.qtbot import QtBot

from estimator.desktop.readings import typed
from estimator.desktop.readings.panel import ReadingsPanel
from estimator.desktop.readings.plot import ReadingsPlot, ticks
from estimator.desktop.readings.series import Series, series_of
from estimator.desktop.session import Session
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step
from estimator.survey import survey_file
from estimator.survey.survey import Answer, Reading
from tests.desktop.fakes import TODAY, demo_survey, session_on


@pytest.fixture
def watched(tmp_path: Path) -> Iterator[Session]:
    """A wall with one crack that is being watched."""
    session = session_on(tmp_path, demo_survey("quoin_cavity"))
    yield session
    session.filing.close()


@pytest.fixture
def panel(watched: Session, qtbot: QtBot) -> ReadingsPanel:
    """The panel over that wall."""
    made = ReadingsPanel(watched)
    qtbot.addWidget(made)
    made.resize(480, 640)
    made.show()
    return made


def write(panel: ReadingsPanel, qtbot: QtBot, *typed_in: str) -> None:
    """Type day, point and width, and press Enter."""
    fields = (panel.date, panel.point, panel.width_mm)
    for field, text in zip(fields, typed_in, strict=True):
        field.selectAll()
        qtbot.keyClicks(field, text) if text else field.clear()
    qtbot.keyClick(panel.width_mm, Qt.Key.Key_Return)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("today", "2026-11-25"),
        ("Yesterday", "2026-11-24"),
        ("2026-03-04", "2026-03-04"),
        ("4/3/2026", "2026-03-04"),
        ("04.03.26", "2026-03-04"),
        ("4 March 2026", "2026-03-04"),
        ("25 nov", "2026-11-25"),
        ("26 Nov", "2025-11-26"),
    ],
)
def test_days_as_people_write_them(text: str, day: str) -> None:
    assert typed.day(text, today=TODAY).isoformat() == day


@pytest.mark.parametrize(
    "text", ["", "soon", "31/2/2026", "3/13/2026", "29 feb", "26/11/2026", "4"]
)
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(UserMistake):
        typed.day(text, today=TODAY)


@pytest.mark.parametrize("text", ["", "two", "-1", "201", "2.25", "1e1", "2,5", "NaN"])
def test_what_is_no_width_is_refused(text: str) -> None:
    with pytest.raises(UserMistake):
        typed.width_mm(text)


@given(st.integers(0, 2000), st.integers(0, 2000), st.integers(1, 2000))
def test_the_rate_is_the_change_spread_over_the_days(first: int, last: int, days: int) -> None:
    start = datetime.date(2024, 1, 1)
    end = start + datetime.timedelta(days=days)
    series = Series(
        "a",
        "top",
        (
            Reading("a", "top", start.isoformat(), first / 10),
            Reading("a", "top", end.isoformat(), last / 10),
        ),
    )
    assert series.change_mm == Decimal(last - first) / 10
    assert series.per_month_mm is not None
    # Multiplied out, since a third of a month has no end as a decimal.
    assert abs(series.per_month_mm * days - series.change_mm * 30) <= Decimal("0.005") * days


@given(st.integers(0, 2000), st.integers(0, 2000))
def test_ticks_hold_every_reading(one: int, other: int) -> None:
    low, high = sorted((one / 10, other / 10))
    found = ticks(low, high)
    assert found[0] <= low and high <= found[-1]
    assert 2 <= len(found) <= 8
    assert found[0] >= 0


def test_a_reading_is_written_down_by_keys(
    panel: ReadingsPanel, watched: Session, qtbot: QtBot
) -> None:
    assert panel.empty.isVisibleTo(panel)
    write(panel, qtbot, "1/3/2026", "top", "2.0")
    write(panel, qtbot, "30 May 2026", "top", "2.3")
    assert [one.width_mm for one in watched.work.survey.readings] == [2.0, 2.3]
    assert watched.work.survey.readings[1].date == "2026-05-30"
    assert "0.3 mm wider since 1 March 2026 (0.10 mm per 30 days)" in panel.change.text()
    assert not panel.empty.isVisibleTo(panel)
    assert panel.plot.isVisibleTo(panel)
    assert panel.width_mm.text() == ""
    again = survey_file.read(survey_file.write(watched.work.survey))
    assert again.readings == watched.work.survey.readings


@pytest.mark.parametrize(
    ("typed_in", "word"),
    [
        (("never", "top", "2.0"), "no day"),
        (("today", "", "2.0"), "point"),
        (("today", "top", "wide"), "no width"),
        (("26/11/2026", "top", "2.0"), "to come"),
    ],
)
def test_what_cannot_be_stays_typed_and_says_why(
    panel: ReadingsPanel,
    watched: Session,
    qtbot: QtBot,
    typed_in: tuple[str, str, str],
    word: str,
) -> None:
    write(panel, qtbot, *typed_in)
    assert watched.work.survey.readings == ()
    assert word in panel.message.text()
    assert (panel.date.text(), panel.point.text(), panel.width_mm.text()) == typed_in


def test_a_reading_is_not_written_down_twice(
    panel: ReadingsPanel, watched: Session, qtbot: QtBot
) -> None:
    write(panel, qtbot, "today", "top", "2.0")
    write(panel, qtbot, "today", "top", "2.0")
    assert len(watched.work.survey.readings) == 1
    assert panel.message.isVisibleTo(panel)


def test_a_reading_is_struck_out_and_comes_back(
    panel: ReadingsPanel, watched: Session, qtbot: QtBot
) -> None:
    write(panel, qtbot, "1/3/2026", "top", "2.0")
    write(panel, qtbot, "today", "top", "2.4")
    qtbot.keyClick(panel.rows[0].strike, Qt.Key.Key_Delete)
    assert [one.width_mm for one in watched.work.survey.readings] == [2.0]
    watched.history.undo()
    assert [one.width_mm for one in watched.work.survey.readings] == [2.0, 2.4]


def test_the_plot_puts_wider_higher_and_later_further_right(qtbot: QtBot) -> None:
    plot = ReadingsPlot()
    qtbot.addWidget(plot)
    plot.resize(400, 200)
    readings = [Reading("a", "top", "2026-03-01", 2.0), Reading("a", "top", "2026-06-01", 2.6)]
    plot.show_series(series_of(readings, "a"))
    first: QPointF = plot.place(datetime.date(2026, 3, 1), 2.0)
    last: QPointF = plot.place(datetime.date(2026, 6, 1), 2.6)
    assert first.x() < last.x() and first.y() > last.y()
    middle = plot.place(datetime.date(2026, 4, 16), 2.3)
    assert middle.x() == pytest.approx((first.x() + last.x()) / 2, abs=1)
    assert middle.y() == pytest.approx((first.y() + last.y()) / 2, abs=0.01)
    assert plot.rect().contains(first.toPoint()) and plot.rect().contains(last.toPoint())


def test_a_job_without_a_crack_says_what_goes_here(qtbot: QtBot, watched: Session) -> None:
    survey = replace(watched.work.survey, elevations=())
    watched.job = replace(watched.job, work=replace(watched.work, survey=survey))
    watched.refresh()
    panel = ReadingsPanel(watched)
    qtbot.addWidget(panel)
    assert "no crack" in panel.empty.text()
    assert not panel.write.isEnabled()


def test_what_was_told_and_what_was_measured_never_disagree_unsaid(
    panel: ReadingsPanel, watched: Session, qtbot: QtBot
) -> None:
    survey = watched.work.survey
    still = replace(survey, readings=(), signs=replace(survey.signs, growing=Answer.NO))
    told = Edit(Step.ANSWER, "growing", replace(watched.work, survey=still))
    watched.apply(told)
    panel.show_sight(watched.sight)
    write(panel, qtbot, "1/9/2026", "top", "2.0")
    panel.show_sight(watched.sight)
    assert panel.growing.isHidden()
    write(panel, qtbot, "1/11/2026", "top", "2.7")
    panel.show_sight(watched.sight)
    assert not panel.growing.isHidden()
