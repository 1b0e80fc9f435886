"""The open job: applies edits, prices them at once, settles the range, and keeps it all.

Likely prices are worked out in the window's thread, since that takes milliseconds; the range is a
sample of many prices and comes from the workers. The file is only ever asked, never waited for.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING
from uuid import uuid4

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoStack

from estimator.desktop.courier import Courier
from estimator.desktop.filing import Filing
from estimator.desktop.history import Stepped
from estimator.desktop.state import OpenJob, Sight
from estimator.desktop.titles import fresh_title, titled
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work
from estimator.survey import enquiry
from estimator.survey.survey import Basis, Party, Site, Survey
from estimator.survey.triage import Assessment, assess

if TYPE_CHECKING:
    from estimator.desktop.workers import Workers
    from estimator.quoting.offering import Practice
    from estimator.quoting.outlook import Outlook
    from estimator.quoting.quotation import Option
    from estimator.store.database import Database

SAVE_AFTER_MS = 250
"""Rest after which what was typed is kept. [ms]"""
SETTLE_AFTER_MS = 10
"""Rest after which the range is asked for: a key in the middle of a word needs none. [ms]"""
ACCEPT_AFTER_MS = 120_000
"""Rest after which what was kept becomes a revision of the survey. [ms]"""
UNDO_STEPS = 500


def fresh_work(today: datetime.date) -> Work:
    """Return what is known when the telephone rings: nothing."""
    survey = Survey(
        reference=today.isoformat(),
        title=fresh_title(),
        date=today.isoformat(),
        basis=Basis.TOLD,
        customer=Party(),
        site=Site(),
        elevations=(),
    )
    return Work(enquiry.surveyed(survey))


def fresh_job(today: datetime.date) -> OpenJob:
    """Return an empty job; the file hears of it with its first edit."""
    return OpenJob(fresh_work(today), uuid4().hex)


class Session(QObject):
    """Everything that happens to the open job."""

    sight_changed = Signal(object)
    """A ``Sight``: after every edit, and when the range has settled."""
    job_changed = Signal(object)
    """An ``OpenJob``: another job is on the desk, or its place in the file changed."""
    saved = Signal(object)
    """The moment everything typed so far was safely in the file."""
    mistaken = Signal(object)
    """A ``UserMistake`` to show where it does not stop the work."""
    closing = Signal()
    """The desk is being left: what is half typed is to be kept now."""

    def __init__(
        self,
        filing: Filing,
        workers: Workers | None = None,
        parent: QObject | None = None,
        *,
        prices_later: bool = False,
    ) -> None:
        """Put an empty job on the desk.

        Args:
            filing: Asks the file.
            workers: Work out ranges and papers; made when first wanted unless they are given.
            parent: Who it belongs to.
            prices_later: Price nothing before the first ``refresh``: the engine is still to load.
        """
        super().__init__(parent)
        self.filing, self._workers = filing, workers
        self._practice: Practice | None = None
        self._frozen: Practice | None = None
        self.history = QUndoStack(self)
        self.history.setUndoLimit(UNDO_STEPS)
        self.today: Callable[[], datetime.date] = datetime.date.today
        self.job = fresh_job(self.today())
        self._courier = Courier(self)
        self._save = _timer(self, SAVE_AFTER_MS, self.save)
        self._accept = _timer(self, ACCEPT_AFTER_MS, self.accept)
        self.settling = _timer(self, SETTLE_AFTER_MS, self._settle)
        self._asked = 0
        self._is_saving = self._changed_since = False
        work = self.job.work
        self.sight = Sight(self.job, None, assess(work.survey))
        if not prices_later:
            self.sight = self._look()

    # -- the job on the desk

    @property
    def work(self) -> Work:
        """What the price follows from."""
        return self.job.work

    @property
    def workers(self) -> Workers:
        """The processes that work out ranges and papers."""
        if self._workers is None:
            from estimator.desktop.workers import Workers  # noqa: PLC0415 - loads the engine

            self._workers = Workers()
        return self._workers

    @workers.setter
    def workers(self, workers: Workers) -> None:
        self._workers = workers

    def close(self) -> None:
        """Keep everything, close the file and end the workers."""
        self.closing.emit()
        self.accept()
        self._let_go_of_pictures()
        self.filing.close()
        if self._workers is not None:
            self._workers.close()

    @property
    def practice(self) -> Practice:
        """The firm's rates, rules and name; those that come with the program until it is known."""
        if self._practice is None:
            from estimator.desktop import pricer  # noqa: PLC0415 - loads the pricing engine

            self._practice = pricer.shipped()
        return self._practice

    @practice.setter
    def practice(self, practice: Practice) -> None:
        self._practice = practice

    def apply(self, edit: Edit) -> None:
        """Take an edit; one that changes nothing is no step."""
        if edit.after != self.work:
            self.history.push(Stepped(titled(edit), self.work, self._put))

    def new_job(self) -> None:
        """Put an empty job on the desk; what was there is kept first."""
        self.show_job(fresh_job(self.today()))

    def show_job(self, job: OpenJob) -> None:
        """Put another job on the desk."""
        self.accept()
        self.history.clear()
        self._let_go_of_pictures()
        # What the next job is agreed by, if it is, the file still has to tell.
        self.job, self._frozen = job, None
        self._changed_since = False
        self.job_changed.emit(job)
        self.refresh()

    def adopt(self, **changes: object) -> None:
        """Note what the file says of the open job: its name, stage, customer or papers."""
        self.job = replace(self.job, **changes)  # type: ignore[arg-type]
        self.sight = replace(self.sight, job=self.job)
        self.job_changed.emit(self.job)

    def use(self, practice: Practice) -> None:
        """Price by other rates, rules or name from now on."""
        self.practice = practice
        self.refresh()

    def freeze(self, practice: Practice | None) -> None:
        """Price the open job by what was agreed, whatever rates are now; None for today's."""
        if practice is not self._frozen:
            self._frozen = practice
            self.refresh()

    def refresh(self) -> None:
        """Price what is known anew, and show it."""
        self.sight = self._look()
        self.sight_changed.emit(self.sight)
        # Whatever is still being worked out is of the answers before.
        self._asked += 1
        self.settling.start()

    def _put(self, work: Work) -> None:
        self.job = replace(self.job, work=work)
        self._changed_since = True
        self._save.start()
        self._accept.start()
        self.refresh()

    # -- the prices

    def _look(self) -> Sight:
        from estimator.desktop import pricer  # noqa: PLC0415 - loads the pricing engine

        practice = self._frozen or pricer.fitted(self.work, self.practice)
        assessment = assess(self.work.survey)
        options: tuple[Option, ...] = ()
        problem = ""
        if assessment.route.allows_price:
            options, problem = pricer.options(self.work, practice, date=self.today())
        outlook = self._outlook_before(assessment)
        return Sight(
            self.job, practice, assessment, options, outlook, bool(options), problem=problem
        )

    def _outlook_before(self, assessment: Assessment) -> Outlook | None:
        """Keep showing the range of the answers before until the new one has settled."""
        if self.sight.work.scopes != self.work.scopes:
            return None
        return self.sight.outlook if assessment.route.allows_price else None

    def _settle(self) -> None:
        """Ask the workers for the range and the best question; only the newest answer counts."""
        asked = self._asked
        if not self.sight.options:
            return

        def done(outlook: Outlook) -> None:
            self._courier.carry(lambda: self._settled(asked, outlook))

        def failed(_error: BaseException) -> None:
            self._courier.carry(lambda: self._settled(asked, None))

        self.workers.outlook(
            self.work.survey,
            self.sight.practice,
            self.work.scopes,
            self.today(),
            on_done=done,
            on_failed=failed,
        )

    def _settled(self, asked: int, outlook: Outlook | None) -> None:
        if asked == self._asked:
            self.sight = replace(self.sight, outlook=outlook, is_settling=False)
            self.sight_changed.emit(self.sight)

    # -- the file

    def save(self) -> None:
        """Keep what is typed, if anything is new; a job is put in the file with its first edit."""
        self._save.stop()
        only_looking = self.filing.is_open and not self.filing.can_write
        if self._is_saving or not self._changed_since or only_looking:
            return
        self._is_saving, self._changed_since = True, False
        job = self.job

        def kept_by(database: Database) -> datetime.datetime:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

            return kept.keep_working(database, job)

        def not_kept(mistake: UserMistake) -> None:
            self._is_saving, self._changed_since = False, True
            self.mistaken.emit(mistake)

        self.filing.ask(kept_by, self._kept, on_mistake=not_kept)

    def _kept(self, at: datetime.datetime) -> None:
        self._is_saving = False
        if self._changed_since:
            self.save()
        else:
            self.saved.emit(at)

    def accept(self) -> None:
        """Make what was kept a revision of the job's survey, and note its customer."""
        self._accept.stop()
        if self.filing.is_open and not self.filing.can_write:
            return
        self._is_saving = False
        self.save()
        job = self.job

        def accepted_by(database: Database) -> OpenJob:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

            return kept.accept(database, job)

        self.filing.ask(accepted_by, self._accepted)

    def _let_go_of_pictures(self) -> None:
        """Throw away photographs that were taken off, now that undo cannot bring them back."""
        if not self.filing.can_write:
            return
        job = self.job

        def dropped_by(database: Database) -> object:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

            return kept.drop_unused_photos(database, job)

        self.filing.ask(dropped_by)

    def _accepted(self, job: OpenJob) -> None:
        mine = (self.job.customer, self.job.papers, self.job.stage)
        if self.job.uid == job.uid and mine != (job.customer, job.papers, job.stage):
            self.adopt(customer=job.customer, papers=job.papers, stage=job.stage)


def _timer(owner: QObject, rest_ms: int, then: Callable[[], None]) -> QTimer:
    timer = QTimer(owner)
    timer.setSingleShot(True)
    timer.setInterval(rest_ms)
    timer.timeout.connect(then)
    return timer
