"""Cracked bricks found since, counted against those the contract allowed for.

The quotation promises a rate for each further brick, all in. So bricks to be replaced that nobody
had marked are counted, not measured one by one; and what they need besides, days, packs and
travel, is in their rate. Only on a side where nothing else is done are they measured as any other
brick is: there the rate would have to carry what it was never made for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property, lru_cache

from estimator.contract.contract import Contract
from estimator.contract.frozen import survey_of
from estimator.pricing.provisional import rate_stands
from estimator.survey.ranges import likely, settled
from estimator.survey.survey import CrackedBrick, Elevation, Survey, Treatment
from estimator.takeoff.lines import Item, Mark, Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import Rules
from estimator.takeoff.scope import Scope, Work
from estimator.takeoff.work import counted

REVIEW_FROM_PERCENT = Decimal(20)
"""Source: NRM2, by way of designingbuildings.co.uk."""


@dataclass(frozen=True)
class Further:
    """The wall as found, its further bricks told from those that were agreed one by one."""

    then: Survey
    """The contract's."""
    now: Survey
    """As found."""
    allowed: int
    """How many further bricks the contract has a line for. [nr]"""
    all_found: bool
    """Whether nothing more will be found, so that the allowance is counted down too."""
    is_counted: bool = True
    """Whether further bricks are counted at all; without a promised rate they are not."""
    singly: frozenset[str] = frozenset()
    """Sides where nothing else is done, so that bricks are measured one by one."""

    @cached_property
    def marks_by_side(self) -> Mapping[str, tuple[Mark, ...]]:
        """The marks of further bricks, by elevation."""
        if not self.is_counted:
            return {}
        return {
            now.id: () if now.id in self.singly else _further_marks(self._before(now.id), now)
            for now in self.now.elevations
        }

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks of all further bricks."""
        return tuple(mark for marks in self.marks_by_side.values() for mark in marks)

    @property
    def number(self) -> int:
        """How many further bricks are marked [nr]."""
        return len(self.marks)

    @cached_property
    def _left(self) -> Mapping[str, int]:
        """How many more are still allowed for on each side, or are told and not marked [nr]."""
        floors = {one.id: self._floor(one) for one in self.now.elevations}
        # What was allowed for on one side may be used up on another.
        spare = max(sum(floors.values()) - self.number, 0)
        left = {}
        for side, floor in floors.items():
            left[side] = min(max(floor - len(self.marks_by_side[side]), 0), spare)
            spare -= left[side]
        return left

    def _floor(self, now: Elevation) -> int:
        """Return how many are reckoned with on a side however few are marked [nr]."""
        if now.id in self.singly:
            return 0
        before = _hidden(self._before(now.id))
        told = _hidden(now) if _hidden(now) != before else 0
        return told if self.all_found else max(told, before)

    @cached_property
    def numbers(self) -> Mapping[str, int]:
        """How many further bricks are reckoned with, by elevation [nr]."""
        return {side: len(marks) + self._left[side] for side, marks in self.marks_by_side.items()}

    @property
    def total(self) -> int:
        """How many further bricks are reckoned with on all sides [nr]."""
        return sum(self.numbers.values())

    @property
    def counted(self) -> Survey:
        """The survey with every further brick counted: what they cost, and the time they take."""
        return self._with(self.numbers) if self.is_counted else self.now

    @property
    def charged(self) -> Survey:
        """The survey with no more of them than were allowed for: all that is charged besides."""
        if not self.is_counted or self.total <= self.allowed:
            return self.counted
        rest, numbers = self.allowed, {}
        for side, number in self.numbers.items():
            numbers[side] = min(number, rest)
            rest -= numbers[side]
        return self._with(numbers)

    @property
    def shown(self) -> Survey:
        """The survey with every brick where it is, and no more allowed for than may still come."""
        if not self.is_counted:
            return self.now
        sides = (replace(one, hidden_bricks=self._left[one.id]) for one in self.now.elevations)
        return replace(self.now, elevations=tuple(sides))

    def _with(self, numbers: Mapping[str, int]) -> Survey:
        """Return the survey with so many further bricks on each side, none of them marked."""
        sides = []
        for now in self.now.elevations:
            marks = set(self.marks_by_side[now.id])
            kept = tuple(one for one in now.bricks if _mark(now.id, one) not in marks)
            sides.append(replace(now, bricks=kept, hidden_bricks=numbers[now.id]))
        return replace(self.now, elevations=tuple(sides))

    def _before(self, elevation: str) -> Elevation | None:
        return next((one for one in self.then.elevations if one.id == elevation), None)

    @property
    def is_open_to_review(self) -> bool:
        """Whether so many more or fewer came out than were given that the rate may be reviewed."""
        number = self.total
        if not self.allowed or (number < self.allowed and not self.all_found):
            return False
        return not rate_stands(
            Decimal(self.allowed), Decimal(number), review_from_percent=REVIEW_FROM_PERCENT
        )

    def notes(self) -> Iterator[str]:
        """Say whether the rate stands."""
        if self.is_open_to_review:
            number = self.total
            allowed = f"{counted(self.allowed, 'further brick')} {_were(self.allowed)} allowed for"
            found = f"{number} {_were(number)} found" if number else "none was found"
            yield (
                f"{allowed} and {found}: a fifth or more apart, so the rate is open to review by "
                "either side."
            )


def with_further(
    contract: Contract, found: Survey, scope: Scope, rules: Rules, *, all_found: bool
) -> tuple[Further, Measure]:
    """Return the wall as found with its further bricks told apart, and its work measured so."""
    promised = bool(contract.further_brick) and Work.BRICKS in scope
    further = Further(
        settled(survey_of(contract.survey)),
        settled(found),
        allowed_in(contract),
        all_found=all_found,
        is_counted=promised,
    )
    work = measured(further.counted, scope, rules)
    if further.number:
        counted_on = {one.elevation for one in work.lines if one.item is Item.ALLOWED_BRICK}
        alone = {side for side, marks in further.marks_by_side.items() if marks} - counted_on
        if alone:
            further = replace(further, singly=frozenset(alone))
            work = measured(further.counted, scope, rules)
    return further, work


@lru_cache(maxsize=16)
def measured(survey: Survey, scope: Scope, rules: Rules) -> Measure:
    """Return the work of a survey; what was measured lately is kept.

    Bricks marked one after another leave the wall without them as it was.
    """
    return measure(survey, scope, rules)


def allowed_in(contract: Contract) -> int:
    """Return how many further bricks the price of a contract holds [nr]."""
    key = Item.ALLOWED_BRICK.value
    return sum(int(line.quantity) for line in contract.lines if line.item == key)


def _further_marks(before: Elevation | None, now: Elevation) -> tuple[Mark, ...]:
    told = before.bricks if before is not None else ()
    known = {(one.course, one.place) for one in told if one.treatment is not Treatment.LEAVE}
    found: dict[tuple[int, int], CrackedBrick] = {}
    # Where a brick is marked twice, the first word counts, as in the takeoff.
    for one in now.bricks:
        if one.treatment is not Treatment.LEAVE:
            found.setdefault((one.course, one.place), one)
    return tuple(
        _mark(now.id, one)
        for place, one in found.items()
        # The outer half of a brick is less than was promised a rate for.
        if one.treatment is Treatment.REPLACE and not one.half and place not in known
    )


def _mark(elevation: str, brick: CrackedBrick) -> Mark:
    return f"{elevation}/brick/{brick.course}/{brick.place}"


def _hidden(side: Elevation | None) -> int:
    return 0 if side is None else round(likely(side.hidden_bricks))


def _were(number: int) -> str:
    return "was" if number == 1 else "were"
