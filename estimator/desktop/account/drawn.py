"""Papers of the account before they have a number; each is made in a worker."""

from __future__ import annotations

from estimator.contract.account import CreditNote, Invoice
from estimator.contract.so_far import SoFar
from estimator.quoting.quotation import Trader


def invoice(so_far: SoFar, told: Invoice, trader: Trader) -> bytes:
    """Return an invoice as it would go out."""
    from estimator.documents import invoice_paper  # noqa: PLC0415 - loads the PDF library

    return invoice_paper.render(so_far, told, trader=trader)


def credit(so_far: SoFar, note: CreditNote, trader: Trader) -> bytes:
    """Return a credit note as it would go out."""
    from estimator.documents import credit_paper  # noqa: PLC0415 - loads the PDF library

    return credit_paper.render(so_far, note, trader=trader)
