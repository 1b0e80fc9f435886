"""Quantities: rounding once, half up, and refusing mixtures."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.units import Quantity, Unit, rounded, whole_up


def test_binary_noise_does_not_buy_a_brick() -> None:
    # 12 m² at 60 bricks and 10 % waste, worked in an engineering society's estimating notes
    # (2018): 792. The float product is 792.0000000000001, which rounds up to 793.
    assert 720 * 1.1 > 792
    assert whole_up(720 * 1.1) == 792


def test_rounding_up_keeps_whole_numbers_and_lifts_parts() -> None:
    assert [whole_up(value) for value in (63.0, 63.001, Decimal("6.67"), 0.0)] == [63, 64, 7, 0]


@given(st.integers(min_value=-(10**9), max_value=10**9))
def test_a_tie_rounds_away_from_nothing(half_pennies: int) -> None:
    value = Decimal(half_pennies * 10 + 5) / 1000
    step = Decimal("0.01")
    expected = (abs(value) + Decimal("0.005")).quantize(step, rounding="ROUND_DOWN")
    assert rounded(value, 2) == expected.copy_sign(value)


def test_metres_and_square_metres_do_not_add() -> None:
    with pytest.raises(TypeError, match="cannot add"):
        Quantity.of(1.0, Unit.METRE) + Quantity.of(1.0, Unit.SQUARE_METRE)


def test_a_quantity_cannot_be_changed() -> None:
    quantity = Quantity.of(8.0, Unit.METRE)
    with pytest.raises(AttributeError):
        quantity.amount = Decimal(9)  # type: ignore[misc]


@pytest.mark.parametrize("unit", list(Unit))
def test_every_unit_has_a_code_and_prints(unit: Unit) -> None:
    # UN/ECE Recommendation 20 codes are two or three capitals or digits.
    assert unit.code.isalnum()
    assert 2 <= len(unit.code) <= 3
    assert str(Quantity.of(2.0, unit)).endswith(unit.symbol)
