"""Whatever a hand draws can be kept, undone, measured and pointed at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import BrickState, Picture
from estimator.notices import UserMistake
from estimator.quoting.edits import Work
from estimator.survey import survey_file
from estimator.survey.survey import Elevation, Survey
from estimator.survey.wall import wall_of
from estimator.takeoff.lines import Measure
from estimator.takeoff.measure import measure_all
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT
from estimator.takeoff.scope import Work as Kind
from tests.quoting.wall_edits.hands import next_edit
from tests.survey.strategies import surveys
from tests.survey.walls import crack, survey

DEMO = Path(__file__).resolve().parents[3] / "demo"
DRAWN = ("phone_call", "quoin_cavity", "terrace", "window_lime")
SCOPES = (LOCAL, PANEL, REPOINT)
plain = survey(crack("a", 3.0))
demos = [survey_file.load(path) for path in sorted(DEMO.glob("*.json")) if path.stem in DRAWN]
starts = st.sampled_from([plain, *demos]) | surveys
seeds = st.integers(0, 2**48)
"""What a hand does next is drawn from these: a hundred edits are too much to be drawn singly."""


@dataclass(frozen=True)
class Drawn:
    """A wall after so many edits, and what it was before each."""

    work: Work
    befores: tuple[Work, ...]
    refused: int


def drawn(survey: Survey, seed: int, edits: int) -> Drawn:
    """Edit a survey by hand so many times; anything but a refusal is a fault."""
    work, befores, refused = Work(survey), [], 0
    chance = Random(seed)
    for _number in range(edits):
        before = work
        try:
            work = next_edit(work, chance).after
        except UserMistake as mistake:
            assert_plain(mistake)
            assert work is before
            refused += 1
        else:
            befores.append(before)
    return Drawn(work, tuple(befores), refused)


def assert_plain(mistake: UserMistake) -> None:
    """A refusal is one sentence with no word of a file in it."""
    said = str(mistake)
    assert said.endswith(".")
    of_a_file = ("_mm", "elevation '", "[", "{", "from_", "\n")
    assert not [sign for sign in of_a_file if sign in said], said


def assert_kept(work: Work) -> tuple[Measure, ...]:
    """What is drawn reads back from its file and measures the same."""
    back = survey_file.read(survey_file.write(work.survey))
    assert back == work.survey
    rules = shipped()
    measures = measure_all(work.survey, SCOPES, rules)
    assert measures == measure_all(back, SCOPES, rules)
    return measures


def assert_pointed_at(survey: Survey, measures: tuple[Measure, ...]) -> None:
    """Every line leads to something drawn, and everything that is done leads to a line."""
    for one in measures:
        pictures = [picture_of(survey, at, one) for at in range(len(survey.elevations))]
        shown = {mark for picture in pictures if picture for mark in marks_of(picture)}
        for line in one.lines:
            assert line.marks, line
            assert set(line.marks) <= shown, (line, set(line.marks) - shown)
        priced = {mark for line in one.lines for mark in line.marks}
        for picture, side in zip(pictures, survey.elevations, strict=True):
            assert picture is not None
            unpriced = [mark for mark in done_of(picture, one) if mark not in priced]
            assert not unpriced, (one.scope.key, unpriced)
            assert_cracks_lead(picture, side, one, priced)


def marks_of(picture: Picture) -> Iterator[str]:
    """The marks of everything drawn, and of the side itself."""
    yield picture.elevation
    for group in (
        picture.cracks,
        picture.bars,
        picture.bricks,
        picture.areas,
        picture.joints,
        picture.beds,
        picture.thin_beds,
    ):
        for shape in group:
            yield shape.mark  # type: ignore[attr-defined]


def done_of(picture: Picture, measure: Measure) -> Iterator[str]:
    """The marks of bars, treated bricks and areas."""
    for bar in picture.bars:
        yield bar.mark
    for brick in picture.bricks:
        if brick.state is not BrickState.CRACKED:
            yield brick.mark
    if Kind.REPOINT_PANEL in measure.scope:
        for area in picture.areas:
            yield area.mark


def assert_cracks_lead(
    picture: Picture, elevation: Elevation, measure: Measure, priced: set[str]
) -> None:
    """A crack that is pointed leads to a line, unless other work makes all its joints new."""
    if Kind.POINT_CRACK not in measure.scope:
        return
    # A panel is all of it done; so are joints round new bricks and in slots, each on its own line.
    if picture.areas or any(brick.state is not BrickState.CRACKED for brick in picture.bricks):
        return
    slots = {bar.course for bar in picture.bars}
    for shape in picture.cracks:
        joints = {joint.mark for joint in picture.joints if joint.crack == shape.mark}
        if shape.mark in priced or joints & priced:
            continue
        beds = [bed for bed in picture.beds if shape.mark in bed.cracks]
        for bed in beds:
            # Less than half a hundredth of a metre is no length of any line.
            is_left = any(in_brickwork(box, elevation) > 5 for box in bed.boxes)
            assert bed.course in slots or not is_left, shape.mark


def in_brickwork(box: tuple[float, float, float, float], elevation: Elevation) -> float:
    """How much of the middle of a stretch of bed is brickwork [mm]."""
    left, bottom, right, top = box
    spans = wall_of(elevation).net.spans_at((bottom + top) / 2)
    return sum(max(min(right, far) - max(left, near), 0.0) for near, far in spans)


def assert_undone(survey: Survey, after: Drawn) -> None:
    """Undone edit by edit, the wall is to the byte what it was."""
    texts = [survey_file.write(one.survey) for one in after.befores]
    first = texts[0] if texts else survey_file.write(after.work.survey)
    assert first == survey_file.write(survey)
    for before, text in zip(reversed(after.befores), reversed(texts), strict=True):
        assert survey_file.write(before.survey) == text


def check_run(start: Survey, seed: int, edits: int) -> None:
    after = drawn(start, seed, edits)
    measures = assert_kept(after.work)
    assert_pointed_at(after.work.survey, measures)
    assert_undone(start, after)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(starts, seeds)
def test_a_wall_drawn_by_hand_is_kept_undone_and_pointed_at(start: Survey, seed: int) -> None:
    check_run(start, seed, 40)


@pytest.mark.long
@settings(max_examples=200, deadline=None, suppress_health_check=list(HealthCheck))
@given(starts, seeds)
def test_200_walls_of_100_edits_are_kept_undone_and_pointed_at(start: Survey, seed: int) -> None:
    check_run(start, seed, 100)
