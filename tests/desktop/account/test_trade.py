"""A trade customer, and what only a trade customer sees."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from estimator.contract.account import InvoiceFor
from estimator.contract.contract import Manner, Retention
from estimator.contract.deeds import CalledOff
from estimator.contract.invoicing import next_invoice
from estimator.contract.so_far import SoFar
from estimator.contract.works import Completion
from estimator.desktop.account.reckoning import reckoned
from estimator.desktop.account.section import figures_of
from estimator.desktop.columns import Columns
from estimator.documents import formats
from estimator.money import Money
from estimator.office import contracts
from estimator.survey.survey import CustomerKind
from tests.desktop.account.test_account import figure, issue, pay
from tests.desktop.agreed.conftest import WAIT, shown
from tests.desktop.fakes import TODAY, WorkersAtOnce, answered, demo_survey, session_on
from tests.documents import agreed_fixtures as made_up


@pytest.fixture
def columns(qtbot: QtBot, tmp_path: Path) -> Iterator[Columns]:
    """The columns with a wall that another contractor has asked for."""
    survey = demo_survey("window_lime")
    trade = replace(
        survey.customer,
        kind=CustomerKind.TRADE,
        vat_number="GB123456789",
        is_end_user=False,
    )
    session = session_on(tmp_path, replace(survey, customer=trade), workers=WorkersAtOnce())
    yield shown(session, qtbot)
    session.filing.close()


FIFTH = Decimal("0.2")
"""Kept back of a registered subcontractor: Finance Act 2004, s. 61 and SI 2007/46, from memory."""


def test_reverse_charge_and_deduction_in_plain_words(agreed: Columns) -> None:
    """VAT Act 1994, s. 55A: nothing is charged, what they account for is shown; labour alone is
    deducted from: Income Tax (Construction Industry Scheme) Regulations 2005, from memory."""
    agreed.agreeing.job.open("invoice")
    page = agreed.accounting.invoice
    told, contract = page.told, agreed.agreeing.following.so_far.contract
    assert told is not None
    assert contract is not None
    assert told.gross == told.net
    assert "we charge no VAT" in page.notes.text()
    assert "They keep back" in page.notes.text()
    assert any("which we do not charge" in one.note for one in page.rows.told)
    assert page.rows.told[-1].amount == formats.money(told.net - told.deduction)
    assert page.materials.isVisible()
    page.materials.show_text("50")
    page.look()
    assert page.told is not None
    assert page.told.deduction == (told.net - Money.of(50)).times(FIFTH)
    page.materials.show_text("lots")
    page.look()
    assert page.materials.problem.text() == "Type a sum such as 84.00"
    assert not page.take.isEnabled()


def test_what_is_kept_back_counts_as_paid(agreed: Columns, qtbot: QtBot) -> None:
    issue(agreed, qtbot)
    [told] = agreed.agreeing.following.so_far.invoices
    agreed.agreeing.job.open("payment")
    assert agreed.accounting.payment.amount.text == f"{told.payable.pounds:.2f}"
    pay(agreed, qtbot)
    contract = agreed.agreeing.following.so_far.contract
    assert contract is not None
    assert figure(agreed, "Kept back for the tax office") == formats.money(told.deduction)
    left = contract.total - told.payable - told.deduction
    assert figure(agreed, "To come") == formats.money(left)


def test_paying_late_costs_a_business(agreed: Columns, qtbot: QtBot) -> None:
    """Late Payment of Commercial Debts (Interest) Act 1998: 8 % over the Bank's rate, and £40."""
    issue(agreed, qtbot)
    [told] = agreed.agreeing.following.so_far.invoices
    agreed._session.today = lambda: told.due + datetime.timedelta(days=36)
    standing = agreed.accounting.standing
    standing.refresh()
    assert standing.rate.isVisible()
    standing.rate.show_text("4.00")
    standing.rate.typed.emit("4.00")
    interest = Money.of(told.payable.pounds * Decimal("0.12") * 36 / 365)
    said = standing.late.text()
    assert "36 days at 12 %" in said
    assert formats.money(interest) in said
    assert formats.money(interest + Money.of(40)) in said
    standing.rate.show_text("dear")
    standing.rate.typed.emit("dear")
    assert standing.rate.problem.text() == "Type a rate such as 4.00"


