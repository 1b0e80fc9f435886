"""The account in one block: what is agreed, invoiced, paid and to come; the next thing to do."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent, QShowEvent

from estimator.contract.account import InvoiceFor
from estimator.contract.so_far import SoFar
from estimator.desktop.account import wording
from estimator.desktop.account.figure_rows import Figure, FigureRows
from estimator.desktop.account.reckoning import Reckoning, left_of, reckoned
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.section import Section
from estimator.desktop.language import _, counted
from estimator.desktop.papers.opening_rows import OpeningRows
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import retone, words
from estimator.documents import formats
from estimator.money import NOTHING

INVOICE, PAYMENT, STATEMENT, FINAL, FILES = "invoice", "payment", "statement", "final", "files"
"""What can be asked for."""
AROUND = 64
"""What stands around the words of a button in the block. [px]"""


class AccountSection(Section):
    """Four figures, a line to each invoice, and rows that open the rest."""

    asked = Signal(str)
    """A page was asked for."""
    opened = Signal(str)
    """The number of an invoice or credit note that was taken up."""

    def __init__(self, following: Following) -> None:
        """Follow what the job has come to."""
        super().__init__(_("Account"))
        self._following = following
        self._next = INVOICE
        self._day = following.session.today()
        self._said_by_act = ("", "")
        self.figures = FigureRows()
        self.list = OpeningRows()
        self.said = words()
        self.said.hide()
        self.add(self.figures)
        self.add_row(self.list)
        self.add(self.said)
        self.list.asked.connect(self._open)
        self.wanted.connect(lambda: self.asked.emit(self._next))
        following.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show how it stands."""
        so_far = self._following.so_far
        self.setVisible(so_far.contract is not None)
        if so_far.contract is None:
            return
        self.tell("")
        self._day = self._following.session.today()
        found = reckoned(so_far, self._day)
        if so_far.called_off is not None:
            self._cancelled(so_far, found)
            return
        self._next, act = _next(found)
        self.say(
            _headline(found), state=_state(found), tone=_tone(found), caution=_late(found), act=act
        )
        is_invoice = self._next == INVOICE and found.next is not None
        short = wording.invoice_button_short(found.next) if is_invoice and found.next else act
        self._said_by_act = (act, short)
        self._fit_act()
        self.figures.show_rows(figures_of(found))
        self.list.show_rows(self._rows_of(so_far, found))

    def follow_day(self, _page: str = "") -> None:
        """Show how it stands today, where the desk was left open since another day."""
        if self._day != self._following.session.today():
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Show how it stands today."""
        super().showEvent(event)
        self.follow_day()

    def _cancelled(self, so_far: SoFar, found: Reckoning) -> None:
        """Show only what was asked for and paid: nothing more comes of what was agreed."""
        paid = found.account.paid
        self._next = PAYMENT
        act = _("Note a payment") if so_far.invoices or so_far.payments else ""
        self.say(
            _("{amount} was paid").format(amount=formats.money(paid)) if paid else "",
            _("The agreement is cancelled: write a credit note for what is not owed."),
            act=act,
        )
        self._said_by_act = (act, act)
        figures = [Figure(_("Invoiced"), formats.money(found.account.gross))]
        hidden = {INVOICE, FINAL, PAYMENT}
        if so_far.due:
            owed = formats.money(found.account.price.total)
            figures.insert(0, Figure(_("Owed for what was done"), owed))
            hidden = {PAYMENT}
        self.figures.show_rows(tuple(figures))
        rows = self._rows_of(so_far, found)
        self.list.show_rows(tuple(row for row in rows if row[0] not in hidden))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Say the sum on the button while there is room for it."""
        super().resizeEvent(event)
        self._fit_act()

    def _fit_act(self) -> None:
        whole, short = self._said_by_act
        room = self.contentsRect().width() - LOOK.px(AROUND)
        is_room = self.act.fontMetrics().horizontalAdvance(whole) <= room
        self.act.setText(whole if is_room else short)
        self.act.setAccessibleName(whole)

    def tell(self, text: str, *, is_problem: bool = False) -> None:
        """Say what came of something, under the rows."""
        retone(self.said, tone="stop" if is_problem else "done")
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def _rows_of(self, so_far: SoFar, found: Reckoning) -> tuple[tuple[str, str], ...]:
        rows = [
            (
                one.number,
                wording.invoice_line(one, found.open_of(one.number), left_of(so_far, one.number)),
            )
            for one in so_far.invoices
        ]
        rows += [(one.number, wording.credit_line(one)) for one in so_far.credits]
        others = [(INVOICE, _("Write an invoice"))] if found.next else []
        others += [(PAYMENT, _("Note a payment"))]
        if so_far.invoices or so_far.payments:
            others += [(STATEMENT, _("Statement, day by day"))]
        others += [(FINAL, _("Final account, line by line")), (FILES, _("Save the ledger (CSV)…"))]
        return (*rows, *(row for row in others if row[0] != self._next))

    def _open(self, name: str) -> None:
        if name in (INVOICE, PAYMENT, STATEMENT, FINAL, FILES):
            self.asked.emit(name)
        else:
            self.opened.emit(name)


