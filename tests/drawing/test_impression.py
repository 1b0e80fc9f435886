"""What will show, held to the measured lines: the same metres, the same perpends, the same places.

The outside check is the takeoff, whose quantities are held to handbooks in its own tests.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.drawing.impression import Impression, Why, impression_of
from estimator.drawing.shapes import BrickState
from estimator.masonry.joints import joints_in
from estimator.masonry.region import Region
from estimator.survey import ranges, survey_file
from estimator.survey.survey import (
    Area,
    Basis,
    Crack,
    CrackedBrick,
    Elevation,
    Opening,
    Party,
    Site,
    SteppedRun,
    Survey,
    Treatment,
)
from estimator.survey.wall import coursing_of, wall_of
from estimator.takeoff.lines import Item, Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import ALL, LOCAL, PANEL, Scope, Work, own

DEMO = Path(__file__).resolve().parents[2] / "demo"
DEMOS = ("phone_call", "window_lime", "quoin_cavity", "terrace")
ROUNDED_M = 0.0051
"""Lines are whole centimetres; two lines of one side may each be half of one off."""


@cache
def demo(name: str) -> Survey:
    return survey_file.read((DEMO / f"{name}.json").read_text(encoding="utf-8"))


@cache
def work(name: str, scope: Scope) -> Measure:
    return measure(demo(name), scope, shipped())


def seen(name: str, scope: Scope | None = None) -> Impression:
    found = impression_of(demo(name), 0, None if scope is None else work(name, scope))
    assert found is not None
    return found


def quantity(measured: Measure, *items: Item) -> float:
    return float(sum(one.quantity.amount for one in measured.lines if one.item in items))


def legs_m(measured: Measure) -> float:
    """Return what of the slots lies round the quoin, on the other side of the corner."""
    return sum(bar.turn_left_mm + bar.turn_right_mm for bar in measured.bars) / 1000


@pytest.mark.parametrize("name", DEMOS)
def test_pointed_locally_shows_the_metres_that_are_measured(name: str) -> None:
    measured, shown = work(name, LOCAL), seen(name, LOCAL)
    slots = quantity(measured, Item.POINT_SLOT) - legs_m(measured)
    assert shown.metres(Why.SLOT) == pytest.approx(slots, abs=ROUNDED_M)
    beds = shown.metres(Why.CRACK, perpends=False)
    assert beds == pytest.approx(quantity(measured, Item.POINT_CRACK_BED), abs=ROUNDED_M)
    perpends = sum(one.why is Why.CRACK and not one.is_bed for one in shown.joints)
    assert perpends == quantity(measured, Item.POINT_PERPEND)
    assert shown.metres(Why.PANEL) == 0


@pytest.mark.parametrize("name", DEMOS)
def test_a_panel_shows_all_its_joints_and_nothing_else_in_it(name: str) -> None:
    measured, shown = work(name, PANEL), seen(name, PANEL)
    local = seen(name, LOCAL)
    # Raked out is what no slot and no new brick has opened already.
    opened = local.metres(Why.SLOT) + local.metres(Why.BRICK)
    outside = shown.metres(Why.SLOT, Why.BRICK)
    raked = quantity(measured, Item.RAKE_OUT)
    assert shown.metres(Why.PANEL) == pytest.approx(raked + opened - outside, abs=2 * ROUNDED_M)
    net = panel_of(demo(name), measured)
    for one in shown.joints:
        if one.why is not Why.PANEL:
            part = Region((one.part,))
            assert part.within(net).area_mm2 == pytest.approx(0, abs=1e-3)


def panel_of(survey: Survey, measured: Measure) -> Region:
    wall = wall_of(ranges.settled(survey.elevations[0]))
    return wall.net.within(Region.of(*(one.corners for one in measured.panels)))


@pytest.mark.parametrize("name", DEMOS)
def test_a_panel_has_every_joint_that_laying_its_courses_gives(name: str) -> None:
    survey, measured = demo(name), work(name, PANEL)
    coursing = coursing_of(ranges.settled(survey.elevations[0]).brickwork)
    laid = joints_in(coursing, panel_of(survey, measured))
    shown = seen(name, PANEL)
    assert shown.metres(Why.PANEL, perpends=False) == pytest.approx(laid.bed_m, abs=1e-6)
    assert shown.metres(Why.PANEL, beds=False) == pytest.approx(laid.perpend_m, abs=1e-6)


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("scope", ALL.values(), ids=ALL)
def test_new_mortar_lies_on_brickwork_and_each_place_once(name: str, scope: Scope) -> None:
    net = wall_of(ranges.settled(demo(name).elevations[0])).net
    beds = [one for one in seen(name, scope).joints if one.is_bed]
    for one in seen(name, scope).joints:
        part = Region((one.part,))
        assert part.without(net).area_mm2 == pytest.approx(0, abs=1e-3)
    together = Region.of(*(ring for one in beds for ring in Region((one.part,)).rings()))
    apart = sum(one.part.area_mm2 for one in beds)
    assert together.area_mm2 == pytest.approx(apart, rel=1e-6, abs=1e-3)


@pytest.mark.parametrize("name", DEMOS)
def test_before_anything_is_done_the_whole_crack_shows_and_nothing_is_new(name: str) -> None:
    before = seen(name)
    assert before.is_untouched
    assert not before.joints
    assert before.cracks


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("scope", [LOCAL, PANEL], ids=["local", "panel"])
def test_no_crack_shows_in_a_joint_that_was_pointed(name: str, scope: Scope) -> None:
    after = seen(name, scope)
    for crack in after.cracks:
        for (x, y), (to_x, to_y) in zip(crack.points, crack.points[1:], strict=False):
            middle = (x + to_x) / 2, (y + to_y) / 2
            assert not any(Region((one.part,)).holds(middle) for one in after.joints)


FRONT = Elevation(
    "front",
    "Front",
    ((0, 0), (4500, 0), (4500, 3000), (0, 3000)),
    openings=(Opening("window", 1800, 1200, 1000, 1050, sill_mm=75),),
    cracks=(Crack("a", SteppedRun(1100, 3, 14), 2.0),),
)


def made(**changes: object) -> Survey:
    front = replace(FRONT, **changes)  # type: ignore[arg-type]
    return Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))


def shown(survey: Survey, scope: Scope) -> Impression:
    found = impression_of(survey, 0, measure(survey, scope, shipped()))
    assert found is not None
    return found


def test_bricks_are_seen_as_they_are_treated_and_cracked_where_they_are_left() -> None:
    bricks = (
        CrackedBrick(5, 3, Treatment.REPLACE),
        CrackedBrick(20, 3, Treatment.TURN),
        CrackedBrick(25, 4, Treatment.PATCH),
        CrackedBrick(30, 2, Treatment.LEAVE),
    )
    survey = made(bricks=bricks, cracks=())
    states = [one.state for one in shown(survey, LOCAL).bricks]
    cracked = BrickState.CRACKED
    assert states == [BrickState.REPLACE, BrickState.TURN, BrickState.PATCH, cracked]
    stitched = own("Stitch only", frozenset({Work.STITCH}))
    assert {one.state for one in shown(survey, stitched).bricks} == {cracked}
    # A brick cut out is bedded anew all round; one that is patched is not.
    coursing = coursing_of(FRONT.brickwork)
    across = coursing.brick.length_mm + 2 * coursing.perpend_mm
    around = 2 * 2 * across + 4 * coursing.face_height_mm
    assert shown(survey, LOCAL).metres(Why.BRICK) == pytest.approx(around / 1000)


def test_a_crack_stitched_and_not_pointed_stays_to_be_seen_between_the_bars() -> None:
    stitched = own("Stitch only", frozenset({Work.STITCH}))
    survey = made()
    after, before = shown(survey, stitched), impression_of(survey)
    assert before is not None
    assert drawn_mm(after) < drawn_mm(before)
    assert drawn_mm(after) > 0
    assert after.metres(Why.CRACK) == 0
    assert drawn_mm(shown(survey, LOCAL)) == 0


def drawn_mm(one: Impression) -> float:
    return sum(
        abs(to_x - x) + abs(to_y - y)
        for crack in one.cracks
        for (x, y), (to_x, to_y) in zip(crack.points, crack.points[1:], strict=False)
    )


@given(
    st.tuples(st.floats(0, 4000), st.floats(0, 2500)),
    st.tuples(st.floats(300, 3000), st.floats(300, 2500)),
    st.integers(100, 3000),
    st.integers(1, 20),
)
def test_any_area_and_crack_show_what_is_measured(
    corner: tuple[float, float], size: tuple[float, float], x: int, course: int
) -> None:
    (left, bottom), (wide, high) = corner, size
    outline = (
        (left, bottom),
        (left + wide, bottom),
        (left + wide * 0.9, bottom + high),
        (left, bottom + high),
    )
    crack = Crack("a", SteppedRun(x, course, 12), 2.0)
    survey = made(areas=(Area("one", outline),), cracks=(crack,))
    measured = measure(survey, PANEL, shipped())
    after = shown(survey, PANEL)
    slots = quantity(measured, Item.POINT_SLOT) - legs_m(measured)
    assert after.metres(Why.SLOT) == pytest.approx(slots, abs=ROUNDED_M)
    beds = quantity(measured, Item.POINT_CRACK_BED)
    assert after.metres(Why.CRACK, perpends=False) == pytest.approx(beds, abs=ROUNDED_M)
    if measured.panels:
        laid = joints_in(coursing_of(FRONT.brickwork), panel_of(survey, measured))
        assert after.metres(Why.PANEL) == pytest.approx(laid.joint_m, abs=1e-6)
