"""What is half typed about the account is there again after a kill; what was done with is not."""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from estimator.contract.account import Paying
from estimator.desktop.columns import Columns
from estimator.desktop.session import Session
from tests.desktop.account.test_account import issue
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.works.conftest import killed, names


def test_a_half_typed_payment_is_there_after_a_kill(
    planned: Columns, qtbot: QtBot, tmp_path: Path, again: list[Session]
) -> None:
    number = issue(planned, qtbot)
    planned.agreeing.job.open("payment")
    page = planned.accounting.payment
    open_sum = page.amount.text
    page.amount.editor.clear()
    qtbot.keyClicks(page.amount.editor, "100")
    page.how.pick(Paying.CASH)
    page.how.changed.emit()
    qtbot.waitUntil(lambda: "payment" in names(planned), timeout=WAIT)
    qtbot.waitUntil(lambda: not page.half_typed._is_new, timeout=WAIT)
    fresh = killed(planned, qtbot, tmp_path, again)
    fresh.agreeing.job.open("payment")
    page = fresh.accounting.payment
    assert (page.amount.text, page.how.value, page.invoice.value) == ("100", Paying.CASH, number)
    assert "stays open" in page.left_over.text()
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.take.click()
    qtbot.waitUntil(lambda: "payment" not in names(fresh), timeout=WAIT)
    fresh.agreeing.job.open("payment")
    assert page.how.value is Paying.TRANSFER
    assert page.amount.text not in ("100", open_sum)


def test_a_half_typed_credit_note_is_there_for_its_invoice_alone(
    planned: Columns, qtbot: QtBot, tmp_path: Path, again: list[Session]
) -> None:
    number = issue(planned, qtbot)
    planned.accounting._take_back(number)
    page = planned.accounting.credit
    qtbot.keyClicks(page.why.editor, "Wrong add")
    qtbot.waitUntil(lambda: "credit" in names(planned), timeout=WAIT)
    qtbot.waitUntil(lambda: not page.half_typed._is_new, timeout=WAIT)
    fresh = killed(planned, qtbot, tmp_path, again)
    page = fresh.accounting.credit
    page.show_invoice("I-9999")
    page.half_typed.begin()
    assert page.why.text == ""
    fresh.accounting._take_back(number)
    assert page.why.text == "Wrong add"
    qtbot.waitUntil(page.take.isEnabled, timeout=WAIT)
    with qtbot.waitSignal(page.issued, timeout=WAIT):
        page.take.click()
    qtbot.waitUntil(lambda: "credit" not in names(fresh), timeout=WAIT)


def test_the_day_typed_for_an_invoice_is_there_until_it_is_issued(
    planned: Columns, qtbot: QtBot
) -> None:
    planned.agreeing.job.open("invoice")
    page = planned.accounting.invoice
    page.date.editor.clear()
    qtbot.keyClicks(page.date.editor, "25/11/2026")
    planned.agreeing.job.back()
    planned.agreeing.job.open("invoice")
    assert page.date.text == "25/11/2026"
    issue(planned, qtbot)
    planned.agreeing.job.open("invoice")
    assert page.date.text == "today"
    qtbot.waitUntil(lambda: "invoice" not in names(planned), timeout=WAIT)
