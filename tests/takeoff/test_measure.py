"""What holds of every measure: sums, marks, no joint twice, and more work is never less."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.masonry.joints import joints_in
from estimator.masonry.region import Region
from estimator.survey.ranges import Range
from estimator.survey.survey import Area, Basis, Crack, Elevation, StraightRun, WallEnd
from estimator.survey.wall import wall_of
from estimator.takeoff.lines import Item, Measure, Surety
from estimator.takeoff.measure import measure, measure_all
from estimator.takeoff.rules import changed, shipped
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT, USUAL, Scope, Work, own
from tests.takeoff.strategies import areas, bricks, elevations, runs
from tests.takeoff.walls import amount, measured, needed, rectangle, survey, upright, wall, window

EVERY_SCOPE = st.sampled_from([LOCAL, PANEL, REPOINT, own("Bars", frozenset({Work.STITCH}))])
FINE = changed(shipped(), bar_rounding_mm=1)
"""Bars to a millimetre, so that rounding to steps hides nothing."""
FEWER = settings(max_examples=max(settings().max_examples // 3, 1))
"""A whole survey is measured for each example."""
SLACK = 0.06
"""A centimetre for each line rounded, and a millimetre for each bar [m]."""


@FEWER
@given(elevations(), EVERY_SCOPE)
def test_every_line_is_marked_and_worked(front: Elevation, scope: Scope) -> None:
    found = measured(front, scope=scope)
    for line in found.lines:
        assert line.marks
        assert all(mark == "front" or mark.startswith("front/") for mark in line.marks)
        assert line.working
        assert line.quantity.amount > 0
    assert all(need.working and need.quantity.amount > 0 for need in found.needs)
    assert len({line.item for line in found.lines}) == len(found.lines)


@FEWER
@given(elevations(), EVERY_SCOPE)
def test_measuring_twice_gives_the_same(front: Elevation, scope: Scope) -> None:
    assert measured(front, scope=scope) == measured(front, scope=scope)


@FEWER
@given(elevations("front"), elevations("side"), EVERY_SCOPE)
def test_two_sides_together_are_the_sum_of_each(
    front: Elevation, side: Elevation, scope: Scope
) -> None:
    both, one, two = (measured(*sides, scope=scope) for sides in [(front, side), (front,), (side,)])
    assert both.lines == one.lines + two.lines
    assert both.needs == one.needs + two.needs
    assert both.bars == one.bars + two.bars
    assert both.reaches == one.reaches + two.reaches


@FEWER
@given(elevations())
def test_scopes_measured_together_are_as_measured_alone(front: Elevation) -> None:
    seen = survey(front)
    together = measure_all(seen, (LOCAL, PANEL, REPOINT), shipped())
    assert together == tuple(measure(seen, scope, shipped()) for scope in (LOCAL, PANEL, REPOINT))


def joint_m(front: Elevation, region: Region) -> float:
    """All the joint in a region of the wall."""
    laid = wall_of(front)
    return joints_in(laid.coursing, laid.net.within(region)).joint_m


@FEWER
@given(elevations(), areas().filter(bool))
def test_areas_over_each_other_are_raked_once(front: Elevation, drawn: tuple[Area, ...]) -> None:
    front = replace(front, areas=drawn, cracks=(), bricks=(), hidden_bricks=0.0)
    raked = amount(measured(front, scope=REPOINT), Item.RAKE_OUT)
    regions = [Region.of(area.outline) for area in drawn]
    whole = sum(joint_m(front, region) for region in regions)
    if len(regions) == 2:
        whole -= joint_m(front, regions[0].within(regions[1]))
    assert raked == pytest.approx(whole, abs=0.0051)


@FEWER
@given(elevations(), areas().filter(bool))
def test_slots_are_not_raked_again(front: Elevation, drawn: tuple[Area, ...]) -> None:
    front = replace(front, areas=drawn, bricks=(), hidden_bricks=0.0)
    found = measured(front, scope=PANEL)
    in_panel = amount(found, Item.CUT_SLOT) - amount(found, Item.POINT_SLOT)
    alone = measured(replace(front, cracks=()), scope=PANEL)
    all_joints = amount(alone, Item.RAKE_OUT)
    assert amount(found, Item.RAKE_OUT) + in_panel == pytest.approx(all_joints, abs=0.02)


@FEWER
@given(elevations(), areas().filter(bool))
def test_joints_round_new_bricks_are_not_raked_again(
    front: Elevation, drawn: tuple[Area, ...]
) -> None:
    front = replace(front, areas=drawn, cracks=())
    with_bricks = amount(measured(front, scope=PANEL), Item.RAKE_OUT)
    without = amount(measured(replace(front, bricks=()), scope=PANEL), Item.RAKE_OUT)
    assert with_bricks <= without


def totals(found: Measure) -> dict[str, float]:
    """What more work can never make less: each kind, or kinds that take each other's place."""
    slots = amount(found, Item.CUT_SLOT)
    return {
        "slots": slots,
        "bars": amount(found, Item.SET_BAR),
        "skimmed": amount(found, Item.SKIM_ARRIS),
        "beds pointed": amount(found, Item.POINT_SLOT) + amount(found, Item.POINT_CRACK_BED),
        "perpends": amount(found, Item.POINT_PERPEND),
        "joints opened": slots + amount(found, Item.RAKE_OUT),
        "repointed": amount(found, Item.REPOINT),
        "sheets": amount(found, Item.PROTECT),
        "grout": needed(found, "grout"),
    }


