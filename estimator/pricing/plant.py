"""Plant and access: owned by the hour it lives, hired by the time it is on site."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.takeoff.lines import Item, Reach
from estimator.units import rounded

MM2_PER_M2 = Decimal(1_000_000)


@dataclass(frozen=True, slots=True)
class Owned:
    """What a machine of one's own costs over its life."""

    price: Decimal
    resale: Decimal
    life_hours: Decimal
    upkeep: Decimal
    """Repairs and tests over its whole life [£]."""
    consumables_an_hour: Decimal

    @property
    def an_hour(self) -> Decimal:
        """Cost of an hour of use [£/h]."""
        kept = (self.price - self.resale + self.upkeep) / self.life_hours
        return kept + self.consumables_an_hour


@dataclass(frozen=True, slots=True)
class Hired:
    """What hired plant costs."""

    a_day: Decimal
    least_days: Decimal
    """The hire firm's shortest hire [day]."""


@dataclass(frozen=True, slots=True)
class Plant:
    """One set of plant, and the work it is there for."""

    title: str
    items: frozenset[Item]
    source: str
    owned: Owned | None = None
    hired: Hired | None = None

    def is_needed(self, items: Collection[Item]) -> bool:
        """Whether any of the work needs it."""
        return not self.items.isdisjoint(items)

    def a_day(self, hours_a_day: Decimal) -> Decimal:
        """Return the cost of a day [£/day]."""
        if self.hired is not None:
            return self.hired.a_day
        return self.owned.an_hour * hours_a_day if self.owned is not None else Decimal(0)

    def days(self, working_days: Decimal) -> Decimal:
        """Return the days it is paid for [day]."""
        if self.hired is None:
            return working_days
        return max(working_days, self.hired.least_days)


@dataclass(frozen=True, slots=True)
class Access:
    """What reaching the work costs. Each means costs at least what the one below it does.

    House rule: work that has to be reached higher up must never come cheaper, so the price book is
    refused where it would.
    """

    hop_up: Decimal
    """Each elevation [£]."""
    tower: Decimal
    """Put up and taken down, each elevation [£]."""
    tower_a_week: Decimal
    """For the job, one tower moved along [£/week]."""
    scaffold_a_m2: Decimal
    """Put up and taken down, by the face it stands before [£/m²]."""
    scaffold_least_m2: Decimal
    """Least face charged, each elevation [m²]."""
    scaffold_a_week: Decimal
    """Each elevation [£/week]."""
    source: str

    @property
    def is_in_order(self) -> bool:
        """Whether reaching higher never costs less."""
        least = self.scaffold_a_m2 * self.scaffold_least_m2
        return self.hop_up <= self.tower <= least and self.tower_a_week <= self.scaffold_a_week

    def scaffold_m2(self, reaches: Iterable[Reach]) -> Decimal:
        """Return the face of scaffold to pay for, each elevation on its own [m²]."""
        return sum((self._face_m2(reach) for reach in reaches), Decimal(0))

    def _face_m2(self, reach: Reach) -> Decimal:
        face = rounded(reach.top_mm * reach.width_mm / float(MM2_PER_M2), 2)
        return max(face, self.scaffold_least_m2)
