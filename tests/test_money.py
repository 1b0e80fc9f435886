"""Money: whole pence, one rounding rule, no floats."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.money import Money, exact, share_out, total

pence = st.integers(min_value=-(10**9), max_value=10**9)


@pytest.mark.parametrize("value", [1.5, float("nan"), None, b"1"])
def test_money_is_never_made_from_a_float(value: object) -> None:
    with pytest.raises(TypeError):
        exact(value)  # type: ignore[arg-type]


@pytest.mark.parametrize("text", ["NaN", "Infinity", "twelve", ""])
def test_text_that_is_no_finite_number_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="number"):
        exact(text)


@given(pence, st.decimals(min_value=0, max_value=1000, places=3))
def test_times_agrees_with_exact_fractions(coins: int, factor: Decimal) -> None:
    precise = Fraction(coins) * Fraction(factor)
    rounded = int(abs(precise) + Fraction(1, 2)) * (1 if precise >= 0 else -1)
    assert Money(coins).times(factor).pence == rounded


@given(st.integers(0, 10**8), st.lists(st.integers(0, 1000), min_size=1).filter(any))
def test_shares_add_to_the_whole(coins: int, weights: list[int]) -> None:
    assert total(share_out(Money(coins), weights)) == Money(coins)


def test_stage_payments_leave_the_odd_penny_to_the_last() -> None:
    # Stages 30/40/30 of £4,417.08: worked by hand, last stage takes the balance.
    stages = share_out(Money.of("4417.08"), [30, 40, 30])
    assert [str(stage) for stage in stages] == ["1325.12", "1766.83", "1325.13"]


def test_shares_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="weights"):
        share_out(Money(100), [0, 0])


def test_a_bare_number_does_not_add_to_money() -> None:
    with pytest.raises(TypeError):
        Money(100) + 1  # type: ignore[operator]


def test_money_cannot_be_changed() -> None:
    sum_of_money = Money(100)
    with pytest.raises(AttributeError):
        sum_of_money.pence = 200  # type: ignore[misc]


@given(pence)
def test_money_prints_and_reads_back(coins: int) -> None:
    assert Money.of(str(Money(coins))) == Money(coins)
