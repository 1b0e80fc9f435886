"""Invoices and credit notes as UBL 2.3, by the rules of EN 16931.

Each of our invoices is complete in itself. What was invoiced before is a line of minus one, with
its invoice named (BT-25), and no prepaid amount: that would stand for money, tax in, while the tax
of a deposit is charged on the deposit. So the lines add up to what is taxed here and now.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from estimator.contract.account import CreditNote, Invoice, InvoiceLine
from estimator.contract.frozen import frozen
from estimator.contract.so_far import SoFar
from estimator.exchange import ubl
from estimator.exchange.ubl import Paper
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake
from estimator.pricing.offer import TaxLine
from estimator.quoting.quotation import Trader
from estimator.survey.survey import Party
from estimator.units import Unit

INVOICE, CREDIT_NOTE = "380", "381"
"""Kinds of paper in UN/ECE 1001."""


def of_job(so_far: SoFar, number: str, trader: Trader) -> bytes:
    """Return an invoice or credit note of a job, as its contract names customer and currency.

    Raises:
        UserMistake: where there is no such paper, and where EN 16931 cannot say it.
    """
    contract = so_far.contract
    if contract is None:
        raise _unknown(number)
    then = frozen(contract)
    country, currency = contract.terms.country, then.book.currency
    customer, quoted = then.survey.customer, contract.quotation
    for bill in so_far.invoices:
        if bill.number == number:
            return invoice(
                bill, trader, customer, currency=currency, country=country, contract=quoted
            )
    for note in so_far.credits:
        if note.number == number:
            return credit_note(
                note, trader, customer, currency=currency, country=country, contract=quoted
            )
    raise _unknown(number)


def _unknown(number: str) -> UserMistake:
    return UserMistake(
        f"there is no invoice '{number[:20]}' on this job", do="choose one from the account"
    )


def invoice(
    bill: Invoice,
    trader: Trader,
    customer: Party,
    *,
    currency: str = "GBP",
    country: str = "GB",
    contract: str = "",
) -> bytes:
    """Return an invoice that has its number.

    A deduction of the construction scheme is said in a note: EN 16931 knows of none, so the amount
    due is what is owed before it.

    Args:
        bill: The invoice.
        trader: Who it is from.
        customer: Who it is for.
        currency: Of its amounts, as ISO 4217 names it.
        country: Of both, as ISO 3166-1 names it.
        contract: Number of the quotation that was accepted.

    Raises:
        UserMistake: where EN 16931 cannot say it: in a country without VAT, or where VAT is charged
            and the trader has no number.
    """
    ubl.check_vat(bill.taxes, trader, country)
    paper = Paper("Invoice", currency)
    root = paper.root
    _head(paper, bill.number, ubl.day(bill.date))
    paper.say(root, "DueDate", ubl.day(bill.due))
    paper.say(root, "InvoiceTypeCode", INVOICE)
    _notes(paper, bill)
    if bill.tax_point != bill.date:
        paper.say(root, "TaxPointDate", ubl.day(bill.tax_point))
    paper.say(root, "DocumentCurrencyCode", currency)
    for number in _earlier(bill):
        _refer(paper, number)
    _rest_on(paper, contract)
    _parties(paper, bill.taxes, trader, customer, country)
    pay_to = f"; to be paid to: {trader.bank}" if trader.bank.strip() else ""
    paper.say(paper.group(root, "PaymentTerms"), "Note", f"Due on {ubl.day(bill.due)}{pay_to}")
    _sums(paper, bill.taxes, bill.net)
    _lines(paper, "InvoiceLine", "InvoicedQuantity", bill.lines, bill.taxes)
    return paper.bytes()


def credit_note(
    note: CreditNote,
    trader: Trader,
    customer: Party,
    *,
    currency: str = "GBP",
    country: str = "GB",
    contract: str = "",
) -> bytes:
    """Return a credit note that has its number, with the invoice it takes back.

    Raises:
        UserMistake: where EN 16931 cannot say it, as for an invoice.
    """
    ubl.check_vat(note.taxes, trader, country)
    paper = Paper("CreditNote", currency)
    root = paper.root
    _head(paper, note.number, ubl.day(note.date))
    paper.say(root, "CreditNoteTypeCode", CREDIT_NOTE)
    paper.say(root, "Note", "; ".join((note.why, *ubl.accounted(note.taxes))))
    paper.say(root, "DocumentCurrencyCode", currency)
    _refer(paper, note.invoice)
    _rest_on(paper, contract)
    _parties(paper, note.taxes, trader, customer, country)
    terms = f"To be set against {note.invoice}"
    paper.say(paper.group(root, "PaymentTerms"), "Note", terms)
    _sums(paper, note.taxes, note.net)
    _lines(paper, "CreditNoteLine", "CreditedQuantity", note.lines, note.taxes)
    return paper.bytes()


def _head(paper: Paper, number: str, date: str) -> None:
    paper.say(paper.root, "UBLVersionID", ubl.EN_VERSION)
    paper.say(paper.root, "CustomizationID", ubl.EN_16931)
    paper.say(paper.root, "ID", number)
    paper.say(paper.root, "IssueDate", date)


def _notes(paper: Paper, bill: Invoice) -> None:
    words = list(ubl.accounted(bill.taxes))
    if bill.deduction:
        words.append(
            f"Deduction of the construction industry scheme: {bill.deduction}; "
            f"to be paid: {bill.payable}"
        )
    paper.say(paper.root, "Note", "; ".join(words))


def _earlier(bill: Invoice) -> tuple[str, ...]:
    """Return the invoices an invoice takes off again: those numbered as it is itself."""
    series = bill.number.rstrip("0123456789")
    others = (one.refers for one in bill.lines if one.refers != bill.number)
    return tuple(dict.fromkeys(one for one in others if series and one.startswith(series)))


def _refer(paper: Paper, number: str) -> None:
    reference = paper.group(paper.group(paper.root, "BillingReference"), "InvoiceDocumentReference")
    paper.say(reference, "ID", number)


def _rest_on(paper: Paper, contract: str) -> None:
    if contract:
        paper.say(paper.group(paper.root, "ContractDocumentReference"), "ID", contract)


def _parties(
    paper: Paper, taxes: Sequence[TaxLine], trader: Trader, customer: Party, country: str
) -> None:
    ubl.add_trader(paper, "AccountingSupplierParty", trader, country, registered=bool(taxes))
    ubl.add_customer(paper, "AccountingCustomerParty", customer, country, taxed=bool(taxes))
    ubl.add_site(paper, customer, country)


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
