"""Puts the works together: their block, their pages, and the papers that come of them."""

from __future__ import annotations

import datetime
from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from estimator.contract.so_far import SoFar
from estimator.desktop.agreed.agreeing import Agreeing
from estimator.desktop.agreed.job_column import WORKS
from estimator.desktop.agreed.keeping import Kept
from estimator.desktop.courier import Courier
from estimator.desktop.language import _
from estimator.desktop.papers.asking import carry
from estimator.desktop.works import papers_page, section
from estimator.desktop.works.file_out import FileOut, Out
from estimator.desktop.works.overseeing import Overseeing
from estimator.desktop.works.paper_page import PaperPage
from estimator.desktop.works.papers_page import PapersPage
from estimator.desktop.works.plan_page import PlanPage
from estimator.desktop.works.section import WorksSection
from estimator.exchange import email_draft
from estimator.notices import UserMistake
from estimator.quoting.quotation import Trader

if TYPE_CHECKING:
    from PySide6.QtWidgets import QPushButton, QWidget

    from estimator.desktop.wall.column import WallColumn
    from estimator.store.database import Database

PAPER = "paper"
"""Page of the column with one paper beside it."""
PAPERS = {papers_page.PROGRAMME: "programme_paper", papers_page.BUYING: "buying_paper"}
"""Modules of the papers that have no number."""


class Working(QObject):
    """Everything between planning the works and their being done."""

    def __init__(self, agreeing: Agreeing, wall: WallColumn, parent: QObject) -> None:
        """Put the block and the pages into the column of the job."""
        super().__init__(parent)
        self._agreeing, self._wall = agreeing, wall
        self.job, self.following = agreeing.job, agreeing.following
        self._session = self.following.session
        self._courier = Courier(self)
        self.overseeing = Overseeing(self.following)
        self.section = WorksSection(self.overseeing)
        self.plan = PlanPage(self.overseeing)
        self.papers = PapersPage()
        self.paper = PaperPage(agreeing.papers)
        self.files = FileOut(self.following, self.job)
        self.job.add_section(WORKS, self.section)
        self._pages: dict[str, QWidget] = {}
        for name, page in ((section.PLAN, self.plan), (section.PAPERS, self.papers)):
            self._add(name, page)
        self._add(PAPER, self.paper)
        self._connect()

    @property
    def next_button(self) -> QPushButton | None:
        """The one filled button of the page that is shown, where it is one of these."""
        page = self._pages.get(self.job.at)
        found: QPushButton | None = getattr(page, "take", None) or getattr(page, "main", None)
        return found

    def _add(self, name: str, page: PlanPage | PapersPage | PaperPage) -> None:
        self._pages[name] = page
        self.job.add_page(name, page)
        page.left.connect(self.job.back)

    def _connect(self) -> None:
        self.section.asked.connect(self._open)
        self.plan.planned.connect(self.job.open)
        self.papers.wanted.connect(self._paper)
        self.overseeing.changed.connect(self._changed)
        self.files.said.connect(self.papers.say)
        self.files.mistaken.connect(self.papers.refused)

    def _changed(self) -> None:
        self.papers.show_works(self.overseeing.works)

    def _open(self, name: str) -> None:
        if name == section.COMPLETION:
            self._show_completion()
        else:
            self.job.open(name)

    # -- papers

    def _paper(self, name: str) -> None:
        match name:
            case papers_page.SITE_SHEET:
                self._keep_sheet("site sheet", _("site sheet"))
            case papers_page.AS_BUILT:
                self._keep_sheet("as-built record", _("as built"))
            case papers_page.PROGRAMME | papers_page.BUYING:
                self._make(name)
            case papers_page.CALENDAR:
                self._save_calendar()
            case _:
                self._show_completion()

    def _keep_sheet(self, kind: str, title: str) -> None:
        trader = self._session.practice.trader

        def make(database: Database, uid: str) -> Kept:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            return asked.sheet(database, uid, kind, trader)

        self.following.do(
            make, lambda kept: self._show(kept, title), on_mistake=self.papers.refused
        )

    def _show(self, kept: Kept, title: str) -> None:
        self.overseeing.look()
        self.paper.show_number(kept.number, title)
        self.job.open(PAPER)

    def _show_completion(self) -> None:
        works = self.overseeing.works
        number = works.papers.get("completion", "") if works else ""
        if number:
            self.paper.show_number(number, _("completion"))
            self.job.open(PAPER)

    def _make(self, name: str) -> None:
        """Have a paper without a number made by the workers, and lay it in the middle."""
        title = {papers_page.PROGRAMME: _("Programme"), papers_page.BUYING: _("Buying list")}[name]
        session = self._session

        def done(made: object) -> None:
            carry(self._courier, lambda: self._made(made, title))

        def failed(error: BaseException) -> None:
            carry(self._courier, lambda: self._failed(error))

        session.workers.run(
            drawn,
            name,
            self.following.so_far,
            session.practice.trader,
            session.today(),
            on_done=done,
            on_failed=failed,
        )

    def _made(self, made: object, title: str) -> None:
        if isinstance(made, bytes) and self.job.at == section.PAPERS:
            self.paper.show_made(Kept(title, made), _("Made anew whenever it is asked for."))
            self.job.open(PAPER)

    def _failed(self, error: BaseException) -> None:
        if isinstance(error, UserMistake):
            self.papers.refused(error)
        else:
            self._session.filing.broke.emit(error)

    def _save_calendar(self) -> None:
        survey, trader = self._session.work.survey, self._session.practice.trader

        def make(database: Database, uid: str) -> bytes:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            return asked.calendar_file(database, uid, survey, trader)

        name = email_draft.file_name(survey.title).removesuffix(".pdf") + ".ics"
        self.files.save(Out(name, _("Save the calendar file"), _("Calendars (*.ics)"), make))


def drawn(name: str, so_far: SoFar, trader: Trader, date: datetime.date) -> bytes:
    """Return a paper of the works that has no number; runs in a worker."""
    # The library that lays out pages loads slowly; only the one that is wanted is loaded.
    paper = import_module(f"estimator.documents.{PAPERS[name]}")
    made: bytes = paper.render(so_far, trader=trader, number="", date=date)
    return made
