"""Cutting lists: every piece once, nothing overlong, sums right, bounds never above costs."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.notices import UserMistake
from estimator.takeoff import packing
from estimator.takeoff.cutting import CuttingList, Stock, cut
from estimator.takeoff.packing import attainable, packing_of, quick_bound, quick_packing
from estimator.takeoff.pattern_search import Least, least_cost
from estimator.takeoff.pattern_values import Duals, relaxed

STOCK = (Stock(1000, 419), Stock(1500, 599), Stock(3000, 1149))

stocks = st.lists(
    st.builds(Stock, st.integers(300, 3000), st.integers(1, 2000)), min_size=1, max_size=4
)


@st.composite
def jobs(draw: st.DrawFn, *, most: int = 60) -> tuple[list[int], list[Stock], int]:
    """Pieces, stock that holds them, and a kerf; often few lengths, as on a wall."""
    stock = draw(stocks)
    longest = max(one.length_mm for one in stock)
    lengths = draw(st.lists(st.integers(50, longest), min_size=1, max_size=12, unique=True))
    pieces = draw(st.lists(st.sampled_from(lengths), min_size=1, max_size=most))
    return pieces, stock, draw(st.sampled_from([0, 0, 2, 5]))


@given(jobs())
def test_every_piece_is_cut_once(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, kerf = job
    bars = cut(pieces, stock, kerf_mm=kerf).bars
    assert Counter(piece for bar in bars for piece in bar.pieces_mm) == Counter(pieces)


@given(jobs())
def test_nothing_is_cut_that_is_not_there(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, kerf = job
    sold = {one.length_mm for one in stock}
    for bar in cut(pieces, stock, kerf_mm=kerf).bars:
        assert bar.stock_mm in sold
        assert sum(bar.pieces_mm) + kerf * (len(bar.pieces_mm) - 1) <= bar.stock_mm


@given(jobs())
def test_the_cost_is_that_of_the_bars(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, kerf = job
    prices: dict[int, int] = {}
    for one in stock:
        prices[one.length_mm] = min(one.price_pence, prices.get(one.length_mm, one.price_pence))
    bars = cut(pieces, stock, kerf_mm=kerf)
    assert bars.cost_pence == sum(prices[bar.stock_mm] for bar in bars.bars)


@given(jobs())
def test_the_offcut_is_what_is_left(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, kerf = job
    bars = cut(pieces, stock, kerf_mm=kerf)
    kerfs = sum(len(bar.pieces_mm) - 1 for bar in bars.bars)
    assert bars.offcut_mm == sum(bar.stock_mm for bar in bars.bars) - sum(pieces) - kerf * kerfs
    assert bars.offcut_mm >= 0


@given(jobs())
def test_the_bound_is_never_above_the_cost(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, kerf = job
    bars = cut(pieces, stock, kerf_mm=kerf)
    assert 0 < bars.bound_pence <= bars.cost_pence
    assert bars.is_exact == (bars.bound_pence == bars.cost_pence)
    assert bars.bound_gap == (Decimal(bars.cost_pence) / bars.bound_pence - 1) * 100


@given(jobs(), st.randoms(use_true_random=False))
def test_order_does_not_matter(job: tuple[list[int], list[Stock], int], random: object) -> None:
    pieces, stock, kerf = job
    before = cut(pieces, stock, kerf_mm=kerf)
    random.shuffle(pieces)  # type: ignore[attr-defined]
    assert cut(pieces, stock[::-1], kerf_mm=kerf) == before


@given(jobs(most=9), st.data())
def test_a_further_piece_never_makes_it_cheaper(
    job: tuple[list[int], list[Stock], int], data: st.DataObject
) -> None:
    pieces, stock, kerf = job
    more = [*pieces, data.draw(st.integers(50, max(one.length_mm for one in stock)))]
    before, after = (cut(some, stock, kerf_mm=kerf) for some in (pieces, more))
    # Where the least cost is not proved, the bounds still tell.
    assert after.cost_pence >= before.bound_pence
    if before.is_exact and after.is_exact:
        assert after.cost_pence >= before.cost_pence


def least_by_hand(pieces: tuple[int, ...], stock: list[Stock]) -> int:
    """The least cost by trying every way to put each piece into some bar."""

    def go(left: tuple[int, ...], loads: tuple[int, ...]) -> int:
        if not left:
            return sum(
                min(one.price_pence for one in stock if one.length_mm >= load) for load in loads
            )
        first, rest = left[0], left[1:]
        ways = [go(rest, (*loads, first))]
        for place, load in enumerate(loads):
            if load + first <= max(one.length_mm for one in stock):
                ways.append(go(rest, (*loads[:place], load + first, *loads[place + 1 :])))
        return min(ways)

    return go(pieces, ())


@given(jobs(most=6))
def test_an_exact_list_is_the_least_of_all_ways(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, _ = job
    bars, least = cut(pieces, stock), least_by_hand(tuple(pieces), stock)
    assert bars.bound_pence <= least <= bars.cost_pence
    assert bars.is_exact


@given(jobs(most=7))
def test_each_bound_is_a_bound(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, _ = job
    bare = packing_of(pieces, [(one.length_mm, one.price_pence) for one in stock])
    least = least_by_hand(tuple(pieces), stock)
    assert quick_bound(bare) <= least
    assert Duals.by_length(bare).bound(bare) <= least
    duals = Duals.of(bare, relaxed(bare, steps=5000).worth, steps=50_000)
    assert duals is not None
    assert duals.bound(bare) <= least


@given(jobs(most=7), st.data())
def test_wrong_guesses_cannot_make_a_wrong_bound(
    job: tuple[list[int], list[Stock], int], data: st.DataObject
) -> None:
    pieces, stock, _ = job
    bare = packing_of(pieces, [(one.length_mm, one.price_pence) for one in stock])
    guess = [data.draw(st.floats(-10, 5000)) for _ in bare.lengths]
    duals = Duals.of(bare, guess, steps=50_000)
    assert duals is not None
    assert duals.bound(bare) <= least_by_hand(tuple(pieces), stock)


@given(jobs())
def test_a_search_only_betters(job: tuple[list[int], list[Stock], int]) -> None:
    pieces, stock, _ = job
    bare = packing_of(pieces, [(one.length_mm, one.price_pence) for one in stock])
    alone = [(piece,) for piece in bare.pieces]
    start = Least(alone, bare.cost_of(alone), 1)
    least = least_cost(bare, start)
    assert start.bound <= least.bound <= least.cost <= start.cost
    assert least.cost == bare.cost_of(least.bins)


@given(st.integers(1, 40), st.integers(1, 40), st.integers(0, 59))
def test_attainable_is_the_next_sum_of_prices(less: int, step: int, bound: int) -> None:
    prices = (less, less + step)
    sums = {a * prices[0] + b * prices[1] for a, b in product(range(60), repeat=2)}
    bare = packing_of([1000], [(1000, prices[0]), (2000, prices[1])])
    assert attainable(bare, bound, less * 59) == min(one for one in sums if one >= bound)


def test_dear_sums_are_rounded_to_the_common_step(monkeypatch: pytest.MonkeyPatch) -> None:
    bare = packing_of([1000], [(1000, 400), (2000, 700)])
    assert attainable(bare, 501, 9000) == 700
    monkeypatch.setattr(packing, "MOST_SUMS", 5)
    assert attainable(bare, 501, 9000) == 600


def test_nothing_to_cut_costs_nothing() -> None:
    assert cut([], STOCK) == CuttingList((), 0, 0, 0, is_exact=True)
    assert cut([], []).bound_gap == 0
    assert quick_packing(packing_of([], [(1000, 400)])) == []


def test_the_kerf_is_lost_between_pieces_only() -> None:
    assert len(cut([500, 500], [Stock(1003, 400)], kerf_mm=3).bars) == 1
    assert len(cut([500, 500], [Stock(1002, 400)], kerf_mm=3).bars) == 2
    assert cut([1000], [Stock(1000, 400)], kerf_mm=3).offcut_mm == 0


def test_a_longer_and_cheaper_stock_is_taken() -> None:
    assert cut([900], [Stock(1000, 500), Stock(1500, 480)]).bars[0].stock_mm == 1500


def test_a_piece_longer_than_every_stock_is_the_users_mistake() -> None:
    with pytest.raises(UserMistake) as caught:
        cut([3200, 1000], STOCK)
    assert str(caught.value) == (
        "a bar 3,200 mm long cannot be cut because the longest one bought is 3,000 mm; "
        "add a longer stock length, or lap the bar."
    )


def test_pieces_without_stock_are_the_users_mistake() -> None:
    with pytest.raises(UserMistake):
        cut([1000], [])


def test_a_stock_without_a_price_is_the_users_mistake() -> None:
    with pytest.raises(UserMistake, match="1,500 mm has no price"):
        cut([1000], [Stock(1000, 400), Stock(1500, 0)])


@pytest.mark.parametrize(
    ("pieces", "stock", "kerf"),
    [([0], STOCK, 0), ([1000, -5], STOCK, 0), ([10], [Stock(0, 5)], 0), ([1000], STOCK, -1)],
)
def test_lengths_of_nothing_are_a_fault(pieces: list[int], stock: list[Stock], kerf: int) -> None:
    with pytest.raises(ValueError, match="length"):
        cut(pieces, stock, kerf_mm=kerf)


def test_many_lengths_still_have_a_bound_near() -> None:
    pieces = [400 + 37 * n % 1100 for n in range(600)]
    bars = cut(pieces, STOCK)
    assert bars.bound_gap < 5
