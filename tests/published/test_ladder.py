"""From cost to price: margins and markups, waste and packs, plant, the ladder, dayworks.

Formulas are those of estimating handbooks (CIOB Code of Estimating Practice, NRM2); the figures are
worked from them by hand unless a printed source is named.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimator.money import Money, total
from estimator.pricing.build_up import (
    Additions,
    Profit,
    ProfitKind,
    ladder,
    margin_of_markup,
    markup_of_margin,
)
from estimator.pricing.buying import Material, Pooled, packs, with_loss, with_waste
from estimator.pricing.offer import Rung
from estimator.pricing.plant import Owned
from estimator.pricing.provisional import Daywork, daywork, prime_cost_change, rate_stands
from estimator.pricing.rates import times
from estimator.takeoff.lines import Item
from estimator.units import Unit, whole_up

NONE = Decimal(0)


@pytest.mark.parametrize(
    ("margin", "markup"),
    # The usual table of margins on price and markups on cost.
    [
        ("5", "5.26"),
        ("10", "11.11"),
        ("15", "17.65"),
        ("20", "25.00"),
        ("25", "33.33"),
        ("30", "42.86"),
        ("35", "53.85"),
        ("40", "66.67"),
    ],
)
def test_margin_and_markup(margin: str, markup: str) -> None:
    found = markup_of_margin(Decimal(margin))
    assert round(found, 2) == Decimal(markup)
    assert round(margin_of_markup(found), 9) == Decimal(margin)


@pytest.mark.parametrize(("markup", "margin"), [("50", "33.333"), ("15", "13.043")])
def test_markup_back_to_margin(markup: str, margin: str) -> None:
    assert round(margin_of_markup(Decimal(markup)), 3) == Decimal(margin)


@pytest.mark.parametrize(
    ("additions", "price"),
    [
        (Additions(NONE, NONE, Profit(ProfitKind.MARGIN, Decimal(15))), "1176.47"),
        (Additions(NONE, Decimal(10), Profit(ProfitKind.MARKUP, Decimal(5))), "1155.00"),
        (Additions(NONE, NONE, Profit(ProfitKind.MARKUP, Decimal(15))), "1150.00"),
    ],
)
def test_a_thousand_marked_up(additions: Additions, price: str) -> None:
    assert str(Money.of(1000).times(additions.factor)) == price


def test_the_ladder_example() -> None:
    costs = [
        Rung("labour", "Labour", "", times(Decimal("14.5"), Decimal("33.64"))),
        Rung("materials", "Materials", "", Money.of("186.40")),
        Rung("plant", "Plant", "", Money.of("45.00")),
        Rung("preliminaries", "Preliminaries", "", Money.of("220.00")),
    ]
    eight = Profit(ProfitKind.MARKUP, Decimal(8))
    rungs = ladder(costs, Additions(Decimal(5), Decimal(12), eight))
    printed = ["487.78", "186.40", "45.00", "220.00", "46.96", "118.34", "88.36"]
    assert [str(rung.amount) for rung in rungs] == printed
    net = total(rung.amount for rung in rungs)
    tax = net.times(Decimal("0.2"))
    assert [str(net), str(tax), str(net + tax)] == ["1192.84", "238.57", "1431.41"]


def test_labour_of_a_unit() -> None:
    # 0.75 h/m² at £33.64.
    assert str(times(Decimal("0.75"), Decimal("33.64"))) == "25.23"


def test_packs_after_waste() -> None:
    assert with_waste(Decimal("46.2"), Decimal(10)) == Decimal("50.82")
    assert packs(with_waste(Decimal("46.2"), Decimal(10)), Decimal(25)) == 3


@pytest.mark.parametrize(
    ("net", "percent", "added", "lost"), [("37", "10", 41, 42), ("100", "5", 105, 106)]
)
def test_two_conventions_of_waste(net: str, percent: str, added: int, lost: int) -> None:
    assert whole_up(with_waste(Decimal(net), Decimal(percent))) == added
    assert whole_up(with_loss(Decimal(net), Decimal(percent))) == lost


def test_loss_on_a_hundred() -> None:
    assert round(with_loss(Decimal(100), Decimal(5)), 2) == Decimal("105.26")


def test_packs_are_pooled_before_they_are_rounded() -> None:
    sand = Material("sand", "Sand", Unit.KILOGRAM, "bag", Decimal(25), Money.of(4), "house")
    three = {Item.REPOINT: Decimal(15), Item.POINT_SLOT: Decimal(15), Item.SET_BAR: Decimal(15)}
    assert Pooled.of(sand, three).whole_packs == 2


@pytest.mark.parametrize(
    ("square_metres", "percent", "bricks"),
    # 60 to the square metre: an engineering society's example of 2018, where floats give 793, and
    # UTHM lecture BPD 31003; both read.
    [("12", "10", 792), ("1", "5", 63)],
)
def test_bricks_with_waste(square_metres: str, percent: str, bricks: int) -> None:
    net = Decimal(square_metres) * 60
    assert whole_up(with_waste(net, Decimal(percent))) == bricks


def test_owned_plant_by_the_hour() -> None:
    drill = Owned(*map(Decimal, ("900", "100", "1500", "120", "0.85")))
    assert round(drill.an_hour, 4) == Decimal("1.4633")


def test_daywork() -> None:
    # RICS definition, option A; percentages are illustrations.
    labour = times(Decimal("6.5"), Decimal(18))
    extra = Daywork(Decimal(110), Decimal(15), Decimal(15))
    assert str(daywork(labour, Money.of(84), Money.of(40), extra)) == "388.30"


@pytest.mark.parametrize(
    ("found", "says"),
    [("16.5", "stands"), ("17", "review"), ("16.8", "review"), ("11.3", "stands")],
)
def test_a_provisional_rate(found: str, says: str) -> None:
    # NRM2 by way of designingbuildings.co.uk, read: at exactly a fifth it may be reviewed.
    stands = rate_stands(Decimal(14), Decimal(found), review_from_percent=Decimal(20))
    assert ("stands" if stands else "review") == says


def test_prime_cost_bricks() -> None:
    at = {"allowed": Money.of(480), "invoiced": Money.of(620)}
    assert str(prime_cost_change(240, **at)) == "33.60"
    assert str(prime_cost_change(240, **at, waste_percent=Decimal(5))) == "35.28"


@pytest.mark.parametrize(
    ("quantity", "rate", "amount"),
    [("16.5", "38.50", "635.25"), ("11", "18.50", "203.50"), ("2.4", "46.00", "110.40")],
)
def test_lines_are_rounded_once(quantity: str, rate: str, amount: str) -> None:
    assert str(times(Decimal(quantity), Decimal(rate))) == amount
