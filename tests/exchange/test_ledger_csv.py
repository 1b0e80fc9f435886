"""The ledger read back as a spreadsheet would: every sum comes out, and nothing runs."""

from __future__ import annotations

import csv
import datetime
import io
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.contract.account import CreditNote, InvoiceFor, Paying, Payment
from estimator.contract.so_far import SoFar
from estimator.contract.statement import statement
from estimator.exchange.formula_guard import LEADS, unguarded
from estimator.exchange.ledger_csv import JobAccount, ledger, to_csv
from estimator.money import Money
from estimator.notices import UserMistake
from tests.documents import agreed_fixtures
from tests.exchange.accounts import DAYS, HOSTILE, accounts

TEXTS = ("Job", "Customer", "Number", "About", "Words")
VAT = "VAT at 20 %"
REVERSE = "Reverse charge: customer to account for VAT at 20 %"


def read(data: bytes) -> list[dict[str, str]]:
    """The rows as the standard library's reader sees them, by heading."""
    assert data.startswith(b"\xef\xbb\xbf")
    text = data.decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def amount(cell: str) -> Decimal:
    return Decimal(cell or "0")


def added(rows: list[dict[str, str]], heading: str) -> Decimal:
    return sum((amount(row[heading]) for row in rows), Decimal(0))


def job(so_far: SoFar, name: str = "A-1") -> JobAccount:
    return JobAccount(name, "Ines Marlowe", so_far)


def test_the_dossiers_worked_invoice_stands_in_the_ledger() -> None:
    """Reverse charge and deduction of 280.00 on 2,000.00; check values 38, 40 and 42, computed."""
    bill = agreed_fixtures.reverse_charged()
    paid = Payment(bill.due, Money.of(1720), Paying.TRANSFER, bill.number, "in full")
    rows = read(to_csv([job(SoFar(invoices=(bill,), payments=(paid,)))]))
    assert [row["Kind"] for row in rows] == ["invoice", "deduction", "payment"]
    invoice, deduction, payment = rows
    assert (invoice["Net"], invoice[REVERSE], invoice["Gross"]) == ("2000.00", "400.00", "2000.00")
    assert (deduction["Deducted"], deduction["About"]) == ("280.00", bill.number)
    assert (payment["Paid"], payment["About"]) == ("1720.00", bill.number)
    assert payment["Words"] == "bank transfer: in full"
    assert [row["Balance"] for row in rows] == ["2000.00", "1720.00", "0.00"]


def test_a_credit_note_takes_off_what_it_says() -> None:
    bill = agreed_fixtures.deposit()
    note = agreed_fixtures.credit(bill)
    rows = read(to_csv([job(SoFar(invoices=(bill,), credits=(note,)))]))
    assert rows[1]["Kind"] == "credit note"
    assert rows[1]["About"] == bill.number
    assert [rows[1][name] for name in ("Net", VAT, "Gross")] == ["-47.50", "-9.50", "-57.00"]
    assert amount(rows[1]["Balance"]) == bill.gross.pounds - Decimal("57.00")


@given(accounts())
def test_every_row_and_every_balance_adds_up(so_far: SoFar) -> None:
    rows = read(to_csv([job(so_far)]))
    balance = Decimal(0)
    for row in rows:
        charged = sum((amount(row[one]) for one in row if one.startswith("VAT")), Decimal(0))
        assert amount(row["Gross"]) == amount(row["Net"]) + charged
        balance += amount(row["Gross"]) - amount(row["Deducted"]) - amount(row["Paid"])
        assert amount(row["Balance"]) == balance
    bills, notes = so_far.invoices, so_far.credits
    assert added(rows, "Net") == sum(one.net.pounds for one in bills) - sum(
        one.net.pounds for one in notes
    )
    assert added(rows, "Paid") == sum(one.amount.pounds for one in so_far.payments)
    assert balance == sum(one.payable.pounds for one in bills) - sum(
        one.payable.pounds for one in notes
    ) - added(rows, "Paid")


