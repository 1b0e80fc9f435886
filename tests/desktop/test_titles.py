"""What a job is called: by the place answered, until somebody names it."""

from __future__ import annotations

import datetime
from dataclasses import replace

from estimator.desktop import kept
from estimator.desktop.session import Session, fresh_job
from estimator.desktop.titles import fresh_title, titled
from estimator.quoting import edits
from estimator.survey.enquiry import questions
from estimator.survey.survey import Asked, Party

WINDOW = Asked("place", ("under_window",))
WORK = fresh_job(datetime.date(2026, 11, 25)).work


def test_a_job_is_called_by_its_crack_and_not_enquiry(session: Session) -> None:
    party = Party("Ines Marlowe", address=("14 Tarn Street",))
    session.apply(edits.name_customer(session.work, party))
    session.apply(edits.answer(session.work, WINDOW))
    assert kept.title_of(session.job) == "Crack under a window, 14 Tarn Street"
    session.history.undo()
    assert kept.title_of(session.job) == "Cracked wall, 14 Tarn Street"


def test_every_place_has_its_own_title() -> None:
    place = next(one for one in questions() if one.key == "place")
    answers = [edits.answer(WORK, Asked("place", (one.key,))) for one in place.choices]
    called = {titled(one).after.survey.title for one in answers}
    assert len(called) == len(place.choices)
    assert fresh_title() not in called


def test_a_place_not_sure_of_says_nothing_of_the_place() -> None:
    known = titled(edits.answer(WORK, WINDOW)).after
    unsure = titled(edits.answer(known, Asked("place", ("not_sure",)))).after
    assert unsure.survey.title == fresh_title()


def test_a_title_somebody_gave_stays() -> None:
    named = replace(WORK, survey=replace(WORK.survey, title="The gable"))
    assert titled(edits.answer(named, WINDOW)).after.survey.title == "The gable"
