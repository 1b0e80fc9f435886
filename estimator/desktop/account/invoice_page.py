"""An invoice before it goes out: its lines at the left, the paper itself in the middle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from estimator.contract.account import CreditNote, Invoice, InvoiceFor
from estimator.contract.invoicing import next_invoice
from estimator.desktop.account import drawn, wording
from estimator.desktop.account.figure_rows import Figure, FigureRows
from estimator.desktop.account.reckoning import coming_invoices, why_none
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.fields import DayField, Picked, pounds
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.half_typed import HalfTyped
from estimator.desktop.agreed.job_column import JobColumn
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import words
from estimator.desktop.works.paper_draft import PaperDraft
from estimator.documents import formats
from estimator.money import NOTHING, Money
from estimator.notices import UserMistake
from estimator.pricing.offer import TaxLine
from estimator.pricing.tax_habits import Deduction

if TYPE_CHECKING:
    from estimator.store.database import Database

SHORT = 12


class InvoicePage(FormPage):
    """What it asks for and the day are all there is to choose."""

    issued = Signal(str)
    """The number it was given."""

    def __init__(self, following: Following, job: JobColumn) -> None:
        """Show nothing yet."""
        super().__init__(following, _("An invoice"), _("Issue the invoice"))
        self._job = job
        self.what = Picked(_("What for"), wording.asked_words())
        self.date = DayField(_("Date"))
        self.materials = Written(
            _("Materials and hire in it, at cost before VAT (£)"), most=SHORT, hint=_("as agreed")
        )
        self.refusal = CautionBox()
        self.rows = FigureRows()
        self.notes = words(role="second")
        self.due = words(role="second")
        self.told: Invoice | None = None
        self.draft = PaperDraft(following.session, self)
        self.draft.done.connect(self._lay)
        self.draft.begun.connect(self._await)
        self.what.changed.connect(self.look)
        for field in (self.date, self.materials):
            field.typed.connect(self.look)
        following.changed.connect(self._changed)
        typed = {"date": self.date, "materials": self.materials}
        self.half_typed = HalfTyped(following.session, "invoice", typed, self)
        self.half_typed.shown.connect(self.look)
        self.add(self.refusal, self.what, self.date, self.materials, self.rows, self.notes)
        self.add(self.due)
        self.inside.addStretch(1)

    def begin(self) -> None:
        """Begin with the invoice that comes next, dated today, and with what was half typed."""
        self.say("")
        self.date.show_text(_("today"))
        self.materials.show_text("")
        self._offer()
        self.half_typed.begin()
        self.draft.follow()
        self.look()

    def rest(self) -> None:
        """Make nothing more."""
        self.draft.rest()

    def take_focus(self) -> None:
        """Put the keyboard on the button: as a rule there is nothing to change."""
        if self.take.isVisible() and self.take.isEnabled():
            super().take_focus()
        else:
            self.what.take_focus()

    def _offer(self) -> None:
        so_far, today = self.following.so_far, self.following.session.today()
        contract = so_far.contract
        if contract is None:
            return
        coming = coming_invoices(so_far, today)
        every = wording.asked_words()
        self.what.offer({one.asks_for: in_full(every[one.asks_for]) for one in coming})
        if coming:
            self.what.pick(coming[0].asks_for)
        why = why_none(so_far, today)
        self.refusal.say(in_full(why) if why else "", heading=_("No invoice now") if why else "")
        for part in (self.what, self.date, self.take, self.rows, self.due):
            part.setVisible(bool(coming))
        self.what.setVisible(len(coming) > 1)
        self.materials.setVisible(bool(coming) and contract.terms.deduction is not Deduction.NONE)

    def look(self, _typed: str = "") -> None:
        """Show the invoice as it is chosen."""
        self.told = self._invoice()
        self.take.setEnabled(self.told is not None and self.following.session.filing.can_write)
        if self.told is None:
            return
        told = self.told
        self.rows.show_rows(rows_of(told))
        self.notes.setText("\n".join(wording.trade_notes(told)))
        self.notes.setVisible(bool(self.notes.text()))
        self.due.setText(
            _("To be paid by {date}.").format(date=agreed_wording.day_of_week(told.due))
        )
        trader = self.following.session.practice.trader
        self.draft.show(drawn.invoice, self.following.so_far, told, trader)

    def keep(self) -> None:
        """Give it its number, and keep it."""
        told, trader = self._invoice(), self.following.session.practice.trader
        if told is None:
            return

        def issue(database: Database, uid: str) -> Kept:
            from estimator.desktop.account import asked  # noqa: PLC0415 - loads the database

            return asked.issue(database, uid, told, trader)

        self.do(issue, self._issued)

    def _issued(self, kept: object) -> None:
        if isinstance(kept, Kept):
            self.date.show_text(_("today"))
            self.materials.show_text("")
            self.half_typed.done()
            self.issued.emit(kept.number)

    def _invoice(self) -> Invoice | None:
        date = self.date.read(self.following.session.today())
        cost = pounds(self.materials.text) if self.materials.text.strip() else None
        is_wrong = bool(self.materials.text.strip()) and (cost is None or cost < 0)
        self.materials.complain(_("Type a sum such as 84.00") if is_wrong else "")
        if date is None or is_wrong or self.following.so_far.contract is None:
            return None
        if not self.what.list.count():
            return None
        asks_for: InvoiceFor = self.what.value
        materials = None if cost is None else Money.of(cost)
        try:
            told = next_invoice(
                self.following.so_far, asks_for, date=date, materials_cost=materials
            )
        except UserMistake as mistake:
            self.refused(mistake)
            return None
        self.say("")
        return told

    def _changed(self) -> None:
        if self._is_shown():
            self._offer()
            self.look()

    def _is_shown(self) -> bool:
        return self._job.pages.currentWidget() is self

    def _await(self) -> None:
        if self._is_shown() and self._job.has_paper:
            self._job.await_paper()

    def _lay(self, pdf: object) -> None:
        if isinstance(pdf, bytes) and self._is_shown():
            self._job.lay_paper(pdf, _("Not issued yet"))


def rows_of(told: Invoice | CreditNote) -> tuple[Figure, ...]:
    """Return the lines of an invoice or a credit note, its tax, and what it comes to."""
    rows = [Figure(in_full(one.description), _sum(one.net), one.refers) for one in told.lines]
    taxes = [_tax_row(one) for one in told.taxes]
    if len(rows) > 1 or taxes:
        rows.append(Figure(_("Before VAT"), formats.money(told.net), is_sum=True))
    rows += taxes
    if told.deduction:
        rows.append(
            Figure(_("Kept back for the tax office"), agreed_wording.signed(-told.deduction))
        )
    is_credit = isinstance(told, CreditNote)
    title = _("No longer to pay") if is_credit else _("To pay")
    rows.append(Figure(title, formats.money(told.payable), is_sum=True))
    return tuple(rows)


def _sum(net: Money) -> str:
    """Return a sum; one that is taken off with the sign all such sums have on the desk."""
    return agreed_wording.signed(net) if net < NOTHING else formats.money(net)


def _tax_row(line: TaxLine) -> Figure:
    """Return a line of tax; what they account for themselves adds nothing to pay."""
    if line.charged:
        return Figure(line.title, formats.money(line.amount))
    note = _("{amount}, which we do not charge").format(amount=formats.money(line.amount))
    return Figure(line.title, formats.money(NOTHING), note)
