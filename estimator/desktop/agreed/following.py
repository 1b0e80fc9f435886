"""Follows what the open job has come to: read in the file's thread, shown in the window's."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from estimator.contract.so_far import SoFar
from estimator.desktop.papers.asking import ask
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.agreed.asked import Known
    from estimator.store.database import Database

Act = Callable[["Database", str], Any]
"""What is done with the file and the uid of a job, in the file's thread."""


class Following(QObject):
    """Holds what the open job has come to, and does what is asked with it."""

    changed = Signal()
    """``so_far`` is another: something was done, or another job is on the desk."""
    busy_changed = Signal(bool)
    """Whether the file is at work on something that was asked for."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Follow the open job; nothing is known of it before the file answers."""
        super().__init__(parent or session)
        self.session = session
        self.so_far = SoFar()
        self._uid = session.job.uid
        self._asked = 0
        self._doing = 0
        self._pressed: set[str] = set()
        session.job_changed.connect(self._job_changed)
        session.filing.opened.connect(self._opened)
        session.filing.broke.connect(self._broken)
        if session.filing.is_open:
            self.reload()

    @property
    def has_contract(self) -> bool:
        """Whether something was accepted, and not called off since."""
        return self.so_far.contract is not None and self.so_far.called_off is None

    @property
    def is_busy(self) -> bool:
        """Whether the file is at work on something that was asked for."""
        return self._doing > 0

    def reload(self) -> None:
        """Read anew what the open job has come to."""
        uid = self._uid

        def read(database: Database) -> Known:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.known(database, uid)

        self._asked += 1
        number = self._asked
        ask(self, self.session.filing, read, lambda found: self._take(number, found))

    def do(
        self,
        act: Act,
        then: Callable[[Any], object] | None = None,
        *,
        on_mistake: Callable[[UserMistake], object] | None = None,
        is_pressed: bool = True,
    ) -> None:
        """Have something done to the open job in the file, and take what it has come to then.

        A second press while the first is still being done is none: nobody means two papers.

        Args:
            act: Called in the file's thread with the file and the job's uid.
            then: Called in the window's thread with what it gave, once ``so_far`` is the new one.
            on_mistake: Told what could not be done; otherwise the desk tells it.
            is_pressed: Whether somebody pressed a button for it; typing is kept beside that.
        """
        uid, session = self._uid, self.session
        if is_pressed and uid in self._pressed:
            return
        if is_pressed:
            self._pressed.add(uid)
        session.save()

        def done_by(database: Database) -> tuple[Any, Known]:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            given = act(database, uid)
            return given, asked.known(database, uid)

        def done(found: tuple[Any, Known]) -> None:
            given, known = found
            rest()
            self._take(number, known)
            if then is not None and uid == self._uid:
                then(given)

        def not_done(mistake: UserMistake) -> None:
            rest()
            # Somebody else may have done it already: what is shown is then of before.
            self.reload()
            (on_mistake or session.mistaken.emit)(mistake)

        def rest() -> None:
            if is_pressed:
                self._pressed.discard(uid)
            self._rest()

        self._asked += 1
        number = self._asked
        self._doing += 1
        self.busy_changed.emit(True)
        ask(self, session.filing, done_by, done, on_mistake=not_done)

    def _rest(self) -> None:
        self._doing = max(self._doing - 1, 0)
        if not self._doing:
            self.busy_changed.emit(False)

    def _broken(self, _error: object) -> None:
        """Let everything be pressed again: of what was being done no answer comes any more."""
        self._pressed.clear()
        if self._doing:
            self._doing = 0
            self.busy_changed.emit(False)
            self.reload()

    def _take(self, number: int, known: Known) -> None:
        """Take what the file says, unless something newer was asked since."""
        if number != self._asked:
            return
        stage = self.session.job.stage
        if known.stage and known.stage != stage:
            self.session.adopt(stage=known.stage)
        if known.so_far != self.so_far:
            self.so_far = known.so_far
            self.changed.emit()

    def _opened(self, _database: object) -> None:
        self.reload()

    def _job_changed(self, job: OpenJob) -> None:
        """Forget the job before at once; the file then tells of this one."""
        if job.uid == self._uid:
            return
        self._uid = job.uid
        # What was still being done for the job before is done; nobody here waits for it.
        self._asked += 1
        if self.so_far != SoFar():
            self.so_far = SoFar()
            self.changed.emit()
        self.reload()
