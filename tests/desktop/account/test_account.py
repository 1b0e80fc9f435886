"""The account at the desk: invoiced, paid, credited, stated, in real columns over a real file."""

from __future__ import annotations

import csv
import datetime
import io
from decimal import Decimal
from pathlib import Path

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.contract.account import InvoiceFor, Paying
from estimator.contract.works import Completion
from estimator.desktop.account import section as rows_of_section
from estimator.desktop.columns import Columns
from estimator.documents import formats
from estimator.money import Money, total
from estimator.office import contracts
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import TODAY, answered


def issue(columns: Columns, qtbot: QtBot, asks_for: InvoiceFor | None = None) -> str:
    """Issue the next invoice as on its page; return its number."""
    columns.agreeing.job.open("invoice")
    page = columns.accounting.invoice
    if asks_for is not None:
        page.what.pick(asks_for)
        page.look()
    with qtbot.waitSignal(page.issued, timeout=WAIT) as told:
        page.take.click()
    answered(columns._session)
    number: str = told.args[0]
    return number


def pay(columns: Columns, qtbot: QtBot, amount: str = "") -> None:
    """Note a payment as on its page; of all that is open where no sum is named."""
    columns.agreeing.job.open("payment")
    page = columns.accounting.payment
    if amount:
        page.amount.show_text(amount)
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.take.click()
    answered(columns._session)


def done(columns: Columns, qtbot: QtBot) -> None:
    """Note the works as done."""
    trader = columns._session.practice.trader
    following = columns.agreeing.following
    told = Completion(TODAY, "Jo Bell")
    following.do(lambda place, job: contracts.complete(place, job, told, trader=trader))
    qtbot.waitUntil(lambda: following.so_far.completion is not None, timeout=WAIT)
    answered(columns._session)


def figure(columns: Columns, text: str) -> str:
    return next(
        one.amount for one in columns.accounting.section.figures.told if one.text.startswith(text)
    )


def test_the_deposit_is_the_next_thing(agreed: Columns, qtbot: QtBot) -> None:
    """30 % on acceptance, the usual stages of resources/contract.json."""
    contract = agreed.agreeing.following.so_far.contract
    assert contract is not None
    block = agreed.accounting.section
    expected = Money.of((contract.net.pounds * Decimal("0.3")).quantize(Decimal("0.01")))
    gross = expected + expected.times(Decimal("0.2"))
    assert block.act.text() == f"Invoice the deposit {formats.money(gross)}"
    qtbot.keyClick(block.act, Qt.Key.Key_Space)
    page = agreed.accounting.invoice
    qtbot.waitUntil(page.take.hasFocus, timeout=WAIT)
    assert page.rows.told[-1].amount == formats.money(gross)
    qtbot.waitUntil(lambda: agreed.has_paper, timeout=WAIT)
    assert agreed.agreeing.following.so_far.invoices == ()
    with qtbot.waitSignal(page.issued, timeout=WAIT):
        qtbot.keyClick(page.take, Qt.Key.Key_Return)
    [told] = agreed.agreeing.following.so_far.invoices
    assert (told.number, told.payable) == ("I-0001", gross)
    assert agreed.accounting.standing.title.text() == "I-0001, deposit"
    answered(agreed._session)
    assert "not before" not in block.caution.text()


def test_a_household_sees_nothing_of_trade(agreed: Columns, qtbot: QtBot) -> None:
    issue(agreed, qtbot)
    assert not agreed.accounting.invoice.materials.isVisible()
    texts = [one.text for one in agreed.accounting.section.figures.told]
    assert texts == ["Agreed now, with VAT", "Invoiced", "Paid", "To come"]
    standing = agreed.accounting.standing
    assert "Reverse charge" not in standing.state.text()
    agreed._session.today = lambda: TODAY + datetime.timedelta(days=60)
    standing.refresh()
    assert "46 days late" in standing.state.text()
    # Late Payment of Commercial Debts (Interest) Act 1998: between businesses only.
    assert not standing.rate.isVisible()
    assert not standing.late.isVisible()


