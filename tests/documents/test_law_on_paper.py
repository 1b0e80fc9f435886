"""What the law asks of a paper is on it, item by item; none of this is legal advice.

Sources, read as excerpts of legislation.gov.uk unless said otherwise: Value Added Tax Regulations
1995 (SI 1995/2518), regulation 14(1), as revised; VAT Act 1994, section 55A, as HMRC's
VATREVCON37100 has it; Consumer Contracts Regulations 2013 (SI 2013/3134), schedule 2 items (a) to
(i) read as made, (j) to (x) from memory; its schedule 3 part B, the form, read; Consumer Rights
Act 2015, from memory.
"""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.contract.so_far import SoFar
from estimator.documents import confirmation, credit_paper, invoice_paper, quotation
from estimator.money import Money
from estimator.survey.survey import CustomerKind
from tests.documents import agreed_fixtures as jobs
from tests.documents import made_up
from tests.documents.reading import flat, pages

DATE = datetime.date(2026, 11, 26)

REGULATION_14 = {
    "(a) a sequential number": "I-0001",
    "(b) the time of the supply": "Tax point 26 November 2026",
    "(c) the date of issue": "Date 26 November 2026",
    "(d) name of the supplier": "Tarn & Pike",
    "(d) its address": "3 Kiln Yard, Eastmere Vale",
    "(d) its registration number": "VAT no. GB 000 0000 00",
    "(e) name and address of the customer": "Ines Marlowe, 14 Tarn Street, Eastmere Vale",
    "(g) what is supplied": "Stepped crack under the front window, 14 Tarn Street",
    "(h) the extent": "Deposit: 30 % of the price",
    "(h) rate of tax": "20 %",
    "(h) amount before tax": "145.83",
    "(i) gross before tax": "Before VAT 145.83",
    "(l) tax chargeable": "VAT at 20 %, on £145.83 29.17",
}
"""Item (f) is revoked; (j) a cash discount is never offered; (m) the unit price is for things
that are counted, and a share of a sum is not; (n) is for margin schemes."""


def invoice_text(so_far: SoFar, given: object = None) -> str:
    made = invoice_paper.render(
        so_far,
        given or jobs.deposit(),
        trader=made_up.trader(),  # type: ignore[arg-type]
    )
    return flat("\n".join(pages(made)))


@pytest.mark.parametrize("item", REGULATION_14)
def test_a_vat_invoice_has_what_regulation_14_lists(item: str) -> None:
    text = invoice_text(SoFar(contract=jobs.contract(), invoices=(jobs.deposit(),)))
    assert flat(REGULATION_14[item]) in text


def test_under_a_reverse_charge_the_customers_tax_is_named_and_not_charged() -> None:
    # Reg. 14(1)(o): the words "reverse charge"; VATREVCON37100: section 55A, and the rate or the
    # amount the customer accounts for, shown apart from what is charged.
    so_far = SoFar(contract=jobs.trade(jobs.contract()))
    text = invoice_text(so_far, jobs.reverse_charged())
    for words in ("Reverse charge: you account to HMRC", "VAT Act 1994, section 55A", "at 20 %"):
        assert flat(words) in text
    assert flat("Total with VAT") not in text
    assert flat("Your VAT no. GB 999 9999 99") in text


def test_a_firm_that_is_not_registered_shows_no_tax_anywhere() -> None:
    # VAT Act 1994, schedule 11 para. 2 and section 67, from memory: only a registered person may
    # issue a VAT invoice, or show an amount as VAT.
    contract = jobs.contract(registered=False)
    so_far = SoFar(contract=contract)
    bare = replace(jobs.deposit(), taxes=())
    papers = [
        invoice_paper.render(so_far, bare, trader=made_up.trader()),
        credit_paper.render(so_far, replace(jobs.credit(bare), taxes=()), trader=made_up.trader()),
        confirmation.render(so_far, trader=made_up.trader(), number="S-0001", date=DATE),
    ]
    for paper in papers:
        text = flat("\n".join(pages(paper)))
        for words in (
            "VAT invoice I-0001",
            "VAT at",
            "VAT no.",
            "with VAT",
            "Before VAT",
            "Tax point",
        ):
            assert flat(words) not in text, words
        assert flat("not registered for VAT") in text


