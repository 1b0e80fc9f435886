"""The decision table, row by row, in its order.

The table is the trade's own caution in the order of danger, built on BRE Digest 251's classes: no
published table of routes exists, so each row is checked against the house's table as written (ids,
triggers and outcomes R1 to R13), and the properties below hold for any answers at all.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator import sources
from estimator.notices import Severity
from estimator.sources import Trust
from estimator.survey import triage
from estimator.survey.ranges import Range
from estimator.survey.survey import Answer, Area, Basis, BedRun, Opening, Signs, Survey
from estimator.survey.triage import Assessment, Route
from estimator.survey.triage_table import table
from estimator.survey.triggers import TRIGGERS
from tests.survey.strategies import surveys
from tests.survey.walls import OUTLINE, REPORT, crack, elevation, signs, survey

YES, NO, NOT_SURE = Answer.YES, Answer.NO, Answer.NOT_SURE
DANGER = [Route.MONITOR, Route.PRICE, Route.RANGE, Route.VISIT, Route.REFER, Route.STOP]
"""Routes from the least danger to the most; to watch a hairline is less than to repair a crack."""
DANGER_SIGNS = [
    name for name in Signs.__slots__ if name not in ("listed_or_conservation", "shared_wall")
]


def assess(*widths_mm: Any, answers: dict[str, Answer] | None = None, **more: Any) -> Assessment:
    cracks = [crack(f"c{number}", width) for number, width in enumerate(widths_mm)]
    return triage.assess(survey(*cracks, signs=signs(**(answers or {})), **more))


def fired(found: Assessment) -> list[str]:
    return [outcome.id for outcome in found.outcomes]


def codes(found: Assessment) -> list[str]:
    return [notice.code for notice in found.notices]


def settled_by(found: Assessment) -> str:
    return next(outcome.id for outcome in found.outcomes if outcome.route is not None)


ONE_SIGN = [
    ("R1", "loose_or_falling", Route.STOP),
    ("R1", "lintel_dropped", Route.STOP),
    ("R1", "sudden_after_impact", Route.STOP),
    ("R1", "gas_smell", Route.STOP),
    ("R2", "floors_sloping", Route.REFER),
    ("R2", "bearing_lost", Route.REFER),
    ("R2", "bulging_or_leaning", Route.REFER),
    ("R3", "growing", Route.REFER),
    ("R3", "reopened_after_repair", Route.REFER),
    ("R4", "doors_sticking", Route.REFER),
    ("R5", "trees_on_clay", Route.REFER),
    ("R5", "leaking_drain", Route.REFER),
    ("R5", "mining", Route.REFER),
    ("R5", "insurance_claim", Route.REFER),
    ("R6", "walls_removed", Route.REFER),
    ("R6", "lintel_unknown", Route.REFER),
    ("R6", "level_crack_above_opening", Route.REFER),
    ("R6", "roof_spread", Route.REFER),
    ("R6", "leaning_garden_wall", Route.REFER),
    ("R6", "loose_gable_or_parapet", Route.REFER),
    ("R7", "regular_level_lines", Route.REFER),
    ("R10", "full_height_at_junction", Route.VISIT),
]


@pytest.mark.parametrize(("row", "sign", "route"), ONE_SIGN)
def test_one_sign_settles_the_route(row: str, sign: str, route: Route) -> None:
    found = assess(2.0, answers={sign: YES})
    assert (settled_by(found), found.route) == (row, route)


def test_every_sign_belongs_to_a_row() -> None:
    assert {sign for _row, sign, _route in ONE_SIGN} == set(DANGER_SIGNS)


def test_a_bulging_wall_with_loose_bricks_stops_the_job() -> None:
    # Check value: a 2 mm crack, the wall bulging with loose bricks.
    found = assess(2.0, answers={"bulging_or_leaning": YES, "loose_or_falling": YES})
    assert (settled_by(found), found.route) == ("R1", Route.STOP)
    assert "0800 111 999" in found.outcomes[0].words
    assert found.notices[0].severity is Severity.STOP


@pytest.mark.parametrize("width_mm", [20.0, 30.0])
def test_categories_4_and_5_go_to_an_engineer(width_mm: float) -> None:
    found = assess(width_mm)
    assert (settled_by(found), found.route) == ("R2", Route.REFER)


@pytest.mark.parametrize("sign", ["gas_smell", "trees_on_clay", "walls_removed"])
def test_where_no_price_is_given_nobody_is_told_the_repair_is_usual_work(sign: str) -> None:
    found = assess(2.0, answers={sign: YES})
    assert not found.route.allows_price
    assert not {"R12", "R13"} & {*fired(found), *codes(found)}


def test_sticking_doors_with_growth_not_known_may_be_movement() -> None:
    found = assess(2.0, answers={"doors_sticking": YES, "growing": NOT_SURE})
    assert fired(found)[:2] == ["R3", "R4"]
    assert "monitor" in codes(found)


@pytest.mark.parametrize("widths_mm", [(7.0,), (3.0, 3.0, 4.0)])
def test_category_3_goes_to_an_engineer(widths_mm: tuple[float, ...]) -> None:
    found = assess(*widths_mm)
    assert (settled_by(found), found.route) == ("R4", Route.REFER)


@pytest.mark.parametrize(("sign", "row"), [("listed_or_conservation", "R8"), ("shared_wall", "R9")])
def test_a_caution_leaves_the_route_to_later_rows(sign: str, row: str) -> None:
    found = assess(2.0, answers={sign: YES})
    assert fired(found) == [row, "R12"]
    assert found.outcomes[0].route is None
    assert found.route is Route.PRICE
    assert found.notices[0].severity is Severity.CAUTION


@pytest.mark.parametrize(
    "sign",
    [
        "growing",
        "reopened_after_repair",
        "doors_sticking",
        "floors_sloping",
        "bulging_or_leaning",
        "loose_or_falling",
    ],
)
def test_an_answer_that_matters_and_is_not_known_asks_for_a_visit(sign: str) -> None:
    found = assess(2.0, answers={sign: NOT_SURE})
    assert (settled_by(found), found.route) == ("R11", Route.VISIT)
    assert found.outcomes[0].because.startswith("not known")


@pytest.mark.parametrize(
    ("width_mm", "route"),
    [
        (Range(1.0, 3.0, 5.0), Route.PRICE),
        (Range(0.9, 3.0, 5.0), Route.VISIT),
    ],
)
def test_a_width_told_over_more_than_4_mm_is_not_known(width_mm: Range, route: Route) -> None:
    assert assess(width_mm).route is route


def test_a_crack_nobody_looked_behind_asks_for_a_visit() -> None:
    found = triage.assess(survey(crack("a", 2.0, both_faces=NOT_SURE)))
    assert (settled_by(found), found.route) == ("R11", Route.VISIT)


@pytest.mark.parametrize(
    ("width_mm", "basis", "row", "route"),
    [
        (2.0, Basis.TOLD, "R12", Route.RANGE),
        (2.0, Basis.MEASURED, "R12", Route.PRICE),
        (0.5, Basis.TOLD, "R13", Route.RANGE),
        (0.5, Basis.MEASURED, "R13", Route.PRICE),
        (0.05, Basis.TOLD, "R13", Route.MONITOR),
        (0.05, Basis.MEASURED, "R13", Route.MONITOR),
    ],
)
def test_slight_damage_is_priced_where_it_was_measured(
    width_mm: float, basis: Basis, row: str, route: Route
) -> None:
    found = assess(width_mm, basis=basis)
    assert (settled_by(found), found.route) == (row, route)


def test_slight_damage_told_to_show_on_both_faces_is_seen_first() -> None:
    found = triage.assess(survey(crack("a", 2.0, both_faces=YES), basis=Basis.TOLD))
    assert (settled_by(found), found.route) == ("R12", Route.VISIT)


def test_a_wall_to_be_repointed_is_priced_though_it_has_no_crack() -> None:
    wall = elevation(areas=(Area("p", OUTLINE),))
    assert triage.assess(survey(elevations=(wall,))).route is Route.PRICE
    assert triage.assess(survey()).route is Route.MONITOR


def test_a_hairline_is_watched() -> None:
    assert "watch it" in assess(0.05).outcomes[-1].words


def test_a_level_crack_drawn_above_an_opening_counts_though_denied() -> None:
    # The head of the opening is at 1,650 mm; the bed under course 24 is just above it.
    window = Opening("w", 1000.0, 450.0, 1200.0, 1200.0)
    level = crack("a", 2.0, BedRun(24, 900.0, 2300.0))
    wall = elevation(level, openings=(window,))
    found = triage.assess(survey(elevations=(wall,)))
    assert (settled_by(found), found.route) == ("R6", Route.REFER)
    beside = replace(wall, cracks=(crack("a", 2.0, BedRun(24, 2300.0, 3000.0)),))
    assert triage.assess(survey(elevations=(beside,))).route is Route.PRICE


def test_all_rows_that_fire_are_listed_and_the_first_settles() -> None:
    everything = dict.fromkeys(Signs.__slots__, YES)
    found = assess(7.0, answers=everything)
    assert fired(found) == ["R1", "R2", "R3", "R5", "R6", "R7", "R8", "R9", "R10"]
    assert found.route is Route.STOP


def test_the_table_stands_in_the_order_of_danger() -> None:
    assert [row.id for row in table().rows] == [f"R{number}" for number in range(1, 15)]
    firm = [row for row in table().rows if "any" in row.routes]
    ranks = [DANGER.index(Route[row.routes["any"]]) for row in firm]
    assert ranks == sorted(ranks, reverse=True)


@pytest.mark.parametrize("row", [f"R{number}" for number in range(2, 8)])
def test_both_statements_are_printed_with_rows_2_to_7(row: str) -> None:
    sign = next(sign for one, sign, _route in ONE_SIGN if one == row)
    found = assess(2.0, answers={sign: YES})
    assert {"not_the_cause", "not_certified"} <= set(codes(found))


def test_the_statements_are_kept_for_those_rows() -> None:
    assert "not_the_cause" not in codes(assess(2.0))
    assert "not_the_cause" not in codes(assess(2.0, answers={"gas_smell": YES}))


LIFTED = [(row, sign) for row, sign, _route in ONE_SIGN if row != "R1"]


@pytest.mark.parametrize(("row", "sign"), LIFTED)
def test_an_engineers_report_leaves_the_route_to_later_rows(row: str, sign: str) -> None:
    found = assess(2.0, answers={sign: YES}, engineers_report=REPORT)
    assert row in fired(found)
    assert found.route is Route.PRICE
    assert any("R7 by B. Hall, 2026-10-01" in notice.text for notice in found.notices)


def test_an_engineers_report_answers_what_is_not_known() -> None:
    found = triage.assess(survey(crack("a", 2.0), signs=Signs(), engineers_report=REPORT))
    assert fired(found) == ["R11", "R12"]
    assert found.route is Route.PRICE


@pytest.mark.parametrize(
    ("basis", "route"), [(Basis.MEASURED, Route.PRICE), (Basis.TOLD, Route.RANGE)]
)
@pytest.mark.parametrize("width_mm", [7.0, 20.0, 30.0])
def test_wide_cracks_are_priced_to_an_engineers_report(
    width_mm: float, basis: Basis, route: Route
) -> None:
    found = assess(width_mm, basis=basis, engineers_report=REPORT)
    assert (settled_by(found), found.route) == ("R14", route)


@pytest.mark.parametrize("sign", [sign for row, sign, _route in ONE_SIGN if row == "R1"])
def test_no_report_lifts_a_stop(sign: str) -> None:
    assert assess(2.0, answers={sign: YES}, engineers_report=REPORT).route is Route.STOP


def test_prices_are_kept_for_the_routes_that_allow_them() -> None:
    assert {route for route in Route if not route.allows_price} == {Route.REFER, Route.STOP}
    assert {route for route in Route if route.allows_fixed_price} == {Route.PRICE}


@given(surveys, st.sampled_from(DANGER_SIGNS))
def test_a_danger_sign_never_makes_the_route_softer_nor_the_category_less(
    seen: Survey, sign: str
) -> None:
    worse = replace(seen, signs=replace(seen.signs, **{sign: YES}))
    before, after = triage.assess(seen), triage.assess(worse)
    assert DANGER.index(after.route) >= DANGER.index(before.route)
    assert after.category >= before.category


@given(surveys)
def test_a_crack_on_both_faces_never_makes_it_softer_than_on_one(seen: Survey) -> None:
    def on_faces(answer: Answer) -> Assessment:
        walls = tuple(
            replace(wall, cracks=tuple(replace(one, both_faces=answer) for one in wall.cracks))
            for wall in seen.elevations
        )
        return triage.assess(replace(seen, elevations=walls))

    one, both = on_faces(NO), on_faces(YES)
    assert DANGER.index(both.route) >= DANGER.index(one.route)
    assert both.category >= one.category


@given(surveys)
def test_a_told_range_is_judged_as_its_high_end(seen: Survey) -> None:
    def as_wide_as(pick: str) -> int:
        walls = tuple(
            replace(
                wall,
                cracks=tuple(
                    replace(one, width_mm=getattr(one.width_mm, pick, one.width_mm))
                    for one in wall.cracks
                ),
            )
            for wall in seen.elevations
        )
        return triage.assess(replace(seen, elevations=walls)).category

    assert triage.assess(seen).category == as_wide_as("high") >= as_wide_as("low")


@given(surveys)
def test_whatever_was_seen_is_assessed_with_words_and_sources(seen: Survey) -> None:
    found = triage.assess(seen)
    assert all(outcome.words and outcome.because for outcome in found.outcomes)
    said = (*found.notices, *triage.cautions(seen))
    assert all(notice.text and "{" not in notice.code for notice in said)
    assert all(sources.source(notice.source) for notice in said)


def test_every_trigger_is_used_by_one_row() -> None:
    assert sorted(row.trigger for row in table().rows) == sorted(TRIGGERS)


def test_nothing_says_what_a_crack_was_caused_by() -> None:
    said = [notice.text for notice in table().patterns.values()]
    assert said
    assert all("often seen with" in text and "caused by" not in text for text in said)


def test_rows_that_are_house_rules_say_so() -> None:
    for row in table().rows:
        if row.id in ("R3", "R5", "R6", "R11"):
            assert sources.source(row.source).trust is Trust.HOUSE
