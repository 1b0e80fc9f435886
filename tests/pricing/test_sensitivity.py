"""Shares of the variance: numbers, choices, absent inputs, and samples that say nothing."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.pricing.sensitivity import FEWEST_DRAWS, share_of_variance

FIGURES = st.floats(-1e6, 1e6)
PAIRS = st.lists(st.tuples(st.none() | FIGURES, FIGURES), max_size=60)


@given(PAIRS)
def test_a_share_lies_between_nothing_and_all(pairs: list[tuple[float | None, float]]) -> None:
    share = share_of_variance([put for put, _out in pairs], [out for _put, out in pairs])
    assert 0.0 <= share <= 1.0


@given(PAIRS, st.integers(0, 99))
def test_the_order_of_the_draws_changes_nothing(
    pairs: list[tuple[float | None, float]], seed: int
) -> None:
    mixed = Random(seed).sample(pairs, len(pairs))
    first, second = (
        share_of_variance([put for put, _out in order], [out for _put, out in order])
        for order in (sorted(pairs, key=str), sorted(mixed, key=str))
    )
    assert first == pytest.approx(second, abs=1e-9)


def test_a_choice_that_settles_all_has_the_whole_share() -> None:
    assert share_of_variance([0.0, 1.0, 2.0] * 20, [5.0, 5.5, 9.0] * 20) == 1.0


def test_a_choice_without_effect_has_next_to_none() -> None:
    chance = Random(3)
    found = [chance.gauss(0, 1) for _draw in range(200)]
    mean = sum(
        share_of_variance([float(chance.randrange(3)) for _draw in found], found)
        for _round in range(100)
    )
    assert mean / 100 < 0.01


def test_an_input_met_in_half_of_the_draws_is_told_from_one_that_is_not() -> None:
    chance = Random(5)
    met = [chance.random() if draw % 2 else None for draw in range(200)]
    found = [10.0 + 5 * put if put is not None else chance.random() for put in met]
    assert share_of_variance(met, found) > 0.95


def test_equal_inputs_are_never_parted() -> None:
    # Nine in ten are 1, the others anything: cut blindly, the ones would make many groups.
    put = [1.0] * 180 + [float(n) for n in range(2, 22)]
    chance = Random(9)
    found = [chance.random() for _draw in put]
    assert share_of_variance(put, found) < 0.1


@pytest.mark.parametrize(
    ("put", "found"),
    [
        ([], []),
        ([1.0, 2.0], [1.0, 2.0]),
        ([1.0] * 50, [float(n) for n in range(50)]),
        ([float(n) for n in range(50)], [3.0] * 50),
        ([None] * 50, [float(n) for n in range(50)]),
        ([float(n) for n in range(FEWEST_DRAWS - 1)], [float(n) for n in range(FEWEST_DRAWS - 1)]),
    ],
)
def test_a_sample_that_tells_nothing_gives_no_share(
    put: list[float | None], found: list[float]
) -> None:
    assert share_of_variance(put, found) == 0.0


def test_each_outcome_needs_its_input() -> None:
    with pytest.raises(ValueError, match="input"):
        share_of_variance([1.0], [1.0, 2.0])
