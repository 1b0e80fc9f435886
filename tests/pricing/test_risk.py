"""Ranges: repeatable, wide enough, and never pence."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimator.money import Money
from estimator.pricing.price_book import shipped
from estimator.pricing.pricing import price
from estimator.pricing.risk import Band, spread, widened
from estimator.pricing.terms import Terms
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
