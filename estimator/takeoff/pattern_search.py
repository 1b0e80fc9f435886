"""The least cost of a packing with few pieces or lengths, or as close as bounded work gets.

Work is counted in steps, not timed, so that the same pieces are cut alike on any machine.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from operator import mul

from estimator.takeoff.packing import Bin, Packing, attainable, quick_packing
from estimator.takeoff.pattern_values import NEAR, Counts, Duals, Pattern, Relaxed, relaxed

FEW_PIECES = 10
"""So few are searched at once; the linear program would take longer."""
MOST_RELAXED = 16
"""Distinct lengths for which the linear program is solved."""
MOST_PROVED = 5
"""Distinct lengths for which the least cost is searched for."""
KEPT = (1.0, 0.9, 0.7)
"""Shares of the linear program's bars that are kept, to pack the rest anew."""
FEW_SUMS = 8
"""Sums of prices between bound and cost that are refuted one by one."""
RELAXED_STEPS = 50
"""Steps for each piece to solve the linear program in, so that work grows with the job."""
MOST_RELAXED_STEPS = 10_000
ROUNDED_STEPS = 1000
PROOF_STEPS = 4500
MOST_DEEP = 250
"""Bars in the deepest search; each is a call within a call."""


@dataclass(slots=True)
class Search:
    """A search for a packing of at most a given cost, the bar with the longest piece left next.

    What a pattern costs above the value of its pieces is lost for good. A packing cheap enough
    loses no more in all than there is to spare, so patterns that lose more are not even listed,
    and a branch that has lost more is left. It ends when a packing is found, when nothing is left
    to try, which proves there is none, or when all steps are taken.
    """

    packing: Packing
    duals: Duals
    spare: int
    """What may be lost in all, in parts of the duals' scale."""
    steps: int
    """How many more patterns may be listed or tried; below nothing, the search proved nothing."""
    ranked: list[list[tuple[int, int, Counts]]] = field(default_factory=list)
    """For each longest length its patterns: what is lost (least first), packed, plain."""
    seen: dict[int, int] = field(default_factory=dict)
    """For what was left, packed: the least lost on the way there."""
    width: int = 0
    guards: int = 0

    def __post_init__(self) -> None:
        """List the patterns by their longest length."""
        size = len(self.packing.lengths)
        # Counts are packed into one number, the longest length on top, each under a guard bit
        # that is borrowed from when too many are taken: one subtraction tries a whole pattern.
        self.width = max(self.packing.counts).bit_length() + 1
        self.guards = self._packed((1 << (self.width - 1),) * size)
        dearest = [0]
        for value, length in zip(self.duals.values[::-1], self.packing.lengths[::-1], strict=True):
            # The most a millimetre of this length or a shorter one is worth, rounded up.
            dearest.append(max(dearest[-1], -(-value // length)))
        dearest.reverse()
        for place in range(size):
            self.ranked.append([])
            self._list((0,) * place, 0, 0, dearest)
            self.ranked[place].sort()

    def _packed(self, counts: Counts) -> int:
        packed = 0
        for count in counts:
            packed = packed << self.width | count
        return packed

    def _list(self, chosen: Counts, load: int, value: int, dearest: Sequence[int]) -> None:
        """List every way to go on that loses no more than there is to spare."""
        self.steps -= 1
        place, scale = len(chosen), self.duals.scale
        if self.steps < 0:
            return
        if place == len(self.packing.lengths):
            lost = self.packing.price_of(load) * scale - value
            if lost <= self.spare:
                self.ranked[-1].append((lost, self._packed(chosen), chosen))
            return
        both = zip(self.packing.rooms, self.packing.prices, strict=True)
        if all(
            room < load or price * scale - value - dearest[place] * (room - load) > self.spare
            for room, price in both
        ):
            return
        length, worth = self.packing.lengths[place], self.duals.values[place]
        most = min(self.packing.counts[place], (self.packing.rooms[-1] - load) // length)
        least = 1 if place == len(self.ranked) - 1 else 0
        for number in range(most, least - 1, -1):
            self._list((*chosen, number), load + number * length, value + number * worth, dearest)

    def found(self, counts: Counts) -> list[Pattern] | None:
        """Return patterns that use up these counts and lose no more than there is to spare."""
        chosen: list[Counts] = []
        if self.steps < 0 or not self._fill(self._packed(counts), 0, chosen):
            return None
        return [self._priced(one) for one in chosen]

    def _fill(self, left: int, lost: int, chosen: list[Counts]) -> bool:
        if not left:
            return True
        if self.seen.get(left, self.spare + 1) <= lost:
            return False
        self.seen[left] = lost
        place = len(self.ranked) - 1 - (left.bit_length() - 1) // self.width
        for more, packed, counts in self.ranked[place]:
            self.steps -= 1
            if lost + more > self.spare or self.steps < 0:
                return False
            if ((left | self.guards) - packed) & self.guards != self.guards:
                continue
            chosen.append(counts)
            if self._fill(left - packed, lost + more, chosen):
                return True
            chosen.pop()
        return False

    def _priced(self, counts: Counts) -> Pattern:
        load = sum(map(mul, counts, self.packing.lengths))
        return Pattern(counts, self.packing.price_of(load))


@dataclass(frozen=True, slots=True)
class Least:
    """The cheapest packing found, and what no packing can be below [penny]."""

    bins: list[Bin]
    cost: int
    bound: int


def least_cost(packing: Packing, start: Least) -> Least:
    """Improve a packing, and the bound on it, until they meet or the work gets too much.

    >>> from estimator.takeoff.packing import packing_of, quick_packing
    >>> packing = packing_of([1200, 1000, 800], [(1000, 900), (1500, 1300), (3000, 2500)])
    >>> least_cost(packing, Least([(1200,), (1000,), (800,)], 3100, 2500)).cost
    2500
    """
    if sum(packing.counts) <= FEW_PIECES:
        return _proved(packing, Duals.by_length(packing), start)
    if len(packing.lengths) > MOST_RELAXED:
        return start
    steps = min(RELAXED_STEPS * sum(packing.counts), MOST_RELAXED_STEPS)
    guess = relaxed(packing, steps=steps)
    duals = Duals.of(packing, guess.worth, steps=steps)
    if duals is None:
        return start
    bound = attainable(packing, max(start.bound, duals.bound(packing)), start.cost)
    best = Least(start.bins, start.cost, bound)
    for keep in KEPT:
        best = _rounded(packing, (guess, duals), best, keep)
    if len(packing.lengths) > MOST_PROVED or len(best.bins) > MOST_DEEP:
        return best
    return _proved(packing, duals, best)


def _rounded(packing: Packing, solved: tuple[Relaxed, Duals], best: Least, keep: float) -> Least:
    """Keep whole bars of the linear program, or a share of them, and pack the rest."""
    guess, duals = solved
    kept: list[Pattern] = []
    left = packing.counts
    for one, used in guess.used:
        fit = min(a // b for a, b in zip(left, one.counts, strict=True) if b)
        number = min(int(used * keep + NEAR), fit)
        kept += [one] * number
        left = tuple(a - number * b for a, b in zip(left, one.counts, strict=True))
    bins = bins_of(packing, kept) + quick_packing(packing.with_counts(left))
    cost = packing.cost_of(bins)
    if cost < best.cost:
        best = Least(bins, cost, best.bound)
    if len(packing.lengths) > MOST_PROVED:
        return best
    spent, steps = sum(one.price for one in kept), ROUNDED_STEPS
    worth = duals.of_all(left)
    most = attainable(packing, max(best.bound, spent - (-worth // duals.scale)), best.cost)
    while most < best.cost and steps > 0:
        search = Search(packing, duals, (most - spent) * duals.scale - worth, steps)
        rest = search.found(left)
        if rest is not None:
            bins = bins_of(packing, kept + rest)
            return Least(bins, packing.cost_of(bins), best.bound)
        steps = search.steps
        most = attainable(packing, most + 1, best.cost)
    return best


def _proved(packing: Packing, duals: Duals, best: Least) -> Least:
    """Raise the bound and lower the cost until they meet or all steps are taken."""
    steps, bound = PROOF_STEPS, best.bound
    worth, unit = duals.of_all(packing.counts), math.gcd(*packing.prices)
    while bound < best.cost:
        # Few sums of prices in between are refuted one by one, as that leaves least to search;
        # of many, the one next to the best cost is asked for.
        few = best.cost - bound <= FEW_SUMS * unit
        most = bound if few else best.cost - 1
        search = Search(packing, duals, most * duals.scale - worth, steps)
        whole = search.found(packing.counts)
        steps = search.steps
        if whole is not None:
            bins = bins_of(packing, whole)
            best = Least(bins, packing.cost_of(bins), bound)
        elif steps < 0:
            break
        else:
            bound = attainable(packing, most + 1, best.cost)
    return Least(best.bins, best.cost, bound)


def bins_of(packing: Packing, patterns: Sequence[Pattern]) -> list[Bin]:
    """Return patterns as bins of lengths.

    >>> from estimator.takeoff.packing import packing_of
    >>> bins_of(packing_of([600, 400, 400], [(1000, 900)]), [Pattern((1, 1), 900)])
    [(600, 400)]
    """
    return [
        tuple(
            length
            for length, count in zip(packing.lengths, one.counts, strict=True)
            for _ in range(count)
        )
        for one in patterns
    ]
