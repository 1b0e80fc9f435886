"""What was noted of a bar stays with that bar, whatever is agreed after it."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from estimator.contract.contract import Manner
from estimator.contract.deeds import (
    Accepted,
    Answered,
    BuiltThere,
    CalledOff,
    Deed,
    Drafted,
    Happening,
    HeldThere,
    Sent,
)
from estimator.contract.so_far import SoFar, so_far
from estimator.contract.valuation import value
from estimator.contract.variation import Standing
from estimator.contract.works import Built, Feature, Held
from estimator.survey.survey import SteppedRun, Survey
from estimator.works.as_built import BuiltMark, State, as_built
from estimator.works.noted import built_now, held_now
from estimator.works.site_sheet import site_sheet
from tests.works import made_up

NOON = datetime.datetime(2026, 12, 1, 12, tzinfo=datetime.UTC)
DAY = made_up.START
FEATURES = (Feature.DEPTH, Feature.DRY_FIT, Feature.DUST_OUT, Feature.DAMPED)


def job(*deeds: Deed) -> SoFar:
    return so_far(Happening(f"h{place}", NOON, deed) for place, deed in enumerate(deeds))


def noted(mark: str, *, batch: str = "G-17") -> tuple[Deed, ...]:
    built = Built(mark, DAY, "bar set", batch, 35)
    return (BuiltThere(built), *(HeldThere(Held(one, mark, DAY, "Ada")) for one in FEATURES))


def agreed(found: Survey, key: str = "a", standing: Standing = Standing.AGREED) -> tuple[Deed, ...]:
    contract = made_up.contract("quoin_cavity")
    made = made_up.varied(key, found, contract.scope).variation
    lines = value(SoFar(contract=contract), found, contract.scope).lines
    return (
        Drafted(replace(made, lines=lines)),
        Sent(key, f"V-{key}", DAY, Manner.EMAIL),
        Answered(key, standing, "Ines Marlowe", Manner.EMAIL, NOON),
    )


def without_its_crack() -> Survey:
    seen = made_up.survey("quoin_cavity")
    side, *others = seen.elevations
    other = replace(side.cracks[0], run=SteppedRun(1200, 3, 4))
    return replace(seen, elevations=(replace(side, cracks=(other,)), *others))


ACCEPTED = Accepted(made_up.contract("quoin_cavity"))
ONE = "side/bar/1"
"""In the bed under course 9, as it was accepted."""


def done(now: SoFar) -> list[BuiltMark]:
    return [mark for mark in as_built(now).marks if mark.done]


def test_a_bar_agreed_later_takes_no_note_and_no_signature_of_another() -> None:
    """Found wanting: bar 1 of the further crack, never set, stood as built and signed for."""
    now = job(ACCEPTED, *noted(ONE), *agreed(made_up.with_a_crack_below()))
    (mark,) = done(now)
    assert (mark.mark, mark.words) == ("side/bar/3", "Bar 3, bed under course 9")
    assert mark.state is State.DONE
    assert {point.feature for point in mark.signed} == set(FEATURES)
    (first,) = [one for one in as_built(now).marks if one.mark == ONE]
    assert (first.state, first.signed) == (State.NOT_NOTED, ())
    signed = {point.mark for point in site_sheet(now).hold_points if point.is_signed}
    assert signed == {"side/bar/3"}


def test_what_is_noted_after_it_was_agreed_is_of_the_bar_as_it_is_numbered_then() -> None:
    now = job(ACCEPTED, *agreed(made_up.with_a_crack_below()), *noted(ONE), *noted("side/bar/3"))
    assert [mark.mark for mark in done(now)] == [ONE, "side/bar/3"]


@pytest.mark.parametrize("standing", [Standing.DECLINED, Standing.WITHDRAWN])
def test_what_is_not_agreed_moves_no_note(standing: Standing) -> None:
    now = job(ACCEPTED, *noted(ONE), *agreed(made_up.with_a_crack_below(), standing=standing))
    assert [mark.mark for mark in done(now)] == [ONE]
    assert (built_now(now), held_now(now)) == (now.built, now.held)


def test_a_bar_that_is_not_wanted_any_more_is_told_of_by_its_bed() -> None:
    """Its number is that of another bar by now."""
    now = job(ACCEPTED, *noted(ONE), *agreed(without_its_crack()))
    (mark,) = done(now)
    assert (mark.words, mark.state) == ("Bed under course 9", State.NOT_PLANNED)
    assert not any(point.is_signed for point in site_sheet(now).hold_points)


def test_notes_follow_their_bar_through_one_change_after_another() -> None:
    now = job(
        ACCEPTED,
        *noted(ONE, batch="first"),
        *agreed(made_up.with_a_crack_below(), "a"),
        *noted(ONE, batch="second"),
        *agreed(made_up.survey("quoin_cavity"), "b"),
    )
    told = {mark.words: [one.batch for one in mark.done] for mark in done(now)}
    assert told == {"Bar 1, bed under course 9": ["first"], "Bed under course 4": ["second"]}


def test_notes_of_a_cancelled_contract_follow_their_bar_into_the_next() -> None:
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL)
    seen = made_up.with_a_crack_below()
    now = job(ACCEPTED, *agreed(seen), *noted("side/bar/3"), off, ACCEPTED)
    assert [mark.words for mark in done(now)] == ["Bar 1, bed under course 9"]


def test_a_job_made_up_without_its_deeds_keeps_its_marks() -> None:
    built = Built(ONE, DAY, "bar set")
    now = replace(made_up.accepted("quoin_cavity"), built=(built,))
    assert built_now(now) == (built,)
