"""What the account has come to, and which invoice comes next."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from estimator.contract.account import Invoice, InvoiceFor
from estimator.contract.contract import StageDue
from estimator.contract.invoicing import next_invoice, next_stage
from estimator.contract.months import months_after
from estimator.contract.so_far import SoFar
from estimator.contract.statement import FinalAccount, Open, final_account, open_on, statement
from estimator.money import Money
from estimator.notices import UserMistake


@dataclass(frozen=True, slots=True)
class Reckoning:
    """The account of one job on one day."""

    account: FinalAccount
    open: tuple[Open, ...]
    next: Invoice | None
    """The invoice that comes next, whether or not it is due; None for none."""
    is_due: bool
    """Whether it should be written now."""
    kept_until: datetime.date | None = None
    """When the last of what is kept back falls due; None while unknown."""
    kept_months: int = 0
    """From completion to that day. [month]"""

    @property
    def late(self) -> tuple[Open, ...]:
        """Invoices past due."""
        return tuple(one for one in self.open if one.days_late)

    def open_of(self, number: str) -> Open | None:
        """Return what is open of an invoice, None for nothing."""
        return next((one for one in self.open if one.number == number), None)


def reckoned(so_far: SoFar, today: datetime.date) -> Reckoning:
    """Return the account of a job that was agreed.

    Raises:
        ValueError: before anything was accepted.
    """
    coming = coming_invoices(so_far, today)
    following = coming[0] if coming else None
    return Reckoning(
        final_account(so_far),
        statement(so_far, until=max([today, *(one.date for one in so_far.invoices)])).open,
        following,
        following is not None and _is_due(so_far, following, today),
        kept_until(so_far),
        so_far.contract.retention.months if so_far.contract else 0,
    )


def coming_invoices(so_far: SoFar, date: datetime.date) -> tuple[Invoice, ...]:
    """Return every invoice that could be written now, the one that comes next first."""
    found = []
    for asks_for in InvoiceFor:
        try:
            told = next_invoice(so_far, asks_for, date=date)
        except UserMistake:
            continue
        found.append(told)
    stages = {one.stage for one in found if one.asks_for is InvoiceFor.DEPOSIT}
    # A deposit is the first stage: it is asked for under its own name.
    found = [
        one for one in found if one.asks_for is not InvoiceFor.STAGE or one.stage not in stages
    ]
    is_done = so_far.completion is not None
    return tuple(
        sorted(found, key=lambda one: one.asks_for is not InvoiceFor.FINAL if is_done else False)
    )


def why_none(so_far: SoFar, date: datetime.date) -> UserMistake | None:
    """Return why there is no invoice to write, None where there is one."""
    if coming_invoices(so_far, date):
        return None
    try:
        next_invoice(
            so_far, InvoiceFor.STAGE if next_stage(so_far) else InvoiceFor.FINAL, date=date
        )
    except UserMistake as mistake:
        return mistake
    return None


def left_of(so_far: SoFar, number: str) -> Money:
    """Return what of an invoice is not paid."""
    return open_on(so_far, number)


def kept_until(so_far: SoFar) -> datetime.date | None:
    """Return the day on which the last of what is kept back falls due; None while unknown."""
    contract, done = so_far.contract, so_far.completion
    if contract is None or done is None or so_far.called_off is not None:
        return None
    return months_after(done.on, contract.retention.months)


def _is_due(so_far: SoFar, told: Invoice, today: datetime.date) -> bool:
    contract, plan = so_far.contract, so_far.plan
    if contract is None or told.asks_for in (InvoiceFor.FINAL, InvoiceFor.RETENTION):
        return True
    due = contract.stages[told.stage - 1].due
    has_begun = bool(so_far.built or so_far.bookings) or (plan is not None and plan.start <= today)
    match due:
        case StageDue.ON_ACCEPTANCE:
            return True
        case StageDue.AT_START | StageDue.DURING:
            return has_begun
        case StageDue.ON_COMPLETION:
            return so_far.completion is not None
