"""A job over a real file whose quotation is out, and one that is agreed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from estimator.desktop.agreed.papers import confirmation, drawn
from estimator.desktop.columns import Columns
from estimator.desktop.session import Session
from estimator.office import practice
from estimator.quoting import trader_file
from estimator.quoting.offering import Practice
from estimator.survey.survey import CrackedBrick, ThinBed, Treatment
from tests.desktop.fakes import DEMO, Ticket, WorkersAtOnce, answered, demo_survey, rest, session_on

WAIT = 20_000


class NoDrafts(WorkersAtOnce):
    """Does all that the workers do but papers before they are sent, each of which takes a while."""

    def run(self, function: Callable[..., Any], *arguments: Any, **told: Any) -> Ticket:
        return (
            Ticket()
            if function in (confirmation, drawn)
            else super().run(function, *arguments, **told)
        )

    def outlook(self, *_arguments: Any, **_told: Any) -> Ticket:
        """Never tell a range: what is agreed has none, and it takes longest of all."""
        return Ticket()


def shown(session: Session, qtbot: QtBot) -> Columns:
    """Show the columns of a session whose file is open, by the firm's own name."""
    found: list[Practice] = []
    session.filing.ask(practice.practice, found.append)
    session.filing.open()
    qtbot.waitUntil(lambda: bool(found), timeout=WAIT)
    session.use(replace(found[0], trader=trader_file.load(DEMO / "firm.json")))
    columns = Columns(session)
    columns.finish()
    columns.resize(1366, 720)
    qtbot.addWidget(columns, before_close_func=lambda _columns: rest(session))
    with qtbot.waitExposed(columns):
        columns.show()
    return columns


@pytest.fixture(autouse=True)
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have every wall valued at once, however busy the machine is."""
    monkeypatch.setattr("estimator.desktop.agreed.valuing.SLOW_MS", 60_000.0)


@pytest.fixture
def columns(qtbot: QtBot, tmp_path: Path) -> Iterator[Columns]:
    """The columns with a measured wall on the desk, nothing issued yet."""
    session = session_on(tmp_path, demo_survey("window_lime"), workers=NoDrafts())
    yield shown(session, qtbot)
    session.filing.close()


@pytest.fixture
def quoted(columns: Columns, qtbot: QtBot) -> Columns:
    """The same, its quotation out and shown."""
    columns.show_paper()
    qtbot.waitUntil(columns.check.page.issue.isEnabled, timeout=WAIT)
    with qtbot.waitSignal(columns.check.issued, timeout=WAIT):
        columns.check.page.issue.click()
    answered(columns._session)
    return columns


@pytest.fixture
def agreed(quoted: Columns, qtbot: QtBot) -> Columns:
    """The same, its first option accepted by telephone."""
    say_yes(quoted, qtbot)
    return quoted


def say_yes(columns: Columns, qtbot: QtBot) -> None:
    """Accept the first option."""
    columns.agreeing.accept()
    page = columns.agreeing.acceptance
    qtbot.waitUntil(lambda: bool(page.options), timeout=WAIT)
    page.options[0].box.setChecked(True)
    page.take.click()
    qtbot.waitUntil(lambda: columns.agreeing.following.has_contract, timeout=WAIT)
    answered(columns._session)


def mark_found(columns: Columns, *, bricks: int = 4, thin: bool = True) -> None:
    """Mark what is found on site: cracked bricks beside the crack, and a thin bed."""
    session = columns._session
    survey = session.work.survey
    side = survey.elevations[0]
    more = tuple(CrackedBrick(8, 6 + n, Treatment.REPLACE) for n in range(bricks))
    beds = (ThinBed(9, 1200.0, 2000.0, 6.0),) if thin else ()
    found = replace(side, bricks=(*side.bricks, *more), thin_beds=(*side.thin_beds, *beds))
    sides = (found, *survey.elevations[1:])
    session._put(replace(session.work, survey=replace(survey, elevations=sides)))
    columns.agreeing.valuing.look()
    columns.agreeing.valuing._look_further()