def test_a_contractor_can_check_the_deduction_from_the_invoice_alone() -> None:
    """Found wanting: it stood there as a sum, and nobody could tell of what.

    The worked example of the dossier: labour 1,400, materials 480 and hire 120 at cost, deducted
    280.00 at 20 %. gov.uk, construction industry scheme: on the payment without VAT, less
    materials and hired plant.
    """
    so_far = SoFar(contract=jobs.trade(jobs.contract()))
    text = invoice_text(so_far, jobs.reverse_charged())
    assert flat("20 % of £1,400.00 for labour") in text
    assert flat("£600.00 of this invoice") in text
    assert Money.of(1400).times(Decimal("0.2")) == jobs.reverse_charged().deduction


SCHEDULE_2 = {
    "(a) main characteristics": "What was accepted",
    "(b) identity": "Tarn & Pike",
    "(c) address": "3 Kiln Yard, Eastmere Vale",
    "(c) telephone": "01632 960188",
    "(c) email": "office@example.com",
    "(f) total price with taxes": "Total with VAT",
    "(f) how a further price is reckoned": "Each further cracked brick we find",
    "(j) arrangements for payment": "When it is paid",
    "(j) time of performance": "Start and time",
    "(k) complaints": "If you are not happy",
    "(l) the right to cancel": "You have the right to cancel this contract within 14 days",
    "(l) its time limit": "The last day on which you may cancel is 10 December 2026",
    "(l) how": "To cancel, tell us clearly, by letter or email",
    "(n) an early start is paid for": "you pay for the part of the work done until you told us",
    "(o) how the right is lost": "Once all the work is done, the right to cancel is lost",
    "(p) goods in conformity": "must be as described, of satisfactory quality and fit for",
    "(q) guarantee": "Our work is guaranteed",
    "(u) deposit": "What is paid on acceptance is a deposit toward the price",
}
"""Items (d), (e), (g) to (i), (m), (r) to (t) and (v) to (x) do not arise: no principal, no other
place, no delivery or line charge, no subscription, nothing to send back, no code, no term, nothing
digital, no scheme of redress that the firm is bound to."""


@pytest.mark.parametrize("item", SCHEDULE_2)
def test_a_household_has_schedule_2_in_the_confirmation(item: str) -> None:
    # Regulations 10 and 12: it is confirmed on paper with all of schedule 2.
    so_far = SoFar(contract=jobs.contract())
    made = confirmation.render(so_far, trader=made_up.trader(), number="S-0001", date=DATE)
    assert flat(SCHEDULE_2[item]) in flat("\n".join(pages(made)))


def test_the_form_has_the_words_of_schedule_3_part_b() -> None:
    """Found wanting: it cancelled a service alone, where bricks and bars may make it a sale."""
    so_far = SoFar(contract=jobs.contract())
    made = confirmation.render(so_far, trader=made_up.trader(), number="S-0001", date=DATE)
    text = flat("\n".join(pages(made)))
    for words in (
        "I/We* hereby give notice that I/We* cancel my/our* contract of sale of the following "
        "goods*/for the supply of the following service*",
        "Ordered on*/received on*",
        "Name of consumer(s)",
        "Address of consumer(s)",
        "Signature",
        "Date",
    ):
        assert flat(words) in text


def test_rights_in_law_are_told_before_the_contract_too_and_to_households_alone() -> None:
    """Found wanting: schedule 2 item (p) was on no paper. Reg. 10: before the consumer is bound."""
    words = flat("Your rights in law")
    given = made_up.quotation()
    assert words in flat("\n".join(pages(quotation.render(given))))
    trade = SoFar(contract=jobs.contract(kind=CustomerKind.TRADE))
    made = confirmation.render(trade, trader=made_up.trader(), number="S-0001", date=DATE)
    assert words not in flat("\n".join(pages(made)))
