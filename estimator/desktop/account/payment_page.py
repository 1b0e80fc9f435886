"""Money that came in, or went back: how much, when, how, and for which invoice."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal

from estimator.contract.account import Paying, Payment
from estimator.desktop.account import wording
from estimator.desktop.account.reckoning import reckoned
from estimator.desktop.agreed.fields import DayField, Picked, Ticked, pounds
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.half_typed import HalfTyped
from estimator.desktop.language import _
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.money import NOTHING, Money, total
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.store.database import Database

SHORT = 14


class PaymentPage(FormPage):
    """What is open stands there already."""

    noted = Signal()

    def __init__(self, following: Following) -> None:
        """Ask nothing yet."""
        super().__init__(following, _("A payment"), _("Note the payment"))
        self.invoice = Picked(_("For which invoice"), {"": _("They did not say")})
        self.amount = Written(_("How much (£)"), most=SHORT)
        self.on = DayField(_("On which day"))
        self.how = Picked(_("How"), wording.paying_words())
        self.note = Written(_("Note, if there is one"), most=LETTERS["name"])
        self.back = Ticked(_("We paid it back to them"))
        self.left_over = words(role="second")
        self.undo = quiet_button("")
        self.undo.clicked.connect(self._take_back)
        self._filled = ""
        self.half_typed = HalfTyped(
            following.session,
            "payment",
            {
                "invoice": self.invoice,
                "amount": self.amount,
                "on": self.on,
                "how": self.how,
                "note": self.note,
                "back": self.back,
            },
            self,
        )
        self.invoice.changed.connect(self._picked)
        self.amount.typed.connect(self._look)
        self.back.changed.connect(self._look)
        self.how.pick(Paying.TRANSFER)
        self.half_typed.shown.connect(self._look)
        self.add(self.invoice, self.amount, self.on, self.how, self.note, self.back)
        self.add(self.left_over)
        self.inside.addWidget(self.undo, 0, Qt.AlignmentFlag.AlignLeft)
        self.inside.addStretch(1)

    def begin(self) -> None:
        """Begin with what is open, the oldest invoice first, and with what was half typed."""
        so_far, today = self.following.so_far, self.following.session.today()
        self.say("")
        if so_far.contract is None:
            return
        found = reckoned(so_far, today)
        choices = {one.number: one.number for one in found.open}
        others = {one.number: one.number for one in so_far.invoices if one.number not in choices}
        self.invoice.offer({**choices, **others, "": _("They did not say")})
        self.invoice.pick(found.open[0].number if found.open else "")
        self.on.show_text(_("today"))
        self.back.tick(on=found.account.balance < NOTHING)
        self.amount.complain("")
        self.amount.show_text("")
        self.note.show_text("")
        self.how.pick(Paying.TRANSFER)
        self.allow()
        self._picked()
        self.half_typed.begin()
        self._look()
        self._show_last()

    def show_invoice(self, number: str) -> None:
        """Take one invoice."""
        self.invoice.pick(number)
        self._picked()

    def take_focus(self) -> None:
        """Put the cursor on how much."""
        self.amount.take_focus()

    def keep(self) -> None:
        """Note it."""
        amount, on = self._amount(), self.on.read(self.following.session.today())
        is_sum = amount is not None and amount > NOTHING
        self.amount.complain("" if is_sum else _("Type a sum such as 291.73"))
        if amount is None or not is_sum or on is None:
            self.say(_("Something is missing; it is said beside it."), tone="stop")
            return
        payment = Payment(
            on,
            -amount if self.back.is_on else amount,
            self.how.value,
            self.invoice.value,
            self.note.text.strip(),
        )

        def note(database: Database, uid: str) -> None:
            from estimator.desktop.account import asked  # noqa: PLC0415 - loads the database

            asked.pay(database, uid, payment)

        self.do(note, self._noted)

    def _take_back(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        def strike(database: Database, uid: str) -> None:
            from estimator.desktop.account import asked  # noqa: PLC0415 - loads the database

            asked.take_back_last(database, uid)

        self.do(strike, self._taken_back)

    def _taken_back(self, _done: object) -> None:
        self.begin()
        self.say(_("It counts no more."), tone="done")

    def _show_last(self) -> None:
        payments = self.following.so_far.payments
        self.undo.setVisible(bool(payments))
        if payments:
            last = payments[-1]
            self.undo.setText(
                _("Take back {amount} of {date}").format(
                    amount=formats.money(last.amount), date=formats.short_day(last.on)
                )
            )

    def _noted(self, _done: object) -> None:
        self.half_typed.done()
        self.noted.emit()

    def _amount(self) -> Money | None:
        found = pounds(self.amount.text)
        return None if found is None else Money.of(found)

    def _open(self) -> Money:
        so_far = self.following.so_far
        found = reckoned(so_far, self.following.session.today())
        if self.invoice.value:
            one = found.open_of(self.invoice.value)
            return one.amount if one else NOTHING
        return total(one.amount for one in found.open)

    def _picked(self) -> None:
        """Fill in what is open, unless another sum was typed by hand."""
        if self.following.so_far.contract is None:
            return
        amount = self._open()
        if self.amount.text in ("", self._filled) or not self.amount.text.strip():
            self._filled = f"{amount.pounds:.2f}" if amount else ""
            self.amount.show_text(self._filled)
        self._look()

    def _look(self, _typed: str = "") -> None:
        """Say what is left open then."""
        amount = self._amount()
        if amount is None or self.back.is_on or self.following.so_far.contract is None:
            self.left_over.setText("")
            return
        left = self._open() - amount
        if left > NOTHING:
            text = _("{amount} stays open.").format(amount=formats.money(left))
        elif left < NOTHING:
            text = _("That is {amount} more than is open.").format(amount=formats.money(-left))
        else:
            text = _("Then nothing of it is open.")
        self.left_over.setText(text)
