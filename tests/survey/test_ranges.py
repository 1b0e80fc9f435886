"""Ranges: drawn anywhere in a survey, and nothing else touched."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.survey.ranges import Range, likely, resolve, settled
from estimator.survey.survey import Crack, Elevation, SteppedRun

WALL = ((0.0, 0.0), (3000.0, 0.0), (3000.0, 2000.0), (0.0, 2000.0))


def _told(courses: Range) -> Elevation:
    crack = Crack("a", SteppedRun(500, 1, courses), Range(1, 2, 4))
    return Elevation("front", "Front", WALL, cracks=(crack,))


@pytest.mark.parametrize(("low", "middle", "high"), [(2, 1, 3), (1, 4, 3), (3, 2, 1)])
def test_a_range_out_of_order_is_refused(low: float, middle: float, high: float) -> None:
    with pytest.raises(ValueError, match="low through likely to high"):
        Range(low, middle, high)


def test_drawing_replaces_every_range_and_names_its_place() -> None:
    seen = []

    def top(path: str, told: Range) -> float:
        seen.append(path)
        return told.high

    drawn = resolve(_told(Range(10, 18, 24)), top)
    assert seen == ["cracks[0].run.courses", "cracks[0].width_mm"]
    assert drawn.cracks[0].run == SteppedRun(500, 1, 24)
    assert drawn.outline is WALL


def test_a_measured_survey_is_returned_as_it_is() -> None:
    measured = settled(_told(Range(10, 18, 24)))
    assert settled(measured) is measured


@given(st.floats(0, 1e6))
def test_a_plain_number_is_its_own_likely_value(value: float) -> None:
    assert likely(value) == value
