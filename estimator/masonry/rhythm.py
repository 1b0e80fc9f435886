"""How much of a course is perpend up to any place along it: exact, without counting bricks.

A course repeats, so the perpend up to x is a slope plus something periodic. Knowing that and its
running sum is enough to measure a course in a region with slanted sides exactly (Green's theorem:
the area of perpend in a region is the integral of this function round its edge).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Protocol

from estimator.masonry.region import NEAR_MM


class Cover(Protocol):
    """Something spread along a course, known up to any place."""

    def upto(self, x: float) -> float:
        """Return how much lies left of x, counted from a fixed start [mm]."""

    def running(self, x: float) -> float:
        """Return the integral of ``upto`` from a fixed start [mm²]."""


@dataclass(frozen=True, slots=True)
class Everything:
    """The whole course: up to x lies x."""

    def upto(self, x: float) -> float:
        """Return x itself [mm].

        >>> Everything().upto(3.0)
        3.0
        """
        return x

    def running(self, x: float) -> float:
        """Return half of x squared [mm²].

        >>> Everything().running(4.0)
        8.0
        """
        return x * x / 2


@dataclass(frozen=True, slots=True)
class Stretch:
    """Only what lies between two places."""

    left: float
    right: float

    def upto(self, x: float) -> float:
        """Return how much of the stretch lies left of x [mm].

        >>> Stretch(2.0, 5.0).upto(4.0), Stretch(2.0, 5.0).upto(9.0)
        (2.0, 3.0)
        """
        return min(max(x, self.left), self.right) - self.left

    def running(self, x: float) -> float:
        """Return the integral of ``upto`` [mm²].

        >>> Stretch(2.0, 5.0).running(6.0)
        7.5
        """
        held = self.upto(x)
        beyond = max(x - self.right, 0.0)
        return held * held / 2 + beyond * held


@dataclass(frozen=True)
class Rhythm:
    """The faces of one course and the perpend after each, repeating for ever both ways."""

    faces_mm: tuple[float, ...]
    perpend_mm: float
    start_mm: float
    """Left end of a first face, anywhere along the course [mm]."""

    @cached_property
    def repeat_mm(self) -> float:
        """Length of the repeat [mm]."""
        return self._ends[-1]

    @cached_property
    def _ends(self) -> tuple[float, ...]:
        """Where each face with its perpend ends within the repeat [mm]."""
        return tuple(accumulate(face + self.perpend_mm for face in self.faces_mm))

    @cached_property
    def _starts(self) -> tuple[float, ...]:
        """Where each face starts within the repeat [mm]."""
        return (0.0, *self._ends[:-1])

    @cached_property
    def _sums(self) -> tuple[float, ...]:
        """The running sum of perpend at the start of each face, and at the end [mm²]."""
        per = self.perpend_mm
        gains = (
            number * per * (face + per) + per * per / 2 for number, face in enumerate(self.faces_mm)
        )
        return tuple(accumulate(gains, initial=0.0))

    def upto(self, x: float) -> float:
        """Return how much perpend lies between the start and x [mm].

        >>> Rhythm((215.0,), 10.0, 0.0).upto(450.0)
        20.0
        """
        turns, place, into = self._place(x)
        before = (turns * len(self.faces_mm) + place) * self.perpend_mm
        return before + max(into - self.faces_mm[place], 0.0)

    def running(self, x: float) -> float:
        """Return the integral of ``upto`` from the start to x [mm²].

        >>> Rhythm((215.0,), 10.0, 0.0).running(225.0)
        50.0
        """
        turns, place, into = self._place(x)
        repeat, a_turn = self.repeat_mm, len(self.faces_mm) * self.perpend_mm
        # Each whole repeat starts with what the ones before it gathered: 0, 1, 2 … turns' worth.
        whole = a_turn * repeat * turns * (turns - 1) / 2 + turns * self._sums[-1]
        over = max(into - self.faces_mm[place], 0.0)
        part = self._sums[place] + place * self.perpend_mm * into + over * over / 2
        return whole + turns * a_turn * (self._starts[place] + into) + part

    def _place(self, x: float) -> tuple[int, int, float]:
        """Return the whole repeats before x, the face in the next, and how far x is into it."""
        turns = math.floor((x - self.start_mm) / self.repeat_mm)
        rest = x - self.start_mm - turns * self.repeat_mm
        # Rounding can leave a whole repeat over, which would be one face too many.
        place = min(bisect_right(self._ends, rest), len(self.faces_mm) - 1)
        return turns, place, rest - self._starts[place]

    def face_at(self, x: float) -> int:
        """Return the number of the face at x or just left of it; 0 is the one at the start.

        >>> Rhythm((215.0, 102.5), 10.0, 0.0).face_at(240.0)
        1
        """
        turns, place, _ = self._place(x)
        return turns * len(self.faces_mm) + place

    def face_span(self, number: int) -> tuple[float, float]:
        """Return the left and right end of a face by its number [mm].

        >>> Rhythm((215.0, 102.5), 10.0, 0.0).face_span(1)
        (225.0, 327.5)
        """
        turns, place = divmod(number, len(self.faces_mm))
        left = self.start_mm + turns * self.repeat_mm + self._starts[place]
        return left, left + self.faces_mm[place]

    def faces_between(self, left: float, right: float) -> Iterator[tuple[int, float, float]]:
        """Yield the number, left and right end of every face that shows between two places [mm].

        >>> list(Rhythm((215.0,), 10.0, 0.0).faces_between(100.0, 300.0))
        [(0, 0.0, 215.0), (1, 225.0, 440.0)]
        """
        number = self.face_at(left)
        start, end = self.face_span(number)
        while start < right - NEAR_MM:
            if end > left + NEAR_MM:
                yield number, start, end
            number += 1
            start, end = self.face_span(number)

    def perpend_after(self, number: int) -> float:
        """Return the middle of the perpend after a face [mm].

        >>> Rhythm((215.0,), 10.0, 0.0).perpend_after(0)
        220.0
        """
        return self.face_span(number)[1] + self.perpend_mm / 2

    def nearest_perpend(self, x: float) -> int:
        """Return the number of the face whose following perpend is nearest to x.

        >>> Rhythm((215.0,), 10.0, 0.0).nearest_perpend(300.0)
        0
        """
        here = self.face_at(x)
        return min(
            (here - 1, here), key=lambda number: (abs(self.perpend_after(number) - x), number)
        )

    def next_perpend(self, x: float, *, rightward: bool) -> int:
        """Return the number of the face before the next perpend whose middle lies beyond x.

        >>> rhythm = Rhythm((215.0,), 10.0, 0.0)
        >>> rhythm.next_perpend(220.0, rightward=True), rhythm.next_perpend(220.0, rightward=False)
        (1, -1)
        """
        here = self.face_at(x)
        # The perpend after this face may lie on either side of x, or under it.
        if rightward:
            return here if self.perpend_after(here) > x + NEAR_MM else here + 1
        return here if self.perpend_after(here) < x - NEAR_MM else here - 1
