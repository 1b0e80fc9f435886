"""What the wall as it is marked now would change of what was agreed, always current."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from estimator.contract.so_far import SoFar
from estimator.contract.valuation import Valuation
from estimator.desktop.agreed import reckoning
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.reckoning import Choice, Valued, Wall
from estimator.desktop.courier import Courier
from estimator.desktop.language import in_full
from estimator.desktop.papers.asking import carry
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.desktop.workers import Ticket
from estimator.money import NOTHING, Money
from estimator.takeoff.scope import Scope

REST_MS = 30
"""Rest after an edit before the change is valued. [ms]"""
SLOW_MS = 8.0
"""A wall that takes the processor longer is left to the workers, until it takes less. [ms]"""


class Valuing(QObject):
    """Values the wall as found against what was agreed, and the other choices beside it."""

    changed = Signal()
    """What it comes to is another, or not known any more."""

    def __init__(self, session: Session, following: Following) -> None:
        """Follow both."""
        super().__init__(following)
        self.session, self.following = session, following
        self.valuation: Valuation | None = None
        """None without a contract, and where it cannot be valued."""
        self.problem = ""
        """Why it cannot be valued, in a plain sentence."""
        self.choices: tuple[Choice, ...] = ()
        self.all_found = False
        """Whether nothing more will be found: an allowance is then counted down too."""
        self.reviewed_rate: Decimal | None = None
        """For further bricks, where their rate is open to review. [£]"""
        self.is_settling = False
        """Whether what is shown is of the wall before: a newer one is being worked out."""
        self._scope: Scope | None = None
        self._since = SoFar()
        self._of: tuple[object, ...] = ()
        self._is_slow = False
        self._ticket: Ticket | None = None
        self._courier = Courier(self)
        self._rest = _timer(self, REST_MS, self.look)
        self._then = _timer(self, 0, self._look_further)
        session.sight_changed.connect(lambda _sight: self._rest.start())
        session.job_changed.connect(self._job_changed)
        following.changed.connect(self._followed)

    # -- what it comes to

    @property
    def scope(self) -> Scope | None:
        """The way taken now; None before anything is agreed."""
        if not self.following.has_contract:
            return None
        drafts = [one for one in self.following.so_far.variations if reckoning.is_draft(one)]
        drafted = drafts[-1].variation.scope if drafts else None
        return self._scope or drafted or reckoning.covered_scope(self.so_far)

    @property
    def so_far(self) -> SoFar:
        """What the job has come to, but for the draft that is still being written.

        What is found goes into the draft, however often it is opened again.
        """
        return reckoning.without_drafts(self.following.so_far)

    @property
    def is_anything(self) -> bool:
        """Whether something is changed against what was agreed."""
        return self.valuation is not None and bool(self.valuation.lines)

    @property
    def title(self) -> str:
        """What the change is called until somebody calls it otherwise."""
        return "" if self.valuation is None else in_full(self.valuation.title)

    @property
    def net(self) -> Money:
        """What the change comes to, before tax."""
        return NOTHING if self.valuation is None else reckoning.net_of(self.valuation)

    @property
    def total(self) -> Money:
        """What the change comes to with tax: tax on the sum after less tax on the sum before."""
        return reckoning.with_tax(self.following.so_far, self.net)

    @property
    def is_open_to_review(self) -> bool:
        """Whether so many further bricks were found that their rate may be agreed anew."""
        is_open = self.valuation is not None and self.valuation.is_open_to_review
        return is_open or self.reviewed_rate is not None

    # -- how it is valued

    def take(self, scope: Scope | None) -> None:
        """Do the work another way from now on; None for the way that is agreed."""
        self._scope = scope or reckoning.covered_scope(self.so_far)
        self.look()

    def find_all(self, *, found: bool) -> None:
        """Say whether nothing more will be found."""
        self.all_found = found
        self.look()

    def review(self, rate: Decimal | None) -> None:
        """Take a rate agreed anew for further bricks; None for the one that was promised."""
        self.reviewed_rate = rate
        self.look()

    def look(self) -> None:
        """Value what is marked now; nothing happens where nothing is new."""
        self._rest.stop()
        of = (
            *(self.session.work.survey, self.session.practice.book),
            *(self.so_far, self.scope, self.all_found, self.reviewed_rate),
        )
        # What was agreed is read from the file anew each time, and mostly says what it said.
        is_same = (one is other for one, other in zip(of[:2], self._of[:2], strict=False))
        if self._of and all(is_same) and of[2:] == self._of[2:]:
            return
        self._of = of
        self._drop()
        wall = self._wall()
        if wall is None:
            self._take((None, ""), ())
        elif self._is_slow:
            self.is_settling = True
            self.changed.emit()
            self._hand_out(reckoning.timed, wall, then=self._answered)
        else:
            self._answered(reckoning.timed(wall))

    def _wall(self) -> Wall | None:
        scope = self.scope
        if scope is None:
            return None
        return Wall(
            self.so_far,
            self.session.work.survey,
            scope,
            self.session.practice.book,
            self.all_found,
            self.reviewed_rate,
        )

    def _look_further(self) -> None:
        """Value the other choices, once what matters more is on the screen."""
        wall = self._wall()
        if wall is None or self.valuation is None or self.is_settling:
            return
        scopes = self.session.work.scopes
        if self._is_slow:
            self._hand_out(reckoning.other_ways, wall, scopes, then=self._choose)
            return
        self._choose(reckoning.other_ways(wall, scopes))

    def _hand_out(
        self, function: Callable[..., Any], *about: object, then: Callable[[Any], None]
    ) -> None:
        """Have a worker value something; what is shown stays until then."""
        of = self._of

        def done(found: object) -> None:
            carry(self._courier, lambda: then(found) if of is self._of else None)

        def failed(error: BaseException) -> None:
            carry(self._courier, lambda: self._failed(of, error))

        self._ticket = self.session.workers.run(function, *about, on_done=done, on_failed=failed)

    def _answered(self, told: tuple[Valued, float]) -> None:
        found, took = told
        # What was slow once, while everything was loading, is not so for good.
        self._is_slow = took > SLOW_MS
        self._take(found, ())
        self._then.start()

    def _failed(self, of: object, error: BaseException) -> None:
        if of is self._of:
            self._take((None, ""), ())
            self.session.filing.broke.emit(error)

    def _take(self, found: Valued, choices: tuple[Choice, ...]) -> None:
        self.valuation, self.problem = found
        self.choices, self.is_settling = choices, False
        self.changed.emit()

    def _choose(self, choices: tuple[Choice, ...]) -> None:
        if choices:
            self.choices = choices
            self.changed.emit()

    def _drop(self) -> None:
        """Let go of what is still to come of the wall before."""
        self._then.stop()
        self.is_settling = False
        if self._ticket is not None:
            self._ticket.cancel()
            self._ticket = None

    def _followed(self) -> None:
        """Begin from what is agreed now; a draft that was kept is nothing new."""
        so_far = self.so_far
        if so_far != self._since:
            self._since, self._scope = so_far, None
            # What was valued against something else must not stand beside what is agreed now.
            self.valuation, self.choices = None, ()
            self.all_found, self.reviewed_rate = False, None
        self.look()

    def _job_changed(self, _job: OpenJob) -> None:
        """Find out anew how long a wall takes."""
        self._is_slow = False


def _timer(owner: QObject, rest_ms: int, then: Callable[[], None]) -> QTimer:
    timer = QTimer(owner)
    timer.setSingleShot(True)
    timer.setInterval(rest_ms)
    timer.timeout.connect(then)
    return timer
