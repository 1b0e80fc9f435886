"""The contract sum with its tax, before and after each variation."""

from __future__ import annotations

import datetime
import itertools
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.contract import drafting
from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.sums import price_of, running
from estimator.contract.variation import Standing, ValuedBy, Variation
from estimator.money import NOTHING, Money, total
from estimator.pricing import tax
from estimator.pricing.tax import Supply
from estimator.pricing.tax_habits import Rounding, SalesTax
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind
from estimator.takeoff.scope import LOCAL
from tests.contract import made_up
from tests.takeoff.walls import upright, wall

BASE = made_up.contract(made_up.survey(wall(upright("a", 1120))))
VAT = Terms(made_up.DAY)
SUMS = st.integers(1, 20_000_00).map(Money)


def contract(net: Money, terms: Terms = VAT, supply: Supply | None = None) -> Contract:
    """A contract over a sum, taxed as the paper would be."""
    charged = tax.charged(tax.charge(supply or Supply((net,)), terms).lines)
    return replace(BASE, net=net, total=net + charged, terms=terms)


def varied(key: str, pence: int, standing: Standing, hour: int | None = None) -> Varied:
    line = drafting.one_sum("own_line", key, Money(pence), ValuedBy.FAIR_RATE, "")
    made = Variation(
        *(key, made_up.DAY, f"Title {key}", "", (), "", (line,), Decimal(0), LOCAL, 1, ""),
    )
    at = None if hour is None else made_up.NOON + datetime.timedelta(hours=hour)
    return Varied(made, standing, f"V-{key}", answered_at=at)


@given(SUMS, SUMS)
def test_taxes_always_add_up_to_the_total(net: Money, other: Money) -> None:
    price = price_of(contract(net), other)
    assert price.net + price.tax == price.total
    assert total(line.amount for line in price.taxes if line.charged) == price.tax


@given(SUMS, st.lists(SUMS, min_size=1, max_size=6))
def test_the_contract_keeps_the_tax_that_was_printed(net: Money, parts: list[Money]) -> None:
    # By lines, each down to a tenth of a penny: VAT Notice 700, 17.5. Fifths of pennies are tenths;
    # a rate of 13.5 % leaves something to round.
    terms = replace(VAT, country="IE", rounding=Rounding.LINES_DOWN)
    whole = total(parts)
    given_ = contract(whole, terms, Supply(tuple(parts)))
    price = price_of(given_, whole)
    assert price.total == given_.total
    assert total(line.amount for line in price.taxes) == price.tax


def test_a_penny_lost_line_by_line_is_lost_in_the_tax_line_too() -> None:
    # 13.5 % of 33 × 0.33: 4.455 p a line is 4.4 p down, 145.2 p in all and 1.45 down; 1.47 at once.
    terms = replace(VAT, country="IE", rounding=Rounding.LINES_DOWN)
    parts = (Money(33),) * 33
    price = price_of(contract(total(parts), terms, Supply(parts)), total(parts))
    assert [str(line.amount) for line in price.taxes] == ["1.45"]
    assert str(price.total) == "12.34"


def test_a_reverse_charge_is_shown_and_not_added() -> None:
    # VAT Notice 735: the customer accounts for it; 2,000.00 is due and 400.00 shown.
    terms = replace(
        *(VAT,),
        customer=CustomerKind.TRADE,
        reverse_charge=True,
        customer_tax_number="GB 999 9999 99",
        is_end_user=False,
    )
    price = price_of(contract(Money.of(1000), terms), Money.of(2000))
    assert (price.total, price.tax) == (Money.of(2000), NOTHING)
    assert [str(line.amount) for line in price.taxes] == ["400.00"]


def test_a_trader_not_registered_charges_no_tax() -> None:
    price = price_of(contract(Money.of(1000), replace(VAT, registered=False)), Money.of(1200))
    assert (price.taxes, price.total) == ((), Money.of(1200))


