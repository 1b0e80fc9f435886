"""Quotations, invoices and credit notes as UBL: valid, by the rules, and adding up."""

from __future__ import annotations

import datetime
import xml.etree.ElementTree as Tree
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.command import price
from estimator.command.price import Request
from estimator.contract.account import CreditNote, Invoice, InvoiceFor
from estimator.contract.contract import Retention
from estimator.contract.invoicing import credit_of, next_invoice
from estimator.contract.so_far import SoFar
from estimator.documents.offered import letter
from estimator.exchange import ubl_invoice, ubl_quotation
from estimator.exchange.ubl import CAC, CBC
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.terms import Terms
from estimator.quoting.quotation import Quotation, Trader
from estimator.survey.survey import CustomerKind, Party
from tests.contract.test_account import (
    DAY,
    HOUSEHOLD,
    REVERSE,
    UNREGISTERED,
    agreed,
    billed,
    changes,
    contract,
    done,
    pounds,
)
from tests.desktop.wall.walls import DEMO
from tests.documents import agreed_fixtures
from tests.exchange.accounts import credit_notes, invoices
from tests.exchange.ubl_rules import Rules, schema_faults

SUM = Money(3_680_90)
HOSTILE = "<b>Müller & Sons</b> \"]]>\" 'O\x00'"
TRADER = Trader(
    "Tarn & Pike",
    address=("3 Kiln Yard", "Eastmere Vale"),
    telephone="01632 960188",
    email="office@example.com",
    vat_number="GB 000 0000 00",
    company_number="00000000",
)
HOME = Party("Ines Marlowe", address=("14 Tarn Street", "Eastmere Vale"), telephone="01632 960112")
FIRM = Party(
    "Greybridge Upkeep Ltd",
    CustomerKind.TRADE,
    address=("Unit 4", "Canal Yard", "Bank Lane", "Eastmere Vale"),
    vat_number="GB 000 0000 27",
    is_end_user=False,
)
WHO = {HOUSEHOLD: HOME, REVERSE: FIRM, UNREGISTERED: HOME}


@pytest.fixture(scope="module")
def rules() -> Rules:
    return Rules()


@cache
def quoted(name: str) -> Quotation:
    request = Request(DEMO / f"{name}.json", firm=DEMO / "firm.json")
    made = price.quoted(request, price.practice(request))
    return replace(made, number="Q-0148")


def bills(terms: Terms, net: Money = SUM, *amounts: Money) -> SoFar:
    """Return a job invoiced in three parts, with variations and, in trade, retention."""
    kept = Retention(Decimal(5), 6) if terms is REVERSE else Retention()
    so_far = SoFar(contract=contract(net, terms, retention=kept, materials=Money(600_00)))
    so_far = billed(so_far, InvoiceFor.DEPOSIT)
    so_far = billed(agreed(so_far, *amounts), InvoiceFor.STAGE)
    return billed(done(so_far), InvoiceFor.FINAL)


@pytest.mark.parametrize("name", ["quoin_cavity", "terrace", "window_lime"])
@pytest.mark.parametrize("option", [0, 1])
def test_a_quotation_is_valid(name: str, option: int) -> None:
    assert schema_faults(ubl_quotation.quotation(quoted(name), option)) == []


def test_the_check_notices_a_document_that_is_not_valid() -> None:
    made = ubl_quotation.quotation(quoted("window_lime"), 0)
    assert schema_faults(made.replace(b"IssueDate>", b"IssuedOn>"))


def test_an_estimate_is_no_quotation() -> None:
    with pytest.raises(UserMistake, match="range"):
        ubl_quotation.quotation(quoted("phone_call"), 0)


@pytest.mark.parametrize("terms", WHO, ids=["household", "reverse charge", "not registered"])
def test_invoices_are_valid_and_keep_to_the_rules(terms: Terms, rules: Rules) -> None:
    for one in bills(terms, Money(3_680_90), Money(412_50), Money(-150_00)).invoices:
        made = ubl_invoice.invoice(one, TRADER, WHO[terms])
        assert schema_faults(made) == []
        assert rules.broken(made) == []


