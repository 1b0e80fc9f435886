"""Which beds a crack is stitched in: by spacing, its ends, and its neighbours' beds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from estimator.takeoff.rules import Rules

EVERY = (
    "every course",
    "every second course",
    "every third course",
    "every fourth course",
    "every fifth course",
    "every sixth course",
)


@dataclass(frozen=True, slots=True)
class Spacing:
    """How the bars of one crack are spread over the courses it crosses."""

    courses: int
    """Courses crossed [nr]."""
    step: float
    """Courses from bar to bar."""
    count: int
    """Bars the crack needs [nr]."""

    @property
    def words(self) -> str:
        """The spacing in the trade's words.

        >>> Spacing(24, 3, 8).words, Spacing(70, 3.5, 20).words
        ('every third course', '20 bars spread over 70 courses')
        """
        if self.step == int(self.step) and self.step <= len(EVERY):
            return EVERY[int(self.step) - 1]
        return f"{self.count} bars spread over {self.courses} courses"


class Beds(NamedTuple):
    """The beds a crack is stitched in, lowest first."""

    all: list[int]
    at_ends: frozenset[int]
    """Those added near an end, out of step, so that there are as many bars as are needed."""


def spacing_for(courses: int, gauge_mm: float, rules: Rules) -> Spacing:
    """Return the spacing for a crack crossing so many courses.

    Up to the long-crack length the usual spacing; beyond it the same number of bars spreads out
    until the widest spacing is reached, so that a longer crack never gets fewer bars (house rule).

    >>> from estimator.takeoff.rules import changed, shipped
    >>> spacing_for(20, 75, shipped()).count, spacing_for(66, 75, shipped()).step
    (7, 3.3)
    """
    usual, widest = rules.spacing_courses, rules.long_spacing_courses
    longest = max(int(rules.long_crack_mm / gauge_mm), 1)
    if courses <= longest:
        return Spacing(courses, usual, math.ceil(courses / usual))
    least = math.ceil(longest / usual)
    step = min(max(courses / least, usual), widest)
    return Spacing(courses, step, max(least, math.ceil(courses / widest)))


def beds_for(first: int, last: int, spacing: Spacing, taken: Sequence[int] = ()) -> list[int]:
    """Return the beds to stitch between the first and last course crossed, lowest first.

    >>> beds_for(1, 24, Spacing(24, 3, 8))
    [2, 5, 8, 11, 14, 17, 20, 23]
    >>> beds_for(1, 10, Spacing(10, 3, 4), [3, 6])
    [3, 6, 9, 10]
    """
    return set_out(first, last, spacing, taken).all


def set_out(first: int, last: int, spacing: Spacing, taken: Sequence[int] = ()) -> Beds:
    """Set out the beds of a crack between the first and last course crossed.

    A bar lies in a bed inside the crack. The first is half a spacing in from the lower end; where a
    neighbour's bars reach this crack its beds are kept and the rest set out from them.

    >>> set_out(8, 17, Spacing(10, 3, 4))
    Beds(all=[9, 12, 15, 17], at_ends=frozenset({17}))
    """
    lowest, highest = min(first + 1, last + 1), max(last, first + 1)
    inside = sorted(bed for bed in set(taken) if lowest <= bed <= highest)
    if not inside:
        inside = [min(max(first + int(spacing.step / 2), lowest), highest)]
    beds = set(inside)
    for start, end in zip(inside, [*inside[1:], highest + 1], strict=True):
        beds.update(_steps(start, end, spacing.step))
    beds.update(
        2 * inside[0] - bed for bed in _steps(inside[0], 2 * inside[0] - lowest + 1, spacing.step)
    )
    in_step = frozenset(beds)
    _fill_ends(beds, lowest, highest, spacing.count)
    return Beds(sorted(beds), frozenset(beds) - in_step)


def beside(bed: int, found: Beds, first: int, last: int) -> int | None:
    """Return the bed next to one no bar may lie in, the upper one if it will do, else None.

    Like every bed of the crack it lies between the first and last course crossed, and has no bar.

    >>> found = set_out(1, 9, Spacing(9, 3, 3))
    >>> found.all, beside(5, found, 1, 9), beside(2, Beds([2, 3], frozenset()), 1, 3)
    ([2, 5, 8], 6, None)
    """
    lowest, highest = min(first + 1, last + 1), max(last, first + 1)
    for one in (bed + 1, bed - 1):
        if lowest <= one <= highest and one not in found.all:
            return one
    return None


def _steps(start: int, end: int, step: float) -> list[int]:
    """Return the beds stepped to after a start and before an end."""
    found = []
    number = 1
    while start + int(number * step) < end:
        found.append(start + int(number * step))
        number += 1
    return found


def _fill_ends(beds: set[int], lowest: int, highest: int, count: int) -> None:
    """Add a bed at the barer end of the crack until there are as many as it needs."""
    while len(beds) < min(count, highest - lowest + 1):
        below, above = min(beds) - lowest, highest - max(beds)
        if not below and not above:
            return
        beds.add(highest if above >= below else lowest)
