"""A yes makes a contract of just what the paper says, and a yes that makes no sense makes none."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.contract.acceptance import (
    PaperOption,
    PricedBy,
    Yes,
    as_agreed,
    contract_of,
    deducted_percent,
)
from estimator.contract.contract import Manner, Retention, Sold, StageDue, StageTerm
from estimator.contract.stages import usual_due_days, usual_stages
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.offer import Group
from estimator.pricing.tax_habits import Deduction
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind
from estimator.takeoff.scope import LOCAL
from estimator.units import Unit
from tests.contract.test_account import plans

DAY = datetime.date(2026, 11, 25)
LINE = Sold("work", Group.BEDS, "Work", Unit.ITEM, Decimal(100), Decimal(1), Money.of(100))
OTHER = replace(LINE, item="other")
OPTION = PaperOption(
    number="Q-0001",
    valid_until=DAY + datetime.timedelta(days=30),
    scope=LOCAL,
    lines=(LINE,),
    others=(OTHER,),
    net=Money.of(100),
    total=Money.of(120),
    further_brick=Money.of("18.50"),
    working_days=Decimal(2),
    materials_cost=Money.of(20),
)
YES = Yes("Ines Marlowe", Manner.TELEPHONE, DAY)
HOUSEHOLD = PricedBy(3, "survey", "book", (("one", "1"),), Terms(DAY))
TRADE = replace(HOUSEHOLD, terms=Terms(DAY, customer=CustomerKind.TRADE))
BUSINESS = replace(HOUSEHOLD, terms=Terms(DAY, customer=CustomerKind.BUSINESS))
IRISH = replace(HOUSEHOLD, terms=Terms(DAY, country="IE", customer=CustomerKind.TRADE))


def stage(percent: int, due: StageDue = StageDue.DURING) -> StageTerm:
    return StageTerm("Part", Decimal(percent), due)


def test_the_contract_is_the_paper() -> None:
    made = contract_of(OPTION, replace(YES, accepted_by=" Ines Marlowe "), HOUSEHOLD)
    assert (made.quotation, made.lines, made.offered) == ("Q-0001", (LINE,), (OTHER,))
    assert (made.net, made.total) == (Money.of(100), Money.of(120))
    assert (made.further_brick, made.materials_cost) == (Money.of("18.50"), Money.of(20))
    assert (made.revision, made.survey, made.book) == (3, "survey", "book")
    assert made.accepted_by == "Ines Marlowe"


def test_what_is_not_told_is_as_usual_and_a_household_keeps_nothing_back() -> None:
    made = contract_of(OPTION, YES, HOUSEHOLD)
    assert made.stages == usual_stages()
    assert made.due_days == usual_due_days()
    assert made.retention == Retention()


@pytest.mark.parametrize(
    ("wrong", "by", "said"),
    [
        ({"accepted_by": "  "}, HOUSEHOLD, "nobody is named"),
        ({"accepted_on": DAY + datetime.timedelta(days=31)}, HOUSEHOLD, "stood until 2026-12-25"),
        ({"accepted_on": DAY - datetime.timedelta(days=1)}, HOUSEHOLD, "not yet written"),
        ({"stages": (stage(30), stage(69))}, HOUSEHOLD, "do not make a whole"),
        ({"stages": (stage(100), stage(0))}, HOUSEHOLD, "is nothing"),
        ({"stages": (stage(51, StageDue.ON_ACCEPTANCE), stage(49))}, TRADE, "too much before"),
        ({"retention": Retention(Decimal(11), 6)}, TRADE, "11 % cannot be kept back"),
        ({"retention": Retention(Decimal(-1), 6)}, TRADE, "-1 % cannot be kept back"),
        ({"retention": Retention(Decimal(5), 6)}, HOUSEHOLD, "a household keeps nothing back"),
        ({"due_days": -1}, TRADE, "paid before it is asked for"),
        ({"due_days": 121}, TRADE, "121 days is a long time"),
        ({"retention": Retention(Decimal(5), 37)}, TRADE, "for 37 months"),
        ({"retention": Retention(Decimal(5), -1)}, TRADE, "for -1 months"),
        ({"deduction": Deduction.REGISTERED}, HOUSEHOLD, "only another contractor"),
        ({"deduction": Deduction.REGISTERED}, BUSINESS, "only another contractor"),
        ({"deduction": Deduction.REGISTERED}, IRISH, "only another contractor"),
    ],
)
def test_what_makes_no_sense_is_refused_in_a_sentence(
    wrong: dict[str, Any], by: PricedBy, said: str
) -> None:
    with pytest.raises(UserMistake, match=said):
        contract_of(OPTION, replace(YES, **wrong), by)


def test_we_may_hold_to_an_offer_that_has_lapsed() -> None:
    late = replace(YES, accepted_on=DAY + datetime.timedelta(days=31), although_expired=True)
    assert contract_of(OPTION, late, HOUSEHOLD).accepted_on == late.accepted_on


def test_the_last_day_of_an_offer_is_a_day_to_take_it() -> None:
    last = replace(YES, accepted_on=OPTION.valid_until)
    assert contract_of(OPTION, last, HOUSEHOLD).accepted_on == OPTION.valid_until


def test_half_the_price_may_be_asked_for_beforehand_and_a_business_may_keep_some_back() -> None:
    half = (stage(50, StageDue.ON_ACCEPTANCE), stage(50))
    kept = Retention(Decimal(10), 12)
    made = contract_of(OPTION, replace(YES, stages=half, retention=kept), TRADE)
    assert (made.stages, made.retention) == (half, kept)


def test_the_deduction_is_as_quoted_unless_another_is_agreed() -> None:
    """A fifth of a registered subcontractor, 30 % of one not verified, nothing of one paid gross:
    Finance Act 2004, ss. 61 and 64, and SI 2007/46, from memory."""
    quoted = replace(TRADE, terms=replace(TRADE.terms, deduction=Deduction.REGISTERED))
    assert contract_of(OPTION, YES, quoted).terms == quoted.terms
    percents = {}
    for one in Deduction:
        made = contract_of(OPTION, replace(YES, deduction=one), quoted)
        assert made.terms == replace(quoted.terms, deduction=one)
        assert (made.net, made.total) == (OPTION.net, OPTION.total)
        percents[one.value] = deducted_percent(one, made.terms)
    assert percents == {"none": 0, "gross": 0, "registered": 20, "unverified": 30}


def test_what_it_would_make_is_what_it_makes() -> None:
    kept = replace(YES, accepted_by=" Ada ", due_days=30, retention=Retention(Decimal(5), 12))
    told = replace(kept, deduction=Deduction.UNVERIFIED, stages=(stage(100),))
    assert as_agreed(contract_of(OPTION, YES, TRADE), told) == contract_of(OPTION, told, TRADE)


@given(plans, st.integers(-3, 3))
def test_only_shares_of_a_whole_are_taken(shares: tuple[int, ...], off: int) -> None:
    told = replace(YES, stages=tuple(map(stage, (*shares[:-1], shares[-1] + off))))
    if not off:
        assert contract_of(OPTION, told, HOUSEHOLD).stages == told.stages
    else:
        with pytest.raises(UserMistake, match="make a whole"):
            contract_of(OPTION, told, HOUSEHOLD)


def test_a_paper_whose_lines_do_not_add_up_makes_no_contract() -> None:
    with pytest.raises(ValueError, match="add up"):
        contract_of(replace(OPTION, net=Money.of(101)), YES, HOUSEHOLD)
