"""Stand-ins for what a part of the desk leans on, so that each can be tried alone."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from PySide6.QtWidgets import QApplication

from estimator.desktop import kept
from estimator.desktop.filing import Filing
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.office.place import FILE_NAME
from estimator.quoting.edits import Work
from estimator.quoting.offering import Practice
from estimator.quoting.outlook import outlook
from estimator.survey import survey_file
from estimator.survey.survey import Survey
from estimator.takeoff.scope import Scope
from tests.journeys.call_by_keys import wait_until

DEMO = Path(__file__).resolve().parents[2] / "demo"
FEW_DRAWS = 24
TODAY = datetime.date(2026, 11, 25)


class Ticket:
    """What a request hands back; nothing is left to cancel."""

    def cancel(self) -> None:
        """Do nothing."""


class WorkersAtOnce:
    """Does what the workers do, at once and in the same thread, with the real engine."""

    def outlook(
        self,
        survey: Survey,
        practice: Practice,
        scopes: Sequence[Scope],
        date: datetime.date,
        *,
        on_done: Callable[[Any], None],
        on_failed: Callable[[BaseException], None],
    ) -> Ticket:
        try:
            found = outlook(survey, practice, scopes=scopes, date=date)
        except Exception as error:  # noqa: BLE001
            on_failed(error)
        else:
            on_done(found)
        return Ticket()

    def run(
        self,
        function: Callable[..., Any],
        *arguments: Any,
        on_done: Callable[[Any], None],
        on_failed: Callable[[BaseException], None],
    ) -> Ticket:
        try:
            found = function(*arguments)
        except Exception as error:  # noqa: BLE001
            on_failed(error)
        else:
            on_done(found)
        return Ticket()

    def warm(self) -> None:
        """Do nothing."""

    def close(self) -> None:
        """Do nothing."""


class SilentWorkers(WorkersAtOnce):
    """Never answers, as when the range is still being worked out."""

    def outlook(self, *_arguments: Any, **_named: Any) -> Ticket:
        return Ticket()


def settle(session: Session) -> None:
    """Wait until the range of the last edit is there."""
    wait_until(lambda: not session.sight.is_settling, "the range did not settle")


def answered(session: Session) -> None:
    """Wait until the file has answered all it was asked; twice, since an answer may ask."""
    for _turn in range(2):
        found: list[None] = []
        session.filing.ask(lambda _database: None, found.append)
        wait_until(lambda found=found: bool(found), "the file did not answer")


def rest(session: Session) -> None:
    """Wait until nothing comes any more, as is needed before a page is cleared away.

    The desk's pages live as long as their session; one cleared earlier would still be told.
    """
    wait_until(lambda: not session.settling.isActive(), "the range was not asked for")
    if session.filing.is_open:
        answered(session)
    QApplication.processEvents()


def demo_survey(name: str) -> Survey:
    """Return a survey of the demonstration."""
    return survey_file.read((DEMO / f"{name}.json").read_text(encoding="utf-8"))


@cache
def fresh_file() -> bytes:
    """Return a file nobody has used yet; made once, since making it costs more than most tests."""
    with TemporaryDirectory() as folder:
        kept.opened(Path(folder)).close()
        return (Path(folder) / FILE_NAME).read_bytes()


def session_on(
    folder: Path, survey: Survey | None = None, *, workers: WorkersAtOnce | None = None
) -> Session:
    """Return a session over a file not opened yet, with a survey on the desk or a fresh call."""
    path = folder / FILE_NAME
    if not path.exists():
        folder.mkdir(parents=True, exist_ok=True)
        path.write_bytes(fresh_file())
    session = Session(Filing(folder), workers or SilentWorkers())  # type: ignore[arg-type]
    session.today = lambda: TODAY
    session.settling.setInterval(0)
    # A test wants a range, not a precise one: the draws cost more than all the rest.
    book = session.practice.book
    few = replace(book, ranges=replace(book.ranges, draws=FEW_DRAWS))
    session.practice = replace(session.practice, book=few)
    if survey is not None:
        session.job = OpenJob(Work(survey), session.job.uid)
        session.refresh()
    return session
