"""Which question comes next."""

from __future__ import annotations

from estimator.desktop.questions.order import CAUSE, DANGER, SAFETY, in_order
from estimator.money import Money
from estimator.survey.enquiry import questions

ALL = tuple(one.key for one in questions())


def test_danger_comes_before_money_and_much_money_before_the_cause():
    worth = {"length": Money.of(400), "shape": Money.of(90), "mortar": Money.of(10)}
    found = in_order(ALL, worth)
    assert found[: len(DANGER) + 2 + len(CAUSE)] == (*DANGER, "length", "shape", *CAUSE)
    assert found[len(DANGER) + 2 + len(CAUSE)] == "mortar"


def test_without_a_range_yet_the_usual_order_holds():
    rest = tuple(key for key in ALL if key not in SAFETY)
    assert in_order(rest, {}) == rest


def test_what_is_put_off_comes_last_in_the_order_it_was_put_off():
    found = in_order(ALL, {}, later=("growing", "warning"))
    assert found[-2:] == ("growing", "warning")
    assert sorted(found) == sorted(ALL)