def assert_no_less(more: Measure, less: Measure) -> None:
    """Check every total, rounding allowed for."""
    now = totals(more)
    assert {key: value for key, value in totals(less).items() if now[key] < value - SLACK} == {}


@FEWER
@given(elevations(), runs(), EVERY_SCOPE)
def test_another_crack_is_never_less_work(front: Elevation, run: StraightRun, scope: Scope) -> None:
    another = replace(front, cracks=(*front.cracks, Crack("z", run, 2.0)))
    less, more = (measured(one, scope=scope, rules=FINE) for one in (front, another))
    assert_no_less(more, less)


@FEWER
@given(elevations(), bricks(), EVERY_SCOPE)
def test_more_bricks_are_never_less_work(front: Elevation, more: object, scope: Scope) -> None:
    added = replace(front, bricks=front.bricks + more)  # type: ignore[operator]
    less, now = measured(front, scope=scope), measured(added, scope=scope)
    for item in (Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.TURN_BRICK, Item.PATCH_BRICK):
        assert amount(now, item) >= amount(less, item)
    assert amount(now, Item.REPOINT) >= amount(less, Item.REPOINT)
    assert needed(now, "facing_brick") >= needed(less, "facing_brick")


@FEWER
@given(elevations().filter(lambda front: front.areas), areas(), EVERY_SCOPE)
def test_a_larger_area_is_never_less_work(
    front: Elevation, more: tuple[Area, ...], scope: Scope
) -> None:
    larger = replace(front, areas=(*front.areas, *(replace(one, id="z" + one.id) for one in more)))
    less, now = measured(front, scope=scope), measured(larger, scope=scope)
    assert amount(now, Item.RAKE_OUT) >= amount(less, Item.RAKE_OUT)
    assert amount(now, Item.REPOINT) >= amount(less, Item.REPOINT)


def test_ranges_are_taken_at_their_likely_value() -> None:
    told = Crack("a", StraightRun(2020, 1, Range(12, 24, 36)), Range(1, 2, 3))
    plain = upright("a", 2020)
    assert measured(wall(told)).lines == measured(wall(plain)).lines


def test_the_mortar_asked_for_is_used() -> None:
    seen = survey(wall(upright("a", 2020)), new_mortar="nhl35_1_2")
    assert {one.conditions.new_mortar for one in measure(seen, LOCAL, shipped()).lines} == {
        "nhl35_1_2"
    }


def test_nothing_seen_is_nothing_measured() -> None:
    for found in measure_all(survey(wall()), USUAL, shipped()):
        assert (found.lines, found.bars, found.needs, found.reaches) == ((), (), (), ())
    assert "no_panel" in {notice.code for notice in found.notices}


def test_a_crack_wholly_in_an_opening_is_no_work() -> None:
    front = wall(upright("a", 2020, 12, 6), openings=(window(1500, 600, 1000, 900),))
    found = measured(front)
    assert (found.lines, found.reaches) == ((), ())


def test_conditions_say_what_pricing_needs() -> None:
    found = measured(wall(upright("a", 2020)), scope=PANEL)
    (raked,) = [line for line in found.lines if line.item is Item.RAKE_OUT]
    assert raked.conditions.mortar == "cement-lime"
    assert raked.conditions.bond == "stretcher"
    assert raked.conditions.depth_mm == 20
    # 17.1852 m of joint in a square metre of stretcher bond: computed, masonry's own check.
    assert raked.conditions.joint_m_per_m2 == "17.1852"


def test_slots_round_the_quoin_are_not_left_unsaid() -> None:
    front = wall(upright("a", 4270), right_end=WallEnd.QUOIN)
    for scope in USUAL:
        seen = measured(front, scope=scope).visible
        assert any("Round the quoin, eight paler lines" in one for one in seen)


def test_each_scope_says_what_stays_visible() -> None:
    local, panel = measure_all(survey(wall(upright("a", 2020))), USUAL, shipped())
    assert local.visible == (
        "Eight paler lines, 1.00 m long, until they weather.",
        "The crack shows as a pointed line until it weathers.",
    )
    assert len(panel.visible) == 1
    assert "reads as one" in panel.visible[0]


def test_sides_are_named_where_there_are_several() -> None:
    back = wall(upright("a", 2020), id="back", name="Back")
    found = measured(wall(upright("a", 2020)), back)
    assert found.visible[0].startswith("Front: eight paler lines")
    assert found.visible[2].startswith("Back: eight paler lines")


def test_a_panel_covers_the_crack_and_its_slots() -> None:
    found = measured(wall(upright("a", 2020)), scope=PANEL)
    items = {line.item for line in found.lines}
    assert not items & {Item.POINT_SLOT, Item.POINT_CRACK_BED, Item.POINT_PERPEND}
    assert {Item.CUT_SLOT, Item.SET_BAR, Item.RAKE_OUT, Item.REPOINT} <= items


def test_work_outside_a_drawn_area_is_still_pointed() -> None:
    # The area covers x from 2020 on: half of every bar of 1 m, four of 24 courses' perpends.
    area = Area("a", tuple((2020 + x, y) for x, y in rectangle(2000, 2700)))
    found = measured(wall(upright("a", 2020), areas=(area,)), scope=PANEL)
    assert amount(found, Item.POINT_SLOT) == 4.0


def test_what_was_told_is_assumed() -> None:
    told = replace(survey(wall(upright("a", 2020), hidden_bricks=2.0)), basis=Basis.TOLD)
    found = measure(told, LOCAL, shipped())
    assert {one.surety for one in found.lines} == {Surety.ASSUMED, Surety.ALLOWED}
