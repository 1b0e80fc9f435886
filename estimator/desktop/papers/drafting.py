"""Has the papers of the open job made by the workers, anew whenever they would read otherwise."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from estimator.desktop.courier import Courier
from estimator.desktop.papers.asking import carry
from estimator.desktop.papers.made import Draft, made
from estimator.desktop.session import Session
from estimator.desktop.workers import Ticket
from estimator.notices import UserMistake

REST_MS = 200
"""Rest after an edit before the paper is made anew. [ms]"""


class Making(QObject):
    """A paper as it would be now."""

    begun = Signal()
    """What was made is no longer what it would be."""
    done = Signal(object)
    """What was made."""
    missed = Signal(str)
    """Why there is no paper, in a plain sentence."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Make nothing before it is asked for."""
        super().__init__(parent)
        self.session = session
        self._courier = Courier(self)
        self._of: object = None
        self._ticket: Ticket | None = None
        self._is_followed = False
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._make)
        session.sight_changed.connect(self.look)

    def follow(self) -> None:
        """Make the paper, and keep it so."""
        self._is_followed, self._of = True, None
        self.look(rest=False)

    def rest(self) -> None:
        """Make nothing more until it is followed again."""
        self._is_followed = False
        self._rest.stop()
        self._drop()

    def look(self, _sight: object = None, *, rest: bool = True) -> None:
        """Begin anew if the paper would read otherwise; a range that settles changes nothing."""
        if not self._is_followed:
            return
        follows_from = self.follows_from()
        if follows_from == self._of:
            return
        self._of = follows_from
        self._drop()
        self.begin()
        self.begun.emit()
        if rest:
            self._rest.start()
        else:
            self._make()

    def follows_from(self) -> tuple[object, ...]:
        """Return all that the paper follows from, to tell when it would read otherwise."""
        raise NotImplementedError

    def begin(self) -> None:
        """Forget what was made."""

    def take(self, made_now: object) -> None:
        """Keep what was made."""

    def order(self) -> None:
        """Have it made: ``hand_out`` with the work and what it needs, now or once that is there."""
        raise NotImplementedError

    def hand_out(self, function: Callable[..., object], *arguments: object) -> None:
        """Have a worker make what was ordered last."""
        asked = self._of

        def done(made_now: object) -> None:
            carry(self._courier, lambda: self._done(asked, made_now))

        def failed(error: BaseException) -> None:
            carry(self._courier, lambda: self._missed(asked, error))

        self._drop()
        self._ticket = self.session.workers.run(
            function, *arguments, on_done=done, on_failed=failed
        )

    @property
    def asked(self) -> object:
        """What tells one order from the next."""
        return self._of if self._is_followed else None

    def _make(self) -> None:
        if self._is_followed:
            self.order()

    def _drop(self) -> None:
        if self._ticket is not None:
            self._ticket.cancel()
            self._ticket = None

    def _done(self, asked: object, made_now: object) -> None:
        if asked is self.asked:
            self.take(made_now)
            self.done.emit(made_now)

    def _missed(self, asked: object, error: BaseException) -> None:
        if asked is not self.asked:
            return
        if not isinstance(error, UserMistake):
            self.session.filing.broke.emit(error)
        self.missed.emit(str(error))


class Drafting(Making):
    """The paper as it would go out now: ``done`` brings a ``Draft``."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Make nothing before it is asked for."""
        super().__init__(session, parent)
        self.draft: Draft | None = None
        """What would go out; None while it is being made."""

    def follows_from(self) -> tuple[object, ...]:
        """Return what is known, by which rates it is priced, what is offered, and the day."""
        sight = self.session.sight
        return sight.work.survey, sight.practice, sight.work.scopes, self.session.today()

    def begin(self) -> None:
        """Forget the paper before."""
        self.draft = None

    def take(self, made_now: object) -> None:
        """Keep the paper."""
        assert isinstance(made_now, Draft)
        self.draft = made_now

    def order(self) -> None:
        """Have it made at once."""
        self.hand_out(made, *self.follows_from())
