"""Which unknown moves a price most, read from a sample that was drawn anyway.

The first-order index of Sobol (1993) is the share of the variance that would go, on average, if one
input were known: the variance of the mean given that input, over the whole variance. Here it comes
from given data: the draws are sorted by the input, cut into groups, and compared as in a one-way
analysis of variance. The chance part of the scatter between groups is taken off (Kelley's epsilon
squared, 1935), so an input without any effect comes out near nothing and not above it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import groupby
from math import isqrt
from statistics import fmean

MOST_GROUPS = 32
"""Groups a numeric input is cut into at most; fewer draws make fewer groups."""
FEWEST_DRAWS = 8
"""Fewer draws than this say nothing about shares."""


def share_of_variance(given: Sequence[float | None], found: Sequence[float]) -> float:
    """Return how much of the variance of what was found one input accounts for, 0 to 1.

    Args:
        given: The input in each draw, a number or the place of a choice; ``None`` where the draw
            had no use for it.
        found: The outcome of each draw.

    Raises:
        ValueError: where the two are not as many.

    >>> steps = [step / 100 for step in range(100)]
    >>> round(share_of_variance(steps, [3 * step for step in steps]), 2)
    0.99
    >>> share_of_variance([0.0, 1.0] * 50, [1.0, 1.0, 2.0, 2.0] * 25)
    0.0
    """
    count = len(found)
    if len(given) != count:
        raise ValueError("each outcome needs the input it was found with")
    mean = fmean(found) if count else 0.0
    whole = sum((one - mean) ** 2 for one in found)
    groups = _grouped(given, found)
    if count < FEWEST_DRAWS or whole <= 0 or not 1 < len(groups) < count:
        return 0.0
    between = sum(len(group) * (fmean(group) - mean) ** 2 for group in groups)
    chance = (whole - between) / (count - len(groups))
    return min(max((between - (len(groups) - 1) * chance) / whole, 0.0), 1.0)


def _grouped(given: Sequence[float | None], found: Sequence[float]) -> list[list[float]]:
    """Return outcomes whose inputs lie next to each other; equal inputs are never parted."""
    absent = [out for put, out in zip(given, found, strict=True) if put is None]
    known = sorted((put, out) for put, out in zip(given, found, strict=True) if put is not None)
    groups = [absent] if absent else []
    if not known:
        return groups
    wanted = max(2, min(MOST_GROUPS, isqrt(len(known))))
    if len(Counter(put for put, _out in known)) <= wanted:
        return groups + [
            [out for _put, out in same] for _put, same in groupby(known, lambda pair: pair[0])
        ]
    return groups + _cut([list(same) for _put, same in groupby(known, lambda p: p[0])], wanted)


def _cut(runs: list[list[tuple[float, float]]], wanted: int) -> list[list[float]]:
    """Return so many groups of about as many outcomes each, made of whole runs of equal inputs."""
    count = sum(map(len, runs))
    groups: list[list[float]] = [[]]
    taken = 0
    for run in runs:
        if groups[-1] and taken >= count * len(groups) / wanted:
            groups.append([])
        groups[-1].extend(out for _put, out in run)
        taken += len(run)
    return groups
