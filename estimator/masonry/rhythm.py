"""How much of a course is perpend up to any place along it: exact, without counting bricks.

A course repeats, so the perpend up to x is a slope plus something periodic. Knowing that and its
running sum is enough to measure a course in a region with slanted sides exactly (Green's theorem:
the area of perpend in a region is the integral of this function round its edge).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import Protocol


class Cover(Protocol):
    """Something spread along a course, known up to any place."""

    def upto(self, x: float) -> float:
        """Return how much lies left of x, counted from a fixed start. [mm]"""

    def running(self, x: float) -> float:
        """Return the integral of ``upto`` from a fixed start. [mm²]"""


@dataclass(frozen=True, slots=True)
class Everything:
    """The whole course: up to x lies x."""

    def upto(self, x: float) -> float:
        """Return x itself. [mm]

        >>> Everything().upto(3.0)
        3.0
        """
        return x

    def running(self, x: float) -> float:
        """Return half of x squared. [mm²]

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
        """Return how much of the stretch lies left of x. [mm]

        >>> Stretch(2.0, 5.0).upto(4.0), Stretch(2.0, 5.0).upto(9.0)
        (2.0, 3.0)
        """
        return min(max(x, self.left), self.right) - self.left

    def running(self, x: float) -> float:
        """Return the integral of ``upto``. [mm²]

        >>> Stretch(2.0, 5.0).running(6.0)
        7.5
        """
        held = self.upto(x)
        beyond = max(x - self.right, 0.0)
        return held * held / 2 + beyond * held


@dataclass(frozen=True, slots=True)
class Rhythm:
    """The faces of one course and the perpend after each, repeating for ever both ways."""

    faces_mm: tuple[float, ...]
    perpend_mm: float
    start_mm: float
    """Left end of a first face, anywhere along the course. [mm]"""

    @property
    def repeat_mm(self) -> float:
        """Length of the repeat. [mm]"""
        return sum(self.faces_mm) + len(self.faces_mm) * self.perpend_mm

    def upto(self, x: float) -> float:
        """Return how much perpend lies between the start and x. [mm]

        >>> Rhythm((215.0,), 10.0, 0.0).upto(450.0)
        20.0
        """
        turns, rest = self._place(x)
        return turns * self._perpend_a_turn + self._within(rest)[0]

    def running(self, x: float) -> float:
        """Return the integral of ``upto`` from the start to x. [mm²]

        >>> Rhythm((215.0,), 10.0, 0.0).running(225.0)
        50.0
        """
        turns, rest = self._place(x)
        repeat, a_turn = self.repeat_mm, self._perpend_a_turn
        one_turn = self._within(repeat)[1]
        before = a_turn * repeat * turns * (turns - 1) / 2 + turns * one_turn
        return before + turns * a_turn * rest + self._within(rest)[1]

    @property
    def _perpend_a_turn(self) -> float:
        return len(self.faces_mm) * self.perpend_mm

    def _place(self, x: float) -> tuple[int, float]:
        """Return how many whole repeats lie between the start and x, and what is over."""
        turns = math.floor((x - self.start_mm) / self.repeat_mm)
        return turns, x - self.start_mm - turns * self.repeat_mm

    def _within(self, rest: float) -> tuple[float, float]:
        """Return the perpend, and its running sum, from the start of a repeat to a place in it."""
        held = summed = 0.0
        at = 0.0
        for face in self.faces_mm:
            step = min(face, rest - at)
            if step <= 0:
                break
            summed += held * step
            at += step
            step = min(self.perpend_mm, rest - at)
            if step <= 0:
                break
            summed += held * step + step * step / 2
            held += step
            at += step
        return held, summed

    def face_at(self, x: float) -> int:
        """Return the number of the face at x or just left of it; 0 is the one at the start.

        >>> Rhythm((215.0, 102.5), 10.0, 0.0).face_at(240.0)
        1
        """
        turns, rest = self._place(x)
        place = 0
        for place, end in enumerate(face_ends(self.faces_mm, self.perpend_mm)):
            if rest < end:
                break
        return turns * len(self.faces_mm) + place

    def face_span(self, number: int) -> tuple[float, float]:
        """Return the left and right end of a face by its number. [mm]

        >>> Rhythm((215.0, 102.5), 10.0, 0.0).face_span(1)
        (225.0, 327.5)
        """
        turns, place = divmod(number, len(self.faces_mm))
        ends = face_ends(self.faces_mm, self.perpend_mm)
        right = self.start_mm + turns * self.repeat_mm + ends[place] - self.perpend_mm
        return right - self.faces_mm[place], right

    def perpend_after(self, number: int) -> float:
        """Return the middle of the perpend after a face. [mm]

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


@lru_cache(maxsize=256)
def face_ends(faces_mm: tuple[float, ...], perpend_mm: float) -> tuple[float, ...]:
    """Return where each face with its perpend ends within the repeat. [mm]

    >>> face_ends((215.0, 102.5), 10.0)
    (225.0, 337.5)
    """
    return tuple(accumulate(face + perpend_mm for face in faces_mm))