def figures_of(found: Reckoning) -> tuple[Figure, ...]:
    """Return the figures of an account; a household sees none of what trade alone has."""
    account = found.account
    is_taxed = account.price.total != account.price.net
    rows = [
        Figure(
            _("Agreed now, with VAT") if is_taxed else _("Agreed now"),
            formats.money(account.price.total),
        ),
        Figure(_("Invoiced"), formats.money(account.gross)),
        Figure(_("Paid"), formats.money(account.paid)),
    ]
    if account.deducted:
        rows.append(Figure(_("Kept back for the tax office"), formats.money(account.deducted)))
    if account.retained:
        rows.append(
            Figure(
                _("Kept back until later, before VAT"),
                formats.money(account.retained),
                _due_again(found),
            )
        )
    rows.append(Figure(_("To come"), formats.money(account.balance), is_sum=True))
    return tuple(rows)


def _due_again(found: Reckoning) -> str:
    """Return when what is kept back falls due."""
    coming = None if found.next is None else found.next.asks_for
    if found.kept_until is None:
        half, all_ = _("half of it once the work is done"), _("due once the work is done")
        return half if found.kept_months else all_
    if coming is InvoiceFor.RETENTION or not found.kept_months:
        return _("due now")
    date = agreed_wording.day(found.kept_until)
    if coming is InvoiceFor.FINAL:
        return _("half of it now, the rest on {date}").format(date=date)
    return _("due on {date}").format(date=date)


def _headline(found: Reckoning) -> str:
    account = found.account
    if account.is_settled:
        return _("All is paid.")
    if account.balance < NOTHING:
        return _("{amount} too much was paid").format(amount=formats.money(-account.balance))
    if account.open > NOTHING:
        return _("{amount} to be paid now").format(amount=formats.money(account.open))
    return _("{amount} still to come").format(amount=formats.money(account.balance))


def _state(found: Reckoning) -> str:
    return _("late") if found.late else ""


def _tone(found: Reckoning) -> str:
    return "caution" if found.late else ""


def _late(found: Reckoning) -> str:
    return "\n".join(
        _("{number} is {late}: {amount} open.").format(
            number=one.number,
            late=counted("{n} day late", "{n} days late", one.days_late),
            amount=formats.money(one.amount),
        )
        for one in found.late
    )


def _next(found: Reckoning) -> tuple[str, str]:
    """Return the next thing to do, and what its button says."""
    if found.next is not None and found.is_due and not found.late:
        return INVOICE, wording.invoice_button(found.next)
    if found.open:
        return PAYMENT, _("Note a payment")
    if found.account.is_settled:
        return FINAL, _("Show the final account")
    return "", ""
