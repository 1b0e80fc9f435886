"""Puts the parts of an agreed job together: the column at the left, the card over the money."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from estimator.contract.variation import Standing
from estimator.desktop.agreed.acceptance_page import AcceptancePage
from estimator.desktop.agreed.agreement_section import AgreementSection
from estimator.desktop.agreed.cancel_page import CancelPage
from estimator.desktop.agreed.daywork_page import DayworkPage
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.job_column import AGREEMENT, VARIATIONS, JobColumn
from estimator.desktop.agreed.keeping import Papers
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.agreed.since import Since
from estimator.desktop.agreed.standing_page import StandingPage
from estimator.desktop.agreed.valuing import Valuing
from estimator.desktop.agreed.variation_page import VariationPage
from estimator.desktop.agreed.variations_section import VariationsSection
from estimator.desktop.language import _
from estimator.desktop.session import Session

if TYPE_CHECKING:
    from PySide6.QtWidgets import QPushButton

    from estimator.contract.contract import Contract
    from estimator.contract.other_repairs import OtherRepair
    from estimator.contract.variation import Valued
    from estimator.desktop.money.column import MoneyColumn
    from estimator.desktop.papers.preview import PreviewColumn
    from estimator.store.database import Database
    from estimator.takeoff.scope import Scope

ACCEPTANCE, WRITING, STANDING, CANCELLING = "acceptance", "writing", "standing", "cancelling"
HOURS = "hours"
"""Pages of the column beside its first."""


class Agreeing(QObject):
    """Everything between the customer's yes and the works."""

    agreed = Signal(bool)
    """Whether the open job is agreed; told when that changes."""
    paper_wanted = Signal(str)
    """The number of a quotation to be looked at."""

    def __init__(
        self, session: Session, preview: PreviewColumn, money: MoneyColumn, parent: QObject
    ) -> None:
        """Make the column, and hang the card over the money."""
        super().__init__(parent)
        self._session, self._money = session, money
        self._was_agreed = False
        self._frozen_of: Contract | None = None
        self.following = Following(session, self)
        self.valuing = Valuing(session, self.following)
        self.job = JobColumn(session, self.following, preview)
        self.papers = Papers(self.following, self.job)
        self.since = Since(self.valuing)
        self.acceptance = AcceptancePage(self.following)
        self.writing = VariationPage(self.valuing)
        self.standing = StandingPage(self.following, self.papers)
        self.cancelling = CancelPage(self.following)
        self.hours = DayworkPage(self.following)
        self.agreement = AgreementSection(self.following)
        self.variations = VariationsSection(self.following, self.valuing)
        self.job.add_section(AGREEMENT, self.agreement)
        self.job.add_section(VARIATIONS, self.variations)
        for name, page in (
            (ACCEPTANCE, self.acceptance),
            (WRITING, self.writing),
            (STANDING, self.standing),
            (CANCELLING, self.cancelling),
            (HOURS, self.hours),
        ):
            self.job.add_page(name, page)
            page.left.connect(self.job.back)
        self.hours.left.disconnect(self.job.back)
        self.hours.left.connect(self.write)
        self._connect()

    # -- what is shown

    def accept(self) -> None:
        """Ask what the customer said yes to."""
        self.job.open(ACCEPTANCE)

    def write(self) -> None:
        """Write the variation that the wall asks for now."""
        self.job.open(WRITING)

    def open_variation(self, key: str) -> None:
        """Bring up a variation: the form while it is a draft, how it stands after that."""
        one = self.following.so_far.varied(key)
        if not one.number:
            self.write()
            return
        self.standing.show_variation(key)
        self.job.open(STANDING)

    def confirm(self) -> None:
        """Write the confirmation of what was only spoken, number it, and lay it in the middle."""
        trader = self._session.practice.trader

        def write(database: Database, uid: str) -> Kept:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.confirm(database, uid, "", trader)

        self.following.do(write, self.papers.show)

    @property
    def next_button(self) -> QPushButton | None:
        """The one filled button of the page that is shown; None on the first."""
        return {
            ACCEPTANCE: self.acceptance.take,
            WRITING: self.writing.send,
            STANDING: self.standing.main,
            CANCELLING: self.cancelling.take,
            HOURS: self.hours.take,
        }.get(self.job.at)

    # -- what follows from it

    def _connect(self) -> None:
        self.following.changed.connect(self._followed)
        self.valuing.changed.connect(self._valued)
        self.since.chosen.connect(self._take)
        self.since.repair_chosen.connect(self._repair)
        self.acceptance.accepted.connect(self.job.open)
        self.acceptance.paper.begun.connect(self._await_draft)
        self.acceptance.paper.done.connect(self._lay_confirmation)
        self.cancelling.cancelled.connect(self.job.open)
        self.writing.sent.connect(self.open_variation)
        self.writing.paper.done.connect(self._lay_draft)
        self.writing.paper.begun.connect(self._await_draft)
        self.writing.hours_wanted.connect(lambda: self.job.open(HOURS))
        self.hours.kept.connect(self._charge)
        self.papers.laid.connect(self.job.lay_paper)
        self.agreement.accept_wanted.connect(self.accept)
        self.agreement.confirm_wanted.connect(self.confirm)
        self.agreement.paper_wanted.connect(self.paper_wanted)
        self.agreement.cancel_wanted.connect(lambda: self.job.open(CANCELLING))
        self.variations.wanted.connect(self.write)
        self.variations.opened.connect(self.open_variation)
        self._money.foot.other_wanted.connect(self.write)

    def _followed(self) -> None:
        is_agreed = self.following.so_far.contract is not None
        self._freeze()
        self._money.agree(self.since if is_agreed else None)
        if is_agreed != self._was_agreed:
            self._was_agreed = is_agreed
            self.agreed.emit(is_agreed)
        self._valued()

    def _freeze(self) -> None:
        """Price and draw an agreed wall by what was agreed, whatever the rates are by now."""
        contract = self.following.so_far.contract
        # It is read from the file anew each time, and mostly says what it said.
        if contract == self._frozen_of:
            return
        self._frozen_of = contract
        if contract is None:
            self._session.freeze(None)
            return
        from estimator.contract.frozen import frozen  # noqa: PLC0415 - loads the engine
        from estimator.quoting.offering import Practice  # noqa: PLC0415 - as above

        kept = frozen(contract)
        practice = self._session.practice
        self._session.freeze(
            Practice(kept.book, kept.rules, practice.trader, practice.validity_days)
        )

    def _valued(self) -> None:
        """Have the one filled button write the variation, where there is one to write."""
        if not self._was_agreed:
            return
        can_write = self.valuing.is_anything and self.following.has_contract
        reason = "" if can_write else self._why_nothing()
        self._money.foot.stand_in(_("Write the variation"), reason)
        self._show_scope()

    def _why_nothing(self) -> str:
        if self.following.so_far.called_off is not None:
            return _("The agreement is cancelled, so nothing of it can be changed.")
        if self.valuing.is_settling:
            return _("What is marked is being worked out.")
        if any(one.standing is Standing.SENT for one in self.following.so_far.variations):
            return _("All that is marked waits for an answer.")
        return _("Nothing on the wall differs from what is agreed.")

    def _charge(self, line: Valued) -> None:
        """Charge a sheet of hours in the variation that is being written."""
        self.job.open(WRITING)
        self.writing.write_in(line)

    def _take(self, scope: Scope | None) -> None:
        self.valuing.take(scope)

    def _repair(self, repair: OtherRepair) -> None:
        """Mark the bricks found since to be repaired another way; undo brings the first back."""
        from estimator.quoting.wall_edits import bricks  # noqa: PLC0415 - loads the engine

        for side, places in repair.bricks:
            self._session.apply(bricks.mark(self._session.work, side, places, repair.treatment))

    def _show_scope(self) -> None:
        """Draw the wall as it is agreed, or the other way that is taken now."""
        scope = self.valuing.scope
        keys = [one.measure.scope.key for one in self._session.sight.options]
        if scope is not None and scope.key in keys:
            self._money.cards.choose(keys.index(scope.key))

    def _await_draft(self) -> None:
        """Keep the draft before in sight until the next is there; the wall before the first."""
        if self.job.has_paper:
            self.job.await_paper()

    def _lay_draft(self, pdf: object) -> None:
        if isinstance(pdf, bytes) and self.job.at == WRITING:
            self.job.lay_paper(pdf, _("Not sent yet"))

    def _lay_confirmation(self, pdf: object) -> None:
        if isinstance(pdf, bytes) and self.job.at == ACCEPTANCE:
            self.job.lay_paper(pdf, _("Not agreed yet"))
