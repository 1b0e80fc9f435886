"""The pages beside the desk, and what the file has to say: opened, refused, broken.

Jobs, price book and settings are made when they are first shown, or once the file is open and the
database library is loaded anyway: none of them is wanted in the first second.
"""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, QTimer

from estimator.desktop.desk import Desk
from estimator.desktop.keyboard import about_dialog, keys_dialog
from estimator.desktop.language import _
from estimator.desktop.safety.backups import BackupsPage
from estimator.desktop.safety.faults import Watch
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.desktop.theme.look import system_scheme
from estimator.desktop.theme.tokens import Scheme
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.jobs.page import JobsPage
    from estimator.desktop.price_book.page import PriceBookPage
    from estimator.desktop.settings.page import SettingsPage
    from estimator.quoting.offering import Practice
    from estimator.store.database import Database

BACK_UP_EVERY_MS = 30 * 60_000


class Page(Protocol):
    """What every page can do."""

    def begin(self) -> None:
        """Show what there is now."""

    def seek(self, words_typed: str) -> None:
        """Show what fits the words typed into the field above."""


class Places(QObject):
    """Jobs, price book, settings and backups, each brought to the front by its command."""

    def __init__(self, desk: Desk, session: Session, parent: QObject | None = None) -> None:
        """Hang the pages' commands on a desk, and listen to the file."""
        super().__init__(parent)
        self.desk, self.session = desk, session
        self._is_refused = False
        self._jobs: JobsPage | None = None
        self._price_book: PriceBookPage | None = None
        self._settings: SettingsPage | None = None
        self.backups = BackupsPage(session.filing)
        desk.add_page(self.backups)
        self.watch = Watch(self)
        desk.actions_.hang(
            {
                "jobs": self.show_jobs,
                "price_book": self.show_price_book,
                "settings": self.show_settings,
                "restore": self.show_backups,
                "back_up": self.back_up,
                "keys": lambda: keys_dialog(desk).open(),
                "about": lambda: about_dialog(desk).open(),
            }
        )
        self._listen()

    def _listen(self) -> None:
        self.desk.strip.sought.connect(self._seek)
        self.desk.strip.taken.connect(self._take_first)
        self.backups.left.connect(self._back_to_desk)
        # What is on the desk goes with the file it belongs to, or it would be written over what
        # is put back; the job that was open then comes from there.
        self.backups.restoring.connect(self.session.new_job)
        self.watch.heard.connect(self.desk.tell)
        filing = self.session.filing
        filing.opened.connect(self._opened)
        filing.refused.connect(self._refused)
        filing.mistaken.connect(self.desk.tell)
        filing.broke.connect(self.watch.note)
        self.desk.pages.currentChanged.connect(self._say_unkept)
        self._timer = QTimer(self)
        self._timer.setInterval(BACK_UP_EVERY_MS)
        self._timer.timeout.connect(self._back_up_when_due)
        self._timer.start()

    # -- the pages

    @property
    def jobs(self) -> JobsPage:
        """The page of all jobs."""
        if self._jobs is None:
            from estimator.desktop.jobs.page import JobsPage  # noqa: PLC0415 - see above

            page = self._jobs = JobsPage(self.session)
            page.opened.connect(self.open_job)
            page.new_wanted.connect(self.desk.new_call)
            page.typed.connect(self._typed)
            page.rates_wanted.connect(self._show_rates)
            self.desk.add_page(page)
        return self._jobs

    @property
    def price_book(self) -> PriceBookPage:
        """The price book as a page."""
        if self._price_book is None:
            from estimator.desktop.price_book.page import PriceBookPage  # noqa: PLC0415 - see above

            self._price_book = PriceBookPage(self.session)
            self.desk.add_page(self._price_book)
        return self._price_book

    @property
    def settings(self) -> SettingsPage:
        """The settings as a page."""
        if self._settings is None:
            from estimator.desktop.settings.page import SettingsPage  # noqa: PLC0415 - see above

            self._settings = SettingsPage(self.session)
            self._settings.look_changed.connect(self._dress)
            self.desk.add_page(self._settings)
        return self._settings

    def show_jobs(self) -> None:
        """Bring the jobs to the front, the open one as it stands."""
        self.session.accept()
        self.desk.show_page(self.jobs)
        self.jobs.begin()

    def show_price_book(self) -> None:
        """Bring the price book to the front."""
        self.desk.show_page(self.price_book)
        self.price_book.begin()

    def show_settings(self) -> None:
        """Bring the settings to the front."""
        self.desk.show_page(self.settings)
        self.settings.begin()
        self.settings.follow_system(follows=self.desk.follows_system)

    def show_backups(self) -> None:
        """Bring the backups to the front."""
        self.desk.show_page(self.backups)
        self.backups.begin()

    def _back_to_desk(self) -> None:
        self.desk.go_back()

    def _make_pages(self) -> None:
        """Make what nobody has asked for yet, one page a turn, so that it is there when wanted."""
        if self._jobs is None:
            made: object = self.jobs
        elif self._price_book is None:
            made = self.price_book
        elif self._settings is None:
            made = self.settings
        else:
            return
        assert made is not None
        QTimer.singleShot(0, self, self._make_pages)

    # -- find

    def _seek(self, typed: str) -> None:
        page: object = self.desk.pages.currentWidget()
        seekers: tuple[Page | None, ...] = (self._price_book, self._settings)
        for seeker in seekers:
            if seeker is not None and page is seeker:
                seeker.seek(typed)
                return
        if page is not self.jobs:
            self.show_jobs()
            self.desk.strip.seek.setFocus()
        self.jobs.seek(typed)

    def _take_first(self) -> None:
        if self._jobs is not None and self.desk.pages.currentWidget() is self._jobs:
            self._jobs.take_first()

    def _typed(self, letter: str) -> None:
        """Letters typed over the list of jobs belong in the field above it."""
        field = self.desk.strip.seek
        field.setFocus()
        field.insert(letter)
        self.jobs.seek(field.text())

    def _show_rates(self, typed: str) -> None:
        self.show_price_book()
        self.price_book.seek(typed)

    def _dress(self, scheme: str, scale: float) -> None:
        as_system = scheme == "system"
        chosen = system_scheme() if as_system else Scheme(scheme)
        self.desk.dress(chosen, scale, as_system=as_system)
        self.settings.follow_system(follows=as_system)

    # -- the file

    def open_job(self, uid: str) -> None:
        """Put a job of the file on the desk."""
        from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

        self.session.accept()
        self.session.filing.ask(lambda database: kept.take_up(database, uid), self._show_job)

    def _show_job(self, job: OpenJob) -> None:
        self.session.show_job(job)
        self._back_to_desk()

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
            self.desk.strip.say(_("Backed up {time}").format(time=time))

    def _back_up_when_due(self) -> None:
        from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

        if self.session.filing.can_write:
            self.session.filing.ask(kept.back_up_when_due)

    def _refused(self, fault: UserMistake) -> None:
        self._is_refused = True
        self.desk.show_page(self.backups, can_go_back=False)
        self.backups.tell_trouble(fault)
        self.desk.strip.say(_("Nothing is kept"))
        self._say_unkept()

    def _say_unkept(self, _page: int = -1) -> None:
        """Say over every page but that of backups, which says it itself, that nothing is kept."""
        if not self._is_refused:
            return
        is_said = self.desk.pages.currentWidget() is self.backups
        self.desk.tell(
            ""
            if is_said
            else _(
                "Nothing is kept: the file could not be opened. Put a backup back from the menu;"
                " what you type until then goes into it."
            )
        )

    def _opened(self, database: Database) -> None:
        self._is_refused = False
        self.desk.tell("")
        from estimator.desktop import kept  # noqa: PLC0415 - loaded by now

        if database.why_read_only:
            self.desk.tell(database.why_read_only)
            self.desk.show_saved(None, read_only=True)
        self.session.filing.ask(kept.warning_of_place, self._warn)
        self.session.filing.ask(kept.practice, self._use)
        self.session.filing.ask(kept.last_open, self._reopen)
        QTimer.singleShot(0, self, self._make_pages)

    def _warn(self, warning: str) -> None:
        if warning:
            self.desk.tell(_("Take care: {warning}.").format(warning=warning))

    def _use(self, practice: Practice) -> None:
        self.session.use(practice)

    def _reopen(self, job: OpenJob | None) -> None:
        """Go back to where one was, unless a new call has begun meanwhile."""
        if job is not None and not self.session.history.count():
            self.session.show_job(job)