def test_a_payment_is_filled_in_and_may_be_less(agreed: Columns, qtbot: QtBot) -> None:
    number = issue(agreed, qtbot)
    agreed.accounting.standing.take.click()
    page = agreed.accounting.payment
    [told] = agreed.agreeing.following.so_far.invoices
    assert page.amount.text == f"{told.payable.pounds:.2f}"
    assert page.invoice.value == number
    assert page.how.value is Paying.TRANSFER
    page.amount.show_text("some")
    page.take.click()
    assert page.amount.problem.text() == "Type a sum such as 291.73"
    page.amount.show_text("100")
    page.amount.typed.emit("100")
    left = told.payable - Money.of(100)
    assert page.left_over.text() == f"{formats.money(left)} stays open."
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.take.click()
    answered(agreed._session)
    assert agreed.agreeing.job.at == ""
    assert figure(agreed, "Paid") == "£100.00"
    assert formats.money(left) in agreed.accounting.section.list.rows[number].accessibleName()
    assert agreed.accounting.section.headline.text() == f"{formats.money(left)} to be paid now"


def test_a_payment_typed_by_mistake_is_taken_back(agreed: Columns, qtbot: QtBot) -> None:
    issue(agreed, qtbot)
    pay(agreed, qtbot, "1000")
    assert "too much was paid" in agreed.accounting.section.headline.text()
    agreed.agreeing.job.open("payment")
    page = agreed.accounting.payment
    assert page.undo.text() == "Take back £1,000.00 of Wed 25 Nov"
    page.undo.click()
    qtbot.waitUntil(lambda: not agreed.agreeing.following.so_far.payments, timeout=WAIT)
    answered(agreed._session)
    assert not page.undo.isVisible()
    assert figure(agreed, "Paid") == "£0.00"


def test_a_desk_left_open_overnight_knows_what_is_late(agreed: Columns, qtbot: QtBot) -> None:
    issue(agreed, qtbot)
    agreed.agreeing.job.open("account")
    assert agreed.accounting.section.state.text() == ""
    agreed._session.today = lambda: TODAY + datetime.timedelta(days=19)
    agreed.agreeing.job.open("account")
    assert agreed.accounting.section.state.text() == "late"
    agreed._session.today = lambda: TODAY
    agreed.look_at_wall()
    agreed.show_questions()
    agreed.look_at_wall()
    assert agreed.is_at_job
    assert agreed.accounting.section.state.text() == ""


def test_late_is_said_in_words(agreed: Columns, qtbot: QtBot) -> None:
    number = issue(agreed, qtbot)
    agreed._session.today = lambda: TODAY + datetime.timedelta(days=19)
    agreed.accounting.section.refresh()
    assert agreed.accounting.section.state.text() == "late"
    assert agreed.accounting.section.caution.text().startswith(f"{number} is 5 days late")
    assert agreed.accounting.section.act.text() == "Note a payment"


def test_a_credit_note_wants_a_reason(agreed: Columns, qtbot: QtBot) -> None:
    number = issue(agreed, qtbot)
    agreed.accounting.standing.credit.click()
    page = agreed.accounting.credit
    qtbot.waitUntil(lambda: agreed.has_paper, timeout=WAIT)
    page.take.click()
    assert "Say what was wrong" in page.why.problem.text()
    page.why.show_text("Wrong address")
    page.much.show_text("9999")
    page.look()
    assert "cannot be credited" in page.said.text()
    assert not page.take.isEnabled()
    page.much.show_text("")
    page.look()
    with qtbot.waitSignal(page.issued, timeout=WAIT):
        page.take.click()
    so_far = agreed.agreeing.following.so_far
    [bill], [note] = so_far.invoices, so_far.credits
    assert (note.invoice, note.payable) == (number, bill.payable)
    assert figure(agreed, "Invoiced") == "£0.00"
    answered(agreed._session)
    agreed.agreeing.job.back()
    agreed.accounting.section.list.rows[note.number].click()
    assert agreed.working.paper.title.text() == "C-0001: credit note"
    qtbot.waitUntil(lambda: agreed.has_paper, timeout=WAIT)


