"""What a calendar with an older programme must hear: each change once more, and what fell out."""

from __future__ import annotations

import datetime

from estimator.contract.contract import Manner
from estimator.contract.deeds import (
    Accepted,
    Answered,
    CalledOff,
    Deed,
    Drafted,
    Happening,
    Planned,
    Sent,
    Struck,
)
from estimator.contract.so_far import so_far
from estimator.contract.variation import Standing
from estimator.contract.works import Plan
from estimator.takeoff.scope import PANEL
from estimator.works.programme import programme
from estimator.works.reissued import reissue
from tests.works import made_up

NOON = datetime.datetime(2026, 12, 1, 12, tzinfo=datetime.UTC)
WEEK = datetime.timedelta(days=7)
ACCEPTED = Accepted(made_up.contract("window_lime"))
PLANNED = Planned(Plan(made_up.START))
LATER = Planned(Plan(made_up.START + WEEK))


def told(*deeds: Deed) -> list[Happening]:
    return [Happening(f"h{place}", NOON, deed) for place, deed in enumerate(deeds)]


def test_a_later_plan_moves_the_same_tasks() -> None:
    one, two = reissue(told(ACCEPTED, PLANNED)), reissue(told(ACCEPTED, PLANNED, LATER))
    assert [task.key for task in one.tasks] == [task.key for task in two.tasks]
    assert two.sequence > one.sequence
    assert one.tasks[0].first < two.tasks[0].first
    assert not two.gone


def test_a_plan_struck_out_brings_the_one_before_back_under_a_higher_count() -> None:
    """Found wanting: the strike was not looked at, so the struck plan stayed in the calendar."""
    before = told(ACCEPTED, PLANNED, LATER)
    after = [*before, Happening("h9", NOON, Struck("h2", "the wrong week"))]
    assert reissue(after).tasks == programme(so_far(after)) == reissue(before[:2]).tasks
    assert reissue(after).sequence > reissue(before).sequence


def test_the_count_never_falls() -> None:
    deeds: list[Deed] = [
        ACCEPTED,
        PLANNED,
        LATER,
        Struck("h2", "x"),
        CalledOff(made_up.DAY, "Ines Marlowe", Manner.EMAIL),
        ACCEPTED,
        LATER,
    ]
    counts = [reissue(told(*deeds[:length])).sequence for length in range(len(deeds) + 1)]
    assert counts == sorted(counts)
    assert reissue(told(*deeds)).tasks == programme(so_far(told(*deeds)))


def test_what_is_called_off_is_taken_out_of_the_calendar() -> None:
    before = reissue(told(ACCEPTED, PLANNED))
    after = reissue(told(ACCEPTED, PLANNED, CalledOff(made_up.DAY, "Ines", Manner.EMAIL)))
    assert after.tasks == ()
    assert after.gone == before.tasks


def test_a_visit_that_an_agreed_variation_does_away_with_is_cancelled() -> None:
    """Pointing only where it was cut, after all: the visits for the panel fall out."""
    whole = Accepted(made_up.contract("window_lime", "panel"))
    seen = made_up.survey("window_lime")
    smaller = made_up.varied("a", seen, ACCEPTED.contract.scope).variation
    assert whole.contract.scope == PANEL
    before = told(whole, PLANNED)
    agreed = [
        *before,
        *(
            Happening(f"v{place}", NOON, deed)
            for place, deed in enumerate(
                (
                    Drafted(smaller),
                    Sent("a", "V-0001", made_up.DAY, Manner.EMAIL),
                    Answered("a", Standing.AGREED, "Ines", Manner.EMAIL, NOON),
                )
            )
        ),
    ]
    one, two = reissue(before), reissue(agreed)
    assert two.tasks == programme(so_far(agreed))
    fallen = {task.key for task in one.tasks} - {task.key for task in two.tasks}
    assert fallen
    assert {task.key for task in two.gone} == fallen
