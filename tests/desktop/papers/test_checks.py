"""Which paper it is, why, and what keeps it from going out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from estimator.desktop.papers import checks
from estimator.desktop.session import Session
from estimator.quoting import edits, offering
from estimator.quoting.quotation import Paper
from estimator.survey.survey import Party
from tests.desktop.fakes import TODAY, demo_survey, session_on

SURVEYS = ("window_lime", "phone_call", "refer", "terrace", "quoin_cavity")


def looked_at(name: str, folder: Path) -> Session:
    """A session over a survey of the demonstration."""
    return session_on(folder, demo_survey(name))


@pytest.mark.parametrize("name", SURVEYS)
def test_the_kind_is_the_one_the_engine_makes(name: str, tmp_path: Path) -> None:
    session = looked_at(name, tmp_path)
    made = offering.prepare(session.work.survey, session.practice, date=TODAY.isoformat())
    assert checks.paper_of(session.sight) is made.paper
    said = checks.kind_and_reason(session.sight)
    named = {"A quotation": Paper.QUOTATION, "An estimate": Paper.ESTIMATE}
    if made.options:
        assert named[said.split(",")[0]] is made.paper
        assert ", because " in said
    else:
        assert said.startswith("There is no paper")
    session.filing.close()


def test_sizes_that_were_told_are_the_reason_given(tmp_path: Path) -> None:
    session = looked_at("phone_call", tmp_path)
    assert checks.kind_and_reason(session.sight) == "An estimate, because the sizes were told."
    session.filing.close()


def test_each_thing_that_is_missing_is_one_line(tmp_path: Path) -> None:
    session = looked_at("window_lime", tmp_path)
    fields = [one.field for one in checks.problems(session.sight)]
    assert fields == [checks.FIRM]
    session.apply(edits.name_customer(session.work, Party(name="  ", address=("",))))
    fields = [one.field for one in checks.problems(session.sight, offers_any=False)]
    assert fields == [checks.NAME, checks.ADDRESS, checks.FIRM, checks.OFFER]
    party = replace(session.work.survey.customer, name="Ines", site=("14 Tarn Street",))
    session.apply(edits.name_customer(session.work, party))
    assert [one.field for one in checks.problems(session.sight)] == [checks.FIRM]
    session.filing.close()