@pytest.mark.parametrize("terms", WHO, ids=["household", "reverse charge", "not registered"])
def test_credit_notes_are_valid_and_keep_to_the_rules(terms: Terms, rules: Rules) -> None:
    so_far = bills(terms)
    whole = credit_of(so_far, "I-0002", date=DAY, why="Wrong address on it")
    part = credit_of(so_far, "I-0002", date=DAY, why="Too much", net=Money(100_00))
    for note in (whole, part):
        made = ubl_invoice.credit_note(replace(note, number="C-0001"), TRADER, WHO[terms])
        assert schema_faults(made) == []
        assert rules.broken(made) == []


def test_the_rules_notice_a_sum_that_is_off(rules: Rules) -> None:
    made = ubl_invoice.invoice(bills(HOUSEHOLD).invoices[0], TRADER, HOME)
    assert any("BR-CO-15" in one for one in rules.broken(made.replace(b"1325.12", b"1325.13")))


def test_what_anybody_typed_is_text_and_nothing_else(rules: Rules) -> None:
    customer = replace(HOME, name=HOSTILE, address=(HOSTILE, HOSTILE))
    one = next_invoice(SoFar(contract=contract(Money(100_00))), InvoiceFor.DEPOSIT, date=DAY)
    line = replace(one.lines[0], description=HOSTILE)
    made = ubl_invoice.invoice(replace(one, number="I-1", lines=(line,)), TRADER, customer)
    assert schema_faults(made) == []
    assert rules.broken(made) == []
    said = Tree.fromstring(made).find(f".//{{{CAC}}}Item/{{{CBC}}}Name")
    assert said is not None
    assert said.text == HOSTILE.replace("\x00", "\ufffd") + " (Q-0001)"


def sums(document: bytes) -> dict[str, Decimal]:
    """Return the sums of a document, worked out from its text alone."""
    root = Tree.fromstring(document)
    found = {}
    for element in root.iter():
        name = element.tag.split("}")[1]
        if name.endswith("MonetaryTotal"):
            found |= {inner.tag.split("}")[1]: Decimal(inner.text or "") for inner in element}
    lines = [
        Decimal(line.findtext(f".//{{{CBC}}}LineExtensionAmount") or "")
        for line in root
        if line.tag.endswith("Line")
    ]
    found["lines"] = sum(lines, Decimal(0))
    found["tax"] = Decimal(root.findtext(f"{{{CAC}}}TaxTotal/{{{CBC}}}TaxAmount") or "")
    return found


def hold(document: bytes) -> None:
    """Hold a document to the equalities of EN 16931: BR-CO-10, 13, 15 and 16."""
    told = sums(document)
    assert told["lines"] == told["LineExtensionAmount"] == told["TaxExclusiveAmount"]
    assert told["TaxInclusiveAmount"] == told["TaxExclusiveAmount"] + told["tax"]
    assert told["PayableAmount"] == told["TaxInclusiveAmount"]


@pytest.mark.parametrize("name", ["quoin_cavity", "terrace", "window_lime"])
def test_a_quotation_adds_up_from_its_text(name: str) -> None:
    for option, one in enumerate(quoted(name).options):
        made = ubl_quotation.quotation(quoted(name), option)
        hold(made)
        assert sums(made)["PayableAmount"] == one.offer.total.pounds
        for line in Tree.fromstring(made).iter(f"{{{CAC}}}LineItem"):
            rate = Decimal(line.findtext(f"{{{CAC}}}Price/{{{CBC}}}PriceAmount") or "")
            count = Decimal(line.findtext(f"{{{CBC}}}Quantity") or "")
            said = Decimal(line.findtext(f"{{{CBC}}}LineExtensionAmount") or "")
            assert (rate * count).quantize(Decimal("0.01"), ROUND_HALF_UP) == said


