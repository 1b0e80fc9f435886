"""The right to cancel, held to dates and sums worked out from the Regulations.

Consumer Contracts (Information, Cancellation and Additional Charges) Regulations 2013,
SI 2013/3134: regulations from memory, councils' guidance read. Each date was counted by hand.
"""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.contract.cancellation import (
    is_variation_noticed_again,
    last_day_after,
    owed_if_cancelled,
    refund_by,
    right_of,
)
from estimator.contract.contract import Cancelling, Contract, Made
from estimator.contract.so_far import SoFar
from estimator.money import Money
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind
from tests.contract.test_account import contract


def day(text: str) -> datetime.date:
    return datetime.date.fromisoformat(text)


def agreed_on(agreed: str, told: Cancelling, net: str = "3480") -> Contract:
    made = contract(Money.of(net))
    return replace(made, accepted_on=day(agreed), cancelling=told)


@pytest.mark.parametrize(
    ("agreed", "last"),
    [
        ("2026-11-25", "2026-12-09"),
        ("2026-12-18", "2027-01-01"),
        ("2027-02-15", "2027-03-01"),
        ("2028-02-15", "2028-02-29"),
    ],
)
def test_fourteen_days_after_the_day_it_was_agreed(agreed: str, last: str) -> None:
    """Regulation 30: calendar days, holidays and week-ends among them."""
    right = right_of(agreed_on(agreed, Cancelling(notice_given=day(agreed))))
    assert right.last_day == day(last) == last_day_after(day(agreed))
    assert right.may_start == day(last) + datetime.timedelta(days=1)
    assert "reg. 30" in right.reason


def test_goods_that_come_later_set_the_later_day() -> None:
    """Regulation 30, mixed contracts: the later of both days."""
    told = Cancelling(notice_given=day("2026-11-25"), goods_arrive=day("2026-12-01"))
    assert right_of(agreed_on("2026-11-25", told)).last_day == day("2026-12-15")
    earlier = Cancelling(notice_given=day("2026-11-25"), goods_arrive=day("2026-11-20"))
    assert right_of(agreed_on("2026-11-25", earlier)).last_day == day("2026-12-09")


@pytest.mark.parametrize(
    ("given", "last"),
    [
        (None, "2027-12-09"),
        ("2026-11-20", "2026-12-09"),
        ("2026-12-02", "2026-12-16"),
        ("2027-11-20", "2027-12-04"),
        ("2027-12-08", "2027-12-09"),
    ],
)
def test_who_was_not_told_has_up_to_twelve_months_more(given: str | None, last: str) -> None:
    """Regulation 31: 12 months after the usual end; told within them, 14 days from being told."""
    told = Cancelling(notice_given=day(given) if given else None)
    right = right_of(agreed_on("2026-11-25", told))
    assert right.last_day == day(last)
    assert right.told is (given is not None)


@pytest.mark.parametrize(
    ("told", "net", "word"),
    [
        (Cancelling(made=Made.AT_OUR_PREMISES), "3480", "premises"),
        (Cancelling(is_urgent=True), "3480", "beyond that repair"),
        (Cancelling(made=Made.AT_THEIR_HOME), "35", "exempt"),
    ],
)
def test_where_there_is_no_right_it_says_why(told: Cancelling, net: str, word: str) -> None:
    """£35 and VAT make £42, which is exempt; regulations 5, 7 and 28."""
    right = right_of(agreed_on("2026-11-25", told, net))
    assert right.last_day is None
    assert right.may_start == day("2026-11-25")
    assert word in right.reason


def test_a_penny_over_the_exempt_sum_or_a_sale_at_a_distance_keeps_the_right() -> None:
    """Regulation 7(4): only contracts made away from business premises are exempt to £42."""
    home = Cancelling(made=Made.AT_THEIR_HOME, notice_given=day("2026-11-25"))
    assert right_of(agreed_on("2026-11-25", home, "35.01")).last_day == day("2026-12-09")
    afar = Cancelling(made=Made.AT_A_DISTANCE, notice_given=day("2026-11-25"))
    assert right_of(agreed_on("2026-11-25", afar, "35")).last_day == day("2026-12-09")


