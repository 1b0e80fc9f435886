from __future__ import annotations

from dataclasses import fields

import pytest

from estimator.notices import UserMistake
from estimator.takeoff.rules import Rules, VoidMethod, changed, rule_info, rule_keys, shipped


def test_every_field_has_its_rule_and_every_rule_its_field() -> None:
    assert sorted(rule_keys()) == sorted(entry.name for entry in fields(Rules))


@pytest.mark.parametrize("key", rule_keys())
def test_every_rule_is_labelled_sourced_and_within_its_own_bounds(key: str) -> None:
    info = rule_info(key)
    assert info.label
    assert info.source.title
    assert changed(shipped(), **{key: info.value}) == shipped()


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("anchorage_mm", -1, "Bar beyond the crack on each side cannot be -1; type a number"),
        ("anchorage_mm", "500", "cannot be 500; type a number from 50 to 3,000 mm"),
        ("anchorage_mm", True, "cannot be True"),
        ("anchorage_mm", float("nan"), "cannot be nan"),
        ("spacing_courses", 2.5, "cannot be 2.5"),
        ("void_method", "by eye", "cannot be by eye; type nrm2 or smm7 or is1200 or own"),
        ("stock_lengths_mm", [], r"cannot be \[\]"),
        ("stock_lengths_mm", [500], "the longest bar bought is too short to be lapped"),
        ("pointing_over_slot_mm", 40, "does not hold the bar and the pointing"),
        ("colour", 1, "there is no rule called colour"),
    ],
)
def test_nonsense_is_refused_in_plain_words(key: str, value: object, said: str) -> None:
    with pytest.raises(UserMistake, match=said):
        changed(shipped(), **{key: value})


def test_a_wider_spacing_takes_the_long_cracks_with_it() -> None:
    assert changed(shipped(), spacing_courses=6).long_spacing_courses == 6


def test_values_take_the_type_of_their_field() -> None:
    rules = changed(shipped(), anchorage_mm=400, stock_lengths_mm=[3000, 1000], void_method="smm7")
    assert isinstance(rules.anchorage_mm, float)
    assert rules.stock_lengths_mm == (1000, 3000)
    assert rules.void_method is VoidMethod.SMM7


def test_the_shipped_rules_stay_as_they_are() -> None:
    before = shipped()
    changed(before, anchorage_mm=400)
    assert shipped() is before
    assert before.anchorage_mm == 500