# Ireland: 1,500 with goods of 600 is taxed as a service, with goods of 1,050 as goods.
# Source: the two-thirds rule, revenue.ie, with figures worked by hand.
@pytest.mark.parametrize(("goods", "rate"), [("600", "13.5"), ("1050", "23")])
def test_a_variation_is_taxed_as_the_contract_was(goods: str, rate: str) -> None:
    terms = replace(VAT, country="IE")
    supply = Supply((Money.of(1500),), goods_cost=Money.of(goods))
    given_ = contract(Money.of(1500), terms, supply)
    price = price_of(given_, Money.of(1700))
    assert price.taxes[0].rate == Decimal(rate)
    assert price.tax == Money.of(1700).times(Decimal(rate) / 100)


def test_a_tax_on_materials_alone_stays_on_their_share() -> None:
    # Texas, separated: 8.25 % on 300 of 1,200; a third more work holds a third more materials.
    terms = replace(
        VAT, country="US", sales_tax=SalesTax.SEPARATED, sales_tax_percent=Decimal("8.25")
    )
    supply = Supply((Money.of(300), Money.of(900)), materials_sold=Money.of(300))
    given_ = contract(Money.of(1200), terms, supply)
    assert str(price_of(given_, Money.of(1200)).total) == "1224.75"
    assert str(price_of(given_, Money.of(1600)).tax) == "33.00"


# -- one after another


def test_each_agreed_variation_starts_where_the_one_before_ended() -> None:
    told = [
        varied(key, pence, Standing.AGREED, hour)
        for key, pence, hour in (("a", 41250, 3), ("b", -15000, 1), ("c", -6160, 2))
    ]
    given_ = contract(Money.of(3480))
    job = SoFar(contract=given_, variations=tuple(told))
    steps = [running(job, key) for key in "bca"]
    assert steps[0].before == price_of(given_, given_.net)
    for one, two in itertools.pairwise(steps):
        assert one.after == two.before
    assert steps[-1].after == price_of(given_, job.net)
    assert [name for name, _title, _net in steps[-1].agreed] == ["V-b", "V-c"]
    assert total(step.change.tax for step in steps) == (steps[-1].after.tax - steps[0].before.tax)


def test_two_agreed_at_one_time_come_one_after_the_other() -> None:
    told = tuple(varied(key, 10000, Standing.AGREED, 1) for key in "ab")
    job = SoFar(contract=contract(Money.of(3480)), variations=told)
    assert running(job, "a").agreed == ()
    assert [name for name, _title, _net in running(job, "b").agreed] == ["V-a"]


@pytest.mark.parametrize("standing", [Standing.DRAFTED, Standing.SENT, Standing.DECLINED])
def test_what_is_not_agreed_is_in_no_other_sum(standing: Standing) -> None:
    told = (varied("a", 10000, standing), varied("b", 20000, Standing.AGREED, 1))
    job = SoFar(contract=contract(Money.of(3480)), variations=told)
    assert running(job, "b").before.net == Money.of(3480)
    assert running(job, "b").after.net == job.net == Money.of(3680)
    assert running(job, "a").after.net == Money.of(3780)


@given(SUMS, st.lists(st.tuples(st.integers(-500_00, 500_00).filter(bool), st.booleans())))
def test_original_and_agreed_are_the_sum_on_every_paper(
    net: Money, told: list[tuple[int, bool]]
) -> None:
    made = tuple(
        varied(
            f"k{place}", pence, Standing.AGREED if yes else Standing.SENT, place if yes else None
        )
        for place, (pence, yes) in enumerate(told)
    )
    job = SoFar(contract=contract(net), variations=made)
    for one in made:
        sums = running(job, one.variation.key)
        assert sums.original.net + total(amount for _no, _title, amount in sums.agreed) == (
            sums.before.net
        )
        assert sums.before.net + sums.change.net == sums.after.net
        assert sums.before.total + sums.change.total == sums.after.total
        assert sums.change.net == one.variation.net


def test_without_a_contract_or_a_variation_there_is_no_sum() -> None:
    with pytest.raises(ValueError, match="nothing has been accepted"):
        running(SoFar(), "a")
    with pytest.raises(KeyError):
        running(SoFar(contract=BASE), "a")
