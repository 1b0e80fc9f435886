"""All-in rates against price books in print, and the worked example of the same method."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.pricing.labour import (
    Gang,
    Grade,
    OnCosts,
    WorkingYear,
    YearCost,
    all_in,
    gang_rate,
    with_oncosts,
)

# Spon's price book 2017, wages chapter (AECOM), read: CIJC craft and general operatives from
# 27 June 2016. The printed yearly pay is 20p off weeks times wage, so lines are as printed.
CRAFT = (
    ("Productive time", "20259.96"),
    ("Lost time", "411.60"),
    ("Holidays", "2652.55"),
    ("CITB levy", "116.62"),
    ("Pension and welfare", "390.00"),
    ("Employer's national insurance", "2115.36"),
)
GENERAL = (
    ("Productive time", "15231.81"),
    ("Lost time", "309.45"),
    ("Holidays", "1994.23"),
    ("CITB levy", "87.68"),
    ("Pension and welfare", "390.00"),
    ("Employer's national insurance", "1312.54"),
)
SPON_HOURS = Decimal("44.30") * 39

# The same method at present-day shape; pay is an illustration, contributions are from memory.
YEAR = WorkingYear(
    *map(Decimal, ("52", "39", "218.4", "39", "15.6", "2")), source="common practice, no source"
)
ON_COSTS = OnCosts(
    *map(Decimal, ("15", "5000", "3", "6240", "350", "1.5", "2")), source="from memory"
)
CRAFTSMAN = Grade("Bricklayer", Decimal("17.00"), Decimal(400), "illustrative")
LABOURER = Grade("Labourer", Decimal("13.00"), Decimal(250), "illustrative")


def spon(lines: tuple[tuple[str, str], ...]) -> tuple[Decimal, Decimal, list[Decimal]]:
    costs = [YearCost(title, Decimal(amount)) for title, amount in lines]
    built = with_oncosts(
        costs, SPON_HOURS, severance_percent=Decimal("1.5"), liability_percent=Decimal(2)
    )
    return built.year, built.rate, [cost.amount for cost in built.costs]


def test_spon_2017_craft() -> None:
    year, rate, amounts = spon(CRAFT)
    assert amounts[-2:] == [Decimal("389.19"), Decimal("526.71")]
    assert year == Decimal("26861.99")
    assert rate == Decimal("15.55")


def test_spon_2017_general() -> None:
    year, rate, amounts = spon(GENERAL)
    assert amounts[-2:] == [Decimal("289.89"), Decimal("392.31")]
    # Printed 20,007.90; the lines as printed add to a penny more.
    assert abs(year - Decimal("20007.90")) <= Decimal("0.25")
    assert rate == Decimal("11.58")


@pytest.mark.parametrize(
    ("year", "rate"),
    [
        # An earlier Taylor and Francis price book, read: 1,802 hours are 52 × 39 − 163 − 63.
        ("21118.52", "11.72"),
        ("15878.11", "8.81"),
        ("23346.84", "12.96"),
        ("17562.00", "9.75"),
    ],
)
def test_an_earlier_price_book(year: str, rate: str) -> None:
    hours = Decimal(52 * 39 - 163 - 63)
    none = Decimal(0)
    built = with_oncosts(
        [YearCost("Year", Decimal(year))], hours, severance_percent=none, liability_percent=none
    )
    assert hours == 1802
    assert built.rate == Decimal(rate)


def test_productive_hours() -> None:
    # Computed: 2,028 − 218.4 − 39 − 15.6, less 2 % for weather.
    assert YEAR.paid_hours == 2028
    assert YEAR.productive_hours == Decimal("1719.9")


def test_the_worked_craft_rate_line_by_line() -> None:
    built = all_in(CRAFTSMAN, YEAR, ON_COSTS)
    expected = ("34476.00", "4421.40", "847.08", "350", "400", "607.42", "822.04")
    assert [cost.amount for cost in built.costs] == [Decimal(amount) for amount in expected]
    assert built.year == Decimal("41923.94")
    assert built.rate == Decimal("24.38")
    assert built.rate / CRAFTSMAN.basic == pytest.approx(Decimal("1.434"), abs=Decimal("0.001"))


def test_the_worked_labourer() -> None:
    assert all_in(LABOURER, YEAR, ON_COSTS).rate == Decimal("18.52")


@pytest.mark.parametrize(
    ("bricklayers", "labourers", "rate"),
    [("2", "1", "33.64"), ("1", "0.5", "33.64"), ("1", "1", "42.90"), ("1", "0", "24.38")],
)
def test_gangs(bricklayers: str, labourers: str, rate: str) -> None:
    gang = Gang(Decimal(bricklayers), Decimal(labourers), "house")
    assert gang_rate(Decimal("24.38"), Decimal("18.52"), gang) == Decimal(rate)


def test_more_leave_makes_the_hour_dearer() -> None:
    fewer = replace(YEAR, leave_hours=Decimal(300))
    assert all_in(CRAFTSMAN, fewer, ON_COSTS).rate > all_in(CRAFTSMAN, YEAR, ON_COSTS).rate
