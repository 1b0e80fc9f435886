"""They cancel: what was done by their own request is owed, and the account says so to the end."""

from __future__ import annotations

from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.contract.cancellation import days_in_all
from estimator.contract.statement import final_account
from estimator.desktop.agreed.cancel_page import CancelPage
from estimator.desktop.columns import Columns
from estimator.desktop.papers.written import Written
from estimator.documents import formats
from estimator.money import NOTHING, Money
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import answered


def asked_early(columns: Columns, qtbot: QtBot, *, is_urgent: bool = False) -> CancelPage:
    """Accept the first option, an early start asked for, and open the page to cancel it."""
    columns.agreeing.accept()
    page = columns.agreeing.acceptance
    qtbot.waitUntil(lambda: bool(page.options), timeout=WAIT)
    page.options[0].box.setChecked(True)
    (page.urgent if is_urgent else page.early).box.click()
    page.notice.box.setChecked(True)
    page.take.click()
    qtbot.waitUntil(lambda: columns.agreeing.following.has_contract, timeout=WAIT)
    answered(columns._session)
    columns.agreeing.agreement.cancel.click()
    return columns.agreeing.cancelling


def write(qtbot: QtBot, field: Written, text: str) -> None:
    field.editor.setFocus()
    field.editor.selectAll()
    qtbot.keyClick(field.editor, Qt.Key.Key_Delete)
    qtbot.keyClicks(field.editor, text)


def cancel(columns: Columns, qtbot: QtBot) -> None:
    columns.agreeing.cancelling.take.click()
    following = columns.agreeing.following
    qtbot.waitUntil(lambda: following.so_far.called_off is not None, timeout=WAIT)
    answered(columns._session)


def test_what_was_done_by_request_is_owed_in_proportion(quoted: Columns, qtbot: QtBot) -> None:
    """Consumer Contracts Regulations 2013, reg. 36, from memory."""
    page = asked_early(quoted, qtbot)
    assert page.done.isVisible()
    assert not page.sum.isVisible()
    so_far = quoted.agreeing.following.so_far
    days = days_in_all(so_far)
    write(qtbot, page.done, f"{days / 2:f}")
    half = Money.of(so_far.net.pounds / 2)
    assert formats.money(half) in page.owes.text()
    cancel(quoted, qtbot)
    so_far = quoted.agreeing.following.so_far
    account = final_account(so_far)
    assert so_far.called_off is not None
    assert so_far.called_off.owed == half == account.price.net
    block = quoted.accounting.section
    assert {"invoice", "final"} <= set(block.list.rows)


@pytest.mark.parametrize("typed", ["99", "-1", "lots"])
def test_no_more_work_can_be_done_than_there_is(quoted: Columns, qtbot: QtBot, typed: str) -> None:
    page = asked_early(quoted, qtbot)
    write(qtbot, page.done, typed)
    assert page.done.problem.text().startswith("Type days such as 1.5")
    page.take.click()
    assert quoted.agreeing.following.has_contract
    write(qtbot, page.done, "")
    cancel(quoted, qtbot)
    assert final_account(quoted.agreeing.following.so_far).price.net == NOTHING


def test_without_a_right_what_they_agree_to_is_owed(quoted: Columns, qtbot: QtBot) -> None:
    page = asked_early(quoted, qtbot, is_urgent=True)
    assert page.sum.isVisible()
    assert not page.done.isVisible()
    write(qtbot, page.sum, "some")
    assert page.sum.problem.text() == "Type a sum such as 250.00"
    write(qtbot, page.sum, "£250")
    cancel(quoted, qtbot)
    called_off = quoted.agreeing.following.so_far.called_off
    assert called_off is not None
    assert called_off.owed.pounds == Decimal(250)


def test_without_a_request_nothing_is_asked_and_nothing_owed(agreed: Columns, qtbot: QtBot) -> None:
    agreed.agreeing.agreement.cancel.click()
    page = agreed.agreeing.cancelling
    assert not any(one.isVisible() for one in (page.done, page.sum, page.owes))
    cancel(agreed, qtbot)
    called_off = agreed.agreeing.following.so_far.called_off
    assert called_off is not None
    assert called_off.owed == NOTHING
