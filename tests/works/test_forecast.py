"""A typed forecast held against planned days, mortar by mortar.

Limits: cement mortar is not laid below 3 °C while it falls (NHBC Standards, 3.2.5); lime wants 5 °C
and a week's protection (guidance of lime producers). Both from memory, as in ``mortars.json``.
"""

from __future__ import annotations

import datetime
from decimal import Decimal

from estimator.contract import keeping
from estimator.contract.deeds import Planned
from estimator.contract.so_far import SoFar
from estimator.contract.works import Expected, Plan
from estimator.works import forecast
from estimator.works.calendar import ONE_DAY
from estimator.works.settings import shipped
from estimator.works.weather import Verdict
from tests.works.made_up import accepted

START = datetime.date(2026, 12, 14)
"""A Monday."""


def lime(plan: Plan | None = None) -> SoFar:
    return accepted("window_lime", plan=plan or Plan(START))


def nights(*least: str, first: datetime.date = START) -> tuple[Expected, ...]:
    return tuple(
        Expected(first + place * ONE_DAY, Decimal(cold)) for place, cold in enumerate(least)
    )


def test_one_cold_night_in_the_week_lime_cures_speaks_against_the_day() -> None:
    [judged] = forecast.by_mortar(lime(), nights(*["6"] * 5, "4", *["6"] * 4), START)
    first = judged.days[0]
    assert (first.on, first.verdict) == (START, Verdict.NOT_WORKABLE)
    assert "4 °C is forecast on 19 December" in first.notices[0].text
    [judged] = forecast.by_mortar(lime(), nights(*["5"] * 10), START)
    assert judged.days[0].verdict is Verdict.WORKABLE


def test_a_day_nothing_is_typed_of_is_left_out() -> None:
    assert forecast.by_mortar(lime(), (), START) == ()
    assert forecast.by_mortar(lime(), nights("3", first=START - ONE_DAY), START) == ()
    [judged] = forecast.by_mortar(lime(), nights("8"), START)
    assert [day.on for day in judged.days] == [START]
    assert judged.days[0].verdict is Verdict.NOT_KNOWN
    assert len(judged.days[0].missing) == 7


def test_a_forecast_is_wanted_of_what_is_worked_and_the_week_after_as_far_as_it_reaches() -> None:
    found = forecast.wanted(lime(), START)
    assert found.days == tuple(START + day * ONE_DAY for day in range(len(found.days)))
    assert 8 <= len(found.days) <= shipped().weather.reach_days
    early = START - 30 * ONE_DAY
    assert forecast.wanted(lime(), early).days == ()
    again = forecast.wanted(lime(), early).look_again
    assert again == START - 9 * ONE_DAY
    assert forecast.wanted(lime(), again).days == (START,)
    assert forecast.wanted(lime(), START + 400 * ONE_DAY) == forecast.Wanted()


def test_a_plan_keeps_its_forecast_and_one_without_reads_as_before() -> None:
    plan = Plan(START, expected=nights("-2.5", "3"), expected_on=START)
    assert keeping.read(keeping.written(Planned(plan))) == Planned(plan)
    old = keeping.written(Planned(Plan(START)))
    for name in ('"expected":[],', '"expected_on":null,'):
        assert name in old
        old = old.replace(name, "")
    assert keeping.read(old) == Planned(Plan(START))
