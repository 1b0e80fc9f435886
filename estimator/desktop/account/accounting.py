"""Puts the account together: its block, its pages, and the papers that come of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from estimator.desktop.account import section
from estimator.desktop.account.credit_page import CreditPage
from estimator.desktop.account.invoice_page import InvoicePage
from estimator.desktop.account.payment_page import PaymentPage
from estimator.desktop.account.section import AccountSection
from estimator.desktop.account.standing_page import InvoiceStanding
from estimator.desktop.agreed.agreeing import Agreeing
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.job_column import ACCOUNT
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.file_out import FileOut, Out
from estimator.desktop.works.working import Working
from estimator.exchange import email_draft
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from PySide6.QtWidgets import QPushButton

    from estimator.store.database import Database

INVOICED, CREDITING = "invoiced", "crediting"
"""Pages beside those the block asks for."""


class Accounting(QObject):
    """Everything between the deposit and the last penny."""

    def __init__(self, agreeing: Agreeing, working: Working, parent: QObject) -> None:
        """Put the block and the pages into the column of the job."""
        super().__init__(parent)
        self._working = working
        self.job, self.following = agreeing.job, agreeing.following
        self.section = AccountSection(self.following)
        self.invoice = InvoicePage(self.following, self.job)
        self.standing = InvoiceStanding(self.following, agreeing.papers)
        self.payment = PaymentPage(self.following)
        self.credit = CreditPage(self.following, self.job)
        self.files = FileOut(self.following, self.job)
        self.job.add_section(ACCOUNT, self.section)
        self._pages: dict[str, FormPage] = {
            section.INVOICE: self.invoice,
            section.PAYMENT: self.payment,
            INVOICED: self.standing,
            CREDITING: self.credit,
        }
        for name, page in self._pages.items():
            self.job.add_page(name, page)
            page.left.connect(self.job.back)
        self._connect()

    @property
    def next_button(self) -> QPushButton | None:
        """The one filled button of the page that is shown, where it is one of these."""
        page = self._pages.get(self.job.at)
        return page.take if page else None

    def show_invoice(self, number: str) -> None:
        """Bring up an invoice that went out, or a credit note."""
        if any(one.number == number for one in self.following.so_far.credits):
            self._credited(number)
            return
        self.standing.show_invoice(number)
        self.job.open(INVOICED)

    def _connect(self) -> None:
        self.job.opened.connect(self.section.follow_day)
        self.section.asked.connect(self._open)
        self.section.opened.connect(self.show_invoice)
        self.invoice.issued.connect(self.show_invoice)
        self.payment.noted.connect(self._back)
        self.credit.issued.connect(self._credited)
        self.standing.payment_wanted.connect(self._pay)
        self.standing.file_wanted.connect(self._save_invoice)
        self.files.said.connect(self._said)
        self.files.mistaken.connect(self._mistaken)
        self.standing.credit_wanted.connect(self._take_back)

    def _open(self, name: str) -> None:
        papers = self._working.overseeing.works
        known = papers.papers if papers else {}
        if name == section.STATEMENT:
            about = _("Every invoice, credit note and payment, with what is owed after each.")
            self._working.show_sheet("statement", _("statement"), about, known.get("statement", ""))
        elif name == section.FINAL:
            about = _("From the quotation to the last penny, each variation on its own line.")
            before = known.get("final account", "")
            self._working.show_sheet("final account", _("final account"), about, before)
        elif name == section.FILES:
            self._save_ledger()
        elif name:
            self.job.open(name)

    def _back(self) -> None:
        self.job.open(ACCOUNT)

    def _pay(self, number: str) -> None:
        self.job.open(section.PAYMENT)
        self.payment.show_invoice(number)

    def _take_back(self, number: str) -> None:
        self.credit.show_invoice(number)
        self.job.open(CREDITING)

    # -- for other programs

    def _save_ledger(self) -> None:
        survey = self.following.session.work.survey

        def make(database: Database, uid: str) -> bytes:
            from estimator.desktop.account import asked  # noqa: PLC0415 - loads the database

            return asked.ledger(database, uid, survey)

        name = email_draft.file_name(survey.title).removesuffix(".pdf") + ".csv"
        self.files.save(Out(name, _("Save the ledger"), _("Tables (*.csv)"), make))

    def _save_invoice(self, number: str) -> None:
        trader = self.following.session.practice.trader

        def make(database: Database, uid: str) -> bytes:
            from estimator.desktop.account import asked  # noqa: PLC0415 - loads the database

            return asked.electronic(database, uid, number, trader)

        title, kind = _("Save the invoice for their books"), _("Invoices (*.xml)")
        self.files.save(Out(f"{number}.xml", title, kind, make))

    def _said(self, text: str) -> None:
        if self.job.at == INVOICED:
            self.standing.say(text, tone="done")
        else:
            self.section.tell(text)

    def _mistaken(self, mistake: UserMistake) -> None:
        if self.job.at == INVOICED:
            self.standing.refused(mistake)
        else:
            self.section.tell(in_full(mistake), is_problem=True)

    def _credited(self, number: str) -> None:
        self._working.show_kept(number, _("credit note"))
