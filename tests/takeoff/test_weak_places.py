"""Where cutting does harm: what is warned of, and what is not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.notices import Severity
from estimator.survey.survey import (
    Area,
    BedRun,
    Crack,
    CrackedBrick,
    Elevation,
    Lintel,
    Opening,
    Treatment,
)
from estimator.takeoff.lines import Measure
from estimator.takeoff.scope import LOCAL, PANEL
from tests.takeoff.walls import measured, rectangle, upright, wall, window

OVER = window(1125, 300, 900, 600)
"""Its head at 900 is the top of course 12."""


def texts(measure: Measure, code: str) -> list[str]:
    found = [one for one in measure.notices if one.code == code]
    assert all(one.severity is Severity.CAUTION for one in found)
    return [one.text for one in found]


def replaced(*places: tuple[int, int], treatment: Treatment = Treatment.REPLACE) -> Elevation:
    return wall(bricks=tuple(CrackedBrick(*place, treatment) for place in places), openings=(OVER,))


def test_a_brick_out_over_a_window_is_warned_of() -> None:
    # Course 13, places 6 to 9 lie over it from 1,125 on.
    assert texts(measured(replaced((13, 7))), "over_opening") == [
        "Front: 1 brick comes out over the window. Prop the wall first where the lintel has moved "
        "or was not seen, and ask a structural engineer how."
    ]
    assert texts(measured(replaced((13, 7), (13, 8), (14, 7))), "over_opening")[0].startswith(
        "Front: 3 bricks come out over the window. Take out one at a time, prop the wall first"
    )


def test_a_patched_brick_and_one_outside_the_triangle_are_not() -> None:
    assert not texts(measured(replaced((13, 7), treatment=Treatment.PATCH)), "over_opening")
    # At 45 degrees the triangle over 900 mm is 450 mm high: 6 courses, 13 to 18.
    # 385 mm up it is 65 mm wide to either side of 1,575: place 8 runs from 1,462.5 to 1,677.5.
    assert texts(measured(replaced((18, 8))), "over_opening")
    assert not texts(measured(replaced((18, 7))), "over_opening")
    assert not texts(measured(replaced((19, 7), (19, 8))), "over_opening")
    assert not texts(measured(replaced((13, 3))), "over_opening")


def test_bricks_span_a_vent_by_themselves() -> None:
    vent = Opening("v", 1125, 300, 225, 150, kind="vent")
    over = wall(bricks=(CrackedBrick(7, 6, Treatment.REPLACE),), openings=(vent,))
    assert not texts(measured(over), "over_opening")


@pytest.mark.parametrize(
    ("lintel", "shown"),
    [
        (Lintel.NOT_SEEN, "a lintel nobody has seen"),
        (Lintel.TIMBER, "a timber lintel"),
        (Lintel.BRICK, "an arch of brick"),
        (Lintel.CONCRETE, ""),
        (Lintel.STEEL, ""),
    ],
)
def test_a_bar_in_the_first_bed_over_a_window(lintel: Lintel, shown: str) -> None:
    # A crack from the head, 2 courses high, has its only bar in the bed under course 14.
    crack = upright("a", 1570, 13, 2)
    high = wall(crack, openings=(replace(OVER, lintel=lintel, height_mm=675),))
    found = texts(measured(high), "over_opening")
    assert bool(found) == bool(shown)
    if shown:
        assert found == [
            f"Front: bar 1 is cut into the first bed over the window, over {shown}. See what "
            "carries the wall there before the bed is cut."
        ]
    higher = wall(crack, openings=(replace(OVER, lintel=lintel),))
    assert not texts(measured(higher), "over_opening")


@pytest.mark.parametrize(("course", "count"), [(1, 1), (2, 1), (3, 0)])
def test_bricks_on_and_under_the_damp_course_are_warned_of(course: int, count: int) -> None:
    low = wall(bricks=(CrackedBrick(course, 3, Treatment.TURN),), damp_course_mm=80.0)
    assert len(texts(measured(low), "beside_damp_course")) == count
    assert not texts(measured(replace(low, damp_course_mm=None)), "beside_damp_course")


def test_pointing_the_bed_of_the_damp_course_is_warned_of() -> None:
    said = [
        "Front: the bed of the damp course is pointed. Keep its edge free: mortar over it lets "
        "damp past."
    ]
    low = wall(areas=(Area("x", rectangle(900, 300)),), damp_course_mm=80.0)
    assert texts(measured(low, scope=PANEL), "beside_damp_course") == said
    assert not texts(measured(low, scope=LOCAL), "beside_damp_course")
    high = replace(low, damp_course_mm=605.0)
    assert not texts(measured(high, scope=PANEL), "beside_damp_course")
    along = wall(Crack("a", BedRun(2, 900, 1800), 2.0), damp_course_mm=80.0)
    assert texts(measured(along), "beside_damp_course") == said


def test_an_area_drawn_in_a_window_is_not_said_to_be_unmarked() -> None:
    inside = Area("x", ((1200, 400), (1400, 400), (1400, 600), (1200, 600)))
    notices = measured(wall(areas=(inside,), openings=(OVER,)), scope=PANEL).notices
    assert [one.text for one in notices if one.code == "no_panel"] == [
        "Front: there is no brickwork in the area drawn, so none is repointed."
    ]


def test_a_crack_nobody_points_does_not_show_as_a_pointed_line() -> None:
    # One brick, cracked through: no joint to point, and nothing is done.
    brick = wall(upright("a", 110, 1, 1), width=215, height=75)
    assert not measured(brick).lines
    assert not measured(brick).visible
