"""What marks carry of a price, held to the lines of the offer and to what each mark measures."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.money import Money, total
from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Option, Trader
from estimator.quoting.shares import Shares, parted, shares_of
from estimator.survey import survey_file
from estimator.survey.survey import Area, Crack, CrackedBrick, StraightRun, Survey, Treatment
from estimator.takeoff import rules
from estimator.takeoff.lines import Item
from estimator.takeoff.scope import ALL

DEMO = Path(__file__).resolve().parents[2] / "demo"
PRICED = ("phone_call", "window_lime", "quoin_cavity", "terrace")
PRACTICE = Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))
DAY = datetime.date(2026, 11, 25)


def demo(name: str) -> Survey:
    return survey_file.read((DEMO / f"{name}.json").read_text(encoding="utf-8"))


def priced(survey: Survey) -> tuple[Option, ...]:
    return offering.priced(survey, PRACTICE, scopes=tuple(ALL.values()), date=DAY)


@cache
def shared(name: str) -> tuple[tuple[Option, Shares], ...]:
    survey = demo(name)
    found = priced(survey)
    return tuple((one, shares_of(survey, one.measure, one.offer)) for one in found)


@given(st.integers(0, 10**9), st.lists(st.integers(0, 10**6), min_size=1, max_size=60))
def test_parts_add_up_and_each_is_within_a_penny(pence: int, weights: list[int]) -> None:
    parts = parted(Money(pence), [Decimal(one) for one in weights])
    assert total(parts) == Money(pence)
    assert all(part.pence >= 0 for part in parts)
    base = sum(weights) or len(weights)
    for part, weight in zip(parts, weights if sum(weights) else [1] * len(weights), strict=True):
        assert abs(part.pence * base - pence * weight) < base


@pytest.mark.parametrize("name", PRICED)
def test_the_shares_of_a_line_add_up_to_it_to_the_penny(name: str) -> None:
    for option, shares in shared(name):
        for line, by_mark in zip(option.offer.lines, shares.lines, strict=True):
            assert by_mark, f"{line.item} cannot be pointed at"
            assert total(by_mark.values()) == line.amount
            assert not line.marks or set(by_mark) == set(line.marks)


@pytest.mark.parametrize("name", PRICED)
def test_all_marks_of_an_option_carry_its_price_before_tax(name: str) -> None:
    for option, shares in shared(name):
        marks = {mark for line in shares.lines for mark in line}
        one_by_one = [part for mark in marks for part in shares.of({mark})]
        assert total(one_by_one) == option.offer.net
        assert total(shares.of(marks)) == option.offer.net
        assert total(shares.of(frozenset())) == Money(0)


@pytest.mark.parametrize("name", PRICED)
def test_bars_carry_their_slots_by_length(name: str) -> None:
    for option, shares in shared(name):
        bars = {bar.id: bar.length_mm for bar in option.measure.bars}
        lines = zip(option.offer.lines, shares.lines, strict=True)
        for line, parts in (one for one in lines if one[0].item == Item.CUT_SLOT.value):
            whole = sum(bars[mark] for mark in line.marks)
            exact = {mark: line.amount.pence * bars[mark] / whole for mark in line.marks}
            assert all(abs(part.pence - exact[mark]) < 1.01 for mark, part in parts.items())


@pytest.mark.parametrize("name", PRICED)
def test_bricks_and_perpends_carry_alike(name: str) -> None:
    alike = {Item.REPLACE_BRICK.value, Item.PATCH_BRICK.value, Item.POINT_PERPEND.value}
    for option, shares in shared(name):
        for line, by_mark in zip(option.offer.lines, shares.lines, strict=True):
            if line.item in alike:
                parts = {part.pence for part in by_mark.values()}
                assert max(parts) - min(parts) <= 1


def test_a_crack_carries_the_bed_it_runs_along_and_an_area_its_joints() -> None:
    survey = demo("window_lime")
    front = survey.elevations[0]
    left, right, top = 0.0, front.outline[1][0], front.outline[2][1]
    areas = (
        Area("small", ((left, 0.0), (450.0, 0.0), (450.0, 750.0), (left, 750.0))),
        Area(
            "large",
            ((right - 900, top - 750), (right, top - 750), (right, top), (right - 900, top)),
        ),
    )
    survey = replace(survey, elevations=(replace(front, areas=areas),))
    local, panel, _repoint = priced(survey)
    shares = shares_of(survey, panel.measure, panel.offer)
    raked = next(
        by_mark
        for line, by_mark in zip(panel.offer.lines, shares.lines, strict=True)
        if line.item == Item.RAKE_OUT.value
    )
    small, large = (raked[f"{front.id}/area/{name}"].pence for name in ("small", "large"))
    # Two rectangles of whole brickwork, one with twice the area of the other.
    assert 1.9 < large / small < 2.1
    assert local.offer.net != panel.offer.net


def test_of_two_sides_each_carries_what_is_measured_on_it() -> None:
    survey = demo("window_lime")
    front = survey.elevations[0]
    back = replace(front, id="back", name="Back", cracks=(Crack("z", StraightRun(700, 2, 6), 1.0),))
    survey = replace(survey, elevations=(front, back))
    for option in priced(survey):
        shares = shares_of(survey, option.measure, option.offer)
        waste = [one for one in option.measure.lines if one.item is Item.CLEAR_WASTE]
        lines = zip(option.offer.lines, shares.lines, strict=True)
        whole, parts = next(one for one in lines if one[0].item == Item.CLEAR_WASTE.value)
        assert len(waste) == len(parts) == 2
        for line in waste:
            exact = whole.amount.pence * line.quantity.amount / whole.quantity.amount
            assert abs(parts[line.elevation].pence - exact) <= 1
        unmarked = [n for n, one in enumerate(option.offer.lines) if not one.marks]
        assert unmarked
        assert all(shares.marks(n) == {"back", front.id} for n in unmarked)


@given(st.integers(2, 20), st.integers(2, 24), st.floats(300, 2700))
def test_random_walls_share_out_to_the_penny(course: int, courses: int, x: float) -> None:
    survey = demo("window_lime")
    front = survey.elevations[0]
    second = Crack("z", StraightRun(x, course, courses), 1.0)
    survey = replace(survey, elevations=(replace(front, cracks=(*front.cracks, second)),))
    for option in priced(survey):
        shares = shares_of(survey, option.measure, option.offer)
        for line, by_mark in zip(option.offer.lines, shares.lines, strict=True):
            assert total(by_mark.values()) == line.amount


def test_bricks_bought_for_halves_are_carried_by_the_halves() -> None:
    # Asked for whole bricks alone, the line of facing bricks had no mark and lay on the side.
    demo_wall = demo("window_lime")
    half = CrackedBrick(3, 3, Treatment.REPLACE, half=True)
    front = replace(demo_wall.elevations[0], bricks=(half,), hidden_bricks=0.0)
    survey = replace(demo_wall, elevations=(front,))
    for option in priced(survey):
        (line,) = [one for one in option.offer.lines if one.item == "facing_brick"]
        assert line.marks == (f"{front.id}/brick/3/3",)
        place = option.offer.lines.index(line)
        assert shares_of(survey, option.measure, option.offer).marks(place) == set(line.marks)
