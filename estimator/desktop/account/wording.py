"""How the screen says what is asked for, what came in, and what is open."""

from __future__ import annotations

from estimator.contract.account import CreditNote, Invoice, InvoiceFor, Paying
from estimator.contract.statement import Open
from estimator.desktop.agreed import wording
from estimator.desktop.language import _, counted, in_context
from estimator.documents import formats
from estimator.money import NOTHING, Money


def asked_words() -> dict[InvoiceFor, str]:
    """Return what an invoice asks for."""
    return {
        InvoiceFor.DEPOSIT: in_context("invoice", "deposit"),
        InvoiceFor.STAGE: in_context("invoice", "next part"),
        InvoiceFor.FINAL: in_context("invoice", "final invoice"),
        InvoiceFor.RETENTION: in_context("invoice", "what was kept back"),
    }


def paying_words() -> dict[Paying, str]:
    """Return how money came."""
    return {
        Paying.TRANSFER: in_context("paid", "by bank transfer"),
        Paying.CARD: in_context("paid", "by card"),
        Paying.CHEQUE: in_context("paid", "by cheque"),
        Paying.CASH: in_context("paid", "in cash"),
    }


def invoice_button(told: Invoice) -> str:
    """Return what the button says that leads to an invoice."""
    amount = formats.money(told.payable)
    return {
        InvoiceFor.DEPOSIT: _("Invoice the deposit {amount}"),
        InvoiceFor.STAGE: _("Invoice the next part {amount}"),
        InvoiceFor.FINAL: _("Write the final invoice {amount}"),
        InvoiceFor.RETENTION: _("Invoice what was kept back {amount}"),
    }[told.asks_for].format(amount=amount)


def invoice_button_short(told: Invoice) -> str:
    """Return the same without the sum, for large type in a narrow column."""
    return {
        InvoiceFor.DEPOSIT: _("Invoice the deposit"),
        InvoiceFor.STAGE: _("Invoice the next part"),
        InvoiceFor.FINAL: _("Write the final invoice"),
        InvoiceFor.RETENTION: _("Invoice the rest"),
    }[told.asks_for]


def invoice_line(told: Invoice, open_: Open | None, left: Money) -> str:
    """Return an invoice in two lines: which, for how much; and what is open of it."""
    first = _("{number}, {what}: {amount}").format(
        number=told.number,
        what=asked_words()[told.asks_for],
        amount=formats.money(told.payable),
    )
    return "\n".join((first, open_words(told, open_, left)))


def credit_line(note: CreditNote) -> str:
    """Return a credit note in a line: which, for which invoice, for how much."""
    return _("{number}, credit for {invoice}: {amount}").format(
        number=note.number, invoice=note.invoice, amount=wording.signed(-note.payable)
    )


def open_words(told: Invoice, open_: Open | None, left: Money) -> str:
    """Return what is open of an invoice, and how late it is."""
    if open_ is None or not left:
        return _("Settled.")
    gaps = {"amount": formats.money(left), "date": wording.day(told.due)}
    if open_.days_late:
        late = counted("{n} day late", "{n} days late", open_.days_late)
        return _("{amount} open, {late}.").format(amount=gaps["amount"], late=late)
    if left == told.payable:
        return _("Open until {date}.").format(date=gaps["date"])
    return _("{amount} open until {date}.").format(**gaps)


def trade_notes(told: Invoice) -> tuple[str, ...]:
    """Return in plain words what is special for a trade customer; nothing for a household."""
    found = []
    if any(not line.charged for line in told.taxes):
        found.append(_("Reverse charge: we charge no VAT, they account for it to the tax office."))
    if told.deduction:
        found.append(
            _(
                "They keep back {amount} of the labour and pay it to the tax office for us: it "
                "counts as paid."
            ).format(amount=formats.money(told.deduction))
        )
    if told.retained > NOTHING:
        found.append(
            _("They keep back {amount} before VAT until the time that was agreed.").format(
                amount=formats.money(told.retained)
            )
        )
    return tuple(found)
