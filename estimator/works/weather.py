"""Whether mortar may be placed, by temperature, through the days it cures, and by rain.

No forecast is fetched: the user types what a forecast says. The limit and the cure window of each
mortar stand with the mortar (``takeoff.grout_and_mortar``); all else in ``resources/works.json``.
A forecast is no promise: the thermometer on the wall decides on the day.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum

from estimator.contract.works import Expected
from estimator.notices import Notice, Severity
from estimator.takeoff.grout_and_mortar import Mortar, mortar
from estimator.takeoff.lines import Measure
from estimator.works import spoken
from estimator.works.settings import Settings, shipped


class Verdict(Enum):
    """Whether a day can be worked."""

    WORKABLE = "workable"
    NOT_WORKABLE = "not workable"
    NOT_KNOWN = "not known yet"


@dataclass(frozen=True, slots=True)
class DayWeather:
    """One day judged for one mortar."""

    on: datetime.date
    verdict: Verdict
    notices: tuple[Notice, ...]
    """Why it is not workable, and what to mind where it is."""
    missing: tuple[datetime.date, ...] = ()
    """Days of the cure window for which no forecast was typed."""


class Trend(Enum):
    """Which way the temperature goes."""

    FALLING = "falling"
    RISING = "rising"


def is_lime(kind: Mortar) -> bool:
    """Say whether a mortar sets by lime alone, without cement.

    >>> is_lime(mortar("nhl35_1_3")), is_lime(mortar("cement_lime_1_1_6"))
    (True, False)
    """
    return all(one.material != "cement" for one in kind.ingredients)


def mortars_of(measure: Measure) -> tuple[Mortar, ...]:
    """Return the mortars measured work points with, in the order they come.

    >>> from estimator.takeoff.scope import LOCAL
    >>> mortars_of(Measure(LOCAL, (), (), (), (), (), ()))
    ()
    """
    keys = dict.fromkeys(line.conditions.new_mortar for line in measure.lines)
    return tuple(mortar(key) for key in keys if key)


def may_lay(
    kind: Mortar,
    now_c: float,
    trend: Trend,
    *,
    expected_c: float | None = None,
    settings: Settings | None = None,
) -> bool:
    """Say whether mortar may be placed now, by the thermometer on the wall.

    Cement mortar stops below its limit while it falls, and starts again below it only where it
    rises, has come to the restart temperature, and more than the limit is expected. Lime is never
    placed below its limit. Source: NHBC Standards 3.2.5; lime producers' guidance.

    >>> cement, lime = mortar("cement_lime_1_1_6"), mortar("nhl35_1_3")
    >>> may_lay(cement, 2.9, Trend.FALLING), may_lay(cement, 1.5, Trend.RISING, expected_c=4)
    (False, True)
    >>> may_lay(lime, 4, Trend.RISING, expected_c=9)
    False
    """
    if now_c >= kind.least_temperature_c:
        return True
    limits = (settings or shipped()).weather
    if is_lime(kind) or trend is Trend.FALLING or expected_c is None:
        return False
    return now_c >= limits.restart_c and expected_c > limits.restart_expected_over_c


def judge(
    day: datetime.date,
    kind: Mortar,
    expected: Iterable[Expected],
    *,
    settings: Settings | None = None,
) -> DayWeather:
    """Return whether a day is workable: warm enough through the cure window, and no heavy rain.

    What is known and too cold decides; where a forecast of the window is missing otherwise, the day
    is not known yet. The window is the day itself and as many days as the mortar cures.

    >>> from decimal import Decimal
    >>> warm = [Expected(datetime.date(2026, 4, day), Decimal(6)) for day in range(1, 10)]
    >>> judge(datetime.date(2026, 4, 1), mortar("nhl35_1_3"), warm).verdict.value
    'workable'
    >>> judge(datetime.date(2026, 4, 5), mortar("nhl35_1_3"), warm).verdict.value
    'not known yet'
    """
    limits = settings or shipped()
    typed = {one.on: one for one in expected}
    window = tuple(_days(day, kind.cure_days))
    found = tuple(typed[one] for one in window if one in typed)
    missing = tuple(one for one in window if one not in typed)
    against = (*_too_cold(kind, found, day), *_too_wet(typed.get(day)))
    if against:
        return DayWeather(day, Verdict.NOT_WORKABLE, against, missing)
    verdict = Verdict.NOT_KNOWN if missing else Verdict.WORKABLE
    minded = (*_hot(typed.get(day), limits), *_later_frost(kind, day, typed, limits))
    return DayWeather(day, verdict, minded, missing)


def season(
    days: Iterable[datetime.date], kinds: Iterable[Mortar], *, settings: Settings | None = None
) -> tuple[Notice, ...]:
    """Return the warning that goes with lime placed in the cold half of the year.

    >>> [note.code for note in season([datetime.date(2026, 12, 1)], [mortar("nhl35_1_3")])]
    ['lime_in_winter']
    >>> season([datetime.date(2026, 6, 1)], [mortar("nhl35_1_3")])
    ()
    """
    limits = (settings or shipped()).weather
    cold = any(day.month in limits.lime_months for day in days)
    if not cold or not any(is_lime(kind) for kind in kinds):
        return ()
    first, last = (spoken.month(limits.lime_months[end]) for end in (0, -1))
    text = (
        f"Lime pointed from {first} to {last} "
        "may not set before frost: better left to the warmer months, or kept warm and covered "
        "under a sheeted scaffold for as long as it takes."
    )
    return (Notice("lime_in_winter", Severity.CAUTION, text, limits.lime_months_source),)


def _days(first: datetime.date, more: int) -> Iterable[datetime.date]:
    return (first + datetime.timedelta(days=day) for day in range(more + 1))


def _too_cold(kind: Mortar, found: Iterable[Expected], day: datetime.date) -> tuple[Notice, ...]:
    cold = [one for one in found if one.least_c < kind.least_temperature_c]
    if not cold:
        return ()
    worst = min(cold, key=lambda one: (one.least_c, one.on))
    when = "that day" if worst.on == day else f"on {worst.on.day} {spoken.month(worst.on.month)}"
    text = (
        f"{float(worst.least_c):g} °C is forecast {when}; {kind.title.lower()} wants "
        f"{kind.least_temperature_c:g} °C at the least for {kind.cure_days} days."
    )
    source = "lime_weather" if is_lime(kind) else "nhbc_3_2_5"
    return (Notice("too_cold", Severity.CAUTION, text, source),)


def _too_wet(today: Expected | None) -> tuple[Notice, ...]:
    if today is None or not today.heavy_rain:
        return ()
    text = "Heavy rain is forecast: no mortar is placed in it."
    return (Notice("too_wet", Severity.CAUTION, text, "common_practice"),)


def _hot(today: Expected | None, settings: Settings) -> tuple[Notice, ...]:
    limits = settings.weather
    if today is None or today.greatest_c is None or today.greatest_c < limits.hot_from_c:
        return ()
    text = (
        f"{float(today.greatest_c):g} °C is forecast: shade the wall, damp it, no pointing in full "
        "sun."
    )
    return (Notice("hot", Severity.CAUTION, text, limits.hot_source),)


def _later_frost(
    kind: Mortar,
    day: datetime.date,
    typed: Mapping[datetime.date, Expected],
    settings: Settings,
) -> tuple[Notice, ...]:
    """Warn of frost after the cure window, while lime is still young."""
    limits = settings.weather
    if not is_lime(kind):
        return ()
    later = [
        typed[one]
        for one in _days(day, limits.lime_frost_days)
        if one in typed and typed[one].least_c <= limits.frost_c
    ]
    if not later:
        return ()
    text = (
        f"Frost is forecast within {limits.lime_frost_days} days of pointing in lime: put it off, "
        "or cover the wall with hessian and sheets that stand off it."
    )
    return (Notice("frost_on_young_lime", Severity.CAUTION, text, limits.lime_frost_source),)