@settings(max_examples=100, deadline=None)
@given(pounds, st.lists(changes, max_size=3), st.sampled_from((HOUSEHOLD, REVERSE, UNREGISTERED)))
def test_invoices_add_up_from_their_text(net: Money, amounts: list[Money], terms: Terms) -> None:
    try:
        so_far = bills(terms, net, *amounts)
    except UserMistake:
        return
    for one in so_far.invoices:
        hold(ubl_invoice.invoice(one, TRADER, WHO[terms]))


@settings(max_examples=60, deadline=None)
@given(invoices(), st.sampled_from((TRADER, replace(TRADER, company_number="", address=()))))
def test_any_invoice_keeps_to_the_rules(rules: Rules, one: Invoice, trader: Trader) -> None:
    """Lines of any sign and any text, any tax; the rules are CEN's own, warnings among them."""
    made = ubl_invoice.invoice(one, trader, FIRM, contract="Q-0001")
    assert schema_faults(made) == []
    assert rules.broken(made) == []
    hold(made)
    assert sums(made)["PayableAmount"] == one.gross.pounds


@settings(max_examples=40, deadline=None)
@given(credit_notes())
def test_any_credit_note_keeps_to_the_rules(rules: Rules, one: CreditNote) -> None:
    made = ubl_invoice.credit_note(one, TRADER, FIRM)
    assert schema_faults(made) == []
    assert rules.broken(made) == []
    hold(made)
    assert sums(made)["PayableAmount"] == one.gross.pounds


def test_vat_is_charged_under_a_number_or_not_at_all() -> None:
    """BR-S-02: a standard-rated invoice names the seller's VAT number."""
    one = bills(HOUSEHOLD).invoices[0]
    with pytest.raises(UserMistake, match="no VAT number"):
        ubl_invoice.invoice(one, replace(TRADER, vat_number=" "), HOME)
    untaxed = bills(UNREGISTERED).invoices[0]
    assert ubl_invoice.invoice(untaxed, replace(TRADER, vat_number=" "), HOME)


def test_what_the_standard_cannot_say_is_refused() -> None:
    one = bills(HOUSEHOLD).invoices[0]
    with pytest.raises(UserMistake, match="countries with VAT"):
        ubl_invoice.invoice(one, TRADER, HOME, country="US")
    with pytest.raises(UserMistake, match="countries with VAT"):
        ubl_quotation.quotation(replace(quoted("window_lime"), country="US"), 0)
    with pytest.raises(UserMistake, match="more than one rate"):
        ubl_invoice.invoice(replace(one, taxes=one.taxes * 2), TRADER, HOME)


def test_a_trader_without_numbers_is_known_by_name(rules: Rules) -> None:
    """BR-CO-26 asks for one of three; BR-O-02 forbids the customer's VAT number."""
    trader = replace(TRADER, company_number="", vat_number="")
    made = ubl_invoice.invoice(bills(UNREGISTERED).invoices[0], trader, FIRM)
    assert rules.broken(made) == []
    assert b"000000027" not in made


@pytest.mark.parametrize(
    ("number", "written"),
    [("GB 999 9999 99", "GB999999999"), ("999-9999-99", "GB999999999"), ("XI 1", "XI1"),
     ("DE 123.456.789", "DE123456789")],
)  # fmt: skip
def test_a_vat_number_keeps_its_own_country(number: str, written: str) -> None:
    """BR-CO-09: a country code comes first; XI is Northern Ireland's."""
    made = ubl_invoice.invoice(bills(REVERSE).invoices[0], TRADER, replace(FIRM, vat_number=number))
    assert f"<cbc:CompanyID>{written}</cbc:CompanyID>" in made.decode()


def test_the_invoices_before_are_named_and_the_contract_is() -> None:
    last = bills(HOUSEHOLD, SUM, Money(412_50)).invoices[-1]
    root = Tree.fromstring(ubl_invoice.invoice(last, TRADER, HOME, contract="Q-0001"))
    assert [
        one.findtext(f"{{{CAC}}}InvoiceDocumentReference/{{{CBC}}}ID")
        for one in root.iter(f"{{{CAC}}}BillingReference")
    ] == ["I-0001", "I-0002"]
    assert root.findtext(f"{{{CAC}}}ContractDocumentReference/{{{CBC}}}ID") == "Q-0001"


