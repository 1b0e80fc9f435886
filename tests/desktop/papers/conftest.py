"""A job over a real file, with the firm's own rates and name, as after start-up."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.columns import Columns
from estimator.desktop.session import Session
from estimator.office.place import FILE_NAME
from estimator.quoting import trader_file
from estimator.quoting.offering import Practice
from estimator.survey.survey import Survey
from tests.desktop.fakes import (
    DEMO,
    SilentWorkers,
    WorkersAtOnce,
    demo_survey,
    fresh_file,
    rest,
    session_on,
)

Opened = Callable[..., Session]
MEASURED, TOLD, STOPPED = "window_lime", "phone_call", "refer"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a file nobody has used yet."""
    (tmp_path / FILE_NAME).write_bytes(fresh_file())
    return tmp_path


@pytest.fixture
def opened(qtbot: QtBot, folder: Path) -> Iterator[Opened]:
    """Opens a file and puts a survey of the demonstration on the desk."""
    made: list[Session] = []

    def over(name: str | Survey = MEASURED, *, workers: WorkersAtOnce | None = None) -> Session:
        survey = demo_survey(name) if isinstance(name, str) else name
        session = session_on(folder, survey, workers=workers or SilentWorkers())
        made.append(session)
        found: list[Practice] = []
        session.filing.ask(kept.practice, found.append)
        session.filing.open()
        qtbot.waitUntil(lambda: bool(found), timeout=20_000)
        session.use(replace(found[0], trader=trader_file.load(DEMO / "firm.json")))
        return session

    yield over
    for session in made:
        session.filing.close()


@pytest.fixture
def laid(qtbot: QtBot) -> Callable[[Session], Columns]:
    """Shows the columns of a session with the paper laid beside the desk."""

    def lay(session: Session) -> Columns:
        columns = shown(session, qtbot)
        columns.show_paper()
        return columns

    return lay


@pytest.fixture
def laid_survey(qtbot: QtBot) -> Callable[[Session], Columns]:
    """Shows the columns of a session with the survey's paper laid beside the desk."""

    def lay(session: Session) -> Columns:
        columns = shown(session, qtbot)
        columns.show_survey_paper()
        return columns

    return lay


def shown(session: Session, qtbot: QtBot) -> Columns:
    """Show the columns of a session as they are at work."""
    columns = Columns(session)
    columns.finish()
    columns.resize(1366, 720)
    qtbot.addWidget(columns, before_close_func=lambda _columns: rest(session))
    with qtbot.waitExposed(columns):
        columns.show()
    return columns
