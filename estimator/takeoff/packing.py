"""Pieces packed into stock lengths: the bare problem, a quick good answer and a quick bound.

The kerf is added to every piece and every stock length, which is the same as losing one between
any two pieces. Bars longer and cheaper than others take their place, so longer always costs more.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

Bin = tuple[int, ...]
"""The pieces in one bar, longest first [mm]."""
MANY = 200
"""Pieces from which fewer tries are made."""
MOST_SUMS = 50_000
"""Beyond so many steps of price hardly any sum is left out, and looking takes long."""


@dataclass(frozen=True, slots=True)
class Packing:
    """What is to be packed, and in what."""

    lengths: tuple[int, ...]
    """Each length once, longest first, the kerf in it [mm]."""
    counts: tuple[int, ...]
    """How many pieces of each length."""
    rooms: tuple[int, ...]
    """What each stock length holds, shortest first, the kerf in it [mm]."""
    prices: tuple[int, ...]
    """What each stock length costs, rising with it [penny]."""

    def price_of(self, load_mm: int) -> int:
        """Return the price of the cheapest stock that holds a load [penny]."""
        return self.prices[bisect_left(self.rooms, load_mm)]

    def cost_of(self, bins: Sequence[Bin]) -> int:
        """Return what all the bins cost, each in the cheapest stock that holds it [penny]."""
        return sum(self.price_of(sum(one)) for one in bins)

    def with_counts(self, counts: tuple[int, ...]) -> Packing:
        """Return the same stock for so many pieces of each length."""
        kept = [(a, b) for a, b in zip(self.lengths, counts, strict=True) if b]
        return Packing(
            tuple(a for a, _ in kept), tuple(b for _, b in kept), self.rooms, self.prices
        )

    @property
    def lowest_rate(self) -> tuple[int, int]:
        """The price and the length of the stock that costs least for its length [penny, mm]."""
        both = zip(self.prices, self.rooms, strict=True)
        # As a fraction, since bounds rest on it being the lowest indeed.
        return min(both, key=lambda one: Fraction(*one))

    @property
    def pieces(self) -> list[int]:
        """Every piece, longest first [mm]."""
        return [
            length
            for length, count in zip(self.lengths, self.counts, strict=True)
            for _ in range(count)
        ]


def packing_of(
    pieces_mm: Sequence[int], stock: Sequence[tuple[int, int]], *, kerf_mm: int = 0
) -> Packing:
    """Return pieces and stock as (length, price) as a packing.

    >>> packing_of([400, 900, 400], [(1000, 500), (2000, 480), (3000, 900)], kerf_mm=2)
    Packing(lengths=(902, 402), counts=(1, 2), rooms=(2002, 3002), prices=(480, 900))
    """
    counted = sorted(Counter(pieces_mm).items(), reverse=True)
    kept: list[tuple[int, int]] = []
    # From the longest down a stock is kept only when it is cheaper than every longer one.
    for length, price in sorted(stock, key=lambda one: (-one[0], one[1])):
        if not kept or price < kept[-1][1]:
            kept.append((length, price))
    kept.reverse()
    return Packing(
        tuple(length + kerf_mm for length, _ in counted),
        tuple(count for _, count in counted),
        tuple(length + kerf_mm for length, _ in kept),
        tuple(price for _, price in kept),
    )


def quick_packing(packing: Packing, *, enough: int = 0) -> list[Bin]:
    """Return a good packing found quickly, the first that costs no more than is good enough.

    The best of: bar after bar, each filled as full as a short search gets it, in the stock that
    costs least for what it holds; and best fit, longest first, into each stock length.

    >>> quick_packing(packing_of([600, 400, 500, 500], [(1000, 900), (2000, 2000)]))
    [(600, 400), (500, 500)]
    """
    best: list[Bin] = []
    least = 0
    for bins in _packed(packing, packing.pieces):
        cost = packing.cost_of(bins)
        if not best or cost < least:
            best, least = bins, cost
        if least <= enough:
            break
    return best


def _packed(packing: Packing, pieces: Sequence[int]) -> Iterator[list[Bin]]:
    if not pieces:
        return
    # More tries fill a bar better, which is not always better for the bars after it.
    for tries in (10, 60) if len(pieces) <= MANY else (30,):
        yield _bar_by_bar(packing, pieces, tries)
    for room in packing.rooms:
        if room >= pieces[0]:
            yield _best_fit(pieces, room)


def _best_fit(pieces: Sequence[int], room: int) -> list[Bin]:
    """Put each piece where it leaves least room; a new bar is begun when it fits nowhere."""
    left: list[int] = []
    bins: list[list[int]] = []
    for piece in pieces:
        place = bisect_left(left, piece)
        if place == len(left):
            rest, one = room, []
        else:
            rest, one = left.pop(place), bins.pop(place)
        one.append(piece)
        place = bisect_left(left, rest - piece)
        left.insert(place, rest - piece)
        bins.insert(place, one)
    return [tuple(one) for one in bins]


def _bar_by_bar(packing: Packing, pieces: Sequence[int], tries: int) -> list[Bin]:
    """Fill bar after bar from the longest piece left, in the stock cheapest for its load."""
    waiting = sorted(pieces)
    bins = []
    while waiting:
        rooms = packing.rooms[bisect_left(packing.rooms, waiting[-1]) :]
        filled = [_Filling(waiting, tries).of(room) for room in rooms]
        best = min(filled, key=lambda one: packing.price_of(sum(one)) / sum(one))
        for piece in best:
            del waiting[bisect_left(waiting, piece)]
        bins.append(best)
    return bins


@dataclass(slots=True)
class _Filling:
    """One bar being filled: the longest piece waiting, then whatever leaves least room."""

    waiting: Sequence[int]
    """Shortest first [mm]."""
    tries: int
    """How many more pieces may be tried."""
    best: Bin = ()
    left: int = 0

    def of(self, room: int) -> Bin:
        """Return the fullest bar found."""
        longest = self.waiting[-1]
        self.left = room
        self._add(len(self.waiting) - 1, room - longest, (longest,))
        return self.best

    def _add(self, end: int, room: int, chosen: Bin) -> None:
        """Add pieces that wait before a place, the longest that fits tried first."""
        if room < self.left or not self.best:
            self.best, self.left = chosen, room
        end = bisect_right(self.waiting, room, 0, end)
        while end and self.left and self.tries > 0:
            self.tries -= 1
            piece = self.waiting[end - 1]
            self._add(end - 1, room - piece, (*chosen, piece))
            end = bisect_left(self.waiting, piece, 0, end)


def quick_bound(packing: Packing) -> int:
    """Return a cost no packing can be below [penny].

    Leave out all pieces shorter than some length e. A bar that holds a piece longer than the
    longest stock less e holds nothing else that counts, and costs at least the cheapest stock
    that holds that piece. Any other bar costs at least its length, and so the pieces in it that
    count, at the lowest price for a length there is. The sum of both bounds the cost for every e,
    and the best of them is taken; with e at nothing it is the material at its lowest price. This
    is a dual feasible function (Fekete and Schepers, Mathematical Programming 91, 2001, for one
    stock length) carried over to several. Costs are whole pence, so it is rounded up.

    >>> quick_bound(packing_of([600, 600, 600], [(1000, 900)]))
    2700
    """
    longest = packing.rooms[-1]
    price, room = packing.lowest_rate
    pieces = packing.pieces
    before = [0]
    for piece in pieces:
        before.append(before[-1] + piece)
    alone = [0]
    for piece in pieces:
        if 2 * piece <= longest:
            break
        alone.append(alone[-1] + packing.price_of(piece))
    # Rounded up, here and below, by turning the sign twice about a whole division.
    best, long = -(-before[-1] * price // room), 0
    for end in range(len(pieces), 0, -1):
        least = pieces[end - 1]
        if 2 * least > longest:
            return max(best, alone[min(end, len(alone) - 1)])
        while long < len(alone) - 1 and pieces[long] > longest - least:
            long += 1
        rest = (before[end] - before[long]) * price
        best = max(best, alone[long] - (-rest // room))
    return best


def attainable(packing: Packing, bound: int, most: int) -> int:
    """Return the least sum of prices at or above a bound, or ``most`` when it comes first [penny].

    Every cost is such a sum, so no packing costs less.

    >>> attainable(packing_of([100], [(1000, 900), (2000, 1300)]), 1500, 9000)
    1800
    """
    unit = math.gcd(*packing.prices)
    size = most // unit
    if size > MOST_SUMS:
        return min(-(-bound // unit) * unit, most)
    # Bit n stands for n units of price; shifting adds one bar, doubling the shift any number.
    mask = (1 << (size + 1)) - 1
    sums = 1
    for price in packing.prices:
        step = price // unit
        while step <= size:
            sums |= (sums << step) & mask
            step *= 2
    start = -(-bound // unit)
    rest = sums >> start
    return min((start + (rest & -rest).bit_length() - 1) * unit, most) if rest else most
