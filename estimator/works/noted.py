"""What was noted on the wall, by the marks that the agreed work has now.

Bars are numbered in the order of the wall, so a bar that is agreed later moves the numbers of those
beyond it. A note belongs to the bar it was made of, and never to another that has its number since.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import zip_longest

from estimator.contract.so_far import SoFar, Then
from estimator.contract.works import Built, Held
from estimator.takeoff.lines import Bar, Mark
from estimator.works.site_work import site_work


def built_now(so_far: SoFar) -> tuple[Built, ...]:
    """Return what was built, each by the mark it has in the work agreed now.

    A bar that is no part of that work any more is told of by its bed.

    >>> built_now(SoFar())
    ()
    """
    marks = _Marks(so_far)
    noted = zip_longest(so_far.built, so_far.built_then[: len(so_far.built)])
    return tuple(replace(one, mark=marks.now(one.mark, then)) for one, then in noted)


def held_now(so_far: SoFar) -> tuple[Held, ...]:
    """Return the hold points signed, each by the mark it has in the work agreed now.

    >>> held_now(SoFar())
    ()
    """
    marks = _Marks(so_far)
    noted = zip_longest(so_far.held, so_far.held_then[: len(so_far.held)])
    return tuple(replace(one, mark=marks.now(one.mark, then)) for one, then in noted)


class _Marks:
    """Marks of work agreed once, in the work agreed now."""

    def __init__(self, so_far: SoFar) -> None:
        self._so_far, self._now = so_far, Then(so_far.contract, so_far.agreed)
        self._moved: list[tuple[Then, dict[Mark, Mark]]] = []

    def now(self, mark: Mark, then: Then | None) -> Mark:
        if then is None or then.contract is None or then == self._now:
            return mark
        moved = next((found for known, found in self._moved if known is then), None)
        if moved is None:
            before = SoFar(contract=then.contract, variations=then.agreed)
            moved = moved_bars(site_work(before).measure.bars, site_work(self._so_far).measure.bars)
            self._moved.append((then, moved))
        return moved.get(mark, mark)


def moved_bars(before: Iterable[Bar], now: Sequence[Bar]) -> dict[Mark, Mark]:
    """Return the mark each bar has now: that of the bar in its bed that lies most over it.

    >>> moved_bars((), ())
    {}
    """
    return {bar.id: _same(bar, now) or f"{bar.elevation}/bed/{bar.course}" for bar in before}


def shared_mm(one: Bar, two: Bar) -> float:
    """Return the length of bed that two bars share, whatever their numbers [mm].

    >>> bar = Bar("f/bar/3", "f", 8, 0, 900, 600, 0, 0, (900,), 35, 10, False, (), ())
    >>> moved = replace(bar, id="f/bar/4", left_mm=500, right_mm=1400)
    >>> shared_mm(bar, moved), shared_mm(bar, replace(moved, course=9))
    (400, 0.0)
    """
    if (one.elevation, one.course) != (two.elevation, two.course):
        return 0.0
    return max(min(one.right_mm, two.right_mm) - max(one.left_mm, two.left_mm), 0.0)


def _same(bar: Bar, now: Sequence[Bar]) -> Mark:
    best = max(now, key=lambda one: shared_mm(one, bar), default=None)
    return best.id if best is not None and shared_mm(best, bar) > 0 else ""
