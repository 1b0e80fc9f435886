"""What the wall as it is marked now would change of what was agreed, always current."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from estimator.contract.so_far import SoFar, Varied
from estimator.contract.variation import Standing
from estimator.desktop.agreed.following import Following
from estimator.desktop.language import in_full
from estimator.desktop.session import Session
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.contract.valuation import Valuation
    from estimator.survey.survey import Survey
    from estimator.takeoff.scope import Scope

REST_MS = 30
"""Rest after an edit before the change is valued. [ms]"""


@dataclass(frozen=True, slots=True)
class Choice:
    """Another way to do the work, at what it changes against the way taken now."""

    scope: Scope
    amount: Money
    """Tax in, as the customer would pay it."""
    extra_days: Decimal
    is_agreed: bool
    """Whether it is the way the work is agreed to be done."""


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
        self._scope: Scope | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.look)
        self._then = QTimer(self)
        self._then.setSingleShot(True)
        self._then.setInterval(0)
        self._then.timeout.connect(self._look_further)
        self._of: tuple[object, ...] = ()
        self._since = SoFar()
        session.sight_changed.connect(lambda _sight: self._rest.start())
        following.changed.connect(self._followed)

    @property
    def scope(self) -> Scope | None:
        """The way taken now; None before anything is agreed."""
        if not self.following.has_contract:
            return None
        drafts = [one for one in self.following.so_far.variations if is_draft(one)]
        drafted = drafts[-1].variation.scope if drafts else None
        return self._scope or drafted or agreed_scope(self.so_far)

    @property
    def so_far(self) -> SoFar:
        """What the job has come to, but for the draft that is still being written.

        What is found goes into the draft, however often it is opened again.
        """
        return without_drafts(self.following.so_far)

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
        return NOTHING if self.valuation is None else _net(self.valuation)

    @property
    def total(self) -> Money:
        """What the change comes to with tax: tax on the sum after less tax on the sum before."""
        return with_tax(self.following.so_far, self.net)

    def take(self, scope: Scope | None) -> None:
        """Do the work another way from now on; None for the way that is agreed."""
        self._scope = scope or agreed_scope(self.so_far)
        self.look()

    def find_all(self, *, found: bool) -> None:
        """Say whether nothing more will be found."""
        self.all_found = found
        self.look()

    def review(self, rate: Decimal | None) -> None:
        """Take a rate agreed anew for further bricks; None for the one that was promised."""
        self.reviewed_rate = rate
        self.look()

    @property
    def is_open_to_review(self) -> bool:
        """Whether so many further bricks were found that their rate may be agreed anew."""
        is_open = self.valuation is not None and self.valuation.is_open_to_review
        return is_open or self.reviewed_rate is not None

    def look(self) -> None:
        """Value what is marked now; nothing happens where nothing is new."""
        self._rest.stop()
        survey, scope = self.session.work.survey, self.scope
        of = (
            *(self.following.so_far, survey, scope, self.session.practice.book),
            *(self.all_found, self.reviewed_rate),
        )
        if len(of) == len(self._of) and all(a is b for a, b in zip(of, self._of, strict=True)):
            return
        self._of = of
        self.valuation, self.problem = None, ""
        if scope is not None:
            self.valuation, self.problem = self._valued(survey, scope)
        self.choices = ()
        self.changed.emit()
        if scope is not None:
            self._then.start()

    def _look_further(self) -> None:
        """Value the other choices, once what matters more is on the screen."""
        survey, scope = self.session.work.survey, self.scope
        if scope is None or self.valuation is None:
            return
        agreed, before = agreed_scope(self.so_far), self.net
        others = {one.key: one for one in (agreed, *self.session.work.scopes)}
        found = []
        for other in others.values():
            if other.key == scope.key:
                continue
            valued, _problem = self._valued(survey, other)
            if valued is not None and (valued.lines or other.key == agreed.key):
                change = _net(valued) - before
                days = valued.extra_days - self.valuation.extra_days
                so_far = self.following.so_far
                amount = with_tax(so_far, before + change) - with_tax(so_far, before)
                found.append(Choice(other, amount, days, other.key == agreed.key))
        if found:
            self.choices = tuple(found)
            self.changed.emit()

    def _valued(self, survey: Survey, scope: Scope) -> tuple[Valuation | None, str]:
        from estimator.contract.valuation import value  # noqa: PLC0415 - loads the engine

        try:
            return (
                value(
                    self.so_far,
                    survey,
                    scope,
                    all_found=self.all_found,
                    today=self.session.practice.book,
                    reviewed_rate=self.reviewed_rate,
                ),
                "",
            )
        except UserMistake as mistake:
            return None, in_full(mistake)

    def _followed(self) -> None:
        """Begin from what is agreed now; a draft that was kept is nothing new."""
        if self.so_far != self._since:
            self._since = self.so_far
            self._scope = None
            self.all_found, self.reviewed_rate = False, None
        self.look()


def is_draft(one: Varied) -> bool:
    """Return whether a variation is still being written."""
    return one.standing is Standing.DRAFTED


def without_drafts(so_far: SoFar) -> SoFar:
    """Return what a job has come to without variations nobody has been sent."""
    gone_out = tuple(one for one in so_far.variations if not is_draft(one))
    return replace(so_far, variations=gone_out) if gone_out != so_far.variations else so_far


def with_tax(so_far: SoFar, net: Money) -> Money:
    """Return what a change of the sum comes to with the tax it brings."""
    from estimator.contract.sums import price_of  # noqa: PLC0415 - loads the engine

    contract = so_far.contract
    if contract is None or not net:
        return NOTHING
    return price_of(contract, so_far.net + net).total - price_of(contract, so_far.net).total


def agreed_scope(so_far: SoFar) -> Scope:
    """Return the way the work is agreed to be done."""
    from estimator.contract.agreed_work import agreed_work  # noqa: PLC0415 - loads the engine

    return agreed_work(so_far).scope


def _net(valuation: Valuation) -> Money:
    return total(line.amount for line in valuation.lines)
