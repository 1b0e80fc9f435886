"""Mixes: what a gang places before the grout stiffens, and no more."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.pricing.buying import Pooled
from estimator.pricing.mixing import mixing_list
from estimator.pricing.price_book import shipped
from estimator.takeoff.lines import Item


def grout(litres: str) -> Pooled:
    return Pooled.of(shipped().materials["grout"], {Item.SET_BAR: Decimal(litres)})


def test_a_slow_gang_mixes_more_often() -> None:
    # 3 L in 4 h is 0.75 L an hour; 45 minutes place 0.5625 L: six mixes (worked by hand).
    (slow,) = mixing_list([grout("3")], {Item.SET_BAR: Decimal(4)})
    assert slow.mixes == 6
    # 3 L in half an hour all fits into one mix of one tub.
    (quick,) = mixing_list([grout("3")], {Item.SET_BAR: Decimal("0.5")})
    assert (quick.mixes, str(quick.at_once)) == (1, "3.00 L")


@pytest.mark.parametrize("hours", [{}, {Item.SET_BAR: Decimal(0)}, {Item.REPOINT: Decimal(3)}])
def test_no_work_with_it_needs_no_mixing(hours: dict[Item, Decimal]) -> None:
    assert mixing_list([grout("3")], hours) == ()


def test_what_does_not_stiffen_is_not_listed() -> None:
    sand = Pooled.of(shipped().materials["sand"], {Item.REPOINT: Decimal(40)})
    assert mixing_list([sand], {Item.REPOINT: Decimal(3)}) == ()


@given(st.integers(1, 5000), st.integers(1, 20000))
def test_all_the_grout_is_mixed_and_none_left_to_stiffen(centilitres: int, minutes: int) -> None:
    pool = grout(str(Decimal(centilitres) / 100))
    (mixed,) = mixing_list([pool], {Item.SET_BAR: Decimal(minutes) / 60})
    placed_in_time = float(pool.needed) / minutes * 45
    assert float(mixed.at_once.amount) <= placed_in_time + 0.006
    assert mixed.mixes * min(placed_in_time, 3) >= float(pool.needed) - 1e-6
