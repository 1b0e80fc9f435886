"""Three-point estimates and risk: worked from the formulas in every textbook."""

from __future__ import annotations

from decimal import Decimal
from math import sqrt
from random import Random
from statistics import NormalDist, fmean

import pytest

from estimator.money import Money
from estimator.pricing.risk import ThreePoint, band, expected

THREE = (ThreePoint(900, 1200, 1900), ThreePoint(200, 260, 500), ThreePoint(300, 350, 420))
PENNY = 0.005


@pytest.mark.parametrize(
    ("three", "mean", "sd"),
    list(zip(THREE, (1266.67, 290.00, 353.33), (166.67, 50.00, 20.00), strict=True)),
)
def test_pert(three: ThreePoint, mean: float, sd: float) -> None:
    assert three.pert_mean == pytest.approx(mean, abs=PENNY)
    assert three.pert_sd == pytest.approx(sd, abs=PENNY)


@pytest.mark.parametrize(
    ("three", "mean", "sd"),
    list(zip(THREE, (1333.33, 320.00, 356.67), (209.50, 64.81, 24.61), strict=True)),
)
def test_triangular(three: ThreePoint, mean: float, sd: float) -> None:
    assert three.triangular_mean == pytest.approx(mean, abs=PENNY)
    assert three.triangular_sd == pytest.approx(sd, abs=PENNY)


@pytest.mark.parametrize(
    ("three", "quantiles"),
    [
        (THREE[0], (1073.21, 1308.39, 1525.83, 1635.42)),
        (THREE[1], (242.43, 310.26, 380.00, 415.15)),
        (THREE[2], (324.49, 355.19, 379.01, 391.02)),
    ],
)
def test_triangular_quantiles(three: ThreePoint, quantiles: tuple[float, ...]) -> None:
    found = [three.triangular_at(share) for share in (0.1, 0.5, 0.8, 0.9)]
    assert found == pytest.approx(quantiles, abs=PENNY)


def test_three_items_added() -> None:
    assert sum(three.pert_mean for three in THREE) == pytest.approx(1910.00, abs=PENNY)
    pert_sd = sqrt(sum(three.pert_sd**2 for three in THREE))
    assert pert_sd == pytest.approx(175.15, abs=PENNY)
    z80 = NormalDist().inv_cdf(0.8)
    assert 1910 + z80 * pert_sd == pytest.approx(2057.41, abs=0.01)
    assert sum(three.triangular_mean for three in THREE) == pytest.approx(2010.00, abs=PENNY)
    sd = sqrt(sum(three.triangular_sd**2 for three in THREE))
    assert sd == pytest.approx(220.67, abs=PENNY)


def test_full_correlation_adds_deviations() -> None:
    assert sum(three.pert_sd for three in THREE) == pytest.approx(236.67, abs=PENNY)


def test_drawn_and_reckoned_agree() -> None:
    # 20,000 triangular draws of the standard library against the closed forms.
    chance = Random(7)
    sums = sorted(
        sum(chance.triangular(three.low, three.high, three.likely) for three in THREE)
        for _draw in range(20_000)
    )
    assert fmean(sums) == pytest.approx(2010, rel=0.005)
    assert sums[10_000] == pytest.approx(1989, rel=0.01)
    assert sums[16_000] == pytest.approx(2209, rel=0.01)
    assert sums[18_000] == pytest.approx(2321, rel=0.01)


def test_the_likeliest_figures_added_fall_short() -> None:
    assert sum(three.likely for three in THREE) < sum(three.pert_mean for three in THREE)


def test_a_range_of_nothing() -> None:
    assert ThreePoint(5, 5, 5).triangular_at(0.9) == 5


def test_expected_cost_of_known_risks() -> None:
    # NRM1 and CIOB: chance times cost, each risk on its own.
    risks = (("0.3", 400), ("0.1", 900), ("0.5", 150))
    found = expected((Decimal(chance), Money.of(cost)) for chance, cost in risks)
    assert str(found) == "285.00"


@pytest.mark.parametrize(
    ("below", "above", "low", "high"),
    # AACE 18R-97, outer limits of classes 4 and 3, in secondary pages, read.
    [("30", "50", "1680.00", "3600.00"), ("20", "30", "1920.00", "3120.00")],
)
def test_published_bands(below: str, above: str, low: str, high: str) -> None:
    found = band(Money.of(2400), below_percent=Decimal(below), above_percent=Decimal(above))
    assert tuple(map(str, found)) == (low, high)
