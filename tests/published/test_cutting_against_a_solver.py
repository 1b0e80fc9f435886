"""Cutting lists against HiGHS, an independent solver, and against examples in the literature.

HiGHS solves the whole pattern model as a mixed-integer program: one variable for every way to
cut a bar, at least as many pieces as wanted, least cost. Nothing of ours but the pieces goes in.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator

import pytest

from estimator.takeoff.cutting import Stock, cut
from estimator.takeoff.packing import packing_of
from estimator.takeoff.pattern_values import Duals, relaxed

highspy = pytest.importorskip("highspy")

STOCKS = (
    (Stock(1000, 419), Stock(1500, 599), Stock(3000, 1149)),
    (Stock(3000, 900), Stock(4500, 1300), Stock(6000, 1700)),
    (Stock(1000, 500),),
    (Stock(2000, 731), Stock(2500, 733)),
)
KERF_MM = 3


def patterns(
    lengths: list[int], wanted: list[int], room: int, kerf: int
) -> Iterator[tuple[int, ...]]:
    """Every way to cut one bar, longest lengths first."""
    if not lengths:
        yield ()
        return
    for number in range(min(wanted[0], (room + kerf) // (lengths[0] + kerf)) + 1):
        left = room - number * (lengths[0] + kerf)
        for rest in patterns(lengths[1:], wanted[1:], left, kerf):
            yield (number, *rest)


def least_by_solver(pieces: list[int], stock: tuple[Stock, ...], *, kerf: int) -> int:
    """The least cost of cutting the pieces, as HiGHS proves it."""
    counted = sorted(Counter(pieces).items())
    lengths, wanted = [one for one, _ in counted], [count for _, count in counted]
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.5)
    columns = [
        (one.price_pence, way, model.addIntegral())
        for one in stock
        for way in patterns(lengths, wanted, one.length_mm, kerf)
        if any(way)
    ]
    for place, count in enumerate(wanted):
        model.addConstr(sum(way[place] * used for _, way, used in columns if way[place]) >= count)
    model.minimize(sum(price * used for price, _, used in columns))
    assert model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return round(model.getObjectiveValue())


def job(seed: int, *, pieces: int, lengths: int) -> tuple[list[int], tuple[Stock, ...]]:
    """Random pieces of so many lengths, and a stock that holds them."""
    chance = random.Random(seed)
    stock = STOCKS[seed % len(STOCKS)]
    longest = max(one.length_mm for one in stock)
    some = [chance.randrange(longest // 8, longest * 3 // 5, 5) for _ in range(lengths)]
    return [chance.choice(some) for _ in range(pieces)], stock


@pytest.mark.parametrize("seed", range(40))
def test_few_pieces_of_few_lengths_are_cut_at_the_least_cost(seed: int) -> None:
    pieces, stock = job(seed, pieces=3 + seed % 8, lengths=1 + seed % 4)
    bars = cut(pieces, stock, kerf_mm=KERF_MM)
    assert bars.is_exact
    assert bars.cost_pence == least_by_solver(pieces, stock, kerf=KERF_MM)


@pytest.mark.parametrize("seed", range(12))
def test_ten_pieces_all_different_are_cut_at_the_least_cost(seed: int) -> None:
    pieces, stock = job(seed, pieces=10, lengths=10)
    bars = cut(pieces, stock, kerf_mm=KERF_MM)
    least = least_by_solver(pieces, stock, kerf=KERF_MM)
    assert bars.bound_pence <= least <= bars.cost_pence
    assert not bars.is_exact or bars.cost_pence == least


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(16))
def test_fifty_pieces_lie_between_bound_and_cost(seed: int) -> None:
    pieces, stock = job(seed, pieces=50, lengths=1 + seed % 4)
    bars = cut(pieces, stock, kerf_mm=KERF_MM)
    least = least_by_solver(pieces, stock, kerf=KERF_MM)
    assert bars.bound_pence <= least <= bars.cost_pence
    assert bars.cost_pence <= least * 1.03


def test_the_solver_sees_a_bar_too_many() -> None:
    # The oracle itself, on a case anyone can do: three pieces over half a bar need three bars.
    assert least_by_solver([600, 600, 600], (Stock(1000, 500),), kerf=0) == 1500


def test_paper_mill_with_thirteen_widths() -> None:
    # The example of the encyclopaedia article "Cutting stock problem" (Wikipedia): rolls of
    # 5,600 mm, 219 pieces of 13 widths, best known 73 rolls. Widths, numbers and the 73 read in
    # two public programs that cite the article; the article's bound of 72.7 rolls from memory.
    ordered = {
        1380: 22,
        1520: 25,
        1560: 12,
        1710: 14,
        1820: 18,
        1880: 18,
        1930: 20,
        2000: 10,
        2050: 12,
        2100: 14,
        2140: 16,
        2150: 18,
        2200: 20,
    }
    material = sum(width * count for width, count in ordered.items()) / 5600
    assert round(material, 1) == 72.7
    pieces = [width for width, count in ordered.items() for _ in range(count)]
    bars = cut(pieces, [Stock(5600, 1)])
    assert (bars.cost_pence, bars.bound_pence, bars.is_exact) == (73, 73, True)


def test_chvatals_rolls_of_100_inches() -> None:
    # V. Chvátal, Linear Programming, 1983, pp. 195-198: rolls of 100 in, 97 of 45, 610 of 36,
    # 395 of 31 and 211 of 14 in. The linear program's 452.25 and the best whole 453 read in a
    # published worked notebook of the example (JuMP, column generation).
    ordered = {45: 97, 36: 610, 31: 395, 14: 211}
    pieces = [width for width, count in ordered.items() for _ in range(count)]
    bars = cut(pieces, [Stock(100, 1)])
    assert (bars.cost_pence, bars.bound_pence, bars.is_exact) == (453, 453, True)


def test_chvatals_linear_program_in_hundredths() -> None:
    # The same, each roll at 400: the bound before rounding to whole rolls is 452.25 × 400.
    ordered = {45: 97, 36: 610, 31: 395, 14: 211}
    pieces = [width for width, count in ordered.items() for _ in range(count)]
    bare = packing_of(pieces, [(100, 400)])
    duals = Duals.of(bare, relaxed(bare, steps=10_000).worth, steps=10_000)
    assert duals is not None
    assert duals.bound(bare) == 180_900


def test_three_woods_of_different_cost() -> None:
    # An exercise common in courses on column generation: bars of 9, 14 and 16 in at 5, 9 and 10;
    # 30 pieces of 4, 20 of 5 and 40 of 7 in. The data read in a public repository without its
    # answer, so that the solver gives it.
    pieces = [4] * 30 + [5] * 20 + [7] * 40
    stock = (Stock(9, 5), Stock(14, 9), Stock(16, 10))
    bars = cut(pieces, stock)
    assert bars.is_exact
    assert bars.cost_pence == least_by_solver(pieces, stock, kerf=0) == 305