def test_a_paper_of_a_job_takes_customer_and_currency_from_its_contract(rules: Rules) -> None:
    given = agreed_fixtures.trade(agreed_fixtures.contract())
    euro = given.book.replace('"currency": "GBP"', '"currency": "EUR"')
    assert euro != given.book
    given = replace(given, book=euro)
    bill, note = agreed_fixtures.reverse_charged(), agreed_fixtures.credit()
    so_far = SoFar(contract=given, invoices=(bill,), credits=(note,))
    for number in (bill.number, note.number):
        made = ubl_invoice.of_job(so_far, number, TRADER)
        assert schema_faults(made) == []
        assert rules.broken(made) == []
        assert b"Kestrel Contractors Ltd" in made
        assert b'currencyID="EUR"' in made
        assert b"GBP" not in made
        root = Tree.fromstring(made)
        rests_on = root.findtext(f"{{{CAC}}}ContractDocumentReference/{{{CBC}}}ID")
        assert rests_on == given.quotation
    for job, number in ((so_far, "I-0009"), (SoFar(), "I-0001")):
        with pytest.raises(UserMistake, match="no invoice"):
            ubl_invoice.of_job(job, number, TRADER)


def test_the_tax_a_customer_accounts_for_is_said() -> None:
    """HMRC's notice on the construction reverse charge asks for it on the invoice, from memory."""
    one = bills(REVERSE).invoices[0]
    made = ubl_invoice.invoice(one, TRADER, FIRM).decode()
    assert f"{one.taxes[0].title}: {one.taxes[0].amount}" in made
    assert one.taxes[0].amount


def test_where_the_work_is_and_where_the_money_goes_are_said(rules: Rules) -> None:
    customer = replace(HOME, site=("27 Quarry Row", "Eastmere Vale"))
    trader = replace(TRADER, bank="Tarn & Pike, 00-00-00, 00000000")
    made = ubl_invoice.invoice(bills(HOUSEHOLD).invoices[0], trader, customer)
    assert schema_faults(made) == []
    assert rules.broken(made) == []
    root = Tree.fromstring(made)
    place = f"{{{CAC}}}Delivery/{{{CAC}}}DeliveryLocation/{{{CAC}}}Address/{{{CBC}}}StreetName"
    assert root.findtext(place) == "27 Quarry Row"
    assert trader.bank in (root.findtext(f"{{{CAC}}}PaymentTerms/{{{CBC}}}Note") or "")


def test_choices_are_told_apart_by_their_letters() -> None:
    offered = quoted("window_lime")
    found = [
        Tree.fromstring(ubl_quotation.quotation(offered, place)).findtext(f"{{{CBC}}}ID")
        for place in range(len(offered.options))
    ]
    assert found == [f"Q-0148/{letter(place)}" for place in range(len(offered.options))]
    alone = replace(offered, options=offered.options[:1])
    made = ubl_quotation.quotation(alone, 0)
    assert Tree.fromstring(made).findtext(f"{{{CBC}}}ID") == "Q-0148"
    assert schema_faults(made) == []


def test_a_deduction_is_said_and_changes_no_sum() -> None:
    one = bills(REVERSE).invoices[0]
    assert one.deduction
    made = ubl_invoice.invoice(one, TRADER, FIRM).decode()
    assert f"to be paid: {one.payable}" in made


def test_dates_are_those_of_the_invoice() -> None:
    one = bills(HOUSEHOLD).invoices[0]
    root = Tree.fromstring(ubl_invoice.invoice(one, TRADER, HOME))
    assert root.findtext(f"{{{CBC}}}IssueDate") == DAY.isoformat()
    due = datetime.date.fromisoformat(root.findtext(f"{{{CBC}}}DueDate") or "")
    assert due == DAY + datetime.timedelta(days=14)
