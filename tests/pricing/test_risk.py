"""Ranges: repeatable, wide enough, and never pence."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from random import Random
from statistics import correlation, fmean, pstdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.money import Money
from estimator.pricing.price_book import shipped
from estimator.pricing.pricing import price
from estimator.pricing.risk import (
    Band,
    Chance,
    Plan,
    ThreePoint,
    moved,
    sampled,
    spread,
)
from estimator.pricing.terms import Terms
from estimator.pricing.widening import widened
from estimator.survey.ranges import Range, Told, settled
from estimator.survey.survey import (
    Basis,
    Crack,
    Elevation,
    Party,
    Site,
    StraightRun,
    Survey,
)
from estimator.takeoff import rules
from estimator.takeoff.measure import measure_all
from estimator.takeoff.scope import USUAL
from tests.pricing.made_up import DAY

TALL = ((0, 0), (3600, 0), (3600, 2400), (0, 2400))


def survey(courses: Told, *, basis: Basis = Basis.TOLD, hidden: Told = 0.0) -> Survey:
    crack = Crack("a", StraightRun(1600, 3, courses), 2.0)
    wall = Elevation("front", "Front", TALL, cracks=(crack,), hidden_bricks=hidden)
    return Survey("1", "Front", "2026-11-25", basis, Party(), Site(), (wall,))


def priced(seen: Survey) -> tuple[Money, ...]:
    book = shipped()
    terms = Terms.of(seen, book, date=DAY)
    return tuple(price(one, book, terms).total for one in measure_all(seen, USUAL, rules.shipped()))


def bands(seen: Survey, **settings: int) -> tuple[Band, ...]:
    return spread(priced, seen, book=shipped(), **{"draws": 60, **settings})


def test_a_range_is_the_same_every_time() -> None:
    seen = survey(Range(8, 12, 20))
    assert bands(seen) == bands(seen)
    assert bands(seen, draws=20, seed=1) != bands(seen, draws=20, seed=2)


def test_there_is_a_range_for_each_option() -> None:
    assert len(bands(survey(Range(8, 12, 20)))) == len(USUAL)


def test_a_range_goes_round_the_likely_price_in_whole_steps() -> None:
    seen = survey(Range(8, 12, 20), hidden=Range(0, 2, 5))
    for band, likely in zip(bands(seen), priced(settled(seen)), strict=True):
        assert band.low < likely < band.high
        assert band.low < band.likely < band.high
        for end in (band.low, band.likely, band.high):
            assert end.pence % (1000 if end < Money.of(1000) else 5000) == 0


def test_a_wider_answer_makes_a_wider_range() -> None:
    narrow, wide = (bands(survey(told))[0] for told in (Range(11, 12, 13), Range(4, 12, 26)))
    assert wide.high - wide.low > narrow.high - narrow.low


@pytest.mark.parametrize("basis", Basis)
def test_plain_numbers_get_a_range_too(basis: Basis) -> None:
    band = bands(survey(12.0, basis=basis))[0]
    assert band.low < band.likely < band.high


def test_plain_counts_are_widened_and_ranges_left_alone() -> None:
    told = Range(8, 12, 20)
    wall = widened(survey(told, hidden=3.0), 25, further_bricks=2).elevations[0]
    assert wall.cracks[0].run == StraightRun(1600, 3, told)
    assert wall.hidden_bricks == Range(1, 3, 5)
    plain = widened(survey(12.0), 25).elevations[0]
    assert plain.cracks[0].run == StraightRun(1600, 3, Range(9, 12, 15))


def test_a_crack_is_not_widened_over_the_top_of_its_wall() -> None:
    # 2,400 mm are 32 courses; a crack from course 3 has 30 to go through.
    wall = widened(survey(28.0), 25).elevations[0]
    assert wall.cracks[0].run == StraightRun(1600, 3, Range(21, 28, 30))
    assert all(total > Money.of(100) for total in priced(settled(survey(30.0))))


def test_prices_move_together_by_no_more_than_the_book_says() -> None:
    fixed = (Money.of(2000),)
    book = shipped()
    (band,) = spread(lambda _seen: fixed, survey(12.0), book=book, draws=400)
    low, high = book.ranges.rates_low_percent, book.ranges.rates_high_percent
    assert band.low >= fixed[0].times(1 - low / 100)
    assert band.high <= fixed[0].times(1 + high / 100)
    assert band.low < Money.of(Decimal(2000)) < band.high


@given(st.integers(1, 500), st.integers(1, 20))
def test_slices_hold_every_draw_once(draws: int, count: int) -> None:
    parts = Plan(1, draws).slices(count)
    assert [place for part in parts for place in part] == list(range(draws))
    assert len(parts) <= count
    assert max(map(len, parts)) - min(map(len, parts)) <= 1


@pytest.mark.parametrize("asked", [0, 1, 7])
def test_each_number_of_the_chance_falls_once_into_every_slice(asked: int) -> None:
    plan = Plan(seed=3, draws=50)
    found = []
    for place in range(plan.draws):
        chance = Chance(plan, place)
        found.append([chance.random() for _number in range(asked + 1)][-1])
    assert sorted(int(number * plan.draws) for number in found) == list(range(plan.draws))
    assert found != sorted(found)


def test_numbers_of_the_chance_know_nothing_of_each_other() -> None:
    plan = Plan(seed=3, draws=2000)
    pairs = []
    for place in range(plan.draws):
        chance = Chance(plan, place)
        pairs.append((chance.random(), chance.random()))
    assert abs(correlation(*zip(*pairs, strict=True))) < 0.07  # three times 1/√2000


def test_every_way_to_ask_for_chance_is_even() -> None:
    plan = Plan(seed=5, draws=128)
    chances = [Chance(plan, place) for place in range(plan.draws)]
    assert [chance.choices("abc", (4, 3, 1))[0] for chance in chances].count("a") == 64
    middle = sorted(chance.triangular(10, 20, 14) for chance in chances)[64]
    assert middle == pytest.approx(ThreePoint(10, 14, 20).triangular_at(0.5), rel=0.01)
    # With the library's own way of making whole numbers, all would be the same here.
    counts = Counter(chance.randrange(4) for chance in chances)
    assert all(25 <= counts[number] <= 39 for number in range(4))


def test_evenly_spread_draws_waver_less_than_plain_ones() -> None:
    # A sum of three told numbers: its mean over forty draws, taken thirty times.
    def wavering(chances: list[list[Random]]) -> float:
        sums = [
            [sum(one.triangular(0, 9, 3) for _n in range(3)) for one in many] for many in chances
        ]
        return pstdev(map(fmean, sums))

    even = [[Chance(Plan(seed, 40), place) for place in range(40)] for seed in range(30)]
    plain: list[list[Random]] = [[Random(f"{n}/{at}") for at in range(40)] for n in range(30)]
    assert wavering([list(many) for many in even]) < wavering(plain) / 5


def test_a_large_job_is_drawn_fewer_times_but_never_too_few() -> None:
    usual = shipped().ranges
    (wall,) = survey(12.0).elevations
    counts = []
    for cracks in (1, 10, 20, 1000):
        many = replace(survey(12.0), elevations=(replace(wall, cracks=wall.cracks * cracks),))
        counts.append(Plan.of(many, usual).draws)
    assert counts == [usual.draws, usual.draws, usual.draws // 2, 40]


def test_moved_totals_keep_within_what_the_book_says() -> None:
    usual = shipped().ranges
    found = moved([100_00, 200_00], usual)
    assert found == sorted(found)
    assert found[0] > 100_00 * (1 - usual.rates_low_percent / 100)
    assert found[-1] < 200_00 * (1 + usual.rates_high_percent / 100)
    three = ThreePoint(
        1 - float(usual.rates_low_percent) / 100, 1, 1 + float(usual.rates_high_percent) / 100
    )
    assert fmean(found) == pytest.approx(150_00 * three.triangular_mean, rel=0.002)


def test_a_range_with_no_width_is_known_for_sure() -> None:
    seen = survey(Range(12, 12, 12), hidden=Range(0, 2, 5))
    book = shipped()
    found = sampled(priced, seen, book=book, plan=Plan(1, 5), part=range(5))
    assert [[path for path, _number in draw.inputs] for draw in found] == [
        ["elevations[0].hidden_bricks"]
    ] * 5
