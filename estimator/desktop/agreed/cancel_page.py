"""The customer takes it back: who, how and when; what follows is said before it is noted."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.contract.contract import Manner
from estimator.contract.deeds import CalledOff
from estimator.desktop.agreed import cancelling, wording
from estimator.desktop.agreed.fields import DayField, Picked, pounds
from estimator.desktop.agreed.following import Following
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.column_page import Contents, lay_page
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import main_button
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.store.database import Database


SHORT = 12


class CancelPage(QWidget):
    """A short form; nothing is taken out of the file by it."""

    left = Signal()
    cancelled = Signal()
    """The agreement is cancelled now."""

    def __init__(self, following: Following) -> None:
        """Ask nothing yet."""
        super().__init__()
        self._following = following
        self.follows = CautionBox()
        self.who = Written(_("Who cancels"), most=LETTERS["name"])
        self.how = Picked(_("How"), wording.manner_words())
        self.when = DayField(_("When"))
        self.words_ = Written(_("In their words, if it matters"), most=LETTERS["name"])
        self.done = Written(_("Days of work done"), most=SHORT, hint=_("none"))
        self.sum = Written(
            _("Agreed to be paid for what is done (£, before VAT)"), most=SHORT, hint=_("nothing")
        )
        self.owes = words(role="second")
        self.note = words(tone="stop")
        self.take = main_button(_("It is cancelled"))
        self.how.pick(Manner.EMAIL)
        for field in (self.when, self.done, self.sum):
            field.typed.connect(self._look)
        self.take.clicked.connect(self._take)
        self._lay_out()

    def begin(self) -> None:
        """Begin with the customer's name and today."""
        self.who.show_text(self._following.session.work.survey.customer.name.strip())
        self.when.show_text(_("today"))
        for field in (self.words_, self.done, self.sum):
            field.show_text("")
        self.note.hide()
        self.take.setEnabled(self._following.session.filing.can_write)
        self._look()

    def take_focus(self) -> None:
        """Put the cursor on who it is."""
        self.who.take_focus()

    def _look(self, _typed: str = "") -> None:
        on = self.when.read(self._following.session.today())
        if on is not None and self._following.so_far.contract is not None:
            heading_, text = cancelling.what_follows(self._following.so_far, on)
            self.follows.say(text, heading=heading_)
            self._owed(on)

    def _owed(self, on: datetime.date) -> Money | None:
        """Return what is owed for what was done, None for what cannot be; ask what it rests on."""
        so_far = self._following.so_far
        asks = cancelling.owed_by(so_far, on)
        self.done.setVisible(asks is cancelling.OwedBy.DAYS)
        self.sum.setVisible(asks is cancelling.OwedBy.AGREEMENT)
        self.owes.hide()
        if asks is cancelling.OwedBy.NOTHING:
            return Money(0)
        field = self.done if asks is cancelling.OwedBy.DAYS else self.sum
        field.complain("")
        typed = pounds(field.text) if field.text.strip() else Decimal(0)
        if asks is cancelling.OwedBy.AGREEMENT:
            if typed is None or typed < 0:
                field.complain(_("Type a sum such as 250.00"))
                return None
            return Money.of(typed)
        most = cancelling.days_of(so_far)
        if typed is None or not 0 <= typed <= most:
            field.complain(
                _("Type days such as 1.5, {most} at most").format(most=formats.plain(most))
            )
            return None
        net, said = cancelling.owed_for(so_far, on, typed)
        self.owes.setText(said)
        self.owes.show()
        return net

    def _take(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        who, on = self.who.text.strip(), self.when.read(self._following.session.today())
        self.who.complain("" if who else _("Say who it was."))
        if not who or on is None:
            (self.when if who else self.who).take_focus()
            return
        owed = self._owed(on)
        if owed is None:
            return
        deed = CalledOff(on, who, self.how.value, self.words_.text.strip(), owed)

        def call_off(database: Database, uid: str) -> None:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            asked.do(database, uid, deed)

        self._following.do(call_off, lambda _done: self.cancelled.emit(), on_mistake=self._refused)

    def _refused(self, mistake: UserMistake) -> None:
        self.note.setText(in_full(mistake))
        self.note.show()

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(20, 0, 20, 12)
        told = (self.who, self.how, self.when, self.done, self.sum, self.owes, self.words_)
        for part in (self.follows, *told):
            inside.addWidget(part)
        inside.addStretch(1)
        self.note.setIndent(8)
        lay_page(self, _("They cancel"), self.left.emit, inner, self.note, self.take)
