"""Credibility, own outputs and own record against textbooks and reference libraries."""

from __future__ import annotations

import datetime
import math
from decimal import Decimal

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from estimator.contract.works import Booking
from estimator.money import Money
from estimator.pricing.price_book import shipped
from estimator.pricing.risk import ThreePoint
from estimator.takeoff.lines import Item, Line, Measure
from estimator.takeoff.scope import LOCAL
from estimator.units import Quantity, Unit
from estimator.works.credibility import factor_of, shrunk, shrunk_ratio
from estimator.works.own_rates import JobDone, compared
from estimator.works.track_record import Finished, ends, quantile, record_of

ratios = st.lists(st.decimals("0.3", "3", places=3), min_size=1, max_size=40)

# H. Mahler and C. Dean, "Credibility", in Foundations of Casualty Actuarial Science, from memory:
# dice of 4, 6 and 8 sides in the shares 60, 30 and 10 %.
SIDES = {4: 0.6, 6: 0.3, 8: 0.1}
PROCESS_VARIANCE, VARIANCE_OF_MEANS, PRIOR_MEAN = 2.15, 0.45, 3.0
TOLD = {1: "0.173", 3: "0.386"}


def test_the_dice_of_the_textbook_are_as_remembered() -> None:
    sides, weights = numpy.array(list(SIDES)), numpy.array(list(SIDES.values()))
    means, variances = (sides + 1) / 2, (sides**2 - 1) / 12
    mean = numpy.average(means, weights=weights)
    assert mean == pytest.approx(PRIOR_MEAN)
    assert numpy.average(variances, weights=weights) == pytest.approx(PROCESS_VARIANCE)
    spread = numpy.average((means - mean) ** 2, weights=weights)
    assert spread == pytest.approx(VARIANCE_OF_MEANS)


@pytest.mark.parametrize(("rolls", "told"), TOLD.items())
def test_the_dice_of_the_textbook(rolls: int, told: str) -> None:
    k = Decimal(str(PROCESS_VARIANCE)) / Decimal(str(VARIANCE_OF_MEANS))
    assert round(k, 3) == Decimal("4.778")
    assert round(factor_of(rolls, k), 3) == Decimal(told)


def test_it_is_the_least_squares_line_over_all_rolls() -> None:
    # Credibility is the straight line of least expected square error: fitted here over every die
    # and roll, weighed by their chances, without the formula.
    rolls, means, weights = [], [], []
    for sides, share in SIDES.items():
        for roll in range(1, sides + 1):
            rolls.append(roll)
            means.append((sides + 1) / 2)
            weights.append(share / sides)
    slope, level = numpy.polyfit(rolls, means, 1, w=numpy.sqrt(weights))
    k = Decimal(str(PROCESS_VARIANCE)) / Decimal(str(VARIANCE_OF_MEANS))
    z = factor_of(1, k)
    assert float(z) == pytest.approx(slope)
    for roll in range(1, 9):
        found = shrunk(Decimal(roll), Decimal(str(PRIOR_MEAN)), z)
        assert float(found) == pytest.approx(level + slope * roll)


@given(ratios, st.decimals("0.5", "30", places=1))
def test_it_lies_between_the_book_and_the_geometric_mean(found: list[Decimal], k: Decimal) -> None:
    own = stats.gmean([float(one) for one in found])
    wanted = own ** (len(found) / (len(found) + float(k)))
    assert float(shrunk_ratio(found, k)) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("found", [["1.3"], ["1.3", "0.9", "1.6", "1.2"]])
def test_it_is_the_mean_of_the_posterior_where_all_is_normal(found: list[str]) -> None:
    # Logs of the ratios normal about a firm's own mean, such means normal about the book: the
    # posterior mean is then exactly the credibility estimate. Integrated with scipy.
    k, spread = 6.0, 0.25
    logs = numpy.log([float(one) for one in found])

    def density(mean: float) -> float:
        likely = stats.norm.pdf(logs, mean, spread).prod()
        return float(likely * stats.norm.pdf(mean, 0, spread / math.sqrt(k)))

    whole = integrate.quad(density, -3, 3, epsabs=1e-14, limit=200)[0]
    mean = integrate.quad(lambda x: x * density(x), -3, 3, epsabs=1e-14, limit=200)[0] / whole
    offered = shrunk_ratio([Decimal(one) for one in found], Decimal(6))
    assert math.log(float(offered)) == pytest.approx(mean, abs=1e-7)


@given(st.lists(st.decimals("0.5", "2", places=2), min_size=1, max_size=12))
def test_outputs_offered_follow_the_hours_booked(found: list[Decimal]) -> None:
    # Ten metres of slot a job, at 0.1799 h/m in the shipped book; K of 6 jobs as shipped.
    slot = Line(Item.CUT_SLOT, "front", Quantity.of(10, Unit.METRE), "", ())
    measure = Measure(LOCAL, (slot,), (), (), (), (), ())
    on = datetime.date(2026, 12, 1)
    jobs = [
        JobDone(
            measure,
            (Booking(on, Item.CUT_SLOT, Decimal("1.799") * ratio, Decimal(10)),),
            is_finished=True,
        )
        for ratio in found
    ]
    [own] = compared(jobs, shipped())
    wanted = stats.gmean([float(one) for one in found]) ** (len(found) / (len(found) + 6))
    assert float(own.factor) == pytest.approx(wanted, abs=6e-5)
    assert own.jobs == len(found)
    assert float(own.book_hours) == pytest.approx(0.1799)
    assert float(own.offered_hours) == pytest.approx(0.1799 * wanted, abs=1.2e-4)


@given(ratios, st.sampled_from(["0.1", "0.5", "0.9"]))
def test_parts_of_a_record_are_those_of_numpy(found: list[Decimal], share: str) -> None:
    wanted = numpy.quantile([float(one) for one in found], float(share), method="linear")
    assert float(quantile(sorted(found), Decimal(share))) == pytest.approx(float(wanted))


@given(st.floats(0.6, 0.999), st.floats(1.001, 2))
def test_the_ends_make_a_triangle_with_those_parts(low: float, high: float) -> None:
    below, above = (float(one) for one in ends(Decimal(str(low)), Decimal(str(high))))
    triangle = stats.triang(below / (below + above), 1 - below, below + above)
    assert triangle.ppf(0.1) == pytest.approx(low, abs=1e-4)
    assert triangle.ppf(0.9) == pytest.approx(high, abs=1e-4)
    # And as the range on the telephone reads it.
    three = ThreePoint(1 - below, 1, 1 + above)
    assert three.triangular_at(0.9) == pytest.approx(high, abs=1e-4)


def test_a_record_is_shrunk_towards_the_book() -> None:
    # Twenty jobs with K = 20 count for half. Ratios 0.90, 0.91 … 1.09: by numpy, as above.
    found = [Decimal(90 + place) / 100 for place in range(20)]
    jobs = [Finished(Money.of(1000), Money.of(1000 * ratio)) for ratio in found]
    ranges = shipped().ranges
    record = record_of(jobs, ranges)
    assert record is not None
    low, high = numpy.quantile([float(one) for one in found], [0.1, 0.9])
    assert (float(record.low), float(record.high)) == pytest.approx((low, high))
    below, above = ends(Decimal(str(low)), Decimal(str(high)))
    half = Decimal("0.5")
    assert record.z == half
    assert record.rates_low_percent == round(half * (below * 100 + ranges.rates_low_percent), 1)
    assert record.rates_high_percent == round(half * (above * 100 + ranges.rates_high_percent), 1)
