"""Invoices and credit notes as UBL 2.3, by the rules of EN 16931."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from estimator.contract.account import CreditNote, Invoice, InvoiceLine
from estimator.exchange import ubl
from estimator.exchange.ubl import Paper
from estimator.money import NOTHING, Money, total
from estimator.pricing.offer import TaxLine
from estimator.quoting.quotation import Trader
from estimator.survey.survey import Party
from estimator.units import Unit

INVOICE, CREDIT_NOTE = "380", "381"
"""Kinds of paper in UN/ECE 1001."""


def invoice(
    bill: Invoice, trader: Trader, customer: Party, *, currency: str = "GBP", country: str = "GB"
) -> bytes:
    """Return an invoice that has its number.

    A deduction of the construction scheme is said in a note: EN 16931 knows of none, so the amount
    due is what is owed before it.
    """
    paper = Paper("Invoice", currency)
    root = paper.root
    _head(paper, bill.number, ubl.day(bill.date))
    paper.say(root, "DueDate", ubl.day(bill.due))
    paper.say(root, "InvoiceTypeCode", INVOICE)
    _notes(paper, bill.deduction, bill.payable)
    if bill.tax_point != bill.date:
        paper.say(root, "TaxPointDate", ubl.day(bill.tax_point))
    paper.say(root, "DocumentCurrencyCode", currency)
    _parties(paper, bill.taxes, trader, customer, country)
    paper.say(paper.group(root, "PaymentTerms"), "Note", f"Due on {ubl.day(bill.due)}")
    _sums(paper, bill.taxes, bill.net)
    _lines(paper, "InvoiceLine", "InvoicedQuantity", bill.lines, bill.taxes)
    return paper.bytes()


def credit_note(
    note: CreditNote, trader: Trader, customer: Party, *, currency: str = "GBP", country: str = "GB"
) -> bytes:
    """Return a credit note that has its number, with the invoice it takes back."""
    paper = Paper("CreditNote", currency)
    root = paper.root
    _head(paper, note.number, ubl.day(note.date))
    paper.say(root, "CreditNoteTypeCode", CREDIT_NOTE)
    paper.say(root, "Note", note.why)
    paper.say(root, "DocumentCurrencyCode", currency)
    reference = paper.group(paper.group(root, "BillingReference"), "InvoiceDocumentReference")
    paper.say(reference, "ID", note.invoice)
    _parties(paper, note.taxes, trader, customer, country)
    _sums(paper, note.taxes, note.net)
    _lines(paper, "CreditNoteLine", "CreditedQuantity", note.lines, note.taxes)
    return paper.bytes()


def _head(paper: Paper, number: str, date: str) -> None:
    paper.say(paper.root, "UBLVersionID", ubl.VERSION)
    paper.say(paper.root, "CustomizationID", ubl.EN_16931)
    paper.say(paper.root, "ID", number)
    paper.say(paper.root, "IssueDate", date)


def _notes(paper: Paper, deduction: Money, payable: Money) -> None:
    if deduction:
        words = f"Deduction of the construction industry scheme: {deduction}; to be paid: {payable}"
        paper.say(paper.root, "Note", words)


def _parties(
    paper: Paper, taxes: Sequence[TaxLine], trader: Trader, customer: Party, country: str
) -> None:
    ubl.add_trader(paper, "AccountingSupplierParty", trader, country, registered=bool(taxes))
    ubl.add_customer(paper, "AccountingCustomerParty", customer, country)


def _sums(paper: Paper, taxes: Sequence[TaxLine], net: Money) -> None:
    charged = total(one.amount for one in taxes if one.charged)
    ubl.add_tax(paper, taxes, net)
    ubl.add_totals(
        paper,
        "LegalMonetaryTotal",
        (
            ("LineExtensionAmount", net),
            ("TaxExclusiveAmount", net),
            ("TaxInclusiveAmount", net + charged),
            ("PayableAmount", net + charged),
        ),
    )


def _lines(
    paper: Paper,
    name: str,
    quantity: str,
    lines: Sequence[InvoiceLine],
    taxes: Sequence[TaxLine],
) -> None:
    kind = ubl.category_of(taxes)
    for place, one in enumerate(lines, start=1):
        line = paper.group(paper.root, name)
        paper.say(line, "ID", str(place))
        # A price is never below nothing (BR-27): what is taken off is a quantity of minus one.
        count = Decimal(-1) if one.net < NOTHING else Decimal(1)
        paper.say(line, quantity, f"{count:f}", unitCode=Unit.ITEM.code)
        paper.amount(line, "LineExtensionAmount", one.net)
        ubl.add_item(paper, line, " ".join(_words(one)), kind)
        paper.price(line, abs(one.net.pounds))


def _words(line: InvoiceLine) -> Iterator[str]:
    yield line.description
    if line.refers:
        yield f"({line.refers})"
