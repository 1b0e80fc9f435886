"""The survey file: what is written reads back the same, and nothing read breaks the program."""

from __future__ import annotations

import json
import textwrap
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.notices import UserMistake
from estimator.survey import survey_file, survey_shapes
from estimator.survey.ranges import Range
from estimator.survey.reading import Shape
from estimator.survey.survey import (
    Area,
    Asked,
    Brickwork,
    Crack,
    CrackedBrick,
    Elevation,
    EngineersReport,
    HandBar,
    Opening,
    Party,
    Photo,
    PhotoPoint,
    Reading,
    Signs,
    Site,
    Survey,
    ThinBed,
    WidthAt,
)
from tests.bad_surveys.good import good
from tests.bad_surveys.make import inside
from tests.survey.strategies import surveys

SHAPES = {
    Survey: survey_shapes.SURVEY,
    Elevation: survey_shapes.ELEVATION,
    Brickwork: survey_shapes.BRICKWORK,
    Crack: survey_shapes.CRACK,
    CrackedBrick: survey_shapes.BRICK,
    Opening: survey_shapes.OPENING,
    Area: survey_shapes.AREA,
    ThinBed: survey_shapes.THIN_BED,
    Signs: survey_shapes.SIGNS,
    Party: survey_shapes.PARTY,
    Site: survey_shapes.SITE,
    EngineersReport: survey_shapes.REPORT,
    Asked: survey_shapes.ASKED,
    Reading: survey_shapes.READING,
    WidthAt: survey_shapes.WIDTH,
    HandBar: survey_shapes.HAND_BAR,
    Photo: survey_shapes.PHOTO,
    PhotoPoint: survey_shapes.PHOTO_POINT,
    **{kind: survey_shapes.RUNS[tag] for kind, tag in survey_shapes.RUN_TAGS.items()},
}
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=9),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner),
    max_leaves=9,
)


def documented_example() -> str:
    described = survey_file.__doc__ or ""
    return textwrap.dedent(described.split("complete::")[1].split("Fields marked")[0])


def paths_in(value: Any, before: str = "") -> list[str]:
    """The dotted path of everything inside a JSON value."""
    inner = value.items() if isinstance(value, dict) else enumerate(value)
    found = []
    for key, part in inner:
        found.append(f"{before}{key}")
        if isinstance(part, dict | list):
            found += paths_in(part, f"{before}{key}.")
    return found


@given(surveys)
def test_a_survey_reads_back_as_it_was_written(survey: Survey) -> None:
    assert survey_file.read(survey_file.write(survey)) == survey


@given(surveys)
def test_writing_again_changes_nothing(survey: Survey) -> None:
    written = survey_file.write(survey)
    assert survey_file.write(survey_file.read(written)) == written


def test_a_file_typed_by_hand_settles_after_one_writing() -> None:
    written = survey_file.write(survey_file.read(json.dumps(good())))
    assert survey_file.write(survey_file.read(written)) == written


def test_the_example_in_the_description_reads() -> None:
    survey = survey_file.read(documented_example())
    assert survey.elevations[0].cracks[0].width_mm == 3.0


@pytest.mark.parametrize("kind", SHAPES, ids=lambda kind: kind.__name__)
def test_every_field_has_a_reader_and_a_description(kind: type) -> None:
    shape: Shape[Any] = SHAPES[kind]
    names = {entry.name for entry in fields(kind)}
    assert set(shape.fields) == names
    assert not {name for name in names if f"``{name}``" not in (survey_file.__doc__ or "")}


def test_ranges_are_written_by_their_three_names() -> None:
    survey = survey_file.read(json.dumps(good()))
    assert survey.elevations[1].cracks[0].width_mm == Range(1.0, 2.0, 4.0)
    assert '"width_mm": {"low": 1, "likely": 2, "high": 4}' in survey_file.write(survey)


def test_runs_are_tagged() -> None:
    text = survey_file.write(survey_file.read(json.dumps(good())))
    assert all(f'"runs": "{tag}"' in text for tag in ("stepped", "straight", "bed", "traced"))


def test_usual_values_are_left_out() -> None:
    text = survey_file.write(survey_file.read(json.dumps(good())))
    assert '"stitch"' not in text
    assert '"kind": "window"' not in text


def test_letters_of_every_script_are_kept() -> None:
    survey = good() | {"title": "شرخ 🧱 \u202bفي الجدار\u202c", "said": "one\ntwo\tthree"}
    read = survey_file.read(json.dumps(survey))
    assert (read.title, read.said) == (survey["title"], survey["said"])
    assert survey["title"] in survey_file.write(read)


@settings(max_examples=150)
@given(path=st.sampled_from(paths_in(good())), value=JSON)
def test_anything_put_anywhere_is_read_or_refused_plainly(path: str, value: object) -> None:
    changed = good()
    holder, key = inside(changed, path)
    holder[key] = value
    try:
        survey_file.read(json.dumps(changed))
    except UserMistake as mistake:
        assert str(mistake).isprintable()
        assert len(str(mistake)) <= 300


@settings(max_examples=300)
@given(at=st.integers(0, 3000), old=st.integers(0, 3), new=st.text(max_size=3))
def test_letters_changed_anywhere_are_read_or_refused_plainly(at: int, old: int, new: str) -> None:
    text = json.dumps(good())
    try:
        survey_file.read(text[:at] + new + text[at + old :])
    except UserMistake as mistake:
        assert str(mistake).isprintable()