@given(accounts())
def test_each_paper_has_one_row(so_far: SoFar) -> None:
    rows = read(to_csv([job(so_far)]))
    with_deduction = [one for one in (*so_far.invoices, *so_far.credits) if one.deduction]
    found = [row["Kind"] for row in rows]
    assert found.count("invoice") == len(so_far.invoices)
    assert found.count("credit note") == len(so_far.credits)
    assert found.count("payment") == len(so_far.payments)
    assert found.count("deduction") == len(with_deduction)
    assert len(found) == len(rows)
    assert [row["Date"] for row in rows] == sorted(row["Date"] for row in rows)


@given(accounts(), DAYS, DAYS)
def test_a_span_begins_with_what_was_owed_and_ends_with_what_is(
    so_far: SoFar, one: datetime.date, other: datetime.date
) -> None:
    first, last = sorted((one, other))
    rows = ledger([job(so_far)], first=first, last=last)
    assert all(first <= row.on <= last for row in rows)
    day_before = statement(so_far, until=first - datetime.timedelta(days=1))
    end = statement(so_far, until=last)
    if day_before.entries:
        assert rows[0].kind.value == "brought forward"
        assert rows[0].balance == day_before.balance
    if rows:
        assert rows[-1].balance == end.balance
    within = [entry for entry in end.entries if entry.date >= first]
    assert len(rows) == len(within) + bool(day_before.entries)


@settings(max_examples=30)
@given(st.lists(accounts(), min_size=2, max_size=3))
def test_all_jobs_are_the_jobs_one_by_one(several: list[SoFar]) -> None:
    jobs = [job(one, f"A-{number}") for number, one in enumerate(several)]
    together = read(to_csv(jobs))
    for one in jobs:
        alone = read(to_csv([one]))
        mine = [row for row in together if row["Job"] == one.job]
        # The whole table has the taxes of all jobs; those this one knows nothing of stay empty.
        for row, theirs in zip(alone, mine, strict=True):
            assert row == {name: theirs[name] for name in row}
            assert not any(theirs[name] for name in theirs.keys() - row.keys())


@pytest.mark.parametrize("lead", LEADS)
def test_no_text_can_run(lead: str) -> None:
    """Lead letters after OWASP, CSV injection, and ASVS 5.0 §1.2.10."""
    typed = f"{lead}cmd|' /C calc'!A0"
    bill = agreed_fixtures.deposit()
    note = CreditNote("C-1", bill.date, typed, typed, bill.lines, bill.taxes)
    paid = Payment(bill.date, Money(1), Paying.CASH, typed, typed)
    so_far = SoFar(invoices=(replace(bill, number=typed),), credits=(note,), payments=(paid,))
    rows = read(to_csv([JobAccount(typed, typed, so_far)]))
    for row in rows:
        for name in TEXTS:
            assert not row[name].startswith(LEADS)
    assert [unguarded(rows[0][name]) for name in ("Job", "Customer", "Number")] == [typed] * 3
    assert [unguarded(rows[1][name]) for name in ("About", "Words")] == [typed] * 2


def test_hostile_words_stay_in_their_cell() -> None:
    bill = replace(agreed_fixtures.deposit(), number=HOSTILE)
    rows = read(to_csv([JobAccount("\ud800", HOSTILE, SoFar(invoices=(bill,)))]))
    assert len(rows) == 1
    assert (unguarded(rows[0]["Customer"]), unguarded(rows[0]["Number"])) == (HOSTILE, HOSTILE)
    assert rows[0]["Job"] == "?"


def test_a_span_the_wrong_way_round_is_refused() -> None:
    with pytest.raises(UserMistake, match="before the first"):
        ledger([], first=datetime.date(2026, 12, 1), last=datetime.date(2026, 11, 1))


def test_what_an_invoice_asks_for_is_said() -> None:
    bill = replace(agreed_fixtures.deposit(), asks_for=InvoiceFor.RETENTION)
    assert read(to_csv([job(SoFar(invoices=(bill,)))]))[0]["Words"] == "retention"
