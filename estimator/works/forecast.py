"""A typed forecast held against the days of the works, mortar by mortar.

No forecast is fetched, and none is a promise: the thermometer on the wall decides on the day.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from estimator.contract.so_far import SoFar
from estimator.contract.works import Expected
from estimator.takeoff.grout_and_mortar import Mortar
from estimator.works.calendar import ONE_DAY
from estimator.works.programme import programme
from estimator.works.programme_notes import visit_days
from estimator.works.settings import Settings, shipped
from estimator.works.site_work import site_work
from estimator.works.weather import DayWeather, judge, mortars_of


@dataclass(frozen=True, slots=True)
class MortarDays:
    """The coming days of the works, judged for one mortar."""

    mortar: Mortar
    days: tuple[DayWeather, ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which days a forecast is wanted for."""

    days: tuple[datetime.date, ...] = ()
    """The coming days worked and those the mortar cures after, as far as a forecast reaches."""
    look_again: datetime.date | None = None
    """Where no forecast reaches the works yet, the day from which one does."""


def wanted(so_far: SoFar, today: datetime.date, *, settings: Settings | None = None) -> Wanted:
    """Return the days a forecast is wanted for; none where nothing is planned or pointed.

    >>> wanted(SoFar(), datetime.date(2026, 12, 1))
    Wanted(days=(), look_again=None)
    """
    kinds = _mortars(so_far)
    coming = [day for day in _visits(so_far) if day >= today]
    if not kinds or not coming:
        return Wanted()
    ahead = ((settings or shipped()).weather.reach_days - 1) * ONE_DAY
    if coming[0] > today + ahead:
        return Wanted(look_again=coming[0] - ahead)
    cures = max(kind.cure_days for kind in kinds)
    last = min(coming[-1] + cures * ONE_DAY, today + ahead)
    days = (last - coming[0]).days + 1
    return Wanted(tuple(coming[0] + day * ONE_DAY for day in range(days)))


def by_mortar(
    so_far: SoFar,
    expected: Iterable[Expected],
    today: datetime.date,
    *,
    settings: Settings | None = None,
) -> tuple[MortarDays, ...]:
    """Return the coming days of the works judged for each mortar.

    A day is left out while nothing is typed of it or of the days its mortar cures in.

    >>> by_mortar(SoFar(), (), datetime.date(2026, 12, 1))
    ()
    """
    typed = tuple(one for one in expected if one.on >= today)
    known = {one.on for one in typed}
    coming = [day for day in _visits(so_far) if day >= today]
    found = []
    for kind in _mortars(so_far):
        days = tuple(
            judge(day, kind, typed, settings=settings)
            for day in coming
            if any(day + more * ONE_DAY in known for more in range(kind.cure_days + 1))
        )
        if days:
            found.append(MortarDays(kind, days))
    return tuple(found)


def _visits(so_far: SoFar) -> tuple[datetime.date, ...]:
    tasks = programme(so_far)
    return visit_days(tasks, so_far.plan) if tasks and so_far.plan is not None else ()


def _mortars(so_far: SoFar) -> tuple[Mortar, ...]:
    return mortars_of(site_work(so_far).measure) if so_far.contract is not None else ()
