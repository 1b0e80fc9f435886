"""Accounts by chance: bills, credit notes and payments no job would have, all of them possible."""

from __future__ import annotations

import datetime
from decimal import Decimal

from hypothesis import strategies as st

from estimator.contract.account import (
    CreditNote,
    Invoice,
    InvoiceFor,
    InvoiceLine,
    Paying,
    Payment,
)
from estimator.contract.so_far import SoFar
from estimator.money import Money, total
from estimator.pricing.offer import TaxLine

DAYS = st.dates(datetime.date(2026, 11, 1), datetime.date(2027, 3, 1))
PENCE = st.integers(-999_999, 9_999_999).map(Money)
HOSTILE = '=HYPERLINK("x"), ; Müller & <b>"Sons"</b>\r\n+1 \x00\x07'
WORDS = st.one_of(
    st.just(HOSTILE), st.text(min_size=1, max_size=30).filter(lambda one: one.strip())
)
LINES = st.lists(
    st.builds(InvoiceLine, WORDS, PENCE.filter(bool), st.sampled_from(("", "Q-0001", "V-0001"))),
    min_size=1,
    max_size=4,
).map(tuple)


def taxed(net: Money, percent: int, *, charged: bool) -> tuple[TaxLine, ...]:
    """Tax on a sum, at no rate for a trader who charges none."""
    if not percent:
        return ()
    title = f"VAT at {percent} %"
    if not charged:
        title = f"Reverse charge: customer to account for {title}"
    amount = net.times(Decimal(percent) / 100)
    return (TaxLine(title, Decimal(percent), net, amount, charged),)


@st.composite
def invoices(draw: st.DrawFn, number: str = "I-0001") -> Invoice:
    """An invoice of any lines under any tax."""
    lines, day = draw(LINES), draw(DAYS)
    net = total(line.net for line in lines)
    return Invoice(
        number,
        draw(st.sampled_from(InvoiceFor)),
        day,
        day,
        day + datetime.timedelta(days=draw(st.integers(0, 60))),
        lines,
        taxed(net, draw(st.sampled_from((0, 5, 20))), charged=draw(st.booleans())),
        draw(st.sampled_from((Money(0), Money(28000), Money(1)))),
    )


@st.composite
def credit_notes(draw: st.DrawFn, number: str = "C-0001", invoice: str = "I-0001") -> CreditNote:
    """A credit note of any lines under any tax."""
    lines = draw(LINES)
    net = total(line.net for line in lines)
    taxes = taxed(net, draw(st.sampled_from((0, 5, 20))), charged=draw(st.booleans()))
    deduction = draw(st.sampled_from((Money(0), Money(1234))))
    return CreditNote(number, draw(DAYS), invoice, draw(WORDS), lines, taxes, deduction)


PAYMENTS = st.builds(
    Payment, DAYS, PENCE, st.sampled_from(Paying), st.sampled_from(("", "I-0001")), WORDS
)


@st.composite
def accounts(draw: st.DrawFn) -> SoFar:
    """A job with some of each."""
    bills = tuple(draw(invoices(f"I-{n:04}")) for n in range(1, draw(st.integers(1, 3)) + 1))
    notes = tuple(
        draw(credit_notes(f"C-{n:04}", draw(st.sampled_from(bills)).number))
        for n in range(1, draw(st.integers(0, 2)) + 1)
    )
    payments = tuple(draw(st.lists(PAYMENTS, max_size=3)))
    return SoFar(invoices=bills, credits=notes, payments=payments)
