"""What is worth a look before a survey is printed, line by line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from estimator.desktop.papers import checks, survey_checks
from estimator.desktop.session import Session
from estimator.quoting import trader_file
from estimator.survey.ranges import Range
from estimator.survey.survey import Answer, Basis, Party, Survey
from tests.desktop.fakes import DEMO, demo_survey, session_on
from tests.desktop.papers.drawn import drawn_survey, photos


@pytest.fixture
def looked_at(tmp_path: Path) -> Iterator[Session]:
    session = session_on(tmp_path, drawn_survey())
    session.use(replace(session.practice, trader=trader_file.load(DEMO / "firm.json")))
    yield session
    session.filing.close()


def said(session: Session, survey: Survey, **given: frozenset[str]) -> dict[str, str]:
    """Each line by where it leads, for another survey."""
    sight = replace(
        session.sight, job=replace(session.job, work=replace(session.work, survey=survey))
    )
    return {one.text: one.field for one in survey_checks.to_look_at(sight, **given)}


def test_a_drawn_wall_is_told_what_was_not_measured(looked_at: Session) -> None:
    lines = said(looked_at, drawn_survey())
    assert lines == {
        "1 crack has its width at one place only.": "back/crack/b",
        "1 crack was not looked for indoors.": "back/crack/b",
        "1 photograph does not say what it shows.": survey_checks.PHOTOS,
    }


def test_widths_that_are_guessed_count_as_not_measured(looked_at: Session) -> None:
    survey = drawn_survey()
    front, side, back = survey.elevations
    cracks = tuple(
        replace(front.cracks[0], id=name, width_mm=Range(1, 2, 3), widths=()) for name in "ac"
    )
    lines = said(looked_at, replace(survey, elevations=(replace(front, cracks=cracks), side, back)))
    assert lines["2 cracks have no width measured."] == "front/crack/a"
    assert lines["1 crack has its width at one place only."] == "back/crack/b"


def test_what_nobody_wrote_down_leads_to_its_field(looked_at: Session) -> None:
    bare = replace(drawn_survey(), customer=Party(), not_seen=" ", photos=())
    lines = said(looked_at, bare)
    assert lines["The customer's name is not on it."] == checks.NAME
    assert lines["It does not say where the wall is."] == checks.ADDRESS
    assert lines["No photograph."] == survey_checks.PHOTOS
    assert lines["Nothing is written down as out of sight."] == survey_checks.NOT_SEEN
    placed = replace(bare, customer=Party(site=("14 Tarn Street",)))
    assert "It does not say where the wall is." not in said(looked_at, placed)


def test_a_photograph_the_file_lost_is_said_and_one_not_set_square_is_not(
    looked_at: Session,
) -> None:
    first, second = photos()
    assert not second.points
    lines = said(looked_at, drawn_survey(), lost=frozenset({first.picture}))
    assert (
        lines["1 photograph is not in the file, or not whole, so it is not printed."]
        == survey_checks.PHOTOS
    )
    assert not any("square" in line for line in lines)


def test_sizes_that_were_told_are_one_line_and_no_list_of_what_was_not_measured(
    looked_at: Session,
) -> None:
    lines = said(looked_at, demo_survey("phone_call"))
    assert lines["Sizes are told, not measured."] == survey_checks.BASIS
    assert not any("width" in line or "bed" in line or "indoors" in line for line in lines)
    drawn = replace(drawn_survey(), basis=Basis.TOLD)
    assert any("drawn by hand" in line for line in said(looked_at, drawn))
    assert "Nothing was measured" in survey_checks.kind(drawn)


def test_beds_not_measured_lead_to_the_wall_itself(looked_at: Session) -> None:
    survey = drawn_survey()
    sides = tuple(
        replace(one, brickwork=replace(one.brickwork, bed_usual_mm=None))
        for one in survey.elevations[1:]
    )
    lines = said(looked_at, replace(survey, elevations=(survey.elevations[0], *sides)))
    assert lines["On 2 sides the bed joints were not measured."] == "side/outline"


def test_all_looked_at_leaves_nothing_to_say(looked_at: Session) -> None:
    survey = drawn_survey()
    front, side, back = survey.elevations
    crack = replace(back.cracks[0], both_faces=Answer.NO, widths=front.cracks[0].widths)
    whole = replace(
        survey,
        elevations=(front, side, replace(back, cracks=(crack,))),
        photos=tuple(replace(one, caption="The crack.") for one in survey.photos),
    )
    assert said(looked_at, whole) == {}
