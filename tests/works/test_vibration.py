"""A day's vibration planned from the hours the work is priced at."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.pricing.price_book import shipped as book
from estimator.takeoff.lines import Item
from estimator.units import whole_up
from estimator.works import settings
from estimator.works.day_work import ORDER, DayWork, by_days, hours_of, stages
from estimator.works.vibration import Level, exposures
from tests.works import made_up

hours = st.dictionaries(
    st.sampled_from(Item), st.decimals("0.1", "12", places=2), min_size=1, max_size=6
)


def test_every_kind_of_work_has_its_place_in_the_order() -> None:
    assert sorted(ORDER, key=lambda item: item.value) == sorted(Item, key=lambda item: item.value)


def test_shares_are_shares_of_known_tools() -> None:
    vibration = settings.shipped().vibration
    shares: dict[Item, Decimal] = {}
    for use in vibration.uses:
        assert use.tool in vibration.tools
        shares[use.item] = shares.get(use.item, Decimal(0)) + use.share
    assert all(0 < share <= 1 for share in shares.values())


@pytest.mark.parametrize("name", made_up.JOBS)
@pytest.mark.parametrize("scope", ["local", "panel"])
def test_all_hours_are_laid_out_over_the_days_of_the_visits(name: str, scope: str) -> None:
    chosen, rates = made_up.option(name, scope), book()
    days = by_days(chosen.measure, rates)
    laid: dict[Item, Decimal] = {}
    for day in days:
        assert sum(day.hours.values()) <= rates.labour.day_capacity
        for item, taken in day.hours.items():
            laid[item] = laid.get(item, Decimal(0)) + taken
    assert laid == dict(hours_of(chosen.measure, rates))
    for number, _stage in enumerate(stages(chosen.measure, rates), start=1):
        visits = [step for step in chosen.offer.programme if not step.is_wait]
        counted = max(day.day for day in days if day.visit == number)
        assert counted == whole_up(visits[number - 1].days)


@given(hours, st.integers(1, 4))
def test_sharing_the_tools_shares_the_points(work: dict[Item, Decimal], hands: int) -> None:
    day = DayWork(1, 1, work)
    alone, shared = (exposures((day,), hands=Decimal(count)) for count in (1, hands))
    assert len(alone) == len(shared)
    for one, part in zip(alone, shared, strict=True):
        assert float(part.points) == pytest.approx(float(one.points) / hands)
        # As many as are asked for stay within the limit, and one fewer would not.
        assert part.operatives == one.operatives
        limit = settings.shipped().vibration.limit_points
        assert one.points / one.operatives <= limit
        assert one.operatives == 1 or one.points / (one.operatives - 1) > limit
        assert (one.level is Level.OVER) == (one.operatives > 1)


def test_chisel_work_shakes_nobody() -> None:
    assert exposures((DayWork(1, 1, {Item.POINT_PERPEND: Decimal(7)}),)) == ()


def test_a_tool_measured_smoother_counts_by_its_own_figure() -> None:
    day = DayWork(1, 1, {Item.RAKE_OUT: Decimal(5)})
    quiet = settings.with_tool(settings.shipped(), "grinder", Decimal(4))
    [usual], [smoother] = exposures((day,)), exposures((day,), settings=quiet)
    # Half the vibration is a quarter of the points: 2 × a² × hours.
    assert usual.points == 4 * smoother.points
    assert (usual.level, smoother.level) == (Level.OVER, Level.ACTION)
