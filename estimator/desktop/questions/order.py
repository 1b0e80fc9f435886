"""Which question comes next: danger, then what narrows the price most, then the cause."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from estimator.desktop.questions import answers
from estimator.desktop.state import Sight
from estimator.money import NOTHING, Money
from estimator.survey.enquiry import noted, questions, still_asked

DANGER = ("warning", "width", "growing")
"""Questions that come before any price, because their answer may end the call; source: house."""
CAUSE = ("filled", "works", "ground")
"""Questions that may stop the price too, and can wait for what it hangs on; source: house."""
SAFETY = DANGER + CAUSE
"""Every question whose answer may stop the price."""
MUCH = Money.of(50)
"""What an answer is worth that is asked for before the cause is; source: house."""


def worths(sight: Sight) -> Mapping[str, Money]:
    """Return what each answer is worth, as far as it is worked out."""
    outlook = sight.outlook
    return {one.question: one.pounds for one in outlook.worths} if outlook is not None else {}


def unasked(sight: Sight) -> tuple[str, ...]:
    """Return the questions not answered yet that still move something, in the usual order."""
    survey = sight.work.survey
    asked = {one.question for one in survey.asked}
    return tuple(key for key in still_asked(survey) if key not in asked)


def waiting(sight: Sight, *, later: Sequence[str]) -> tuple[str, ...]:
    """Return the questions not answered yet as they are best asked; what is noted comes last."""
    put_off = (*later, *(key for key in noted(sight.work.survey) if key not in later))
    return in_order(unasked(sight), worths(sight), later=put_off)


def best(waiting: Sequence[str], sight: Sight) -> str:
    """Return the question to ask next: the first of those waiting that is not noted, or none."""
    known = noted(sight.work.survey)
    return next((key for key in waiting if key not in known), "")


def known(sight: Sight) -> int:
    """Return how many questions were answered, or are noted without having been asked."""
    survey = sight.work.survey
    return sum(map(answers.is_known, survey.asked)) + len(noted(survey))


def in_play(sight: Sight) -> int:
    """Return how many questions were answered, or may still be asked."""
    survey = sight.work.survey
    return len({*still_asked(survey), *(one.question for one in survey.asked)})


def in_order(
    left: Collection[str], pounds: Mapping[str, Money], *, later: Sequence[str] = ()
) -> tuple[str, ...]:
    """Return questions as they are best asked; those put off come last.

    >>> worth = {"length": Money.of(260), "mortar": Money.of(20)}
    >>> in_order(("place", "length", "ground", "warning", "mortar"), worth)
    ('warning', 'length', 'ground', 'mortar', 'place')
    """
    usual = {one.key: place for place, one in enumerate(questions())}

    def rank(key: str) -> tuple[int, int, int]:
        put_off = later.index(key) + 1 if key in later else 0
        worth = pounds.get(key, NOTHING)
        if key in DANGER:
            group = DANGER.index(key)
        elif key in CAUSE:
            group = len(DANGER) + 1 + CAUSE.index(key)
        else:
            group = len(DANGER) if worth >= MUCH else len(DANGER) + 1 + len(CAUSE)
        return put_off, group, -worth.pence

    return tuple(sorted(sorted(left, key=usual.__getitem__), key=rank))
