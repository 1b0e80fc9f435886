"""Sizes as a tradesman types them into the particulars."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.desktop.wall.particulars import typed
from estimator.desktop.wall.particulars.typed import Way, read
from estimator.survey.survey import Brickwork
from estimator.survey.wall import coursing_of

METRIC = coursing_of(Brickwork())
"""215 × 102.5 × 65 with 10 mm joints (BS EN 771-1's UK format): 225 by 75 mm, from memory."""


@pytest.mark.parametrize(
    ("said", "way", "wanted"),
    [
        ("1.2 m", Way.ALONG, 1200.0),
        ("1200", Way.ALONG, 1200.0),
        ("1.2", Way.ALONG, 1200.0),
        ("5 bricks", Way.ALONG, 1125.0),
        ("5 b", Way.ALONG, 1125.0),
        ("12 courses", Way.UP, 900.0),
        ("12 c", Way.UP, 900.0),
        ("4 ft", Way.UP, 1219.2),
        ("0", Way.ALONG, 0.0),
        ("-75 mm", Way.UP, -75.0),
        ("8", Way.SMALL, 8.0),
        ("9.5 mm", Way.SMALL, 9.5),
        ("3", Way.NUMBER, 3.0),
    ],
)
def test_a_size_is_understood(said: str, way: Way, wanted: float) -> None:
    assert read(said, way, METRIC) == typed.Typed(wanted)


@pytest.mark.parametrize(
    ("said", "way", "why"),
    [
        ("12", Way.ALONG, "12 of what? Add m, mm, or bricks."),
        ("12", Way.UP, "12 of what? Add m, mm, or courses."),
        ("4 courses", Way.ALONG, "Courses are counted upward. Along the wall say bricks, m or mm."),
        ("wide", Way.ALONG, "“wide” is no size yet. Say it like “1.2 m”, “1200” or “5 bricks”."),
        ("1,5 m", Way.UP, "“1,5 m” is written with another decimal sign. Say it like “1.5”."),
        ("3 mm", Way.NUMBER, "“3 mm” is a size. Say a number, like “3”."),
    ],
)
def test_why_a_size_is_none(said: str, way: Way, why: str) -> None:
    assert read(said, way, METRIC) == typed.Typed(why=why)


@given(st.integers(100, 60_000))
def test_a_size_written_is_read_back(size: int) -> None:
    for way in (Way.ALONG, Way.UP):
        assert read(typed.in_mm(size), way, METRIC).amount == size
        assert read(typed.in_metres(size), way, METRIC).amount == pytest.approx(size)


@given(st.integers(1, 200))
def test_bricks_and_courses_written_are_read_back(number: int) -> None:
    along, up = number * 225.0, number * 75.0
    assert read(typed.in_bricks(along, METRIC), Way.ALONG, METRIC).amount == along
    assert read(typed.in_courses(up, METRIC), Way.UP, METRIC).amount == up