def test_a_business_has_no_right() -> None:
    made = replace(
        agreed_on("2026-11-25", Cancelling()),
        terms=Terms(day("2026-11-25"), customer=CustomerKind.TRADE),
    )
    assert "business" in right_of(made).reason
    assert not is_variation_noticed_again(made, Money.of(100))


@pytest.mark.parametrize(("asked", "first"), [("2026-11-25", "2026-11-25"), ("2026-11-28",) * 2])
def test_work_starts_early_only_from_when_it_was_asked_for(asked: str, first: str) -> None:
    """Regulation 36(1): on an express request."""
    told = Cancelling(notice_given=day("2026-11-25"), early_start=day(asked))
    right = right_of(agreed_on("2026-11-25", told))
    assert right.may_start == day(first)
    assert right.last_day == day("2026-12-09")


def test_told_on_the_last_day_of_twelve_months_they_have_the_whole_fourteen_days() -> None:
    """Regulation 31(2): twelve months from the first of the fourteen days, across a leap day."""
    told = Cancelling(notice_given=day("2029-02-15"))
    assert right_of(agreed_on("2028-02-15", told)).last_day == day("2029-03-01")
    too_late = right_of(agreed_on("2028-02-15", Cancelling(notice_given=day("2029-02-16"))))
    assert too_late.last_day == day("2029-02-28")
    assert "too late" in too_late.reason


def test_whoever_asks_for_a_start_after_the_time_holds_no_work_up() -> None:
    """The fourteen days end on 9 December whatever was asked for; from then on work may begin."""
    told = Cancelling(notice_given=day("2026-11-25"), early_start=day("2027-01-11"))
    assert right_of(agreed_on("2026-11-25", told)).may_start == day("2026-12-10")


def owed(told: Cancelling, on: str, done: str = "1.5", of_all: str = "4") -> str | None:
    so_far = SoFar(contract=agreed_on("2026-11-25", told))
    net = owed_if_cancelled(so_far, on=day(on), done=Decimal(done), of_all=Decimal(of_all)).net
    return None if net is None else str(net)


def test_what_was_done_by_request_is_owed_in_proportion() -> None:
    """£3,480 × 1.5 / 4 days = £1,305.00; regulation 36(4) and (5)."""
    told = Cancelling(notice_given=day("2026-11-25"), early_start=day("2026-11-25"))
    assert owed(told, "2026-12-09") == "1305.00"
    assert owed(told, "2026-12-09", done="0") == "0.00"
    assert owed(told, "2026-12-09", done="4") == "3480.00"


def test_nothing_is_owed_without_request_or_notice() -> None:
    """Regulation 36(6)."""
    given, asked = day("2026-11-25"), day("2026-11-26")
    assert owed(Cancelling(notice_given=given), "2026-12-01") == "0.00"
    assert owed(Cancelling(early_start=asked), "2026-12-01") == "0.00"


def test_after_the_time_or_without_the_right_the_law_on_cancelling_does_not_say() -> None:
    told = Cancelling(notice_given=day("2026-11-25"))
    assert owed(told, "2026-12-10") is None
    assert owed(Cancelling(is_urgent=True), "2026-12-01") is None


def test_more_work_than_there_is_cannot_be_done() -> None:
    with pytest.raises(ValueError, match="more work"):
        owed(Cancelling(), "2026-12-01", done="5")


def test_money_goes_back_within_fourteen_days() -> None:
    """Regulation 34."""
    assert refund_by(day("2026-12-20")) == day("2027-01-03")


@pytest.mark.parametrize(("change", "again"), [("42.00", False), ("42.01", True)])
def test_a_change_over_the_exempt_sum_goes_with_its_own_notice(change: str, again: bool) -> None:  # noqa: FBT001 - a case
    """Off-premises contracts to £42 are exempt (Stockton council on the Regulations)."""
    assert is_variation_noticed_again(contract(Money.of(100)), Money.of(change)) is again
