"""A variation is complete on its face: what was found, its lines, the wall, the way of working."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.contract import drafting
from estimator.contract.daywork import DayworkSheet, Hours, Spent
from estimator.contract.deeds import Drafted, Happening, Struck
from estimator.contract.drafting import drawn_up, next_key
from estimator.contract.so_far import SoFar, Varied, so_far
from estimator.contract.valuation import Valuation, value
from estimator.contract.variation import ValuedBy, Variation
from estimator.money import Money, total
from estimator.notices import UserMistake
from estimator.survey import survey_file
from estimator.survey.survey import CrackedBrick, Treatment
from estimator.takeoff.scope import PANEL
from tests.contract import made_up
from tests.takeoff.walls import upright, wall

FRONT = wall(upright("a", 1120))
BRICKS = tuple(CrackedBrick(course, 9, Treatment.REPLACE) for course in (9, 10, 11, 12))
FOUND = made_up.survey(replace(FRONT, bricks=BRICKS))
TOLD = {"date": made_up.DAY, "asked_by": "the customer", "reason": "cracked", "revision": 4}


def job() -> SoFar:
    return SoFar(contract=made_up.contract(made_up.survey(FRONT)))


def valuation() -> Valuation:
    return value(job(), FOUND, PANEL, all_found=True)


def test_it_holds_all_that_was_valued() -> None:
    of = valuation()
    made = drawn_up(job(), of, **TOLD, photos=("a" * 64,))
    assert made.lines == of.lines
    assert made.net == total(line.amount for line in of.lines)
    assert (made.key, made.found, made.title) == ("a", of.found, of.title)
    assert (made.scope, made.extra_days, made.notes) == (PANEL, of.extra_days, of.notes)
    assert survey_file.read(made.survey) == FOUND
    assert (made.revision, made.asked_by, made.reason) == (4, "the customer", "cracked")
    assert (made.photos, made.all_found) == (("a" * 64,), True)


def test_lines_may_be_left_out_and_others_added() -> None:
    of, skip = (
        valuation(),
        drafting.one_sum("own_line", "Skip", Money.of(40), ValuedBy.FAIR_RATE, ""),
    )
    made = drawn_up(job(), of, **TOLD, left_out=frozenset({0, 2}), added=(skip,), title="Skip")
    assert made.lines == (of.lines[1], *of.lines[3:], skip)
    assert made.title == "Skip"


def test_what_is_left_out_is_said_and_not_sold_with_the_rest() -> None:
    """Found wanting: a thin bed alone went out as four cracked bricks and a thin bed."""
    of = valuation()
    made = drawn_up(job(), of, **TOLD, left_out=frozenset({0}))
    assert made.notes[-1] == f"Not in this variation, nor in its price: {of.lines[0].description}."


def test_where_all_that_was_measured_is_left_out_neither_its_days_nor_its_finds_are_in_it() -> None:
    """Found wanting: a skip for £40.00 brought the days and the title of all that was found."""
    skip = drafting.one_sum("own_line", "Skip", Money.of(40), ValuedBy.FAIR_RATE, "")
    of = valuation()
    assert of.extra_days
    made = drawn_up(job(), of, **TOLD, left_out=range(len(of.lines)), added=(skip,))
    assert (made.title, made.found, made.notes, made.extra_days) == ("Skip", (), (), Decimal(0))
    two = drawn_up(job(), of, **TOLD, left_out=range(len(of.lines)), added=(skip, skip))
    assert two.title == "Change to the work"


def test_days_nobody_is_charged_for_are_not_promised() -> None:
    """Found wanting: a thin bed at £4.12 took "half a day more", with all else left out."""
    wider = wall(*(upright(name, left) for name, left in zip("abc", (300, 900, 1500), strict=True)))
    of = value(job(), made_up.survey(wider), job().contract.scope)
    places = {place for place, line in enumerate(of.lines) if line.item == drafting.SITE_DAYS}
    assert places
    for left_out, days in (({0} | places, 0), (places, of.extra_days), ({0}, of.extra_days)):
        assert drawn_up(job(), of, **TOLD, left_out=left_out).extra_days == days


def test_an_empty_variation_is_refused() -> None:
    same = value(job(), made_up.survey(FRONT), job().contract.scope)
    with pytest.raises(UserMistake, match="nothing to vary"):
        drawn_up(job(), same, **TOLD)
    of = valuation()
    with pytest.raises(UserMistake):
        drawn_up(job(), of, **TOLD, left_out=range(len(of.lines)))


def test_a_draft_may_take_the_place_of_another() -> None:
    assert drawn_up(job(), valuation(), **TOLD, key="c").key == "c"


def test_keys_go_on_as_columns_do() -> None:
    keys, known = [], SoFar()
    for _one in range(703):
        keys.append(next_key(known))
        made = Variation(keys[-1], made_up.DAY, "", "", (), "", (), Decimal(0), PANEL, 1, "")
        known = SoFar(variations=(*known.variations, Varied(made)))
    assert len(set(keys)) == len(keys)
    assert [keys[place] for place in (0, 25, 26, 27, 51, 52, 701, 702)] == [
        *("a", "z", "aa", "ab", "az", "ba", "zz", "aaa"),
    ]


def test_a_draft_struck_out_lends_its_key_to_no_draft_that_stands() -> None:
    first = drawn_up(job(), valuation(), **TOLD, key="a")
    deeds = (Drafted(first), Drafted(replace(first, key="b")), Struck("0", "not needed"))
    left = so_far(Happening(str(place), made_up.NOON, deed) for place, deed in enumerate(deeds))
    assert [one.variation.key for one in left.variations] == ["b"]
    assert next_key(left) not in {"b"}


@given(st.integers(-10_000_00, 10_000_00).filter(bool))
def test_one_sum_is_its_rate_times_its_change(pence: int) -> None:
    line = drafting.one_sum("own_line", "Sum", Money(pence), ValuedBy.FAIR_RATE, "")
    assert Money.of(line.rate * line.change) == line.amount == Money(pence)
    assert line.rate > 0


@settings(max_examples=30)
@given(st.integers(0, 500_00), st.integers(0, 500_00))
def test_a_provisional_sum_comes_to_what_was_spent(allowed: int, actual: int) -> None:
    out, back = drafting.provisional_sum("Drain", allowed=Money(allowed), actual=Money(actual))
    assert out.amount + back.amount == Money(actual) - Money(allowed)
    assert {out.basis, back.basis} == {ValuedBy.PROVISIONAL_SUM}


def test_daywork_adds_hours_before_it_adds_percentages() -> None:
    day = datetime.date(2026, 12, 1)
    hours = tuple(
        Hours(day, "Ned", "bricklayer", Decimal("0.35"), Money.of("18.50")) for _one in range(3)
    )
    spent = (Spent("Sand", "1 bag", Money.of("0.33")),) * 3
    sheet = DayworkSheet("x", "", "Dig", hours, spent, (), *map(Decimal, (110, 15, 15)))
    line = drafting.daywork_line(sheet)
    # 3 × 6.48 = 19.44, and 110 % on it: 40.82; 0.99 and 15 %: 1.14.
    assert (str(line.amount), line.item) == ("41.96", "daywork_x")
