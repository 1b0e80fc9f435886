"""A wall that anybody did anything to: nothing breaks, and what is drawn is what is kept."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from types import TracebackType

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from estimator.desktop.session import Session
from estimator.desktop.wall.column import WallColumn
from estimator.desktop.wall.photos import dropping
from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import Picture
from estimator.survey import survey_file
from estimator.survey.survey import Survey, WallEnd
from estimator.takeoff.measure import measure
from tests.desktop.fakes import rest, session_on
from tests.desktop.wall.hand import plain_wall
from tests.desktop.wall.monkey import Monkey
from tests.desktop.wall.walls import demo

pytestmark = pytest.mark.qt_log_ignore(
    # What this platform cannot do for the menu of a side.
    r"does not support (raise|grabbing)",
    "does not support propagateSizeHints",
)
EVENTS = 300
Raised = list[tuple[type[BaseException] | None, BaseException | None, TracebackType | None]]


def walls() -> dict[str, Survey | None]:
    """Return what a run begins with: nothing, a call, a plain wall, and a house with quoins."""
    quoin = replace(
        plain_wall(left_end=WallEnd.QUOIN, right_end=WallEnd.MOVEMENT_JOINT), drawn=True
    )
    return {
        "nothing": None,
        "a call": demo("phone_call"),
        "a plain wall": quoin,
        "a quoin": demo("quoin_cavity"),
    }


def text_of(session: Session) -> str:
    return survey_file.write(session.work.survey)


def pictures(session: Session, survey: Survey) -> list[Picture | None]:
    """Return the drawing of every side with the work of every option, measured anew."""
    sight = session.sight
    practice = sight.practice
    found: list[Picture | None] = []
    scopes = [option.offer.scope for option in sight.options]
    for side in range(len(survey.elevations)):
        found.append(picture_of(survey, side))
        for scope in scopes:
            assert practice is not None
            work = measure(survey, scope, session.work.rules(practice.rules))
            found.append(picture_of(survey, side, work))
    return found


def drawn(column: WallColumn) -> list[Picture | None]:
    """Return the same as the board has them."""
    drafting, session = column.drafting, column.drafting.session
    found: list[Picture | None] = []
    for side in range(len(session.work.survey.elevations)):
        found.append(picture_of(session.work.survey, side))
        drafting.show_side(side)
        for option in range(len(session.sight.options)):
            column.show_option(option)
            found.append(drafting.shown)
    return found


def undone_to_the_byte(session: Session, first: str) -> None:
    """Undo to the start and redo it all: each step leaves the survey it left before."""
    history, last = session.history, text_of(session)
    at = history.index()
    texts = {at: last}
    while history.canUndo():
        history.undo()
        texts[history.index()] = text_of(session)
        assert survey_file.write(survey_file.read(text_of(session))) == text_of(session)
    assert text_of(session) == first
    while history.index() < at:
        history.redo()
        assert text_of(session) == texts[history.index()]
    assert text_of(session) == last


def let_loose(column: WallColumn, seed: int, events: int) -> None:
    """Do so many things by chance; the first that breaks something is told with its way there."""
    session = column.drafting.session
    first = text_of(session)
    monkey = Monkey(column, seed)
    with _stopping(monkey) as raised:
        for _event in range(events):
            monkey.act()
            assert not raised
        monkey.let_go()
        assert not raised
        survey = session.work.survey
        again = survey_file.read(survey_file.write(survey))
        assert drawn(column) == pictures(session, survey)
        assert pictures(session, again) == pictures(session, survey)
        undone_to_the_byte(session, first)
        QApplication.processEvents()
        assert not raised


@contextmanager
def _stopping(monkey: Monkey) -> Iterator[Raised]:
    with capture_exceptions() as raised:
        try:
            yield raised
        except BaseException as error:
            kinds = [kind for kind, _value, _trace in raised]
            error.add_note(f"raised meanwhile: {kinds}\nafter: " + "\n".join(monkey.trail[-30:]))
            if raised and raised[0][1] is not None:
                raise error from raised[0][1]
            raise


@pytest.fixture
def no_files(monkeypatch: pytest.MonkeyPatch) -> None:
    """Choose no files: the window that asks for them is the system's."""
    monkeypatch.setattr(dropping.Choosing, "ask", lambda _self: None)


def run(qtbot: QtBot, folder: Path, begun: str, seed: int, events: int) -> None:
    session = session_on(folder, walls()[begun])
    column = WallColumn(session)
    column.resize(640, 690)
    column.show()
    qtbot.waitExposed(column)
    column.activateWindow()
    column.take_focus()
    qtbot.waitUntil(column.board.hasFocus)
    try:
        let_loose(column, seed, events)
    finally:
        rest(session)
        column.close()
        column.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        session.filing.close()


@pytest.mark.slow
@pytest.mark.parametrize(("begun", "seed"), [(begun, seed) for seed, begun in enumerate(walls())])
def test_anything_may_be_done(
    qtbot: QtBot, tmp_path: Path, no_files: None, begun: str, seed: int
) -> None:
    run(qtbot, tmp_path, begun, seed, EVENTS // 3)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 150))
@pytest.mark.parametrize("begun", walls())
def test_anything_may_be_done_for_long(
    qtbot: QtBot, tmp_path: Path, no_files: None, begun: str, seed: int
) -> None:
    run(qtbot, tmp_path, begun, seed, EVENTS)
