"""Readings of one marked point in order of time, and what changed between them.

No limit is built in: how much is too much is for the engineer to say.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from estimator.survey.survey import Reading

MONTH_DAYS = 30
TENTH = Decimal("0.1")
HUNDREDTH = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Series:
    """All readings at one point of one crack, the first first."""

    crack: str
    point: str
    readings: tuple[Reading, ...]

    @property
    def first(self) -> Reading:
        """The reading that changes are counted from."""
        return self.readings[0]

    @property
    def last(self) -> Reading:
        """The newest reading."""
        return self.readings[-1]

    @property
    def days(self) -> int:
        """Days from the first reading to the last [day]."""
        return (day_of(self.last) - day_of(self.first)).days

    @property
    def change_mm(self) -> Decimal:
        """How much wider it is than at first, negative where it closed [mm].

        >>> Series("a", "top", (
        ...     Reading("a", "top", "2026-03-01", 2.0), Reading("a", "top", "2026-05-30", 2.3)
        ... )).change_mm
        Decimal('0.3')
        """
        return _exact(self.last.width_mm) - _exact(self.first.width_mm)

    @property
    def per_month_mm(self) -> Decimal | None:
        """The change for each 30 days between first and last; None for a single day [mm].

        >>> Series("a", "top", (
        ...     Reading("a", "top", "2026-03-01", 2.0), Reading("a", "top", "2026-05-30", 2.3)
        ... )).per_month_mm
        Decimal('0.10')
        """
        if self.days == 0:
            return None
        found = self.change_mm * MONTH_DAYS / self.days
        return found.quantize(HUNDREDTH, rounding=ROUND_HALF_UP)


def day_of(reading: Reading) -> datetime.date:
    """Return the day of a reading."""
    return datetime.date.fromisoformat(reading.date)


def series_of(readings: Iterable[Reading], crack: str) -> tuple[Series, ...]:
    """Return the readings of a crack, one series a point, points in the order first written down.

    >>> found = series_of([Reading("a", "top", "2026-03-01", 2.0)], "a")
    >>> found[0].point, found[0].change_mm, found[0].per_month_mm
    ('top', Decimal('0.0'), None)
    """
    points: dict[str, list[Reading]] = {}
    for reading in readings:
        if reading.crack == crack:
            points.setdefault(reading.point, []).append(reading)
    return tuple(
        Series(crack, point, tuple(sorted(found, key=lambda one: one.date)))
        for point, found in points.items()
    )


def _exact(width_mm: float) -> Decimal:
    return Decimal(repr(width_mm)).quantize(TENTH, rounding=ROUND_HALF_UP)
