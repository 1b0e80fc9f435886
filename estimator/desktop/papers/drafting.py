"""Has the paper of the open job made by the workers, anew whenever it would read otherwise."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from estimator.desktop.courier import Courier
from estimator.desktop.papers.asking import carry
from estimator.desktop.papers.made import Draft, made
from estimator.desktop.session import Session
from estimator.desktop.workers import Ticket
from estimator.notices import UserMistake

REST_MS = 200
"""Rest after an edit before the paper is made anew. [ms]"""


class Drafting(QObject):
    """The paper as it would go out now."""

    begun = Signal()
    """What was made is no longer what would go out."""
    done = Signal(object)
    """A ``Draft``."""
    missed = Signal(str)
    """Why there is no paper, in a plain sentence."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Make nothing before it is asked for."""
        super().__init__(parent)
        self._session = session
        self._courier = Courier(self)
        self._of: object = None
        self._ticket: Ticket | None = None
        self._is_followed = False
        self.draft: Draft | None = None
        """What would go out; None while it is being made."""
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._make)
        session.sight_changed.connect(self._look)

    def follow(self) -> None:
        """Make the paper, and keep it so."""
        self._is_followed, self._of = True, None
        self._look(rest=False)

    def rest(self) -> None:
        """Make nothing more until it is followed again."""
        self._is_followed = False
        self._rest.stop()
        self._drop()

    def _look(self, _sight: object = None, *, rest: bool = True) -> None:
        """Begin anew if the paper would read otherwise; a range that settles changes nothing."""
        arguments = self._arguments()
        if not self._is_followed or arguments == self._of:
            return
        self._of = arguments
        self.draft = None
        self._drop()
        self.begun.emit()
        if rest:
            self._rest.start()
        else:
            self._make()

    def _arguments(self) -> tuple[object, ...]:
        sight = self._session.sight
        return sight.work.survey, sight.practice, sight.work.scopes, self._session.today()

    def _make(self) -> None:
        asked = self._of

        def done(draft: Draft) -> None:
            carry(self._courier, lambda: self._done(asked, draft))

        def failed(error: BaseException) -> None:
            carry(self._courier, lambda: self._missed(asked, error))

        self._drop()
        self._ticket = self._session.workers.run(
            made, *self._arguments(), on_done=done, on_failed=failed
        )

    def _drop(self) -> None:
        if self._ticket is not None:
            self._ticket.cancel()
            self._ticket = None

    def _done(self, asked: object, draft: Draft) -> None:
        if asked is self._of and self._is_followed:
            self.draft = draft
            self.done.emit(draft)

    def _missed(self, asked: object, error: BaseException) -> None:
        if asked is not self._of or not self._is_followed:
            return
        if not isinstance(error, UserMistake):
            self._session.filing.broke.emit(error)
        self.missed.emit(str(error))
