"""The pages beside the desk, and what the file has to say: opened, refused, broken."""

from __future__ import annotations

import datetime

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from estimator.desktop.desk import Desk
from estimator.desktop.jobs.page import JobsPage
from estimator.desktop.keyboard import about_dialog, keys_dialog
from estimator.desktop.language import _
from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.safety.backups import BackupsPage
from estimator.desktop.safety.faults import Watch
from estimator.desktop.session import Session
from estimator.desktop.settings.page import SettingsPage
from estimator.desktop.state import OpenJob
from estimator.desktop.theme.look import system_scheme
from estimator.desktop.theme.tokens import Scheme
from estimator.notices import UserMistake
from estimator.quoting.offering import Practice
from estimator.store.database import Database

BACK_UP_EVERY_MS = 30 * 60_000


class Places(QObject):
    """Jobs, price book, settings and backups, each brought to the front by its command."""

    def __init__(self, desk: Desk, session: Session, parent: QObject | None = None) -> None:
        """Add the pages to a desk."""
        super().__init__(parent)
        self.desk, self.session = desk, session
        self.jobs = JobsPage(session)
        self.price_book = PriceBookPage(session)
        self.settings = SettingsPage(session)
        self.backups = BackupsPage(session.filing)
        for page in (self.jobs, self.price_book, self.settings, self.backups):
            desk.add_page(page)
        self.watch = Watch(self)
        desk.actions_.hang(
            {
                "jobs": lambda: self.show(self.jobs),
                "price_book": lambda: self.show(self.price_book),
                "settings": lambda: self.show(self.settings),
                "restore": lambda: self.show(self.backups),
                "back_up": self.back_up,
                "keys": lambda: keys_dialog(desk).open(),
                "about": lambda: about_dialog(desk).open(),
            }
        )
        self.jobs.opened.connect(self.open_job)
        self.jobs.new_wanted.connect(desk.new_call)
        self.jobs.typed.connect(self._typed)
        self.jobs.rates_wanted.connect(self._show_rates)
        self.settings.look_changed.connect(self._dress)
        desk.strip.sought.connect(self._seek)
        desk.strip.taken.connect(self._take_first)
        self.backups.left.connect(self._back_to_desk)
        self.watch.heard.connect(desk.tell)
        filing = session.filing
        filing.opened.connect(self._opened)
        filing.refused.connect(self._refused)
        filing.mistaken.connect(desk.tell)
        filing.broke.connect(self.watch.note)
        self._timer = QTimer(self)
        self._timer.setInterval(BACK_UP_EVERY_MS)
        self._timer.timeout.connect(self._back_up_when_due)
        self._timer.start()

    def show(self, page: QWidget) -> None:
        """Bring a page to the front with what there is now."""
        self.desk.show_page(page)
        if isinstance(page, JobsPage | PriceBookPage | SettingsPage | BackupsPage):
            page.begin()
        if page is self.settings:
            self.settings.follow_system(follows=self.desk.follows_system)

    def open_job(self, uid: str) -> None:
        """Put a job of the file on the desk."""
        from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

        self.session.accept()
        self.session.filing.ask(lambda database: kept.open_job(database, uid), self._show_job)

    def back_up(self) -> None:
        """Back the file up now, and say so."""
        from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

        self.session.accept()
        self.session.filing.ask(kept.back_up, self._backed_up)

    def _backed_up(self, at: datetime.datetime | None) -> None:
        if at is None:
            self.desk.tell(_("Nothing has changed since the last backup, so it still stands."))
        else:
            time = f"{at.astimezone():%H:%M}"
            self.desk.tell(_("Backed up at {time}.").format(time=time))

    def _back_up_when_due(self) -> None:
        from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

        if self.session.filing.can_write:
            self.session.filing.ask(kept.back_up_when_due)

    def _refused(self, fault: UserMistake) -> None:
        self.desk.show_page(self.backups)
        self.backups.tell_trouble(fault)

    def _back_to_desk(self) -> None:
        if self.desk.columns is not None:
            self.desk.show_page(self.desk.columns)

    def _seek(self, typed: str) -> None:
        page = self.desk.pages.currentWidget()
        if isinstance(page, PriceBookPage | SettingsPage):
            page.seek(typed)
            return
        if page is not self.jobs:
            self.show(self.jobs)
            self.desk.strip.seek.setFocus()
        self.jobs.seek(typed)

    def _take_first(self) -> None:
        if self.desk.pages.currentWidget() is self.jobs:
            self.jobs.take_first()

    def _typed(self, letter: str) -> None:
        """Letters typed over the list of jobs belong in the field above it."""
        field = self.desk.strip.seek
        field.setFocus()
        field.insert(letter)
        self.jobs.seek(field.text())

    def _show_rates(self, typed: str) -> None:
        self.show(self.price_book)
        self.price_book.seek(typed)

    def _dress(self, scheme: str, scale: float) -> None:
        as_system = scheme == "system"
        chosen = system_scheme() if as_system else Scheme(scheme)
        self.desk.dress(chosen, scale, as_system=as_system)
        self.settings.follow_system(follows=as_system)

    def _opened(self, database: Database) -> None:
        from estimator.desktop import kept  # noqa: PLC0415 - loaded by now

        if database.why_read_only:
            self.desk.tell(database.why_read_only)
            self.desk.show_saved(None, read_only=True)
        self.session.filing.ask(kept.practice, self._use)
        self.session.filing.ask(kept.last_open, self._reopen)

    def _use(self, practice: Practice) -> None:
        self.session.use(practice)

    def _reopen(self, job: OpenJob | None) -> None:
        """Go back to where one was, unless a new call has begun meanwhile."""
        if job is not None and not self.session.history.count():
            self.session.show_job(job)

    def _show_job(self, job: OpenJob) -> None:
        self.session.show_job(job)
        if self.desk.columns is not None:
            self.desk.show_page(self.desk.columns)
