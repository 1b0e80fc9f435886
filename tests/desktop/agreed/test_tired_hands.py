"""What went wrong under the hands of somebody tired, and is mended."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from estimator.contract.contract import Manner
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.desktop.agreed import reckoning, wording
from estimator.desktop.agreed.agreeing import CANCELLING, HOURS, STANDING
from estimator.desktop.agreed.fields import pounds
from estimator.desktop.columns import Columns
from estimator.desktop.papers.file_out import Out
from estimator.desktop.theme.look import LOOK
from estimator.money import Money
from estimator.office import contracts
from tests.desktop.agreed.conftest import WAIT, mark_found
from tests.desktop.agreed.test_variations import send, write
from tests.desktop.fakes import Ticket, answered
from tests.exchange.test_ubl import CBC


def test_what_was_slow_once_is_not_left_to_the_workers_for_good(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    valuing = agreed.agreeing.valuing
    monkeypatch.setattr(valuing, "_is_slow", True)
    mark_found(agreed)
    qtbot.waitUntil(lambda: valuing.is_anything, timeout=WAIT)
    assert not valuing._is_slow


def test_a_slow_wall_is_told_before_its_other_choices(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Any] = []
    valuing, run = agreed.agreeing.valuing, agreed._session.workers.run

    def noted(function: Any, *about: Any, **named: Any) -> Ticket:
        asked.append(function)
        return run(function, *about, **named)

    monkeypatch.setattr("estimator.desktop.agreed.valuing.SLOW_MS", -1.0)
    monkeypatch.setattr(valuing, "_is_slow", True)
    monkeypatch.setattr(agreed._session.workers, "run", noted)
    mark_found(agreed)
    qtbot.waitUntil(lambda: reckoning.other_ways in asked, timeout=WAIT)
    valued = [one for one in asked if one in (reckoning.timed, reckoning.other_ways)]
    assert valued == [reckoning.timed, reckoning.other_ways]


def test_nothing_differs_is_not_said_while_it_is_worked_out(
    agreed: Columns, monkeypatch: pytest.MonkeyPatch
) -> None:
    valuing, foot = agreed.agreeing.valuing, agreed.money.foot
    monkeypatch.setattr(valuing, "_is_slow", True)
    monkeypatch.setattr(valuing.session.workers, "run", lambda *_given, **_named: Ticket())
    mark_found(agreed)
    assert agreed.agreeing.since.price.text() == "Working it out…"
    assert not foot.button.isEnabled()
    assert foot.reason.text() == "What is marked is being worked out."


def test_no_old_paper_lies_under_the_title_of_the_next(agreed: Columns, qtbot: QtBot) -> None:
    area = agreed.preview.area
    agreed.show_issued(agreed._session.job.papers[-1])
    qtbot.waitUntil(lambda: bool(area.sheets), timeout=WAIT)
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    seen: list[tuple[str, list[str]]] = []

    def see(is_laid: bool) -> None:  # noqa: FBT001 - as the signal has it
        # Looked at as it is laid: a turn later the new paper may have come.
        if is_laid:
            pages = [one.page.text for one in area.sheets if one.page]
            seen.append((agreed.preview.caption.text(), pages))

    agreed.agreeing.job.laid.connect(see)
    agreed.agreeing.job.open()
    agreed.agreeing.variations.lines_[0].click()
    qtbot.waitUntil(lambda: agreed.has_paper, timeout=WAIT)
    assert seen and all(one == ("", []) for one in seen)
    qtbot.waitUntil(lambda: bool(area.sheets), timeout=WAIT)
    assert agreed.preview.caption.text() == "V-0001, as it went out"
    agreed.show_issued(agreed._session.job.papers[-1])
    assert not area.sheets
    qtbot.waitUntil(lambda: bool(area.sheets), timeout=WAIT)


def test_they_agree_pressed_twice_is_agreed_once(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    page, following = agreed.agreeing.standing, agreed.agreeing.following
    page.main.click()
    page.main.click()
    qtbot.waitUntil(lambda: not following.is_busy, timeout=WAIT)
    answered(agreed._session)
    assert following.so_far.variations[0].standing is Standing.AGREED
    assert page.main.text() == "Write the confirmation"
    assert page.said.text() == ""


def test_what_somebody_else_did_meanwhile_is_shown_after_the_refusal(
    agreed: Columns, qtbot: QtBot
) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    following, page = agreed.agreeing.following, agreed.agreeing.standing
    key, job = following.so_far.variations[0].variation.key, agreed._session.job.uid
    agreed._session.filing.ask(
        lambda file: contracts.answer(
            file, job, key, Standing.AGREED, who="Ada Pike", how=Manner.SIGNED
        )
    )
    page.main.click()
    qtbot.waitUntil(lambda: "cannot be agreed" in page.said.text(), timeout=WAIT)
    answered(agreed._session)
    assert following.so_far.variations[0].who == "Ada Pike"
    assert page.main.text() == "Back to the job"


def test_after_something_broke_everything_can_be_pressed_again(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    page, following = agreed.agreeing.writing, agreed.agreeing.following
    with monkeypatch.context() as broken:
        broken.setattr("estimator.desktop.agreed.asked.send", _break)
        with qtbot.waitSignal(agreed._session.filing.broke, timeout=WAIT):
            page.send.click()
    assert not following.is_busy
    assert page.send.isEnabled() and page.note.text() == ""
    send(agreed, qtbot)
    assert following.so_far.variations[0].number == "V-0001"


def _break(*_given: object) -> None:
    raise RuntimeError("the disk is on fire")


def test_a_double_click_is_one_press_of_a_filled_button(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    pressed: list[str] = []
    page = agreed.agreeing.writing
    page.send.clicked.connect(lambda: pressed.append("sent"))
    QTest.mouseClick(page.send, Qt.MouseButton.LeftButton)
    page.send.setEnabled(True)
    QTest.mouseDClick(page.send, Qt.MouseButton.LeftButton)
    assert pressed == ["sent"]
    qtbot.waitUntil(lambda: agreed.agreeing.job.at == STANDING, timeout=WAIT)
    answered(agreed._session)
    assert agreed.agreeing.following.so_far.variations[0].standing is Standing.SENT


def test_what_waits_for_an_answer_is_not_called_agreed(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    agreed.agreeing.valuing.look()
    assert agreed.money.foot.reason.text() == "All that is marked waits for an answer."


def test_a_sheet_of_hours_half_typed_is_there_again(agreed: Columns, qtbot: QtBot) -> None:
    mark_found(agreed)
    agreed.agreeing.write()
    job, page = agreed.agreeing.job, agreed.agreeing.hours
    job.open(HOURS)
    page.what.editor.setText("Prop the arch")
    page.another.click()
    qtbot.keyClicks(page.what.editor, "!")
    qtbot.keyClicks(page.people[0].who.editor, "Jo Bell")
    qtbot.keyClicks(page.people[1].hours.editor, "3.5")
    job.open()
    job.open(HOURS)
    assert page.what.text == "Prop the arch!"
    assert [one.told for one in page.people] == [
        ["Jo Bell", "", "today", "", ""],
        ["", "", "today", "3.5", ""],
    ]
    first = agreed._session.job
    agreed._session.new_job()
    job.open(HOURS)
    assert page.what.text == "" and len(page.people) == 1
    agreed._session.show_job(first)
    answered(agreed._session)
    job.open(HOURS)
    qtbot.waitUntil(lambda: page.what.text == "Prop the arch!", timeout=WAIT)
    assert page.people[1].hours.text == "3.5"


def squashed(page: QWidget) -> list[str]:
    return [
        one.accessibleName()
        for one in page.findChildren(QWidget)
        if isinstance(one, (QLineEdit, QComboBox)) and one.isVisible()
        # The frame round the one with the keyboard is two pixels wider; its height stays.
        if one.height() < one.minimumSizeHint().height() - 2
    ]


def clipped(page: QWidget) -> list[str]:
    return [
        one.text()
        for one in page.findChildren(QPushButton)
        if one.isVisible() and one.width() < one.sizeHint().width()
    ]


@pytest.mark.parametrize("name", [CANCELLING, STANDING])
def test_at_twice_the_type_nothing_lies_over_anything(
    agreed: Columns, qtbot: QtBot, name: str
) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    before = LOOK.scale
    LOOK.apply(LOOK.scheme, scale=2.0)
    try:
        agreed.resize(1366, 640)
        agreed.agreeing.job.open(name)
        answered(agreed._session)
        QApplication.processEvents()
        page = agreed.agreeing.job.pages.currentWidget()
        qtbot.waitUntil(lambda: not squashed(page), timeout=2000)
        assert not clipped(page)
    finally:
        LOOK.apply(LOOK.scheme, scale=before)
        answered(agreed._session)


def test_a_sign_stays_with_its_sum(agreed: Columns) -> None:
    assert wording.signed(Money.of("-3.5")) == "−\N{NO-BREAK SPACE}£3.50"


def test_each_choice_of_an_issued_quotation_is_saved_for_their_books(
    quoted: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    """UBL 2.3: the number stands in the element that OASIS gives it."""
    files, page = quoted.check.files, quoted.check.gone_page
    names: list[str] = []

    def choose(out: Out, then: Callable[[str], None]) -> None:
        names.append(out.name)
        then(str(tmp_path / out.name))

    files.choose_path = choose
    assert len(page.files.rows) == len(quoted._session.work.scopes) == 2
    for row in page.files.rows.values():
        with qtbot.waitSignal(files.said, timeout=WAIT):
            row.click()
    assert names == ["Q-0001-A.xml", "Q-0001-B.xml"]
    assert page.said.text().startswith("Saved as Q-0001-B.xml in ")
    numbers = [etree.parse(tmp_path / name).findtext(f"{{{CBC}}}ID") for name in names]
    assert numbers == ["Q-0001/A", "Q-0001/B"]


def test_a_draft_that_is_kept_while_one_types_prices_nothing_anew(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    priced: list[str] = []
    monkeypatch.setattr(agreed._session, "refresh", lambda: priced.append("the wall"))
    monkeypatch.setattr(reckoning, "timed", lambda _wall: priced.append("the change"))
    page, following = agreed.agreeing.writing, agreed.agreeing.following
    qtbot.keyClicks(page.form.reason.editor, "The joints are open now.")
    qtbot.waitUntil(
        lambda: following.so_far.variations[0].variation.reason == "The joints are open now.",
        timeout=WAIT,
    )
    answered(agreed._session)
    assert priced == []


def test_nothing_is_offered_that_a_file_only_looked_at_cannot_keep(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    only_looked_at = property(lambda _filing: False)
    monkeypatch.setattr(type(agreed._session.filing), "can_write", only_looked_at)
    agreeing = agreed.agreeing
    agreeing.open_variation(agreeing.following.so_far.variations[0].variation.key)
    standing = agreeing.standing
    assert not any(one.isEnabled() for one in (standing.main, standing.decline, standing.withdraw))
    assert standing.save.isEnabled() and standing.email.isEnabled()
    agreeing.job.open(CANCELLING)
    assert not agreeing.cancelling.take.isEnabled()
    agreeing.write()
    assert not agreeing.writing.send.isEnabled() and not agreeing.writing.drop.isEnabled()
    answered(agreed._session)


@pytest.mark.parametrize("typed", ["99999999999999999999", "-10000000.01", "1e9", "２５"])
def test_a_sum_no_repair_comes_to_is_taken_for_a_slip(typed: str) -> None:
    assert pounds(typed) is None


def test_negative_hours_take_nothing_off_a_sheet(agreed: Columns, qtbot: QtBot) -> None:
    page = agreed.agreeing.hours
    agreed.agreeing.job.open(HOURS)
    page.people[0].rate.show_text("24")
    qtbot.keyClicks(page.people[0].hours.editor, "-2")
    assert page.sum.text() == "The sheet comes to £0.00 before VAT"
    answered(agreed._session)


def test_the_last_words_of_a_variation_are_kept_as_the_window_goes(
    agreed: Columns, qtbot: QtBot
) -> None:
    mark_found(agreed)
    write(agreed, qtbot)
    page, session = agreed.agreeing.writing, agreed._session
    qtbot.keyClicks(page.form.reason.editor, "Last words")
    session.closing.emit()
    kept: list[SoFar] = []
    uid = session.job.uid
    session.filing.ask(lambda file: contracts.so_far(file, uid), kept.append)
    qtbot.waitUntil(lambda: bool(kept), timeout=WAIT)
    assert kept[0].variations[0].variation.reason == "Last words"
    answered(session)


def test_what_is_half_typed_of_one_job_is_not_said_of_another(
    agreed: Columns, qtbot: QtBot
) -> None:
    job, page, session = agreed.agreeing.job, agreed.working.done, agreed._session
    job.open("done")
    qtbot.keyClicks(page.by.editor, "Jo Bell")
    qtbot.keyClicks(page.notes.editor, "Keep it damp")
    first = session.job
    session.new_job()
    answered(session)
    job.open("done")
    assert page.by.text == "" and page.notes.text == ""
    session.show_job(first)
    answered(session)
    job.open("done")
    qtbot.waitUntil(lambda: page.notes.text == "Keep it damp", timeout=WAIT)
    assert page.by.text == "Jo Bell"
