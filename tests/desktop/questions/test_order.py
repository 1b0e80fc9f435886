"""Which question comes next."""

from __future__ import annotations

from estimator.desktop.questions.order import SAFETY, in_order
from estimator.money import Money
from estimator.survey.enquiry import questions

ALL = tuple(one.key for one in questions())


def test_danger_comes_before_money():
    found = in_order(ALL, {"length": Money.of(400), "shape": Money.of(90)})
    assert found[: len(SAFETY)] == SAFETY
    assert found[len(SAFETY) : len(SAFETY) + 2] == ("length", "shape")


def test_without_a_range_yet_the_usual_order_holds():
    rest = tuple(key for key in ALL if key not in SAFETY)
    assert in_order(rest, {}) == rest


def test_what_is_put_off_comes_last_in_the_order_it_was_put_off():
    found = in_order(ALL, {}, later=("growing", "warning"))
    assert found[-2:] == ("growing", "warning")
    assert sorted(found) == sorted(ALL)
