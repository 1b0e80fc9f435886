"""The customer says yes, in the real columns over a real file."""

from __future__ import annotations

import datetime

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.contract.contract import Made, Manner
from estimator.desktop.agreed.agreeing import CANCELLING
from estimator.desktop.columns import Columns
from estimator.documents import formats
from estimator.quoting.wall_edits.sides import set_basis
from estimator.store import jobs
from estimator.survey.survey import Basis
from tests.desktop.agreed.conftest import WAIT, say_yes
from tests.desktop.fakes import TODAY, answered


def asked(columns: Columns, qtbot: QtBot) -> None:
    columns.agreeing.accept()
    qtbot.waitUntil(lambda: bool(columns.agreeing.acceptance.options), timeout=WAIT)


def test_before_a_quotation_it_says_what_to_do(columns: Columns, qtbot: QtBot) -> None:
    columns.agreeing.accept()
    page = columns.agreeing.acceptance
    qtbot.waitUntil(page.refusal.isVisible, timeout=WAIT)
    assert "issue it" in page.refusal.accessibleName()
    assert not page.take.isVisible()


def test_an_estimate_cannot_be_accepted(columns: Columns, qtbot: QtBot) -> None:
    session = columns._session
    session.apply(set_basis(session.work, Basis.TOLD))
    columns.show_paper()
    qtbot.waitUntil(columns.check.page.issue.isEnabled, timeout=WAIT)
    with qtbot.waitSignal(columns.check.issued, timeout=WAIT):
        columns.check.page.issue.click()
    gone = columns.check.gone_page
    assert not gone.accept.isVisible()
    assert "no offer" in gone.no_offer.text()
    columns.agreeing.accept()
    page = columns.agreeing.acceptance
    qtbot.waitUntil(page.refusal.isVisible, timeout=WAIT)
    assert "E-0001 is an estimate" in page.refusal.accessibleName()
    assert not page.take.isVisible()


def test_the_last_day_to_cancel_is_said_at_once(quoted: Columns, qtbot: QtBot) -> None:
    """Consumer Contracts Regulations 2013, reg. 30: 14 days after the day; dossier value 55."""
    asked(quoted, qtbot)
    page = quoted.agreeing.acceptance
    assert datetime.date(2026, 11, 25) == TODAY
    assert page.last_day.text() == "They may cancel until Wednesday 9 December 2026."
    page.when.show_text("23 Nov 2026")
    page.when.typed.emit("23 Nov 2026")
    assert page.last_day.text() == "They may cancel until Monday 7 December 2026."


def test_without_notice_they_have_twelve_months_more(quoted: Columns, qtbot: QtBot) -> None:
    """Consumer Contracts Regulations 2013, reg. 31, from memory."""
    asked(quoted, qtbot)
    page = quoted.agreeing.acceptance
    page.notice.box.click()
    assert page.last_day.text() == "They may cancel until Thursday 9 December 2027."
    page.made.pick(Made.AT_OUR_PREMISES)
    page.made.changed.emit()
    assert page.last_day.text() == "There is no time in which they may cancel."


def test_nothing_but_the_option_and_the_name_is_needed(quoted: Columns, qtbot: QtBot) -> None:
    asked(quoted, qtbot)
    page = quoted.agreeing.acceptance
    page.take.click()
    assert page.note.text() == "Say which of the choices it is."
    page.options[1].box.setChecked(True)
    page.who.show_text("")
    page.take.click()
    assert page.who.problem.text() == "Say who says yes."
    page.who.show_text("Ines Marlowe")
    page.take.click()
    qtbot.waitUntil(lambda: quoted.agreeing.following.has_contract, timeout=WAIT)
    contract = quoted.agreeing.following.so_far.contract
    assert contract is not None
    assert contract.accepted_by == "Ines Marlowe"
    assert contract.accepted_on == TODAY
    assert contract.how is Manner.SIGNED
    assert contract.cancelling.notice_given == TODAY
    assert [str(one.percent) for one in contract.stages] == ["30", "40", "30"]


def test_the_agreement_is_the_printed_price(quoted: Columns, qtbot: QtBot) -> None:
    asked(quoted, qtbot)
    printed = quoted.agreeing.acceptance._offered
    assert printed is not None
    say_yes(quoted, qtbot)
    section = quoted.agreeing.agreement
    assert section.headline.text() == f"{printed.options[0].price} with VAT"
    contract = quoted.agreeing.following.so_far.contract
    assert contract is not None
    assert formats.money(contract.total) == printed.options[0].price


def test_then_the_left_column_is_the_job_and_the_strip_is_at_works(agreed: Columns) -> None:
    assert agreed.is_at_job
    assert agreed._session.job.stage == jobs.Stage.ACCEPTED.value
    assert agreed.agreeing.agreement.cancel.isVisible()
    assert agreed.money.cards.isHidden()
    assert agreed.agreeing.since.isVisible()
    agreed.show_questions()
    assert not agreed.is_at_job
    agreed.look_at_wall()
    assert agreed.is_at_job


