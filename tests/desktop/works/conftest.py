"""An agreed job over a real file, planned or not."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from tests.desktop.agreed.conftest import WAIT, agreed, columns, quoted
from tests.desktop.fakes import answered

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
