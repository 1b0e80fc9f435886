"""One page to check before a paper goes out; then it is frozen, numbered and kept."""

from __future__ import annotations

from collections.abc import Callable
from string import ascii_uppercase
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QFrame, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers import letters
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.check_page import CheckPage
from estimator.desktop.papers.drafting import Drafting
from estimator.desktop.papers.file_out import FileOut, Out
from estimator.desktop.papers.heading import on_escape
from estimator.desktop.papers.issued_page import IssuedPage
from estimator.desktop.papers.letters import Enclosed
from estimator.desktop.papers.made import Draft
from estimator.desktop.papers.preview import PreviewColumn
from estimator.desktop.papers.sending import Sending
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.documents.wording import capital
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.papers.issuing import Gone
    from estimator.store.database import Database


class CheckColumn(QFrame):
    """The left column while a paper lies in the middle: checked first, then sent."""

    left = Signal()
    """Back to the wall."""
    wall_wanted = Signal(str)
    """A mark or a side to be looked at."""
    accept_wanted = Signal()
    """The customer said yes."""
    issued = Signal(str)
    """The number of a paper that has just gone out."""

    def __init__(
        self, session: Session, preview: PreviewColumn, parent: QWidget | None = None
    ) -> None:
        """Follow a session, and show its paper in a preview."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session, self._preview = session, preview
        self._uid = session.job.uid
        self._gone: Gone | None = None
        self.drafting = Drafting(session, self)
        self.sending = Sending(session.filing, self)
        self.files = FileOut(self.drafting, self)
        self.page, self.gone_page = CheckPage(session), IssuedPage(session)
        self.pages = QStackedWidget()
        for page in (self.page, self.gone_page):
            self.pages.addWidget(page)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.pages)
        self._connect()

    def begin(self) -> None:
        """Make the paper anew and start checking."""
        self._gone = None
        self._uid = self._session.job.uid
        self.pages.setCurrentWidget(self.page)
        self.page.begin()
        self.drafting.follow()
        self.page.take_focus()

    def take_focus(self) -> None:
        """Put the keyboard on what comes next."""
        if self.pages.currentWidget() is self.page:
            self.page.take_focus()
        else:
            self.gone_page.take_focus()

    def email(self) -> None:
        """Put the last paper into a message of the person's own mail program."""
        self._with_paper(
            lambda gone: self.sending.email(letters.of_paper(gone), self._address(gone))
        )

    def print_paper(self) -> None:
        """Print the paper."""
        self._send(self.sending.print_paper)

    def show_gone(self, gone: Gone) -> None:
        """Show a paper that went out, in the bytes that were kept."""
        self.drafting.rest()
        self._gone = gone
        self.gone_page.show_paper(gone)
        self.pages.setCurrentWidget(self.gone_page)
        caption = _("{number}, as it went out").format(number=gone.number)
        self._preview.show_paper(gone.pdf, caption)
        self.gone_page.take_focus()

    def show_number(self, number: str) -> None:
        """Show a paper that went out, once the file has told it."""
        self.drafting.rest()
        self._uid = self._session.job.uid
        self._open(number)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Make no papers that nobody looks at."""
        super().hideEvent(event)
        self.drafting.rest()

    def _connect(self) -> None:
        for page in (self.page, self.gone_page):
            page.left.connect(self.left)
            page.papers.wanted.connect(self._open)
        self._preview.left.connect(self.left)
        self.page.wall_wanted.connect(self.wall_wanted)
        on_escape(self, self._escape)
        self.drafting.begun.connect(self._begun)
        self.drafting.done.connect(self._drafted)
        self.drafting.missed.connect(self._missed)
        self.page.issue_wanted.connect(self._issue)
        self.gone_page.anew_wanted.connect(self.begin)
        self.gone_page.accept_wanted.connect(self.accept_wanted)
        self.gone_page.email_wanted.connect(self.email)
        self.gone_page.print_wanted.connect(self.print_paper)
        self.gone_page.save_wanted.connect(lambda: self._send(self.sending.save))
        self.gone_page.file_wanted.connect(self._save_file)
        self.files.said.connect(self.gone_page.say)
        self.files.mistaken.connect(self._not_sent)
        self.gone_page.copy_wanted.connect(lambda: self._with_paper(self.sending.copy))
        self.sending.said.connect(self.gone_page.say)
        self.sending.mistaken.connect(self._not_sent)
        self._session.job_changed.connect(self._job_changed)
        self._session.filing.broke.connect(lambda _error: self.page.hold(is_issuing=False))

    # -- the paper that is being checked

    def _begun(self) -> None:
        self.page.show_draft(None)
        self._preview.await_paper()

    def _drafted(self, draft: Draft) -> None:
        self.page.show_draft(draft)
        self._preview.show_paper(draft.pdf, _("Not issued yet"))

    def _missed(self, why: str) -> None:
        self.page.show_draft(None, is_missing=True)
        self._preview.show_nothing(capital(why))

    def _issue(self) -> None:
        draft, job = self.drafting.draft, self._session.job
        book = self._session.sight.practice.book
        if draft is None:
            return

        def issue(database: Database) -> tuple[OpenJob, Gone]:
            from estimator.desktop.papers import issuing  # noqa: PLC0415 - loads the database

            return issuing.issue(database, job, draft.quotation, book=book)

        self.page.say(_("Issuing…"))
        self.page.hold(is_issuing=True)
        ask(self, self._session.filing, issue, self._issued, on_mistake=self._not_issued)

    def _issued(self, found: tuple[OpenJob, Gone]) -> None:
        job, gone = found
        self.page.hold(is_issuing=False)
        self.page.say("")
        if job.uid == self._session.job.uid:
            self._session.adopt(customer=job.customer, stage=job.stage, papers=job.papers)
            self.show_gone(gone)
        self.issued.emit(gone.number)

    def _not_issued(self, mistake: UserMistake) -> None:
        self.page.hold(is_issuing=False)
        self.page.say(capital(str(mistake)), is_problem=True)
        self.page.take_focus()

    # -- papers that went out

    def _open(self, number: str) -> None:
        self._read_then(number, self.show_gone)

    def _with_paper(self, act: Callable[[Gone], object]) -> None:
        """Do something with the paper shown, or else with the last of the job."""
        numbers = self._session.job.papers
        if self._gone is not None and self._uid == self._session.job.uid:
            act(self._gone)
        elif numbers:
            self._read_then(numbers[-1], act)
        else:
            self._not_sent(
                UserMistake(
                    _("nothing has been issued for this job yet"),
                    do=_("write the paper and issue it; then it has its number"),
                )
            )

    def _send(self, act: Callable[[Enclosed], object]) -> None:
        self._with_paper(lambda gone: act(letters.of_paper(gone)))

    def _save_file(self, option: int) -> None:
        """Save one choice of the paper for the customer's own books."""
        gone = self._gone
        if gone is None:
            return
        number = gone.number

        def make(database: Database, _uid: str) -> bytes:
            from estimator.desktop.papers import issuing  # noqa: PLC0415 - loads the database

            return issuing.electronic(database, number, option)

        letter = f"-{ascii_uppercase[option]}" if len(gone.offered) > 1 else ""
        title, kind = _("Save the quotation for their books"), _("Quotations (*.xml)")
        self.files.save(Out(f"{number}{letter}.xml", title, kind, make))

    def _read_then(self, number: str, act: Callable[[Gone], object]) -> None:
        def read(database: Database) -> Gone:
            from estimator.desktop.papers import issuing  # noqa: PLC0415 - loads the database

            return issuing.gone(database, number)

        ask(self, self._session.filing, read, act, on_mistake=self._not_sent)

    def _address(self, gone: Gone) -> str:
        """Return where mail goes: what is known now, since it may have been asked for later."""
        return self._session.work.survey.customer.email.strip() or gone.customer.email.strip()

    def _not_sent(self, mistake: UserMistake) -> None:
        if self.isVisible() and self.pages.currentWidget() is self.gone_page:
            self.gone_page.say(capital(str(mistake)), is_problem=True)
        elif self.isVisible():
            self.page.say(capital(str(mistake)), is_problem=True)
        else:
            self._session.mistaken.emit(mistake)

    def _job_changed(self, job: OpenJob) -> None:
        if self.isVisible() and job.uid != self._uid:
            self.begin()
        else:
            self.page.refresh()

    def _escape(self) -> None:
        if self.page.customer.is_open:
            self.page.customer.close_fields()
        else:
            self.left.emit()
