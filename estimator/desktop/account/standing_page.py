"""An invoice that went out: what is open of it, its paper, and what can be done about it."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from decimal import Decimal

from PySide6.QtCore import Qt, Signal

from estimator.contract.account import Invoice
from estimator.contract.late_payment import late_payment, rate_day
from estimator.desktop.account import wording
from estimator.desktop.account.figure_rows import FigureRows
from estimator.desktop.account.invoice_page import rows_of
from estimator.desktop.account.reckoning import left_of, reckoned
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.fields import pounds
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.keeping import Papers
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.ways import Ways
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.money import NOTHING
from estimator.notices import UserMistake
from estimator.survey.survey import CustomerKind

SHORT = 6


class InvoiceStanding(FormPage):
    """Its lines as they went out; the next thing is the payment, while something is open."""

    payment_wanted = Signal(str)
    """The number of the invoice that was paid."""
    credit_wanted = Signal(str)
    """The number of the invoice to be taken back."""
    file_wanted = Signal(str)
    """The number of the invoice to be saved for other programs."""

    def __init__(self, following: Following, papers: Papers) -> None:
        """Show nothing yet."""
        super().__init__(following, _("An invoice"), _("Note a payment"))
        self._papers, self.number = papers, ""
        self._act: Callable[[], None] = self.left.emit
        self.title = words(role="question")
        self.state = words()
        self.rows = FigureRows()
        self.rate = Written(_("The Bank's rate that counts (%)"), most=SHORT)
        self.late = words(role="second")
        self.credit = quiet_button(_("Write a credit note"))
        self.file = quiet_button(_("Save for their books (UBL)…"))
        self.email = button(_("E-mail…"))
        self.print_ = button(_("Print…"))
        self.save = button(_("Save a copy…"))
        self.credit.clicked.connect(lambda _ticked=False: self.credit_wanted.emit(self.number))
        self.file.clicked.connect(lambda _ticked=False: self.file_wanted.emit(self.number))
        self.email.clicked.connect(lambda _ticked=False: papers.email())
        self.print_.clicked.connect(lambda _ticked=False: papers.print_paper())
        self.save.clicked.connect(lambda _ticked=False: papers.save())
        papers.said.connect(self._said)
        papers.mistaken.connect(self._mistaken)
        following.changed.connect(self.refresh)
        self.rate.typed.connect(self._reckon)
        self.add(self.title, self.state, self.rows, self.rate, self.late)
        for way in (self.credit, self.file):
            self.inside.addWidget(way, 0, Qt.AlignmentFlag.AlignLeft)
        self.inside.addStretch(1)
        self.foot.insertWidget(1, Ways(self.email, self.print_, self.save))

    def show_invoice(self, number: str) -> None:
        """Show one invoice; it is read by its number, so the newest word on it counts."""
        self.number = number
        self.say("")
        self.refresh()

    def begin(self) -> None:
        """Lay its paper in the middle."""
        if self.number:
            self._papers.lay(self.number)

    def keep(self) -> None:
        """Do what comes next."""
        self._act()

    def refresh(self) -> None:
        """Show how it stands now."""
        so_far = self.following.so_far
        told = next((one for one in so_far.invoices if one.number == self.number), None)
        if told is None or so_far.contract is None:
            return
        found = reckoned(so_far, self.following.session.today())
        open_, left = found.open_of(told.number), left_of(so_far, told.number)
        self.title.setText(
            _("{number}, {what}").format(
                number=told.number, what=wording.asked_words()[told.asks_for]
            )
        )
        credited = [one for one in so_far.credits if one.invoice == told.number]
        state = [wording.open_words(told, open_, left)]
        state += [
            _("{number} of {date} takes {amount} off it: {why}.").format(
                number=one.number,
                date=agreed_wording.day(one.date),
                amount=formats.money(one.payable),
                why=one.why.rstrip("."),
            )
            for one in credited
        ]
        state += wording.trade_notes(told)
        self.state.setText("\n".join(state))
        self.rows.show_rows(rows_of(told))
        is_open = left > NOTHING
        self.take.setText(_("Note a payment") if is_open else _("Back to the job"))
        self._act = self._pay if is_open else self.left.emit
        self.credit.setVisible(so_far.called_off is None or is_open)
        is_business = so_far.contract.terms.customer is not CustomerKind.HOUSEHOLD
        is_late = open_ is not None and open_.days_late > 0
        for part in (self.rate, self.late):
            part.setVisible(is_business and is_late)
        self._name_rate(told)
        self._reckon()

    def _name_rate(self, told: Invoice) -> None:
        """Say which day's rate is asked for: it stays the same however late it gets."""
        day = agreed_wording.day(rate_day(told.due))
        asked = _("The Bank's rate as it was on {date} (%)").format(date=day)
        self.rate.label.setText(asked)
        self.rate.editor.setAccessibleName(asked)

    def _pay(self) -> None:
        self.payment_wanted.emit(self.number)

    def _reckon(self, _typed: str = "") -> None:
        """Say what a business owes for paying late, once the rate is typed."""
        told = self._invoice()
        rate = pounds(self.rate.text)
        contract = self.following.so_far.contract
        is_rate = rate is not None and Decimal(0) <= rate <= Decimal(50)
        self.rate.complain(
            "" if is_rate or not self.rate.text.strip() else _("Type a rate such as 4.00")
        )
        if told is None or contract is None or rate is None or not is_rate:
            self.late.setText(_by_law(told))
            return
        today = self.following.session.today()
        left = left_of(self.following.so_far, told.number)
        try:
            found = late_payment(contract, left, due=told.due, on=today, bank_rate=rate)
        except UserMistake as mistake:
            self.late.setText(in_full(mistake))
            return
        self.late.setText(
            _(
                "For {days} days at {percent} % a year: {interest} interest and {fixed} fixed, "
                "together {sum}. It is yours to claim or to leave; this is no legal advice."
            ).format(
                days=found.days,
                percent=formats.plain(found.percent),
                interest=formats.money(found.interest),
                fixed=formats.money(found.fixed_sum),
                sum=formats.money(found.total),
            )
        )

    def _invoice(self) -> Invoice | None:
        invoices = self.following.so_far.invoices
        return next((one for one in invoices if one.number == self.number), None)

    def _said(self, text: str) -> None:
        self.say(text, tone="done")

    def _mistaken(self, mistake: object) -> None:
        if isinstance(mistake, UserMistake):
            self.refused(mistake)


def _by_law(told: Invoice | None) -> str:
    """Return what a business owes for paying late, and which day's rate of the Bank counts."""
    law = _("By the Late Payment Act a business owes interest and a fixed sum.")
    if told is None:
        return law
    since = told.due + datetime.timedelta(days=1)
    which = _("Late since {since}: the Bank's rate of {date} counts, whatever it is today.").format(
        since=agreed_wording.day(since), date=agreed_wording.day(rate_day(told.due))
    )
    return f"{law} {which}"
