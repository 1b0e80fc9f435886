"""The invented jobs show what they are there to show."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from estimator.survey import survey_file
from estimator.survey.survey import Mortar, StraightRun, Survey, Treatment, WallBuild
from estimator.survey.triage import Route, assess
from estimator.survey.wall import path_of, wall_of
from estimator.takeoff import rules
from estimator.takeoff.lines import SetBy
from estimator.takeoff.measure import measure
from estimator.takeoff.scope import LOCAL

ROOT = Path(__file__).resolve().parents[2]
ROUTES = {
    "window_lime": Route.PRICE,
    "quoin_cavity": Route.PRICE,
    "terrace": Route.PRICE,
    "phone_call": Route.RANGE,
    "refer": Route.REFER,
    "drawn_gable": Route.PRICE,
}


def survey(name: str) -> Survey:
    return survey_file.load(ROOT / "demo" / f"{name}.json")


def maker(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    # It asks its neighbour for a photograph.
    monkeypatch.syspath_prepend(str(ROOT / "demo"))
    spec = importlib.util.spec_from_file_location("make_papers", ROOT / "demo" / "make_papers.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("name", ROUTES)
def test_each_job_takes_its_own_route(name: str) -> None:
    assert assess(survey(name)).route is ROUTES[name]


def test_the_first_is_a_stepped_crack_in_soft_lime() -> None:
    (wall,) = survey("window_lime").elevations
    assert wall.brickwork.mortar is Mortar.LIME
    assert wall.brickwork.build is WallBuild.SOLID
    assert not path_of(wall.cracks[0], wall_of(wall).coursing).bricks


def test_the_second_breaks_bricks_that_are_then_treated() -> None:
    (wall,) = survey("quoin_cavity").elevations
    assert isinstance(wall.cracks[0].run, StraightRun)
    laid = wall_of(wall)
    broken = {
        (course, laid.place_of(course, face))
        for course, face in path_of(wall.cracks[0], laid.coursing).bricks
    }
    assert {(brick.course, brick.place) for brick in wall.bricks} == broken
    assert len({brick.treatment for brick in wall.bricks}) >= 3
    assert Treatment.LEAVE not in {brick.treatment for brick in wall.bricks}


def test_the_third_has_six_fine_cracks_and_two_openings() -> None:
    (wall,) = survey("terrace").elevations
    assert (len(wall.cracks), len(wall.openings)) == (6, 2)
    assert all(isinstance(crack.width_mm, float) and crack.width_mm < 3 for crack in wall.cracks)


def test_the_drawn_one_shows_what_a_hand_can_say_of_a_wall() -> None:
    seen = survey("drawn_gable")
    (wall,) = seen.elevations
    assert seen.drawn
    assert wall.damp_course_mm is not None
    assert all(one.lintel_mm > 0 for one in wall.openings)
    assert wall.thin_beds
    one, two = wall.cracks
    assert one.widths
    laid = wall_of(wall).coursing
    broken = path_of(one, laid).bricks
    assert broken
    assert not path_of(two, laid).bricks
    places = {(course, wall_of(wall).place_of(course, face)) for course, face in broken}
    assert {(brick.course, brick.place) for brick in wall.bricks} == places
    work = measure(seen, LOCAL, rules.shipped())
    (by_hand,) = (bar for bar in work.bars if bar.set_by is SetBy.HAND)
    assert "Set by hand" in by_hand.reasons[0].text


def test_the_papers_of_all_jobs_are_made(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    maker(monkeypatch).make_papers(tmp_path)
    papers = sorted(path.name for path in tmp_path.iterdir())
    assert [name for name in papers if name.startswith("survey")] == sorted(
        f"survey-{name}.pdf" for name in ROUTES
    )
    assert [name for name in papers if not name.startswith("survey")] == [
        "elevation-1-gable.svg",
        "estimate-E-0031.pdf",
        "quotation-Q-0147.pdf",
        "quotation-Q-0148.pdf",
        "quotation-Q-0149.pdf",
        "quotation-Q-0151.pdf",
    ]
    assert "no price: refer to a chartered structural engineer" in capsys.readouterr().out
