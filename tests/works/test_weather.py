"""A day is workable if it stays warm enough through the cure window, and no heavy rain falls."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from estimator.contract.works import Expected
from estimator.takeoff.grout_and_mortar import mortar, mortar_keys
from estimator.works.weather import Trend, Verdict, judge, may_lay, season

FIRST = datetime.date(2026, 3, 1)
mortars = st.sampled_from(mortar_keys()).map(mortar)
weeks = st.lists(st.floats(-5, 15), min_size=16, max_size=16)


def typed(least: Iterable[float]) -> list[Expected]:
    return [
        Expected(FIRST + datetime.timedelta(days=day), Decimal(cold))
        for day, cold in enumerate(least)
    ]


@given(mortars, weeks)
def test_the_coldest_night_of_the_window_decides(kind: object, least: list[float]) -> None:
    found = judge(FIRST, kind, typed(least))  # type: ignore[arg-type]
    window = least[: kind.cure_days + 1]  # type: ignore[attr-defined]
    is_warm = min(window) >= kind.least_temperature_c  # type: ignore[attr-defined]
    assert (found.verdict is Verdict.WORKABLE) == is_warm
    assert not found.missing


@given(mortars, weeks)
def test_warmer_never_makes_a_day_worse(kind: object, least: list[float]) -> None:
    order = [Verdict.NOT_WORKABLE, Verdict.NOT_KNOWN, Verdict.WORKABLE]
    cold, warm = (
        judge(FIRST, kind, typed([one + more for one in least])).verdict  # type: ignore[arg-type]
        for more in (0, 3)
    )
    assert order.index(warm) >= order.index(cold)


def test_what_is_not_forecast_is_not_known() -> None:
    found = judge(FIRST, mortar("nhl35_1_3"), typed([8, 8, 8]))
    assert found.verdict is Verdict.NOT_KNOWN
    assert [day.day for day in found.missing] == [4, 5, 6, 7, 8]
    # What is known and too cold already decides.
    assert judge(FIRST, mortar("nhl35_1_3"), typed([8, 2])).verdict is Verdict.NOT_WORKABLE


def test_heavy_rain_stops_the_day_and_not_the_day_before() -> None:
    dry, wet, *rest = typed([8] * 5)
    rain = [dry, replace(wet, heavy_rain=True)]
    cement = mortar("cement_lime_1_1_6")
    assert judge(FIRST, cement, rain + rest).verdict is Verdict.WORKABLE
    assert judge(rain[1].on, cement, rain + rest).verdict is Verdict.NOT_WORKABLE


def test_frost_after_the_window_is_warned_of_in_lime_only() -> None:
    least = [8.0] * 10 + [-1.0] + [8.0] * 5
    lime, cement = (
        judge(FIRST, mortar(k), typed(least)) for k in ("nhl35_1_3", "cement_lime_1_1_6")
    )
    assert lime.verdict is Verdict.WORKABLE
    assert [note.code for note in lime.notices] == ["frost_on_young_lime"]
    assert not cement.notices


def test_heat_is_minded() -> None:
    first, *others = typed([14] * 10)
    hot = [replace(first, greatest_c=Decimal(31)), *others]
    assert [note.code for note in judge(FIRST, mortar("nhl35_1_3"), hot).notices] == ["hot"]


def test_the_season_of_lime_is_april_to_october() -> None:
    warned = {
        month
        for month in range(1, 13)
        if season([datetime.date(2026, month, 15)], [mortar("nhl35_1_3")])
    }
    assert warned == {11, 12, 1, 2, 3}
    assert not season([datetime.date(2026, 1, 15)], [mortar("cement_lime_1_1_6")])


def test_unknown_expectations_start_nothing_again() -> None:
    assert not may_lay(mortar("cement_lime_1_1_6"), 2, Trend.RISING)
