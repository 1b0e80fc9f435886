"""Puts the works together: their block, their pages, and the papers that come of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from estimator.desktop.agreed.agreeing import Agreeing
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.job_column import WORKS
from estimator.desktop.language import _
from estimator.desktop.papers.file_out import FileOut, Out
from estimator.desktop.works import papers_page, section
from estimator.desktop.works.built_page import BuiltPage
from estimator.desktop.works.done_page import DonePage
from estimator.desktop.works.hours_page import HoursPage
from estimator.desktop.works.not_agreed import NotAgreed
from estimator.desktop.works.outputs_page import OutputsPage
from estimator.desktop.works.overseeing import Overseeing
from estimator.desktop.works.paper_page import PaperPage
from estimator.desktop.works.papers_page import PapersPage
from estimator.desktop.works.plan_page import PlanPage
from estimator.desktop.works.section import WorksSection
from estimator.desktop.works.sheet_page import SheetPage
from estimator.exchange import email_draft

if TYPE_CHECKING:
    from PySide6.QtWidgets import QPushButton, QWidget

    from estimator.desktop.wall.column import WallColumn
    from estimator.store.database import Database

Page = FormPage | PapersPage | PaperPage | OutputsPage
PAPER, SHEET = "paper", "sheet"
"""Pages of the column with one paper beside it: kept, and not kept yet."""


class Working(QObject):
    """Everything between planning the works and their being done."""

    def __init__(self, agreeing: Agreeing, wall: WallColumn, parent: QObject) -> None:
        """Put the block and the pages into the column of the job."""
        super().__init__(parent)
        self._wall = wall
        self.job, self.following = agreeing.job, agreeing.following
        self._session = self.following.session
        self.overseeing = Overseeing(self.following)
        self.not_agreed = NotAgreed(agreeing.valuing)
        self.section = WorksSection(self.overseeing, self.not_agreed)
        self.plan = PlanPage(self.overseeing)
        self.papers = PapersPage()
        self.paper = PaperPage(agreeing.papers)
        self.sheet = SheetPage(self.following, self.job, agreeing.papers)
        self.files = FileOut(self.following, self.job)
        self.job.add_section(WORKS, self.section)
        self._pages: dict[str, QWidget] = {}
        self.built = BuiltPage(self.overseeing)
        self.hours = HoursPage(self.overseeing)
        self.outputs = OutputsPage(self.following)
        self.done = DonePage(self.overseeing)
        for name, page in (
            (section.PLAN, self.plan),
            (section.PAPERS, self.papers),
            (section.BUILT, self.built),
            (section.HOURS, self.hours),
            (section.OUTPUTS, self.outputs),
            (section.DONE, self.done),
        ):
            self._add(name, page)
        self._add(PAPER, self.paper)
        self._add(SHEET, self.sheet)
        self._connect()

    @property
    def next_button(self) -> QPushButton | None:
        """The one filled button of the page that is shown, where it is one of these."""
        page = self._pages.get(self.job.at)
        found: QPushButton | None = getattr(page, "take", None) or getattr(page, "main", None)
        return found

    def _add(self, name: str, page: Page) -> None:
        self._pages[name] = page
        self.job.add_page(name, page)
        page.left.connect(self.job.back)

    def _connect(self) -> None:
        self.section.asked.connect(self._open)
        self.plan.planned.connect(self.job.open)
        self.papers.wanted.connect(self._paper)
        self.sheet.kept.connect(self.show_kept)
        self.overseeing.changed.connect(self._changed)
        self.files.said.connect(self.papers.say)
        self.files.mistaken.connect(self.papers.refused)

        self.built.lit.connect(self._light)
        self._wall.drafting.selected.connect(self._pressed)
        self.outputs.used.connect(self._session.use)
        self.done.completed.connect(self._completed)

    def _light(self, marks: frozenset[str]) -> None:
        self._wall.light(marks)

    def _pressed(self, mark: str) -> None:
        """Tick what is pressed on the wall while it is asked what was done."""
        if mark and self.job.at == section.BUILT and self.built.isVisible():
            self.built.press(self._wall.board.meant_by(mark))
            # Its sizes are not asked for now; it can be pressed again to take the tick off.
            QTimer.singleShot(0, self, self._let_go)

    def _let_go(self) -> None:
        self._wall.drafting.select("")

    def _completed(self, number: str) -> None:
        self.show_kept(number, _("completion"))

    def _changed(self) -> None:
        self.papers.show_works(self.overseeing.works)

    def _open(self, name: str) -> None:
        if name == section.COMPLETION:
            self._show_completion()
        elif name.startswith(section.DAYWORK):
            self._daywork(name.removeprefix(section.DAYWORK))
        else:
            self.job.open(name)

    # -- papers

    def show_sheet(
        self, kind: str, title: str, about: str, before: str = "", *, key: str = ""
    ) -> None:
        """Bring up a sheet as it would be now, to be kept under a number."""
        self.sheet.show_kind(kind, title, about, before, key=key)
        self.job.open(SHEET)

    def show_kept(self, number: str, title: str) -> None:
        """Bring up a paper that was kept."""
        self.overseeing.look()
        self.paper.show_number(number, title)
        self.job.open(PAPER)

    def _paper(self, name: str) -> None:
        works = self.overseeing.works
        known = works.papers if works else {}
        sheets = {
            papers_page.SITE_SHEET: (
                "site sheet",
                _("site sheet"),
                _("For the gang: what was measured and agreed. It designs nothing."),
            ),
            papers_page.AS_BUILT: (
                "as-built record",
                _("as built"),
                _("What was noted at each place; what nobody noted is said to have no note."),
            ),
            papers_page.PROGRAMME: (
                "programme",
                _("programme"),
                _("For the customer. Made anew whenever it is wanted."),
            ),
            papers_page.BUYING: (
                "buying list",
                _("buying list"),
                _(
                    "In whole packs. Made anew whenever it is wanted. Who sells what is said in the"
                    " price book."
                ),
            ),
        }
        if name in sheets:
            kind, title, about = sheets[name]
            self.show_sheet(kind, title, about, known.get(kind, ""))
        elif name == papers_page.CALENDAR:
            self._save_calendar()
        elif name.startswith(section.DAYWORK):
            self._daywork(name.removeprefix(section.DAYWORK))
        else:
            self._show_completion()

    def _daywork(self, key: str) -> None:
        works = self.overseeing.works
        known = {one.key: one.number for one in works.daywork} if works else {}
        about = _(
            "Hours, materials and plant. Who signs says that it was done, not that it is extra."
        )
        before = known.get(key, "")
        self.show_sheet("daywork sheet", _("daywork sheet"), about, before, key=key)

    def _show_completion(self) -> None:
        works = self.overseeing.works
        number = works.papers.get("completion", "") if works else ""
        if number:
            self.show_kept(number, _("completion"))

    def _save_calendar(self) -> None:
        survey, trader = self._session.work.survey, self._session.practice.trader

        def make(database: Database, uid: str) -> bytes:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            return asked.calendar_file(database, uid, survey, trader)

        name = email_draft.file_name(survey.title).removesuffix(".pdf") + ".ics"
        self.files.save(Out(name, _("Save the calendar file"), _("Calendars (*.ics)"), make))
