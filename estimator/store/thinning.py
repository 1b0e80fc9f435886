"""Which backups may go: the last ten stay, one a day for 14 days, one a month for 24 months.

Days and months are those on which backups were made, counted back from the newest backup in the
order of making. No clock is asked: one that jumps, or a long holiday, makes nothing go. House
rule, after the way long-lived desktop programs thin theirs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Protocol, TypeVar

LAST = 10
DAYS = 14
MONTHS = 24


class Made(Protocol):
    """What must be known of a backup."""

    @property
    def sequence(self) -> int:
        """Its place in the order of making, whatever the clock said."""

    @property
    def made_at(self) -> datetime:
        """When the clock said it was made."""


Kind = TypeVar("Kind", bound=Made)


@dataclass
class _Slots:
    """The places that sound backups have taken so far, newest first."""

    last: int = 0
    days: set[date] = field(default_factory=set)
    months: set[tuple[int, int]] = field(default_factory=set)

    def want(self, made: Made) -> bool:
        """Tell whether a backup would take a place that is still free."""
        day, month = _named(made.made_at)
        return (
            self.last < LAST
            or (day not in self.days and len(self.days) < DAYS)
            or (month not in self.months and len(self.months) < MONTHS)
        )

    def take(self, made: Made) -> None:
        """Give a sound backup every place it can fill."""
        day, month = _named(made.made_at)
        self.last += 1
        if len(self.days) < DAYS:
            self.days.add(day)
        if len(self.months) < MONTHS:
            self.months.add(month)


def to_drop(backups: Iterable[Kind], is_good: Callable[[Kind], bool]) -> tuple[Kind, ...]:
    """Return the backups that may go, newest first.

    A backup that fails its check never takes a place, and stays for a person to look at. Only
    those that would take a place are checked. Where none is good, none goes.

    Args:
        backups: All there are, in any order.
        is_good: Reads one through and compares it with its hash.
    """
    slots = _Slots()
    dropped: list[Kind] = []
    for backup in sorted(backups, key=lambda one: one.sequence, reverse=True):
        if not slots.want(backup):
            dropped.append(backup)
        elif is_good(backup):
            slots.take(backup)
    return tuple(dropped) if slots.last else ()


def _named(moment: datetime) -> tuple[date, tuple[int, int]]:
    """Return the day and the month of a moment."""
    return moment.date(), (moment.year, moment.month)
