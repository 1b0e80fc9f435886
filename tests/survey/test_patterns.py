"""Patterns that a survey lets us see, each with a crack that shows it and one that does not."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.notices import Notice
from estimator.survey import patterns
from estimator.survey.survey import (
    Answer,
    BedRun,
    Crack,
    CrackRun,
    Opening,
    SteppedRun,
    StraightRun,
    TracedRun,
    WallEnd,
)
from estimator.survey.triage_table import table
from tests.survey.walls import crack, elevation, survey

WINDOW = Opening("w", 1575.0, 900.0, 1350.0, 1200.0)
"""A window from 1,575 to 2,925 mm along and from 900 to 2,100 mm up."""


def seen(*cracks: Crack, **more: Any) -> list[str]:
    return [notice.code for notice in notices(*cracks, **more)]


def notices(*cracks: Crack, **more: Any) -> tuple[Notice, ...]:
    return patterns.patterns(survey(elevations=(elevation(*cracks, **more),)))


@pytest.mark.parametrize(
    ("run", "codes"),
    [
        # Up to the left corner of the sill from either side of it, and one that stays away from it.
        (SteppedRun(440.0, 2, 11.0), ["opening_corner"]),
        (SteppedRun(670.0, 2, 11.0), ["opening_corner", "below_sill"]),
        (SteppedRun(440.0, 2, 5.0), []),
        # Up the middle under the window, stopping three courses and eleven courses short.
        (TracedRun(((2200.0, 80.0), (2200.0, 700.0))), ["below_sill"]),
        (TracedRun(((2200.0, 80.0), (2200.0, 300.0))), []),
        # Down from the upper right corner of the window.
        (TracedRun(((2925.0, 2100.0), (3600.0, 2600.0))), ["opening_corner"]),
        # Along the bed above the head, far above it, beside it, and along its sill.
        (BedRun(30, 1300.0, 3200.0), ["level_above_opening"]),
        (BedRun(36, 1300.0, 3200.0), []),
        (BedRun(30, 3200.0, 4000.0), []),
        (BedRun(8, 1700.0, 2400.0), []),
    ],
)
def test_cracks_about_an_opening(run: CrackRun, codes: list[str]) -> None:
    assert seen(crack("a", 2.0, run), openings=(WINDOW,)) == codes


def test_without_openings_nothing_is_said_of_them() -> None:
    assert seen(crack("a", 2.0, SteppedRun(440.0, 2, 11.0))) == []


@pytest.mark.parametrize(
    ("x_mm", "tapers", "left_end", "is_seen"),
    [
        (600.0, Answer.NO, WallEnd.QUOIN, True),
        (600.0, Answer.NO, WallEnd.STOPPED, True),
        (600.0, Answer.NO, WallEnd.CONTINUES, False),
        (600.0, Answer.YES, WallEnd.QUOIN, False),
        (2200.0, Answer.NO, WallEnd.QUOIN, False),
    ],
)
def test_an_upright_crack_near_a_wall_end(
    x_mm: float, tapers: Answer, left_end: WallEnd, *, is_seen: bool
) -> None:
    straight = crack("a", 2.0, StraightRun(x_mm, 1, 20.0), tapers=tapers)
    assert ("upright_near_end" in seen(straight, left_end=left_end)) is is_seen


@pytest.mark.parametrize(
    ("run", "is_seen"),
    [
        (StraightRun(2200.0, 1, 20.0), True),
        (TracedRun(((2200.0, 80.0), (2200.0, 700.0)), through_bricks=True), True),
        (TracedRun(((2200.0, 80.0), (2200.0, 700.0))), False),
        (SteppedRun(2200.0, 1, 8.0), False),
    ],
)
def test_a_crack_through_bricks(run: CrackRun, *, is_seen: bool) -> None:
    assert ("through_bricks" in seen(crack("a", 2.0, run))) is is_seen


@pytest.mark.parametrize(
    ("courses", "is_seen"),
    [
        # Wall ties stand at about every sixth course, 450 mm (from memory).
        ((6, 12, 18), True),
        ((6, 12), False),
        ((6, 12, 20), False),
        ((6, 8, 10), False),
        ((10, 20, 30), False),
    ],
)
def test_level_cracks_as_far_apart_as_wall_ties(courses: tuple[int, ...], *, is_seen: bool) -> None:
    cracks = [crack(f"c{course}", 1.0, BedRun(course, 500.0, 2000.0)) for course in courses]
    assert ("regular_level_lines" in seen(*cracks)) is is_seen


def test_a_taper_is_seen() -> None:
    assert "tapering" in seen(crack("a", 2.0, tapers=Answer.YES))
    assert "tapering" not in seen(crack("a", 2.0, tapers=Answer.NOT_SURE))


def test_a_notice_names_its_cracks_and_counts_the_rest() -> None:
    cracks = [crack(f"c{n}", 2.0, StraightRun(400.0 * n, 1, 5.0)) for n in range(1, 9)]
    text = notices(*cracks)[0].text
    assert text.startswith("Crack c1 (Front), crack c2 (Front), ")
    assert "crack c6 (Front) and 2 more: " in text
    assert "crack c7" not in text


def test_braces_in_a_name_are_only_letters() -> None:
    wall = elevation(crack("{a}", 2.0, StraightRun(400.0, 1, 5.0)))
    assert "Crack {a} (Front)" in patterns.patterns(survey(elevations=(wall,)))[0].text


def test_every_pattern_of_the_table_can_be_seen() -> None:
    assert set(table().patterns) == set(patterns.SEEN)
