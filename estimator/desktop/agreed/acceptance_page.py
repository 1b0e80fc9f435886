"""The customer says yes: to which option, who, how and when; only the first two are needed."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QButtonGroup, QVBoxLayout, QWidget

from estimator.contract.acceptance import Yes, as_agreed
from estimator.contract.contract import Cancelling, Contract, Made, Manner, StageDue, StageTerm
from estimator.contract.stages import deposit_and_rest, usual_stages
from estimator.desktop.agreed import cancelling, wording
from estimator.desktop.agreed.fields import DayField, Picked, Ticked
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.option_choice import OptionChoice
from estimator.desktop.agreed.papers import ConfirmationDraft
from estimator.desktop.agreed.payment_terms import PaymentTerms
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.column_page import Contents, lay_page, set_in
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import main_button
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import retone, words
from estimator.documents import formats
from estimator.notices import UserMistake
from estimator.survey.limits import LETTERS
from estimator.survey.survey import CustomerKind

if TYPE_CHECKING:
    from estimator.desktop.agreed.asked import Choice, Offered
    from estimator.store.database import Database


class AcceptancePage(QWidget):
    """One page: what is usual stands there already."""

    left = Signal()
    accepted = Signal()
    """It is agreed now."""

    def __init__(self, following: Following) -> None:
        """Ask nothing yet."""
        super().__init__()
        self._following, self._session = following, following.session
        self._offered: Offered | None = None
        self._uid = ""
        """Of the job that was asked about last."""
        self.paper = ConfirmationDraft(self._session, self)
        self.title = words(role="question")
        self.until = words(role="second")
        self.refusal = CautionBox()
        self.options: list[OptionChoice] = []
        self._group = QButtonGroup(self)
        self._options = QVBoxLayout()
        self.who = Written(_("Who says yes"), most=LETTERS["name"])
        self.how = Picked(_("How"), wording.manner_words())
        self.when = DayField(_("When"))
        self.paying = Picked(_("How it is paid"), _ways_to_pay())
        self.parts = words(role="second")
        self.terms = PaymentTerms()
        self.made = Picked(_("Where it was agreed"), wording.made_words())
        self.notice = Ticked(_("They have the notice of their right to cancel"), ticked=True)
        self.urgent = Ticked(_("They asked for this visit for urgent repairs"))
        self.early = Ticked(
            _("They asked in writing that work start before they can no longer cancel")
        )
        self.hold = Ticked(_("We hold to its prices although its time is over"))
        self.last_day = words(role="strong")
        self.law = words(role="second")
        self.note = words(role="second")
        self.take = main_button(_("It is agreed"))
        self.how.pick(Manner.SIGNED)
        self._connect()
        self._lay_out()

    # -- the page comes and goes

    def begin(self) -> None:
        """Ask about the newest quotation of the open job; show nothing before the file tells."""
        self.say("")
        self._offered = None
        if self._session.job.uid != self._uid:
            # What was typed about another job is not of this one.
            self._uid = self._session.job.uid
            self.who.show_text("")
            self.terms.begin()
        self.paper.forget()
        self.paper.follow()
        self.refusal.say("")
        self._show_options(())
        for part in (self.title, self.until, *self._asked_only):
            part.hide()
        self._read()

    def rest(self) -> None:
        """Make no paper that nobody looks at."""
        self.paper.rest()

    def show_offer(self, offered: Offered | None) -> None:
        """Show what can be accepted, or say why nothing can."""
        self._offered = offered
        why, do = self._why_not(offered)
        self.refusal.say(do, heading=why)
        for part in self._asked_only:
            part.setVisible(not why)
        if offered is None or why:
            return
        self.title.setText(_("Which one of {number}?").format(number=offered.number))
        self.title.show()
        is_over = offered.valid_until < self._session.today()
        until = _("It was open until {date}. Issue a new one, or hold to its prices.")
        if not is_over:
            until = _("Open until {date}.")
        self.until.setText(until.format(date=wording.day(offered.valid_until)))
        self.until.show()
        self.hold.setVisible(is_over)
        self._show_options(offered.options)
        self.terms.show_for(offered.options[0].contract, is_household=self._is_household)
        if not self.who.text:
            self.who.show_text(self._session.work.survey.customer.name.strip())
        self._look()

    def take_focus(self) -> None:
        """Put the keyboard on the first option."""
        if self.options and not self.options[0].isHidden():
            chosen = next((one for one in self.options if one.box.isChecked()), self.options[0])
            chosen.box.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def say(self, text: str, *, is_problem: bool = False) -> None:
        """Say something over the button."""
        retone(
            self.note, role="text" if is_problem else "second", tone="stop" if is_problem else ""
        )
        self.note.setText(text)
        self.note.setVisible(bool(text))

    @property
    def option(self) -> int:
        """The place of the option that is taken; -1 for none yet."""
        return next((n for n, one in enumerate(self.options) if one.box.isChecked()), -1)

    @property
    def yes(self) -> Yes | None:
        """What is told; None while something is missing."""
        on = self.when.read(self._session.today())
        who, terms = self.who.text.strip(), self.terms.terms
        if on is None or terms is None or self.option < 0 or not who:
            return None
        return Yes(
            accepted_by=who,
            how=self.how.value,
            accepted_on=on,
            stages=self.paying.value,
            due_days=terms.due_days,
            retention=terms.retention,
            deduction=terms.deduction,
            cancelling=self._cancelling(on),
            although_expired=self.hold.is_on,
        )

    @property
    def _is_household(self) -> bool:
        return self._session.work.survey.customer.kind is CustomerKind.HOUSEHOLD

    def _cancelling(self, on: datetime.date) -> Cancelling:
        return Cancelling(
            made=self.made.value,
            notice_given=on if self.notice.is_on else None,
            is_urgent=self.urgent.is_on,
            early_start=on if self.early.is_on else None,
        )

    def _read(self) -> None:
        job = self._session.job.uid

        def read(database: Database) -> Offered | None:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.newest_offer(database, job)

        from estimator.desktop.papers.asking import ask  # noqa: PLC0415 - as above

        ask(self, self._session.filing, read, self._shown)

    def _shown(self, offered: Offered | None) -> None:
        self.show_offer(offered)
        if self.isVisible():
            # What was just made is shown with the next turn, and takes the keyboard then.
            QTimer.singleShot(0, self, self.take_focus)

    def _why_not(self, offered: Offered | None) -> tuple[str, str]:
        if self._following.has_contract:
            return (
                _("This job is agreed already."),
                _("Changes to it are written as variations."),
            )
        if offered is None:
            return (
                _("No quotation has been issued for this job yet."),
                _("Write the quotation and issue it; then the customer can say yes to it."),
            )
        if offered.is_estimate:
            return (
                _("{number} is an estimate, and nobody can say yes to one.").format(
                    number=offered.number
                ),
                _("Its price is not fixed. Measure the wall, then issue a quotation."),
            )
        return "", ""

    def _show_options(self, options: tuple[Choice, ...]) -> None:
        for old in self.options:
            self._group.removeButton(old.box)
            self._options.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.options = [OptionChoice(one.title, one.price) for one in options]
        for choice in self.options:
            self._group.addButton(choice.box)
            choice.box.toggled.connect(self._look)
            self._options.addWidget(choice)
        if len(self.options) == 1:
            self.options[0].box.setChecked(True)

    def _look(self, _on: object = None) -> None:
        """Say at once until when they may cancel, and whether anything is missing."""
        self.who.complain("")
        on = self.when.read(self._session.today())
        self.parts.setText(_in_parts(self.paying.value))
        for part in (self.notice, self.urgent, self.early):
            part.setVisible(self._is_household and self.made.value is not Made.AT_OUR_PREMISES)
        if on is not None and self._offered is not None and self._offered.options:
            usual = self._offered.options[max(self.option, 0)].contract
            said, law = cancelling.said(
                replace(usual, accepted_on=on, cancelling=self._cancelling(on))
            )
            self.last_day.setText(said)
            self.law.setText(law)
        self.take.setEnabled(self._session.filing.can_write)
        self.paper.show_contract(self._would_be)

    @property
    def _would_be(self) -> Contract | None:
        """What would be agreed now; None while something is missing."""
        told = self.yes
        if told is None or self._offered is None:
            return None
        return as_agreed(self._offered.options[self.option].contract, told)

    def _take(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        told, option, offered = self.yes, self.option, self._offered
        if told is None or offered is None:
            self._say_missing()
            return
        number = offered.number
        self.take.setEnabled(False)

        def accept(database: Database, uid: str) -> object:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.accept(database, uid, (number, option), told)

        self._following.do(accept, lambda _done: self.accepted.emit(), on_mistake=self._refused)

    def _say_missing(self) -> None:
        if not any(one.box.isChecked() for one in self.options):
            self.say(_("Say which of the choices it is."), is_problem=True)
            self.take_focus()
        elif not self.who.text.strip():
            self.who.complain(_("Say who says yes."))
            self.who.take_focus()
        elif not self.terms.lead_to_mistake():
            self.when.take_focus()

    def _refused(self, mistake: UserMistake) -> None:
        self.take.setEnabled(True)
        self.say(in_full(mistake), is_problem=True)

    def _connect(self) -> None:
        ticks = (self.notice, self.urgent, self.early, self.hold)
        for field in (self.how, self.paying, self.made, *ticks):
            field.changed.connect(self._look)
        self.terms.changed.connect(self._look)
        self.terms.entered.connect(self._take)
        for written in (self.who, self.when):
            written.typed.connect(self._look)
            written.editor.returnPressed.connect(self._take)  # type: ignore[union-attr]
        self.take.clicked.connect(self._take)

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(12, 0, 12, 12)
        inside.setSpacing(4)
        self._options.setContentsMargins(0, 6, 0, 6)
        self._options.setSpacing(8)
        head: tuple[QWidget, ...] = (self.title, self.until, self.refusal)
        for part in head:
            inside.addWidget(part)
        inside.addLayout(self._options)
        asked: tuple[QWidget, ...] = (
            *(self.who, self.how, self.when, self.paying, self.parts, self.terms, self.made),
            *(self.hold, self.notice, self.urgent, self.early),
        )
        for part in asked:
            inside.addWidget(part)
        for part in (self.title, self.until, *asked):
            set_in(part)
        inside.addStretch(1)
        said = (self.last_day, self.law, self.note)
        for label in said:
            label.setIndent(8)
        self._asked_only = (*asked, self.last_day, self.law, self.take)
        lay_page(self, _("The customer says yes"), self.left.emit, inner, *said, self.take)


def _ways_to_pay() -> dict[tuple[StageTerm, ...], str]:
    """Return how a price is paid, the usual way first."""
    usual, two = usual_stages(), deposit_and_rest()
    return {
        usual: _("in parts: {percents} %").format(
            percents=", ".join(formats.plain(one.percent) for one in usual)
        ),
        (StageTerm(usual[-1].title, Decimal(100), StageDue.ON_COMPLETION),): _("all on completion"),
        two: _("a deposit of {percent} %, then the rest").format(
            percent=formats.plain(two[0].percent)
        ),
    }


def _in_parts(stages: tuple[StageTerm, ...]) -> str:
    """Return the parts of a price and when they fall due, in a sentence."""
    parts = (
        _("{percent} % {due}").format(
            percent=formats.plain(one.percent), due=wording.due_words()[one.due]
        )
        for one in stages
    )
    return _("{parts}.").format(parts=", ".join(parts))
