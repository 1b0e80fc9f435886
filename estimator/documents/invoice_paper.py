"""An invoice with all that the law asks of one, the total with tax leading.

Source for what stands on it: Value Added Tax Regulations 1995, regulation 14, from memory; for the
reverse charge HMRC's VATREVCON37100, as read.
"""

from __future__ import annotations

from collections.abc import Iterator

from estimator.contract.account import Invoice, InvoiceLine
from estimator.contract.so_far import SoFar
from estimator.documents import agreed_pages, agreed_words
from estimator.documents.agreed_content import (
    AgreedPaper,
    Big,
    Bigs,
    Column,
    Ledger,
    Line,
    Lines,
    Part,
    Prose,
)
from estimator.documents.agreed_paying import paying
from estimator.documents.agreed_sums import MONEY
from estimator.documents.agreed_words import Named, day, figure, money
from estimator.documents.content import Sum, Text, Tone
from estimator.documents.formats import plain
from estimator.documents.wording import counted, say
from estimator.money import NOTHING, Money
from estimator.pricing.offer import TaxLine
from estimator.pricing.tax import deduction_percent, labour_of
from estimator.quoting.quotation import Trader

REFERS, RATE = 86.0, 76.0


def render(so_far: SoFar, invoice: Invoice, *, trader: Trader) -> bytes:
    """Return an invoice as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    return agreed_pages.lay_out(content_of(so_far, invoice, trader=trader))


def content_of(so_far: SoFar, invoice: Invoice, *, trader: Trader) -> AgreedPaper:
    """Return all that the paper says."""
    is_paid = invoice.payable.pence > 0
    due = ""
    if is_paid:
        days = (invoice.due - invoice.date).days
        key = "invoice.pay_terms" if days > 0 else "invoice.pay_due"
        due = counted(key, days, days=str(days), date=day(invoice.due))
    parts: list[Part] = [
        _bigs(invoice),
        lines_of(
            say("invoice.lines"),
            invoice.lines,
            invoice.taxes,
            tuple(_sums(invoice)),
        ),
        *tax_notes(invoice.taxes, is_credit=False),
        *_kept_notes(so_far, invoice),
    ]
    if is_paid:
        parts.append(paying(so_far, trader, invoice.number, due))
    else:
        parts.append(Prose("paying", "", (Text(say("invoice.nothing_to_pay"), Tone.STRONG),)))
    is_vat_invoice = bool(invoice.taxes)
    named = Named(
        heading=say("invoice.vat_heading" if is_vat_invoice else "invoice.heading"),
        under=say(f"invoice.under_{invoice.asks_for.value}"),
        number=invoice.number,
        facts=tuple(_facts(so_far, invoice)),
        warnings=tuple(warnings(invoice.number, invoice.taxes, trader)),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def warnings(number: str, taxes: tuple[TaxLine, ...], trader: Trader) -> Iterator[str]:
    """Yield what has to be put right before a paper on tax is sent."""
    if not number:
        yield say("invoice.number_missing")
    if taxes and trader.name.strip() and not trader.vat_number.strip():
        yield say("letterhead.no_vat_number")


def _facts(so_far: SoFar, invoice: Invoice) -> Iterator[tuple[str, str]]:
    yield from agreed_words.numbered(invoice.number, invoice.date)
    if invoice.taxes:
        yield say("invoice.tax_point"), day(invoice.tax_point)
    yield say("invoice.due"), day(invoice.due)
    yield from party_facts(so_far, invoice.taxes)


def party_facts(so_far: SoFar, taxes: tuple[TaxLine, ...]) -> Iterator[tuple[str, str]]:
    """Yield who is charged, with their own number where they account for the tax, and for what."""
    yield from agreed_words.whom(so_far)
    survey = agreed_words.survey_of(agreed_words.contract_of(so_far))
    yield say("invoice.work"), survey.title
    if any(not tax.charged for tax in taxes):
        terms = agreed_words.contract_of(so_far).terms
        yield say("contract.vat_of_customer"), terms.customer_tax_number


def _bigs(invoice: Invoice) -> Bigs:
    pay = Big(say("invoice.to_pay"), money(invoice.payable), agreed_words.tax_words(invoice.taxes))
    if invoice.payable.pence <= 0:
        return Bigs((pay,))
    return Bigs((pay, Big(say("invoice.due"), day(invoice.due))))


def lines_of(
    title: str, lines: tuple[InvoiceLine, ...], taxes: tuple[TaxLine, ...], sums: tuple[Sum, ...]
) -> Ledger:
    """Return the lines, each with what it rests on and the rate of tax on it."""
    columns = [Column(say("invoice.refers"), REFERS, is_quiet=True)]
    rate = _rate_of(taxes)
    if rate:
        columns.append(Column(say("invoice.vat_rate"), RATE, is_quiet=True))
    columns.append(Column(say("invoice.net" if taxes else "invoice.plain"), MONEY))
    rows = tuple(
        Line(
            one.description,
            (one.refers, *([rate] if rate else []), figure(one.net)),
        )
        for one in lines
    )
    return Ledger("lines", title, tuple(columns), (Lines("", rows),), sums)


def _rate_of(taxes: tuple[TaxLine, ...]) -> str:
    """Return the one rate all lines are taxed at, or nothing where there is none, or several."""
    if len(taxes) != 1:
        return ""
    tax = taxes[0]
    if not tax.charged:
        return say("invoice.reverse_mark")
    return agreed_words.percent(tax.rate)


def tax_rows(net: Money, gross: Money, taxes: tuple[TaxLine, ...]) -> Iterator[Sum]:
    """Yield the sum before tax, each tax with what it is on, and the total."""
    if not taxes:
        yield Sum(say("invoice.net_only"), (figure(gross),), is_final=True)
        return
    yield Sum(say("invoice.before_tax"), (figure(net),))
    for tax in taxes:
        gaps = {"base": money(tax.base), "amount": money(tax.amount), "percent": plain(tax.rate)}
        if tax.charged:
            title = say("invoice.tax_on", title=tax.title, **gaps)
            yield Sum(title, (figure(tax.amount),))
        else:
            yield Sum(say("invoice.reverse_row", **gaps), ("",))
    is_charged = any(tax.charged for tax in taxes)
    yield Sum(
        say("invoice.total_tax" if is_charged else "invoice.total"), (figure(gross),), is_final=True
    )


def _sums(invoice: Invoice) -> Iterator[Sum]:
    yield from tax_rows(invoice.net, invoice.gross, invoice.taxes)
    if invoice.deduction:
        yield Sum(say("invoice.deduction"), (figure(-invoice.deduction),))
        yield Sum(say("invoice.to_pay"), (figure(invoice.payable),), is_final=True)


def tax_notes(taxes: tuple[TaxLine, ...], *, is_credit: bool) -> Iterator[Prose]:
    """Yield what the law wants said of tax that is not charged by us."""
    if not taxes:
        key = "not_registered_credit" if is_credit else "not_registered"
        yield Prose("tax", "", (Text(say(f"invoice.{key}")),))
    for tax in taxes:
        if not tax.charged:
            words = say(
                "invoice.reverse_credit" if is_credit else "invoice.reverse",
                amount=money(tax.amount),
                percent=plain(tax.rate),
                base=money(tax.base),
            )
            yield Prose("tax", "", (Text(words, Tone.STRONG),))


def _kept_notes(so_far: SoFar, invoice: Invoice) -> Iterator[Prose]:
    """Yield what is said of money kept back, and of what a contractor takes for the tax office."""
    said = []
    if invoice.retained.pence > 0:
        said.append(say("invoice.retained_note", amount=money(invoice.retained)))
    elif invoice.retained.pence < 0:
        said.append(say("invoice.released_note", amount=money(-invoice.retained)))
    if invoice.deduction:
        said.append(_scheme_note(so_far, invoice))
    if said:
        yield Prose("kept", "", tuple(Text(one) for one in said))


def _scheme_note(so_far: SoFar, invoice: Invoice) -> str:
    """Return what the deduction is a share of, so that whoever keeps it back can check it."""
    terms = agreed_words.contract_of(so_far).terms
    labour = labour_of(invoice.deduction, terms)
    if not NOTHING < labour <= invoice.net:
        return say("invoice.scheme_note")
    return say(
        "invoice.scheme_worked",
        percent=plain(deduction_percent(terms)),
        labour=money(labour),
        goods=money(invoice.net - labour),
    )