def test_to_the_last_penny(agreed: Columns, qtbot: QtBot) -> None:
    """All that is invoiced and paid comes to the price that was printed."""
    issue(agreed, qtbot)
    pay(agreed, qtbot)
    issue(agreed, qtbot, InvoiceFor.STAGE)
    done(agreed, qtbot)
    assert agreed.accounting.section.act.text().startswith("Write the final invoice £")
    issue(agreed, qtbot)
    pay(agreed, qtbot)
    pay(agreed, qtbot)
    so_far = agreed.agreeing.following.so_far
    assert so_far.contract is not None
    assert total(one.payable for one in so_far.invoices) == so_far.contract.total
    assert total(one.amount for one in so_far.payments) == so_far.contract.total
    assert figure(agreed, "To come") == "£0.00"
    assert agreed.accounting.section.headline.text() == "All is paid."
    assert agreed.accounting.section.act.text() == "Show the final account"
    agreed.accounting.section.act.click()
    qtbot.waitUntil(lambda: agreed.has_paper, timeout=WAIT)
    sheet = agreed.working.sheet
    with qtbot.waitSignal(sheet.kept, timeout=WAIT):
        sheet.take.click()
    answered(agreed._session)
    assert "final account" in agreed.working.paper.title.text()


def test_with_nothing_to_invoice_it_says_why(agreed: Columns, qtbot: QtBot) -> None:
    issue(agreed, qtbot)
    issue(agreed, qtbot, InvoiceFor.STAGE)
    agreed.agreeing.job.open("invoice")
    page = agreed.accounting.invoice
    assert "final invoice once the work is done" in page.refusal.accessibleName()
    assert not page.take.isVisible()
    assert rows_of_section.INVOICE not in agreed.accounting.section.list.rows


def test_the_ledger_adds_up_for_the_books(agreed: Columns, qtbot: QtBot, tmp_path: Path) -> None:
    """RFC 4180, read back by the standard library."""
    issue(agreed, qtbot)
    pay(agreed, qtbot, "50")
    path = tmp_path / "ledger.csv"
    agreed.accounting.files.choose_path = lambda _out, then: then(str(path))
    with qtbot.waitSignal(agreed.accounting.files.said, timeout=WAIT):
        agreed.accounting.section.list.rows["files"].click()
    rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    [told] = agreed.agreeing.following.so_far.invoices
    assert [one["Kind"] for one in rows] == ["invoice", "payment"]
    assert Decimal(rows[-1]["Balance"]) == told.payable.pounds - 50


def test_an_invoice_for_their_books(agreed: Columns, qtbot: QtBot, tmp_path: Path) -> None:
    """UBL 2.3: the number and what is payable stand in its own elements."""
    from lxml import etree  # noqa: PLC0415

    number = issue(agreed, qtbot)
    path = tmp_path / "invoice.xml"
    agreed.accounting.files.choose_path = lambda _out, then: then(str(path))
    with qtbot.waitSignal(agreed.accounting.files.said, timeout=WAIT):
        agreed.accounting.standing.file.click()
    root = etree.fromstring(path.read_bytes())
    names = {"c": "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"}
    [told] = agreed.agreeing.following.so_far.invoices
    assert root.findtext("c:ID", namespaces=names) == number
    assert root.findtext(".//c:PayableAmount", namespaces=names) == f"{told.payable.pounds:.2f}"


def test_every_field_has_a_name(agreed: Columns, qtbot: QtBot) -> None:
    from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit  # noqa: PLC0415

    issue(agreed, qtbot)
    agreed.accounting.credit.show_invoice("I-0001")
    for name in ("invoice", "payment", "crediting"):
        agreed.agreeing.job.open(name)
        page = agreed.agreeing.job.pages.currentWidget()
        fields = [
            one for kind in (QCheckBox, QComboBox, QLineEdit) for one in page.findChildren(kind)
        ]
        assert fields
        assert all(one.accessibleName() for one in fields)
