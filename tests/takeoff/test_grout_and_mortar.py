"""Grout, mortar and mixes: whole tubs, shares that add up, and mortars that suit the wall."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator import resources
from estimator.notices import UserMistake
from estimator.sources import Trust, source
from estimator.survey.survey import Mortar as Found
from estimator.takeoff.grout_and_mortar import (
    bricks_to_order,
    constituents,
    grout_litres,
    mixes,
    mortar,
    mortar_keys,
    suited,
    suits,
)
from estimator.units import Unit

keys = st.sampled_from(mortar_keys())
STRENGTH = ("lime_putty_1_3", "nhl35_1_3", "cement_lime_1_1_6", "cement_1_3")
"""From the softest to the hardest, by class: lime, NHL, M4, M12."""


@given(keys, st.floats(0.1, 2000))
def test_loose_parts_add_up_to_the_yield(key: str, litres: float) -> None:
    mix = mortar(key)
    found = constituents(key, litres)
    loose = sum(
        float(part.quantity.amount) / one.per_litre
        for part, one in zip(found, mix.ingredients, strict=True)
    )
    # Each amount is rounded to a hundredth of a kilogram or litre.
    assert loose == pytest.approx(litres * mix.yield_factor, abs=0.03)


@given(keys, st.floats(0.1, 1000), st.floats(0, 1000))
def test_more_mortar_never_takes_less(key: str, litres: float, more: float) -> None:
    less, greater = constituents(key, litres), constituents(key, litres + more)
    for one, two in zip(less, greater, strict=True):
        assert one.quantity <= two.quantity


@given(keys)
def test_no_mortar_takes_nothing(key: str) -> None:
    assert {part.quantity.amount for part in constituents(key, 0)} == {Decimal("0.00")}


def test_putty_is_sold_by_the_litre_and_the_rest_by_mass() -> None:
    units = {one.material: one.unit for key in mortar_keys() for one in mortar(key).ingredients}
    assert units.pop("lime_putty") is Unit.LITRE
    assert set(units.values()) == {Unit.KILOGRAM}


@pytest.mark.parametrize("key", mortar_keys())
def test_every_mortar_names_sources(key: str) -> None:
    mix = mortar(key)
    named = [source(mix.source), *(source(one.source) for one in mix.ingredients)]
    assert all(one.title for one in named)
    assert source(mix.source).trust in (Trust.READ, Trust.MEMORY)


@pytest.mark.parametrize("key", mortar_keys())
def test_limes_want_more_warmth_and_care_than_cements(key: str) -> None:
    mix = mortar(key)
    has_cement = "cement" in {one.material for one in mix.ingredients}
    assert (mix.least_temperature_c, mix.cure_days) == ((3, 2) if has_cement else (5, 7))


def test_every_mortar_found_has_one_that_suits() -> None:
    assert {one.value for one in Found} == set(resources.data("mortars.json")["suits"])
    for one in Found:
        assert suited(one.value).reason
        assert source(suited(one.value).source)


def test_what_suits_is_never_harder_than_what_was_found() -> None:
    as_hard = {"lime": "nhl35_1_3", "cement-lime": "cement_lime_1_1_6", "hard cement": "cement_1_3"}
    for existing, found in as_hard.items():
        assert STRENGTH.index(suits(existing).key) <= STRENGTH.index(found)


def test_lime_is_never_pointed_with_cement() -> None:
    assert "cement" not in {one.material for one in suits("lime").ingredients}


def test_an_unknown_mortar_is_the_users_mistake() -> None:
    with pytest.raises(UserMistake, match="no mortar called mud; name one of nhl35_1_3"):
        mortar("mud")
    with pytest.raises(UserMistake):
        constituents("mud", 5)


def test_a_wall_of_unknown_mortar_suits_nothing() -> None:
    with pytest.raises(KeyError):
        suits("clay")


def test_pointing_as_deep_as_the_slot_leaves_no_grout() -> None:
    with pytest.raises(ValueError, match="no room"):
        grout_litres(8, slot_depth_mm=10, pointing_depth_mm=10, bed_mm=10)
    with pytest.raises(ValueError, match="no room"):
        grout_litres(
            8, slot_depth_mm=12, pointing_depth_mm=10, bed_mm=6, bar_mm=6, ignore_bar=False
        )


def test_a_quick_gang_mixes_a_tub_at_a_time() -> None:
    found = mixes(7, tub_litres=3, working_minutes=45, placing_l_per_hour=60)
    assert (found.tubs, found.mixes, found.mix_litres) == (3, 3, 3)


def test_a_slow_gang_mixes_less_than_a_tub() -> None:
    found = mixes(6, tub_litres=3, working_minutes=30, placing_l_per_hour=2)
    assert (found.tubs, found.mixes, found.mix_litres) == (2, 6, 1)


def test_no_grout_needs_no_tub() -> None:
    found = mixes(0, tub_litres=3, working_minutes=45, placing_l_per_hour=2)
    assert (found.tubs, found.mixes) == (0, 0)


@pytest.mark.parametrize(
    ("litres", "tub", "minutes", "rate"),
    [(-1, 3, 45, 2), (1, 0, 45, 2), (1, 3, 0, 2), (1, 3, 45, 0)],
)
def test_tubs_and_rates_of_nothing_are_a_fault(
    litres: float, tub: float, minutes: float, rate: float
) -> None:
    with pytest.raises(ValueError, match="below nothing"):
        mixes(litres, tub_litres=tub, working_minutes=minutes, placing_l_per_hour=rate)


@given(st.floats(0, 500), st.floats(0.5, 25), st.floats(5, 120), st.floats(0.2, 50))
def test_tubs_and_mixes_hold_all_the_grout(
    litres: float, tub: float, minutes: float, rate: float
) -> None:
    found = mixes(litres, tub_litres=tub, working_minutes=minutes, placing_l_per_hour=rate)
    assert found.tubs * tub >= litres - 1e-6
    assert found.mixes * found.mix_litres >= litres - 1e-6
    assert found.mixes >= found.tubs
    assert found.mix_litres <= rate * minutes / 60 + 1e-9


@given(st.integers(1, 5000), st.integers(1, 20))
def test_spare_bricks_are_one_at_least(bricks: int, one_in: int) -> None:
    spare = bricks_to_order(bricks, spare_one_in=one_in) - bricks
    assert spare >= 1
    assert (spare - 1) * one_in < bricks <= spare * one_in


def test_no_bricks_need_no_spare() -> None:
    assert bricks_to_order(0, spare_one_in=5) == 0
