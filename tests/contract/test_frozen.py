"""Texts a contract keeps come back as what it was priced with."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.contract.frozen import frozen, parsed, rules_text, survey_of
from estimator.notices import UserMistake
from estimator.pricing.pricing import price
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import changed, shipped
from estimator.takeoff.scope import LOCAL
from tests.contract import made_up
from tests.takeoff.walls import upright, wall

SURVEY = made_up.survey(wall(upright("a", 1120)))


def test_a_contract_prices_to_what_was_printed() -> None:
    given_ = made_up.contract(SURVEY)
    then = frozen(given_)
    rules = changed(then.rules, stock_lengths_mm=then.book.bar_lengths_mm)
    offer = price(measure(then.survey, given_.scope, rules), then.book, given_.terms)
    assert (then.survey, offer.net, offer.total) == (SURVEY, given_.net, given_.total)


@given(st.integers(2, 9), st.sampled_from([1, 5, 10, 25]))
def test_rules_come_back_as_they_were(spacing: int, rounding: int) -> None:
    rules = changed(shipped(), spacing_courses=spacing, bar_rounding_mm=rounding)
    given_ = replace(made_up.contract(SURVEY), rules=rules_text(rules))
    assert frozen(given_).rules == rules


def test_a_rule_of_another_day_is_left_aside() -> None:
    text = (*rules_text(shipped()), ("a_rule_no_longer_known", "3"))
    assert parsed(made_up.contract(SURVEY).survey, made_up.BOOK, text).rules == shipped()


def test_the_same_texts_are_read_once() -> None:
    given_ = made_up.contract(SURVEY, LOCAL)
    assert frozen(given_).book is frozen(given_).book
    assert survey_of(given_.survey) is frozen(given_).survey


def test_a_text_that_cannot_be_read_is_said() -> None:
    broken = replace(made_up.contract(SURVEY), survey=json.dumps({"what": "is this"}))
    with pytest.raises(UserMistake):
        frozen(broken)
