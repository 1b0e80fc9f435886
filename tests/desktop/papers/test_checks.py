"""Which paper it is, why, and what keeps it from going out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from estimator.desktop.papers import checks
from estimator.desktop.session import Session
from estimator.quoting import edits, offering
from estimator.quoting.quotation import Paper
from estimator.quoting.wall_edits import sides
from estimator.survey.survey import Answer, Basis, Party
from estimator.takeoff.scope import REPOINT
from tests.desktop.fakes import TODAY, demo_survey, session_on
from tests.desktop.papers.drawn import drawn_survey

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


def test_bars_by_hand_are_pointed_out_in_the_words_of_the_takeoff(tmp_path: Path) -> None:
    session = session_on(tmp_path, drawn_survey())
    measure = session.sight.options[0].measure
    first = next(bar.id for bar in measure.bars if bar.hand)
    found = checks.by_hand(session.sight)
    assert {one.field for one in found} == {first}
    texts = [one.text for one in found]
    by_hand = "1 bar set by hand, 1 bar kept by hand, 1 bar by the rule and 1 bar left out by hand."
    assert f"Front: {by_hand}" in texts
    assert any("under course 10; it was left out by hand" in text for text in texts)
    assert any("Ask a structural engineer" in text for text in texts)
    assert len(set(texts)) == len(texts)
    session.filing.close()


def test_a_wall_with_no_bar_by_hand_has_nothing_to_point_out(tmp_path: Path) -> None:
    session = session_on(tmp_path, demo_survey("terrace"))
    assert checks.by_hand(session.sight) == ()
    session.filing.close()


def test_without_stitches_bars_by_hand_do_not_matter(tmp_path: Path) -> None:
    session = session_on(tmp_path, drawn_survey())
    session.apply(edits.offer(session.work, (REPOINT,)))
    assert checks.by_hand(session.sight) == ()
    session.filing.close()


def test_a_wall_drawn_of_told_sizes_says_how_it_becomes_a_quotation(tmp_path: Path) -> None:
    whole = drawn_survey()
    even = [
        replace(
            one,
            cracks=tuple(
                replace(crack, both_faces=Answer.NO, tapers=Answer.NO) for crack in one.cracks
            ),
        )
        for one in whole.elevations
    ]
    told = replace(whole, basis=Basis.TOLD, elevations=tuple(even))
    session = session_on(tmp_path, told)
    assert checks.paper_of(session.sight) is Paper.ESTIMATE
    assert "“measured on site”" in checks.kind_and_reason(session.sight)
    session.apply(sides.set_basis(session.work, Basis.MEASURED))
    assert checks.paper_of(session.sight) is Paper.QUOTATION
    # One crack seen indoors too has to be seen first, so measuring alone would promise too much.
    session.job = replace(
        session.job, work=replace(session.work, survey=replace(whole, basis=Basis.TOLD))
    )
    session.refresh()
    assert checks.kind_and_reason(session.sight) == "An estimate, because the sizes were told."
    session.filing.close()
