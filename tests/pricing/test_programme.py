"""Hours into half days, waits into visits."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.pricing.price_book import shipped
from estimator.pricing.programme import Programme, half_days, plan
from estimator.takeoff.grout_and_mortar import mortar
from estimator.takeoff.lines import Item

SEVEN = Decimal(7)
LIME, CEMENT = mortar("nhl35_1_3"), mortar("cement_lime_1_1_6")
TIMING = shipped().timing


def planned(hours: dict[Item, str], *mortars: str, **changes: object) -> Programme:
    timing = replace(TIMING, **changes)  # type: ignore[arg-type]
    taken = {item: Decimal(one) for item, one in hours.items()}
    return plan(taken, timing, day_hours=SEVEN, mortars=[mortar(key) for key in mortars])


@pytest.mark.parametrize(
    ("hours", "days"), [("0", "0"), ("0.1", "0.5"), ("3.5", "0.5"), ("3.51", "1"), ("14", "2")]
)
def test_half_days(hours: str, days: str) -> None:
    assert half_days(Decimal(hours), SEVEN) == Decimal(days)


def test_wet_on_wet_is_one_visit() -> None:
    found = planned({Item.CUT_SLOT: "2", Item.SET_BAR: "2", Item.POINT_SLOT: "1"})
    assert (found.visits, found.work_days, found.trips) == (1, Decimal("1.0"), 1)
    assert found.steps[0].title == "Cut the beds, set the bars, point, clear up"


def test_grout_left_to_set_splits_the_job() -> None:
    found = planned({Item.CUT_SLOT: "2", Item.SET_BAR: "2", Item.POINT_SLOT: "1"}, wet_on_wet=False)
    assert [step.is_wait for step in found.steps] == [False, True, False]
    assert "grout" in found.steps[1].title


def test_new_bricks_set_before_a_panel_is_raked() -> None:
    alone = planned({Item.REPLACE_BRICK: "3", Item.POINT_PERPEND: "1"})
    beside = planned({Item.REPLACE_BRICK: "3", Item.RAKE_OUT: "3", Item.REPOINT: "3"})
    assert (alone.visits, beside.visits) == (1, 2)


def test_a_panel_in_lime_is_looked_in_on() -> None:
    hours = {Item.RAKE_OUT: "3", Item.REPOINT: "2"}
    lime, cement = planned(hours, LIME.key), planned(hours, CEMENT.key)
    assert (lime.look_ins, cement.look_ins) == (TIMING.look_ins, 0)
    assert lime.working_days == cement.working_days + TIMING.look_ins * Decimal("0.5")
    assert lime.steps[-1].days == LIME.cure_days
    assert cement.steps[-1].days == CEMENT.cure_days


def test_pointing_a_crack_in_lime_is_not_looked_in_on() -> None:
    assert planned({Item.POINT_CRACK_BED: "1"}, LIME.key).look_ins == 0


def test_no_work_takes_no_time() -> None:
    found = planned({})
    assert (found.visits, found.work_days, found.weeks, found.trips) == (0, 0, 0, 0)


@pytest.mark.parametrize(("hours", "weeks"), [("6", 1), ("33", 1), ("35", 2), ("70", 3)])
def test_weeks_of_hire(hours: str, weeks: int) -> None:
    assert planned({Item.CUT_SLOT: hours}).weeks == weeks


def test_setting_up_takes_its_part_of_the_day() -> None:
    assert planned({Item.CUT_SLOT: "7"}, setting_up_hours=Decimal(0)).work_days == 1
    assert planned({Item.CUT_SLOT: "7"}).work_days == Decimal("1.5")


@given(st.integers(0, 2**32))
def test_more_work_never_takes_less_time(number: int) -> None:
    chance = Random(number)
    items = chance.sample(tuple(Item), chance.randint(0, 8))
    hours = {item: str(chance.randint(0, 90) / 10) for item in items}
    wet_on_wet = chance.random() < 0.5
    more = dict(hours)
    added = chance.choice(tuple(Item))
    more[added] = str(float(more.get(added, "0")) + chance.randint(1, 90) / 10)
    before, after = (planned(one, LIME.key, wet_on_wet=wet_on_wet) for one in (hours, more))
    assert after.work_days >= before.work_days
    assert after.visits >= before.visits
    assert after.trips >= before.trips
    assert after.weeks >= before.weeks
    assert after.look_ins >= before.look_ins
