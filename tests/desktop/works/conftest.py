"""An agreed job over a real file, planned or not."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.columns import Columns
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.store import drafts
from tests.desktop.agreed.conftest import WAIT, NoDrafts, agreed, columns, quoted, shown
from tests.desktop.fakes import answered, session_on

__all__ = ["agreed", "columns", "planned", "quoted"]


def come_to(columns: Columns, qtbot: QtBot, wanted: Any) -> None:
    """Wait until the works are looked at anew and are so."""
    overseeing = columns.working.overseeing
    qtbot.waitUntil(lambda: overseeing.works is not None and wanted(overseeing.works), timeout=WAIT)
    answered(columns._session)


def plan(columns: Columns, qtbot: QtBot, day: datetime.date) -> None:
    """Plan the works from a day on, as on the page."""
    come_to(columns, qtbot, lambda _works: True)
    columns.agreeing.job.open("plan")
    page = columns.working.plan
    qtbot.waitUntil(lambda: bool(page.rows), timeout=WAIT)
    page.start.show_text(day.isoformat())
    page.gang.show_text("Jo Bell, Sam Reed")
    with qtbot.waitSignal(page.planned, timeout=WAIT):
        page.take.click()
    come_to(columns, qtbot, lambda works: bool(works.tasks))


@pytest.fixture
def planned(agreed: Columns, qtbot: QtBot) -> Columns:
    """The works planned, from today on."""
    plan(agreed, qtbot, agreed._session.today())
    return agreed


def names(columns: Columns) -> set[str]:
    """The forms of which something half typed is in the file."""
    found: list[set[str]] = []
    columns._session.filing.ask(
        lambda place: {
            one.key.split("/")[1] for one in drafts.every(place) if one.key.startswith("form/")
        },
        found.append,
    )
    answered(columns._session)
    return found[0]


@pytest.fixture
def again(planned: Columns, qtbot: QtBot, tmp_path: Path) -> Iterator[list[Session]]:
    """Sessions begun anew over the same file; each is closed at last."""
    begun: list[Session] = []
    yield begun
    for session in begun:
        session.filing.close()


def killed(columns: Columns, qtbot: QtBot, folder: Path, begun: list[Session]) -> Columns:
    """Stop without a word to anybody, and begin again over the same file."""
    uid = columns._session.job.uid
    answered(columns._session)
    columns._session.filing.close()
    session = session_on(folder, workers=NoDrafts())
    begun.append(session)
    fresh = shown(session, qtbot)
    found: list[OpenJob] = []
    session.filing.ask(lambda place: kept.open_job(place, uid), found.append)
    answered(session)
    session.show_job(found[0])
    come_to(fresh, qtbot, lambda works: bool(works.tasks))
    return fresh