def test_it_is_accepted_once(agreed: Columns, qtbot: QtBot) -> None:
    agreed.agreeing.accept()
    page = agreed.agreeing.acceptance
    qtbot.waitUntil(page.refusal.isVisible, timeout=WAIT)
    assert "agreed already" in page.refusal.accessibleName()


def test_no_new_quotation_takes_the_place_of_what_was_agreed(agreed: Columns, qtbot: QtBot) -> None:
    agreed.show_paper()
    page = agreed.check.page
    qtbot.waitUntil(page.issue.isEnabled, timeout=WAIT)
    page.issue.click()
    qtbot.waitUntil(lambda: page.note.text().startswith("No paper"), timeout=WAIT)
    assert page.note.text() == (
        "No paper can take the place of Q-0001 because it was accepted on 2026-11-25; write what"
        " changes as a variation, or begin a job of its own for other work."
    )
    assert agreed._session.job.papers == ("Q-0001",)


def test_a_quotation_that_was_accepted_offers_no_second_yes_and_no_new_one(
    agreed: Columns, qtbot: QtBot
) -> None:
    agreed.go_to("quotation")
    gone = agreed.check.gone_page
    qtbot.waitUntil(lambda: "Accepted on" in gone.state.text(), timeout=WAIT)
    assert gone.state.text().startswith("Accepted on 25 November 2026.")
    assert gone.accept.isHidden() and gone.anew.isHidden()
    assert not gone.save.isHidden() and not gone.email.isHidden()


def test_once_it_is_cancelled_another_quotation_may_follow(agreed: Columns, qtbot: QtBot) -> None:
    agreed.agreeing.agreement.cancel.click()
    agreed.agreeing.cancelling.take.click()
    qtbot.waitUntil(lambda: not agreed.agreeing.following.has_contract, timeout=WAIT)
    agreed.show_paper()
    page = agreed.check.page
    qtbot.waitUntil(page.issue.isEnabled, timeout=WAIT)
    with qtbot.waitSignal(agreed.check.issued, timeout=WAIT):
        page.issue.click()
    assert agreed._session.job.papers == ("Q-0001", "Q-0002")


def test_an_old_offer_is_accepted_only_if_we_hold_to_it(quoted: Columns, qtbot: QtBot) -> None:
    quoted._session.today = lambda: datetime.date(2027, 3, 1)
    asked(quoted, qtbot)
    page = quoted.agreeing.acceptance
    assert "It was open until 25 December 2026" in page.until.text()
    page.options[0].box.setChecked(True)
    page.take.click()
    qtbot.waitUntil(lambda: bool(page.note.text()), timeout=WAIT)
    assert not quoted.agreeing.following.has_contract
    page.hold.box.click()
    page.take.click()
    qtbot.waitUntil(lambda: quoted.agreeing.following.has_contract, timeout=WAIT)


def test_by_keys_alone(quoted: Columns, qtbot: QtBot) -> None:
    qtbot.keyClick(quoted.check.gone_page.accept, Qt.Key.Key_Space)
    page = quoted.agreeing.acceptance
    qtbot.waitUntil(lambda: bool(page.options) and page.options[0].box.hasFocus(), timeout=WAIT)
    qtbot.keyClick(page.options[0].box, Qt.Key.Key_Space)
    qtbot.keyClick(page.who.editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: quoted.agreeing.following.has_contract, timeout=WAIT)


def test_another_job_knows_nothing_of_it(agreed: Columns, qtbot: QtBot) -> None:
    agreed._session.new_job()
    answered(agreed._session)
    assert agreed.agreeing.following.so_far.contract is None
    assert not agreed.agreeing.since.isVisible()
    agreed.show_wall()
    assert not agreed.is_at_job


def test_a_spoken_yes_is_confirmed_in_writing(quoted: Columns, qtbot: QtBot) -> None:
    asked(quoted, qtbot)
    quoted.agreeing.acceptance.how.pick(Manner.TELEPHONE)
    say_yes(quoted, qtbot)
    section = quoted.agreeing.agreement
    assert section.act.text() == "Confirm it in writing"
    section.act.click()
    qtbot.waitUntil(lambda: quoted.agreeing.job.has_paper, timeout=WAIT)
    assert quoted.agreeing.following.so_far.contract_confirmed_by == "S-0001"
    assert section.act.text() == "Show the quotation"


def test_they_cancel(agreed: Columns, qtbot: QtBot) -> None:
    agreed.agreeing.agreement.cancel.click()
    page = agreed.agreeing.cancelling
    assert agreed.agreeing.job.at == CANCELLING
    # reg. 34, from memory: money goes back within 14 days.
    assert "9 December 2026" in page.follows.accessibleName()
    page.take.click()
    qtbot.waitUntil(lambda: not agreed.agreeing.following.has_contract, timeout=WAIT)
    assert "Cancelled by Ines Marlowe" in agreed.agreeing.agreement.caution.text()
    assert not agreed.money.foot.button.isEnabled()
    assert "cancelled" in agreed.money.foot.reason.text()
