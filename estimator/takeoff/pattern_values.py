"""What pieces are worth: values by which no packing can cost less than its pieces.

A pattern says how many pieces of each length come out of one bar. The linear program over all
patterns, solved by making a pattern only when it is wanted, values each length. Checked in whole
numbers, those values prove a bound on the cost, and they steer the search for the least.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from operator import mul

from estimator.takeoff.packing import Packing

Counts = tuple[int, ...]
SCALE = 1 << 30
"""Values are held as whole parts of a penny this fine."""
NEAR = 1e-9
"""Floating point noise, which the check in whole numbers makes harmless."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way to cut a bar."""

    counts: Counts
    price: int
    """Of the cheapest stock that holds it [penny]."""


@dataclass(slots=True)
class Dearest:
    """Looks for the pattern whose pieces are worth most above its price: a knapsack.

    The lengths are tried from the most valuable a millimetre; a branch is left when the rest of
    the bar, filled at the best value there is left, cannot beat the pattern in hand.
    """

    packing: Packing
    scale: int
    """So many parts of worth make a penny."""
    steps: int
    """How many more branches may be looked at; below nothing, what is found need not be best."""
    gain: int = 0
    found: Counts = ()
    order: list[tuple[int, int, int, int]] = field(default_factory=list)
    """Worth of a millimetre rounded up, worth, length and place, the dearest first."""

    def of(self, worth: Sequence[int]) -> Pattern | None:
        """Return the pattern worth most above its price, or nothing when none is worth more."""
        self.gain, self.found = 0, ()
        self.order = sorted(
            (
                (-(-value // length), value, length, place)
                for place, (value, length) in enumerate(
                    zip(worth, self.packing.lengths, strict=True)
                )
            ),
            reverse=True,
        )
        self._from(0, 0, 0, [0] * len(worth))
        if self.gain <= 0:
            return None
        load = sum(map(mul, self.found, self.packing.lengths))
        return Pattern(self.found, self.packing.price_of(load))

    def _from(self, step: int, load: int, value: int, chosen: list[int]) -> None:
        self.steps -= 1
        gain = value - self.packing.price_of(load) * self.scale if load else 0
        if gain > self.gain:
            self.gain, self.found = gain, tuple(chosen)
        if step < len(self.order) and self.steps >= 0:
            self._add(step, load, value, chosen)

    def _add(self, step: int, load: int, value: int, chosen: list[int]) -> None:
        density, worth, length, place = self.order[step]
        if not any(
            room >= load and value + density * (room - load) - price * self.scale > self.gain
            for room, price in zip(self.packing.rooms, self.packing.prices, strict=True)
        ):
            return
        most = min(self.packing.counts[place], (self.packing.rooms[-1] - load) // length)
        for number in range(most, -1, -1):
            chosen[place] = number
            self._from(step + 1, load + number * length, value + number * worth, chosen)


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The linear program solved: what each length is worth, and how often each pattern is used."""

    worth: tuple[float, ...]
    """Value of a piece of each length [penny]."""
    used: tuple[tuple[Pattern, float], ...]


def relaxed(packing: Packing, *, steps: int) -> Relaxed:
    """Solve the linear program over all patterns, each made when it is wanted.

    The simplex method with column generation (Gilmore and Gomory, Operations Research 9, 1961).
    Whatever it returns is only a guess until ``Duals`` has checked it in whole numbers, so
    neither floating point nor an early stop can make a bound wrong.

    >>> from estimator.takeoff.packing import packing_of
    >>> relaxed(packing_of([500] * 3, [(1000, 900)]), steps=99).worth
    (450.0,)
    """
    size = len(packing.lengths)
    basis = [_alone(packing, place) for place in range(size)]
    inverse = [[0.0] * size for _ in range(size)]
    for place, one in enumerate(basis):
        inverse[place][place] = 1 / one.counts[place]
    level = [packing.counts[place] * inverse[place][place] for place in range(size)]
    knapsack = Dearest(packing, SCALE, steps)
    worth = _worth(basis, inverse)
    while knapsack.steps > 0:
        better = knapsack.of([max(int(value * SCALE), 0) for value in worth])
        if better is None or knapsack.gain < NEAR * SCALE * better.price:
            break
        _pivot(better, basis, inverse, level)
        worth = _worth(basis, inverse)
    return Relaxed(tuple(worth), tuple(zip(basis, level, strict=True)))


def _alone(packing: Packing, place: int) -> Pattern:
    """Return the cheapest way to cut one length from bars of its own."""
    size, length = len(packing.lengths), packing.lengths[place]
    fits = [
        (price / min(room // length, packing.counts[place]), room, price)
        for room, price in zip(packing.rooms, packing.prices, strict=True)
        if room >= length
    ]
    _, room, price = min(fits)
    number = min(room // length, packing.counts[place])
    return Pattern(tuple(number if i == place else 0 for i in range(size)), price)


def _worth(basis: Sequence[Pattern], inverse: Sequence[Sequence[float]]) -> list[float]:
    rows = range(len(basis))
    return [sum(basis[row].price * inverse[row][column] for row in rows) for column in rows]


def _pivot(
    entering: Pattern, basis: list[Pattern], inverse: list[list[float]], level: list[float]
) -> None:
    step = [sum(a * c for a, c in zip(row, entering.counts, strict=True)) for row in inverse]
    ratios = [(level[row] / step[row], row) for row in range(len(basis)) if step[row] > NEAR]
    if not ratios:
        return
    amount, leaving = min(ratios)
    pivot = inverse[leaving] = [value / step[leaving] for value in inverse[leaving]]
    for row in range(len(basis)):
        if row != leaving:
            level[row] = max(level[row] - step[row] * amount, 0.0)
            inverse[row] = [a - step[row] * b for a, b in zip(inverse[row], pivot, strict=True)]
    level[leaving] = amount
    basis[leaving] = entering


@dataclass(frozen=True, slots=True)
class Duals:
    """A whole-number value for each length such that no pattern is worth more than it costs.

    Every piece of a packing lies in some pattern, and every pattern costs at least what its pieces
    are worth. So the worth of all pieces is a bound on the cost of any packing: weak duality of
    linear programs. It holds for any such values, however they were come by.
    """

    values: tuple[int, ...]
    scale: int
    """So many parts of value make a penny."""

    @classmethod
    def of(cls, packing: Packing, worth: Sequence[float], *, steps: int) -> Duals | None:
        """Make duals from a guess: the scale is raised until no pattern is overvalued.

        Nothing when that takes too many steps.
        """
        values = tuple(max(int(one * SCALE), 0) for one in worth)
        knapsack = Dearest(packing, SCALE, steps)
        while (one := knapsack.of(values)) is not None and knapsack.steps >= 0:
            # Rounded up, so that this pattern is worth its price at the most.
            knapsack.scale = -(-sum(map(mul, values, one.counts)) // one.price)
        return cls(values, knapsack.scale) if knapsack.steps >= 0 else None

    @classmethod
    def by_length(cls, packing: Packing) -> Duals:
        """Return the plainest duals: each length at the lowest price for a length there is."""
        price, room = packing.lowest_rate
        return cls(tuple(length * price for length in packing.lengths), room)

    def of_all(self, counts: Counts) -> int:
        """Return the value of so many pieces of each length."""
        return sum(map(mul, self.values, counts))

    def bound(self, packing: Packing) -> int:
        """Return a cost no packing can be below [penny]."""
        return -(-self.of_all(packing.counts) // self.scale)
