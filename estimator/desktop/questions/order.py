"""Which question comes next: danger first, then what narrows the price most."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from estimator.desktop.state import Sight
from estimator.money import NOTHING, Money
from estimator.survey.enquiry import questions

SAFETY = ("warning", "width", "growing", "filled", "works", "ground")
"""Questions whose answer may stop the price, the gravest first; source: house."""


def worths(sight: Sight) -> Mapping[str, Money]:
    """Return what each answer is worth, as far as it is worked out."""
    outlook = sight.outlook
    return {one.question: one.pounds for one in outlook.worths} if outlook is not None else {}


def unasked(sight: Sight) -> tuple[str, ...]:
    """Return the questions not answered yet, in the order usually asked."""
    asked = {one.question for one in sight.work.survey.asked}
    return tuple(one.key for one in questions() if one.key not in asked)


def in_order(
    left: Collection[str], pounds: Mapping[str, Money], *, later: Sequence[str] = ()
) -> tuple[str, ...]:
    """Return questions as they are best asked; those put off come last.

    >>> in_order(("place", "length", "ground", "warning"), {"length": Money.of(260)})
    ('warning', 'ground', 'length', 'place')
    """
    usual = {one.key: place for place, one in enumerate(questions())}

    def rank(key: str) -> tuple[int, int, int]:
        put_off = later.index(key) + 1 if key in later else 0
        danger = SAFETY.index(key) if key in SAFETY else len(SAFETY)
        return put_off, danger, -pounds.get(key, NOTHING).pence

    return tuple(sorted(sorted(left, key=usual.__getitem__), key=rank))
