"""Invoices and credit notes: all that the law asks of one, and figures that add up."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from estimator.contract.account import CreditNote, Invoice, InvoiceFor
from estimator.contract.so_far import SoFar
from estimator.documents import credit_paper, invoice_paper
from estimator.money import NOTHING, Money
from estimator.quoting.quotation import Trader
from estimator.survey.survey import CustomerKind
from tests.documents import agreed_fixtures as jobs
from tests.documents import made_up
from tests.documents.reading import flat, pages, quick_pages

MINUS = "\u2212"


def text_of(so_far: SoFar, invoice: Invoice, trader: Trader | None = None) -> str:
    made = invoice_paper.render(so_far, invoice, trader=trader or made_up.trader())
    return flat("\n".join(pages(made)))


def credit_text(so_far: SoFar, note: CreditNote) -> str:
    return flat("\n".join(pages(credit_paper.render(so_far, note, trader=made_up.trader()))))


def household() -> SoFar:
    return SoFar(contract=jobs.contract(), invoices=(jobs.deposit(),))


def test_a_vat_invoice_has_all_that_the_regulations_ask() -> None:
    # Value Added Tax Regulations 1995, reg. 14, from memory: number, date of issue, tax point,
    # supplier with address and number, customer with address, description, rate, sum before tax,
    # rate of any discount (there is none), tax at each rate, total tax.
    text = text_of(household(), jobs.deposit())
    for one in (
        "VAT invoice",
        "I-0001",
        "Date",
        "26 November 2026",
        "Tax point",
        "Tarn & Pike",
        "3 Kiln Yard, Eastmere Vale",
        "VAT no. GB 000 0000 00",
        "Ines Marlowe, 14 Tarn Street, Eastmere Vale",
        "Stepped crack under the front window, 14 Tarn Street",
        "Deposit: 30 % of the price",
        "20 %",
        "145.83",
        "VAT at 20 %, on £145.83",
        "29.17",
        "175.00",
    ):
        assert flat(one) in text, one


def test_date_of_issue_and_tax_point_are_told_apart() -> None:
    invoice = replace(jobs.deposit(), tax_point=datetime.date(2026, 11, 20))
    assert flat("Tax point 20 November 2026") in text_of(household(), invoice)


def test_what_was_invoiced_before_comes_off_with_a_true_minus() -> None:
    text = text_of(household(), jobs.final())
    assert f"{MINUS}145.83" in text
    assert "-145.83" not in text
    assert flat("£567.10") in text


def test_a_reverse_charge_is_said_shown_and_left_out_of_what_is_due() -> None:
    # HMRC VATREVCON37100; the dossier's values 38, 40 and 42: 2,000 net, 280.00 deducted, VAT of
    # 400.00 shown and not charged, 1,720.00 to pay.
    so_far = SoFar(contract=jobs.trade(jobs.contract()))
    invoice = jobs.reverse_charged()
    assert invoice.payable == Money.of(1720)
    text = text_of(so_far, invoice)
    for one in (
        "Reverse charge: you account to HMRC for the VAT of £400.00, at 20 % on £2,000.00",
        "section 55A",
        "It is not in the total",
        "Your VAT no. GB 999 9999 99",
        "Kept back by you under the Construction Industry Scheme",
        f"{MINUS}280.00",
        "£1,720.00",
        "The deduction is 20 % of £1,400.00 for labour.",
        "£600.00 of this invoice",
    ):
        assert flat(one) in text, one
    assert text.count("reversecharge") >= 3
    assert "2,400.00" not in text


def test_a_trader_without_vat_makes_no_vat_invoice() -> None:
    # VAT Act 1994: no VAT line and no number for one who is not registered; from memory.
    so_far = SoFar(contract=jobs.contract(registered=False))
    text = text_of(so_far, replace(jobs.deposit(), taxes=()))
    assert flat("We are not registered for VAT, so none is charged") in text
    assert "VATinvoiceI-0001" not in text
    assert "VATno." not in text
    assert "Taxpoint" not in text
    assert "20%" not in text


@pytest.mark.parametrize("kind", CustomerKind)
def test_only_businesses_are_told_of_interest_for_being_late(kind: CustomerKind) -> None:
    # Late Payment of Commercial Debts (Interest) Act 1998: business debts only.
    text = text_of(SoFar(contract=jobs.contract(kind=kind)), jobs.deposit())
    assert ("Bankrate" in text) is (kind is not CustomerKind.HOUSEHOLD)


def test_bank_details_are_printed_as_they_stand_and_else_as_agreed() -> None:
    trader = replace(made_up.trader(), bank="Tarn & Pike <1>\nSort code 00-00-00")
    with_bank = text_of(household(), jobs.deposit(), trader)
    assert flat("By bank transfer, quoting I-0001:") in with_bank
    assert flat("Tarn & Pike <1>") in with_bank
    assert flat("Sort code 00-00-00") in with_bank
    assert flat("ring us on the number above before you pay") in with_bank
    without = text_of(household(), jobs.deposit(), replace(trader, bank=" "))
    assert flat("As agreed between us, quoting I-0001.") in without
    assert "banktransfer" not in without


def test_an_invoice_with_nothing_to_pay_says_so_and_asks_for_nothing() -> None:
    for net in ("0", "-20"):
        text = text_of(household(), jobs.invoice([("Balance", "Q-0147", net)]))
        assert flat("Nothing to pay on this invoice.") in text
        assert "Howtopay" not in text


def test_money_kept_back_and_released_is_said() -> None:
    so_far = SoFar(contract=jobs.trade(jobs.contract(), reverse=False))
    kept = jobs.invoice([("Work", "Q-0147", "1000"), ("Kept back", "", "-50")], retained="50")
    assert flat("£50.00 is kept back by this invoice") in text_of(so_far, kept)
    released = jobs.invoice([("Released", "", "50")], asks_for=InvoiceFor.RETENTION, retained="-50")
    text = text_of(so_far, released)
    assert flat("£50.00 that was kept back is released") in text
    assert flat("for money kept back") in text


def test_a_missing_vat_number_or_invoice_number_is_warned_of_on_every_page() -> None:
    trader = replace(made_up.trader(), vat_number="")
    many = [(f"Line {number}", "Q-0147", "10") for number in range(90)]
    made = invoice_paper.render(household(), jobs.invoice(many, number=""), trader=trader)
    shown = quick_pages(made)
    assert len(shown) > 1
    assert all("your VAT number is not set" in text for text in shown)
    assert all("no number yet" in text for text in shown)


def test_a_credit_note_names_its_invoice_its_reason_and_its_tax() -> None:
    # Value Added Tax Regulations 1995, reg. 15C, from memory: number, date, both parties, the
    # invoice it is against, why, the sum and the tax credited.
    text = credit_text(household(), jobs.credit())
    for one in (
        "Credit note",
        "C-0001",
        "3 December 2026",
        "invoice I-0001 of 26 November 2026",
        "VAT no. GB 000 0000 00",
        "Ines Marlowe, 14 Tarn Street, Eastmere Vale",
        "The border was cleared before we came.",
        "Protection that was not needed",
        "VAT at 20 %, on £47.50",
        "9.50",
        "£57.00",
    ):
        assert flat(one) in text, one


def test_a_credit_of_a_reverse_charge_says_so_too() -> None:
    # HMRC VATREVCON39200.
    note = jobs.credit()
    note = replace(note, taxes=(made_up.vat(note.net, charged=False),), deduction=Money.of("6.50"))
    text = credit_text(SoFar(contract=jobs.trade(jobs.contract())), note)
    assert flat("Reverse charge: you take the VAT of £9.50, at 20 % on £47.50, off") in text
    assert f"{MINUS}6.50" in text
    assert flat("£41.00") in text


def test_a_credit_without_tax_says_that_none_was_charged() -> None:
    note = replace(jobs.credit(), taxes=())
    text = credit_text(SoFar(contract=jobs.contract(registered=False)), note)
    assert flat("none was charged and none is credited") in text
    assert note.deduction == NOTHING
    assert flat("£47.50") in text


def test_a_draft_does_not_ask_for_a_number_it_has_not_got() -> None:
    draft = replace(jobs.deposit(), number="")
    assert flat("quoting the number it will have") in text_of(household(), draft)
    assert "quoting:" not in text_of(household(), draft)
