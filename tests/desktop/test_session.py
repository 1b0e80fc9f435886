"""The open job: edits, undo, prices at once, ranges later, and nothing lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.filing import Filing
from estimator.desktop.session import Session
from estimator.quoting import edits
from estimator.survey.survey import Asked, Party
from estimator.survey.triage import Route
from estimator.takeoff.scope import LOCAL
from tests.desktop.fakes import SilentWorkers, WorkersAtOnce, demo_survey, session_on, settle

STEPPED = Asked("shape", ("stepped",))
FALLING = Asked("warning", ("loose",))


def asked(session: Session, question: str) -> Asked | None:
    return next((one for one in session.work.survey.asked if one.question == question), None)


@pytest.fixture
def filed(qapp: QApplication, tmp_path: Path, qtbot: QtBot) -> Session:
    """A session over a file that is open."""
    session = session_on(tmp_path, workers=WorkersAtOnce())
    with qtbot.waitSignal(session.filing.opened, timeout=20_000):
        session.filing.open()
    return session


def test_a_fresh_call_has_a_price_already(session: Session) -> None:
    assert len(session.sight.options) == 2
    assert not session.sight.problem


def test_an_answer_is_one_step_and_can_be_taken_back(session: Session) -> None:
    session.apply(edits.answer(session.work, STEPPED))
    assert asked(session, "shape") == STEPPED
    assert session.history.undoText() == "answer"
    session.history.undo()
    assert asked(session, "shape") is None
    session.history.redo()
    assert asked(session, "shape") == STEPPED


def test_typing_in_one_place_is_one_step(session: Session) -> None:
    for said in ("1", "18", "18 courses"):
        amount = float(said.split()[0])
        given = Asked("length", amount=amount, unit="course", said=said)
        session.apply(edits.answer(session.work, given))
    assert session.history.count() == 1
    session.history.undo()
    assert asked(session, "length") is None


def test_an_edit_that_changes_nothing_is_no_step(session: Session) -> None:
    session.apply(edits.answer(session.work, STEPPED))
    session.apply(edits.answer(session.work, STEPPED))
    assert session.history.count() == 1


def test_undoing_everything_gives_back_what_was_there_to_the_byte(session: Session) -> None:
    before = session.work
    session.apply(edits.answer(session.work, STEPPED))
    session.apply(edits.name_customer(session.work, Party("Ines Marlowe"), about="name"))
    session.apply(edits.offer(session.work, (LOCAL,)))
    session.apply(edits.set_rule(session.work, "spacing_courses", 4))
    assert session.history.count() == 4
    while session.history.canUndo():
        session.history.undo()
    assert session.work == before


def test_the_range_settles_after_the_likely_prices(session: Session) -> None:
    assert session.sight.outlook is None
    session.apply(edits.answer(session.work, STEPPED))
    assert session.sight.is_settling
    settle(session)
    sight = session.sight
    assert sight.outlook is not None
    assert not sight.is_settling
    assert len(sight.outlook.bands) == len(sight.options)


def test_an_old_range_stays_until_the_new_one_has_settled(tmp_path: Path) -> None:
    session = session_on(tmp_path, workers=WorkersAtOnce())
    session.apply(edits.answer(session.work, STEPPED))
    settle(session)
    first = session.sight.outlook
    session.workers = SilentWorkers()  # type: ignore[assignment]
    session.apply(edits.answer(session.work, Asked("indoors", ("no",))))
    assert session.sight.is_settling
    assert first is not None
    assert session.sight.outlook is first
    session.filing.close()


def test_danger_takes_the_price_away(session: Session) -> None:
    session.apply(edits.answer(session.work, FALLING))
    assert session.sight.assessment.route is Route.STOP
    assert session.sight.options == ()
    assert session.sight.outlook is None


def test_what_is_typed_is_in_the_file_without_asking(filed: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(filed.saved, timeout=5_000):
        filed.apply(edits.answer(filed.work, STEPPED))
    uid, work = filed.job.uid, filed.work
    filed.filing.close()
    again = kept.opened(filed.filing.folder)
    found = kept.last_open(again)
    again.close()
    assert found is not None
    assert (found.uid, found.work) == (uid, work)


def test_another_job_on_the_desk_never_takes_the_first_ones_edits(
    filed: Session, qtbot: QtBot
) -> None:
    filed.apply(edits.answer(filed.work, STEPPED))
    first, work = filed.job.uid, filed.work
    filed.new_job()
    second = filed.job.uid
    with qtbot.waitSignal(filed.saved, timeout=5_000):
        filed.apply(edits.answer(filed.work, Asked("shape", ("straight",))))
    filed.filing.close()
    again = kept.opened(filed.filing.folder)
    assert kept.open_job(again, first).work == work
    assert kept.open_job(again, second).work.survey.asked == (Asked("shape", ("straight",)),)
    again.close()


def test_a_call_nobody_answered_leaves_no_job_behind(filed: Session) -> None:
    filed.new_job()
    filed.new_job()
    filed.filing.close()
    again = kept.opened(filed.filing.folder)
    assert kept.last_open(again) is None
    again.close()


def test_a_customer_is_known_after_the_job_is_left(filed: Session, qtbot: QtBot) -> None:
    party = Party("Ines Marlowe", telephone="01632 960417", address=("14 Tarn Street",))
    filed.apply(edits.name_customer(filed.work, party))
    with qtbot.waitSignal(filed.job_changed, timeout=5_000):
        filed.accept()
    uid = filed.job.customer
    filed.filing.close()
    again = kept.opened(filed.filing.folder)
    assert uid
    assert kept.customers.find(again, uid).name == "Ines Marlowe"
    again.close()


def test_scopes_and_rules_of_a_job_come_back_with_it(filed: Session, qtbot: QtBot) -> None:
    filed.apply(edits.answer(filed.work, STEPPED))
    filed.apply(edits.offer(filed.work, (LOCAL,)))
    filed.apply(edits.set_rule(filed.work, "spacing_courses", 4))
    filed.accept()
    filed.filing.close()
    again = kept.opened(filed.filing.folder)
    work = kept.open_job(again, filed.job.uid).work
    again.close()
    assert work.scopes == (LOCAL,)
    assert dict(work.rule_changes) == {"spacing_courses": 4}


def test_a_second_window_only_looks(filed: Session, qtbot: QtBot) -> None:
    second = Session(Filing(filed.filing.folder), SilentWorkers())  # type: ignore[arg-type]
    with qtbot.waitSignal(second.filing.opened, timeout=20_000) as opened:
        second.filing.open()
    assert opened.args[0].why_read_only
    second.apply(edits.answer(second.work, STEPPED))
    second.save()
    second.accept()
    second.filing.close()
    filed.filing.close()


def test_a_measured_survey_is_priced_firmly(tmp_path: Path) -> None:
    session = session_on(tmp_path, demo_survey("window_lime"))
    assert session.sight.assessment.route.allows_price
    assert session.sight.options
    session.filing.close()
