"""Shares of the variance, against a published function and a library that estimates them otherwise.

The function of Ishigami and Homma (1990): sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1, each x even between
-π and π. Its first-order indices follow in closed form: 0.3139, 0.4424 and 0.
"""

from __future__ import annotations

from math import pi, sin
from random import Random

import numpy as np
import pytest
from scipy.stats import sobol_indices, uniform

from estimator.pricing.sensitivity import share_of_variance

A, B = 7.0, 0.1
VARIANCE = A**2 / 8 + B * pi**4 / 5 + B**2 * pi**8 / 18 + 0.5
PUBLISHED = (0.5 * (1 + B * pi**4 / 5) ** 2 / VARIANCE, A**2 / 8 / VARIANCE, 0.0)
WEIGHTS = (1.0, 2.0, 4.0)


def ishigami(x: list[float]) -> float:
    return sin(x[0]) + A * sin(x[1]) ** 2 + B * x[2] ** 4 * sin(x[0])


def added(x: list[float]) -> float:
    return sum(weight * one for weight, one in zip(WEIGHTS, x, strict=True))


def drawn(count: int, seed: int) -> list[list[float]]:
    chance = Random(seed)
    return [[chance.uniform(-pi, pi) for _input in range(3)] for _draw in range(count)]


def shares(function: object, count: int, seed: int = 1) -> list[float]:
    assert callable(function)
    sample = drawn(count, seed)
    found = [function(x) for x in sample]
    return [share_of_variance([x[at] for x in sample], found) for at in range(3)]


def by_library(function: object) -> list[float]:
    """Saltelli's design: sixteen thousand runs made for the purpose, where ours reads a sample."""
    assert callable(function)

    def columns(x: np.ndarray) -> np.ndarray:
        return np.array([function(list(one)) for one in x.T])

    spans = [uniform(loc=-pi, scale=2 * pi)] * 3
    found = sobol_indices(func=columns, n=4096, dists=spans, rng=np.random.default_rng(5))
    return list(found.first_order)


def test_the_closed_form_gives_the_published_figures() -> None:
    assert pytest.approx((0.3139, 0.4424, 0.0), abs=0.0001) == PUBLISHED


def test_shares_agree_with_the_published_ones() -> None:
    assert shares(ishigami, 10_000) == pytest.approx(PUBLISHED, abs=0.02)


@pytest.mark.parametrize("function", [ishigami, added])
def test_shares_agree_with_a_library(function: object) -> None:
    assert shares(function, 10_000) == pytest.approx(by_library(function), abs=0.025)


def test_shares_of_a_sum_are_those_of_the_squared_weights() -> None:
    whole = sum(weight**2 for weight in WEIGHTS)
    exact = [weight**2 / whole for weight in WEIGHTS]
    assert shares(added, 10_000) == pytest.approx(exact, abs=0.015)


def test_a_small_sample_is_right_on_average() -> None:
    # As many draws as a telephone call gets: each wavers, but they lean neither up nor down.
    found = [shares(added, 120, seed) for seed in range(200)]
    means = [sum(column) / len(column) for column in zip(*found, strict=True)]
    whole = sum(weight**2 for weight in WEIGHTS)
    assert means == pytest.approx([weight**2 / whole for weight in WEIGHTS], abs=0.02)
