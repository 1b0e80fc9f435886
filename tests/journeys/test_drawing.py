"""A wall drawn by hand on an empty job, from its outline to its survey paper, by mouse and by keys.

The journey runs in a process of its own, which is killed half-way through a second crack; what was
drawn before is then looked for on the paper and in the window opened again.
"""

from __future__ import annotations

import base64
import io
from pathlib import Path
from typing import Any

import pypdf
import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from estimator.documents.formats import metres
from estimator.survey.survey import Basis, Survey, Treatment
from estimator.survey.wall import path_of, wall_of
from tests.journeys.call_by_keys import wait_until
from tests.journeys.drawing_by_hand import opened
from tests.journeys.killed import killed

WAYS = ("mouse", "keys")
LONGEST_S = 90.0
"""Script and program together take no longer, from the empty job to the survey paper. [s]"""
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module", params=WAYS)
def told(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Any]:
    """What happened in the process that drew the wall and was killed, and what it left behind."""
    folder = tmp_path_factory.mktemp(request.param)
    found = killed("drawing_by_hand", folder, request.param, longest_s=180)
    kept = _left_behind(folder, found["uid"])
    return found | {"survey": kept, "mouse": request.param == "mouse"}


def _left_behind(folder: Path, uid: str) -> Survey:
    """Open the program again, and return the survey it comes back to."""
    for shown in opened(folder):
        wait_until(lambda: shown.session.job.uid == uid, "the job did not come back")  # noqa: B023
        survey = shown.session.work.survey
        shown.desk.close()
        shown.end()
        shown.desk.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    return survey


def test_it_takes_less_than_a_minute_and_a_half_and_no_dialog(told: dict[str, Any]) -> None:
    assert told["seconds"] < LONGEST_S
    assert told["windows"] == []
    print(f"{told['seconds']:.1f} s of scripted input")


def test_both_options_are_priced_for_good(told: dict[str, Any]) -> None:
    local, panel = told["totals"]
    assert 0 < local < panel
    assert told["spreads"] == [False, False]
    assert (told["route"], told["button"]) == ("price", "Write the quotation")


def test_a_bar_leads_to_its_prices_and_a_price_to_its_bars(told: dict[str, Any]) -> None:
    assert told["row"] in told["prices"]
    assert told["mark"] in told["lit"]
    assert all("/bar/" in mark for mark in told["lit"])
    assert told["compared"]


def test_after_the_kill_the_wall_is_there(told: dict[str, Any]) -> None:
    survey: Survey = told["survey"]
    (wall,) = survey.elevations
    assert (survey.drawn, survey.basis) == (True, Basis.MEASURED)
    coursing = wall_of(wall).coursing
    left, bottom, right, top = wall_of(wall).gross.bounds
    assert right - left == pytest.approx(20 * 225, abs=coursing.perpend_mm)
    assert top - bottom == 36 * coursing.gauge_mm
    assert [one.kind for one in wall.openings] == ["window", "window"]
    assert [one.width_mm for one in wall.cracks] == [2.5], "what was half drawn is not kept"
    assert told["half_drawn"]
    treatments = sorted(one.treatment.value for one in wall.bricks)
    assert treatments == ["leave", "patch", "replace", "replace"]


def test_the_survey_paper_says_what_was_measured(told: dict[str, Any]) -> None:
    survey: Survey = told["survey"]
    (wall,) = survey.elevations
    pages = pypdf.PdfReader(io.BytesIO(base64.b64decode(told["paper"]))).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    path = path_of(wall.cracks[0], wall_of(wall).coursing)
    assert "Survey" in text and "as measured on site" in text
    assert metres(path.run_m * 1000) in text
    assert f"{len(path.courses)} courses" in text
    assert "2.5" in text
    marked = [one for one in wall.bricks if one.treatment is not Treatment.LEAVE]
    for treatment in (Treatment.REPLACE, Treatment.PATCH):
        assert treatment.value in text.lower()
    assert all(f"course {one.course}, brick {one.place}" in text for one in marked)
    assert "Bed joints 10 mm, usual for the brick; not measured" in text
    (width,) = wall.cracks[0].widths
    assert f"{width.width_mm} from its foot up; widest {width.width_mm}" in text
    assert "£" not in text


def test_a_crack_along_the_joints_is_as_long_as_its_steps(told: dict[str, Any]) -> None:
    """Joints run level and upright: whichever way it steps, a crack that never turns back is as
    long as its rise and its run together; worked by hand for bricks of 225 × 75 with their joints.
    """
    (wall,) = told["survey"].elevations
    path = path_of(wall.cracks[0], wall_of(wall).coursing)
    (x, y), (to_x, to_y) = path.points[0], path.points[-1]
    assert path.run_m * 1000 >= abs(to_x - x) + abs(to_y - y) - 0.01
    assert abs(to_y - y) == len(path.courses) * 75.0
    if told["mouse"]:
        # From the perpend after 9 bricks of course 3 to that after 5 of course 12: four bricks
        # and a half, the lower course being half a brick further.
        assert path.run_m * 1000 == pytest.approx(4.5 * 225 + 9 * 75, abs=1)
