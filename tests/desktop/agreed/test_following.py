"""What a job has come to is read from the file, and never shown beside another job."""

from __future__ import annotations

import datetime
from dataclasses import replace

from pytestqt.qtbot import QtBot

from estimator.contract.contract import Manner
from estimator.contract.deeds import CalledOff
from estimator.desktop.columns import Columns
from estimator.notices import UserMistake
from estimator.office import contracts
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import answered


def test_what_cannot_be_done_is_said_and_nothing_is_lost(agreed: Columns, qtbot: QtBot) -> None:
    following = agreed.agreeing.following
    before = following.so_far
    with qtbot.waitSignal(agreed._session.mistaken, timeout=WAIT) as told:
        following.do(
            lambda database, job: contracts.confirm(
                database, job, "nothing", trader=agreed._session.practice.trader
            )
        )
    assert told.args and isinstance(told.args[0], UserMistake)
    assert following.so_far == before
    assert not following.is_busy


def test_who_asks_may_hear_of_the_mistake_instead(agreed: Columns, qtbot: QtBot) -> None:
    heard: list[UserMistake] = []
    agreed.agreeing.following.do(_refuse, on_mistake=heard.append)
    qtbot.waitUntil(lambda: bool(heard), timeout=WAIT)
    assert str(heard[0]).startswith("not today")


def _refuse(_database: object, _job: str) -> None:
    raise UserMistake("not today", do="come back tomorrow")


def test_what_is_done_is_known_before_it_is_told(agreed: Columns, qtbot: QtBot) -> None:
    following, seen = agreed.agreeing.following, []
    off = CalledOff(datetime.date(2026, 11, 26), "Ines Marlowe", Manner.EMAIL)
    following.do(
        lambda database, job: contracts.do(database, job, off),
        lambda _done: seen.append(following.so_far.called_off),
    )
    qtbot.waitUntil(lambda: bool(seen), timeout=WAIT)
    assert seen == [off]
    assert not following.has_contract


def test_an_answer_for_the_job_before_changes_nothing(agreed: Columns) -> None:
    following = agreed.agreeing.following
    told: list[object] = []
    following.do(contracts.so_far, told.append)
    agreed._session.new_job()
    answered(agreed._session)
    assert following.so_far.contract is None
    assert told == []


def test_a_job_is_priced_by_what_was_agreed(agreed: Columns) -> None:
    """Rates changed later are for later quotations."""
    session = agreed._session
    contract = agreed.agreeing.following.so_far.contract
    assert contract is not None
    assert session.sight.options[0].offer.net == contract.net
    dearer = replace(
        session.practice.book, minimum_charge=session.sight.options[0].offer.net.times(5)
    )
    session.use(replace(session.practice, book=dearer))
    assert session.sight.options[0].offer.net == contract.net
    session.new_job()
    answered(session)
    assert session.sight.priced_by is not None
    assert session.sight.priced_by.book is dearer
