"""A variation that rests on one still open: agreed with it, or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from estimator.contract import drafting
from estimator.contract.allowed import check
from estimator.contract.contract import Contract, Manner
from estimator.contract.deeds import Accepted, Answered, Deed, Drafted, Happening, Sent
from estimator.contract.frozen import survey_of
from estimator.contract.so_far import SoFar, so_far
from estimator.contract.valuation import value
from estimator.contract.variation import Standing, Variation
from estimator.money import total
from estimator.notices import UserMistake
from estimator.survey.survey import CrackedBrick, Survey, Treatment
from estimator.takeoff.scope import LOCAL
from tests.contract.made_up import DAY, NOON, answered, contract, survey
from tests.takeoff.walls import upright, wall

FRONT = wall(upright("a", 1120))


def drawn(job: SoFar, found: Survey, key: str, revision: int) -> Variation:
    return drafting.drawn_up(
        job,
        value(job, found, LOCAL),
        date=DAY,
        asked_by="found on site",
        reason="",
        revision=revision,
        key=key,
    )


def resting() -> tuple[Contract, Variation, Variation]:
    """Two bricks more are sent; one of them, it turns out, needs no repair."""
    given = contract(survey(FRONT))
    more = tuple(CrackedBrick(course, 9, Treatment.PATCH) for course in (9, 10))
    job = SoFar(contract=given)
    found = survey(replace(FRONT, bricks=more))
    first = drawn(job, found, "a", 2)
    sent = answered(given, (first, Standing.SENT))
    fewer = survey(replace(FRONT, bricks=more[:1]))
    return given, first, drawn(sent, fewer, "b", 3)


def yes(key: str) -> Answered:
    return Answered(key, Standing.AGREED, "Ines Marlowe", Manner.EMAIL, NOON)


def no(key: str) -> Answered:
    return replace(yes(key), answer=Standing.DECLINED)


def happened(given: Contract, *deeds: Deed) -> tuple[Happening, ...]:
    told = (Accepted(given), *deeds)
    return tuple(Happening(str(place), NOON, deed) for place, deed in enumerate(told))


def out(*made: Variation) -> Iterator[Deed]:
    for number, one in enumerate(made, start=1):
        yield Drafted(one)
        yield Sent(one.key, f"V-{number:04d}", DAY, Manner.EMAIL)


def test_nothing_is_taken_off_that_was_never_agreed() -> None:
    """Found wanting: a brick declined was taken off the price all the same, by the next paper."""
    given, first, second = resting()
    before = happened(given, *out(first, second), no("a"))
    with pytest.raises(UserMistake, match="V-0002 cannot be agreed as it stands"):
        check(before, yes("b"))
    check(before, replace(yes("b"), answer=Standing.WITHDRAWN))
    for deeds in ((yes("a"), yes("b")), (yes("b"), yes("a"))):
        told = happened(given, *out(first, second))
        for deed in deeds:
            check(told, deed)
            told = (*told, Happening(f"h{len(told)}", NOON, deed))
        assert so_far(told).net == given.net + first.net + second.net


def test_what_was_taken_off_and_then_declined_is_put_right_and_looked_at() -> None:
    """Who agrees to the second paper and then declines the first has agreed to both."""
    given, first, second = resting()
    job = so_far(happened(given, *out(first, second), yes("b"), no("a")))
    told = value(job, survey_of(second.survey), LOCAL)
    assert any("not agreed" in text for text in told.warnings)
    alone = value(SoFar(contract=given), survey_of(second.survey), LOCAL)
    assert job.net + total(one.amount for one in told.lines) == given.net + total(
        one.amount for one in alone.lines
    )
    assert not alone.warnings
