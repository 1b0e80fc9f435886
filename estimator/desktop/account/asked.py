"""What the account asks of the file; every function runs in the file's own thread."""

from __future__ import annotations

from estimator.contract.account import CreditNote, Invoice, Payment
from estimator.contract.deeds import Paid, counting
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.works import asked as works
from estimator.exchange import ledger_csv, ubl_invoice
from estimator.exchange.ledger_csv import JobAccount
from estimator.notices import UserMistake
from estimator.office import contracts
from estimator.quoting.quotation import Trader
from estimator.store import happenings
from estimator.store.database import Database
from estimator.survey.survey import Survey


def issue(database: Database, job: str, told: Invoice, trader: Trader) -> Kept:
    """Give an invoice its number, and keep its paper."""
    gone = contracts.invoice(database, job, told, trader=trader)
    return Kept(gone.number, gone.pdf)


def credit(database: Database, job: str, told: CreditNote, trader: Trader) -> Kept:
    """Give a credit note its number, and keep its paper."""
    gone = contracts.credit(database, job, told, trader=trader)
    return Kept(gone.number, gone.pdf)


def ledger(database: Database, job: str, survey: Survey) -> bytes:
    """Return the account of a job as a table, for the books."""
    now = contracts.so_far(database, job)
    return ledger_csv.to_csv([JobAccount(survey.title, survey.customer.name, now)])


def electronic(database: Database, job: str, number: str, trader: Trader) -> bytes:
    """Return an invoice or credit note as UBL, for a customer's own books.

    Raises:
        UserMistake: where the norm cannot say what is on it.
    """
    return ubl_invoice.of_job(contracts.so_far(database, job), number, trader)


def pay(database: Database, job: str, payment: Payment) -> None:
    """Note money that came in or went back."""
    contracts.pay(database, job, payment)


def take_back_last(database: Database, job: str) -> None:
    """Strike out the last payment, which was a slip; it is kept, and counts no more.

    Raises:
        UserMistake: when there is none.
    """
    told = counting(happenings.of_job(database, job))
    payments = [one.uid for one in told if isinstance(one.deed, Paid)]
    if not payments:
        raise UserMistake("there is nothing to take back", do="look at what was noted")
    works.take_back(database, job, payments[-1:])
