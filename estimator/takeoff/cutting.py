"""Cutting bars from stock lengths at least cost, with a proved lower bound.

A quick packing comes first, with a quick bound. Where they do not meet and there are few pieces
or few lengths, a bounded search goes on until they do or its steps are used up.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from estimator.notices import UserMistake
from estimator.takeoff.packing import (
    Bin,
    Packing,
    attainable,
    packing_of,
    quick_bound,
    quick_packing,
)
from estimator.takeoff.pattern_search import Least, least_cost


@dataclass(frozen=True, slots=True)
class Stock:
    """A length bars are sold in."""

    length_mm: int
    price_pence: int


@dataclass(frozen=True, slots=True)
class CutBar:
    """One stock bar and the pieces cut from it, longest first [mm]."""

    stock_mm: int
    pieces_mm: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CuttingList:
    """All the stock bars to buy and how each is cut."""

    bars: tuple[CutBar, ...]
    cost_pence: int
    bound_pence: int
    """No cutting can cost less than this [penny]."""
    offcut_mm: int
    """What is left of all bars, the kerf between pieces taken off [mm]."""
    is_exact: bool
    """Whether the cost is proved least."""

    @property
    def bound_gap(self) -> Decimal:
        """How far the cost may lie above the least possible [per cent of the bound]."""
        if self.bound_pence == 0:
            return Decimal(0)
        return (Decimal(self.cost_pence) / self.bound_pence - 1) * 100


def cut(pieces_mm: Sequence[int], stock: Sequence[Stock], *, kerf_mm: int = 0) -> CuttingList:
    """Return how to cut pieces from stock lengths at the least cost found, and a bound on it.

    The kerf is lost between pieces: n pieces take their lengths and n - 1 kerfs. The bound is the
    greater of two, each proved where it is made: ``packing.quick_bound`` (a dual feasible
    function) and ``pattern_values.Duals`` (weak duality of the linear program, checked in whole
    numbers), raised to a sum of prices since every cost is one. The list is exact when cost and
    bound meet. The same pieces give the same list in whatever order they come.

    Raises:
        ValueError: for a piece or a stock length that is not longer than nothing, or a kerf below.
        UserMistake: when a piece is longer than every stock length, or a stock has no price.

    >>> bars = cut([1200, 1000, 1000, 800], [Stock(1000, 900), Stock(3000, 2500)])
    >>> bars.cost_pence, bars.is_exact, bars.offcut_mm
    (3400, True, 0)
    >>> bars.bars[0]
    CutBar(stock_mm=3000, pieces_mm=(1200, 1000, 800))
    """
    if not pieces_mm:
        return CuttingList((), 0, 0, 0, is_exact=True)
    if min(pieces_mm) <= 0 or kerf_mm < 0 or any(one.length_mm <= 0 for one in stock):
        raise ValueError("pieces and stock have a length, and a kerf is not below nothing")
    for one in stock:
        if one.price_pence <= 0:
            raise UserMistake(
                f"the bar of {one.length_mm:,} mm has no price",
                do="give it a price in the price book, or take it out",
            )
    longest = max((one.length_mm for one in stock), default=0)
    if max(pieces_mm) > longest:
        raise UserMistake(
            f"a bar {max(pieces_mm):,} mm long cannot be cut",
            why=f"the longest one bought is {longest:,} mm",
            do="add a longer stock length, or lap the bar",
        )
    sold = tuple(sorted((one.length_mm, one.price_pence) for one in stock))
    return _cut(tuple(sorted(pieces_mm, reverse=True)), sold, kerf_mm)


@lru_cache(maxsize=256)
def _cut(pieces: tuple[int, ...], sold: tuple[tuple[int, int], ...], kerf: int) -> CuttingList:
    packing = packing_of(pieces, sold, kerf_mm=kerf)
    bound = quick_bound(packing)
    bins = quick_packing(packing, enough=bound)
    cost = packing.cost_of(bins)
    least = Least(bins, cost, attainable(packing, bound, cost))
    if least.bound < cost:
        least = least_cost(packing, least)
    cut_bars = [_cut_bar(packing, one, kerf) for one in least.bins]
    bars = tuple(sorted(cut_bars, key=lambda one: (one.stock_mm, one.pieces_mm), reverse=True))
    bought = sum(bar.stock_mm for bar in bars)
    offcut = bought - sum(pieces) - kerf * (len(pieces) - len(bars))
    return CuttingList(bars, least.cost, least.bound, offcut, least.cost == least.bound)


def _cut_bar(packing: Packing, one: Bin, kerf: int) -> CutBar:
    room = packing.rooms[bisect_left(packing.rooms, sum(one))]
    return CutBar(room - kerf, tuple(sorted((length - kerf for length in one), reverse=True)))