@pytest.mark.parametrize(
    ("issued", "due", "counts"),
    [
        # Late from January to June: the rate of 31 December; from July on: that of 30 June.
        ("2026-12-16", "2026-12-30", "30 June 2026"),
        ("2026-12-17", "2026-12-31", "31 December 2026"),
        ("2027-06-15", "2027-06-29", "31 December 2026"),
        ("2027-06-16", "2027-06-30", "30 June 2027"),
    ],
)
def test_it_says_which_days_rate_of_the_bank_counts(
    agreed: Columns, qtbot: QtBot, issued: str, due: str, counts: str
) -> None:
    """Late Payment of Commercial Debts (Rate of Interest) (No. 3) Order 2002, from memory."""
    agreed._session.today = lambda: datetime.date.fromisoformat(issued)
    issue(agreed, qtbot)
    [told] = agreed.agreeing.following.so_far.invoices
    assert told.due.isoformat() == due
    # It stays that day's rate however late it gets.
    for days in (1, 400):
        agreed._session.today = lambda days=days: told.due + datetime.timedelta(days=days)
        standing = agreed.accounting.standing
        standing.refresh()
        assert standing.rate.label.text() == f"The Bank's rate as it was on {counts} (%)"
        assert standing.rate.editor.accessibleName() == standing.rate.label.text()
        assert f"the Bank's rate of {counts} counts" in standing.late.text()


@pytest.mark.parametrize(
    ("months", "notes"),
    [
        (
            12,
            (
                "half of it once the work is done",
                "half of it now, the rest on 25 November 2027",
                "due on 25 November 2027",
                "due now",
            ),
        ),
        (0, ("due once the work is done", "due now", "", "")),
    ],
)
def test_the_account_says_when_what_is_kept_back_falls_due(
    months: int, notes: tuple[str, ...]
) -> None:
    """Half on completion, half at the end of the defects period: dossier, section 4.4."""
    household = figures_of(reckoned(SoFar(contract=made_up.contract()), TODAY))
    assert not any(one.text.startswith("Kept back") for one in household)
    contract = replace(made_up.trade(made_up.contract()), retention=Retention(Decimal(5), months))
    began = SoFar(contract=contract)
    begun = invoiced(began, InvoiceFor.DEPOSIT, TODAY)
    done = replace(begun, completion=Completion(TODAY, "Jo Bell"))
    final = invoiced(done, InvoiceFor.FINAL, TODAY)
    year = TODAY.replace(year=TODAY.year + 1)
    seen = [(begun, TODAY), (done, TODAY), (final, year - DAY), (final, year)]
    assert tuple(kept_note(one, on) for one, on in seen) == notes


DAY = datetime.timedelta(days=1)


def invoiced(so_far: SoFar, asks_for: InvoiceFor, on: datetime.date) -> SoFar:
    told = next_invoice(so_far, asks_for, date=on)
    bill = replace(told, number=f"I-000{len(so_far.invoices) + 1}")
    return replace(so_far, invoices=(*so_far.invoices, bill))


def kept_note(so_far: SoFar, on: datetime.date) -> str:
    rows = figures_of(reckoned(so_far, on))
    return next((one.note for one in rows if one.text.startswith("Kept back until")), "")


def test_cancelled_nothing_more_is_asked_for(agreed: Columns, qtbot: QtBot) -> None:
    issue(agreed, qtbot)
    pay(agreed, qtbot, "50")
    following = agreed.agreeing.following
    deed = CalledOff(TODAY, "Ines", Manner.EMAIL)
    following.do(lambda place, job: contracts.do(place, job, deed))
    qtbot.waitUntil(lambda: following.so_far.called_off is not None, timeout=WAIT)
    answered(agreed._session)
    block = agreed.accounting.section
    assert block.headline.text() == "£50.00 was paid"
    assert block.act.text() == "Note a payment"
    assert not {"invoice", "final"} & set(block.list.rows)
    assert agreed.working.section.headline.text().startswith("The agreement is cancelled")
    assert not agreed.working.section.act.isVisible()
