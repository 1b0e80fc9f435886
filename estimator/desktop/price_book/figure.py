"""The figures inside an entry: what each is called, what it is now, and the entry with another."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache, lru_cache
from typing import Any

from estimator.desktop.language import LANGUAGE, _
from estimator.desktop.price_book.wording import money, number
from estimator.money import PENNY, Money
from estimator.notices import UserMistake
from estimator.pricing.book_file import WRITTEN
from estimator.store import book_parts
from estimator.store.book_parts import Entry, Kind

Path = tuple[str | int, ...]
"""Where a figure stands in a body."""
NO_FIGURES = frozenset({"source", "sources", "key", "item", "title", "unit", "like"})
SUMS = frozenset(
    {
        *("basic", "tools", "pack_price", "price", "resale", "upkeep", "consumables_an_hour"),
        *("a_day", "hop_up", "tower", "tower_a_week", "scaffold_a_m2", "scaffold_a_week"),
        *("a_mile", "a_job", "minimum_charge", "charge"),
        *("contribution_above", "pension_above", "training"),
    }
)
"""Figures that are money."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of an entry."""

    path: Path
    label: str
    value: Decimal
    is_money: bool
    whole: bool
    """Whether only whole numbers will do."""


def main_figure(entry: Entry) -> Figure | None:
    """Return the one figure that stands in the table: a price, or an output with one reading.

    >>> from estimator.store.book_parts import entry_of
    >>> main_figure(entry_of(Kind.BAR, {"length_mm": 1000, "price": "4.10"})).value
    Decimal('4.10')
    """
    return _main_figure(entry, LANGUAGE.tag)


@lru_cache(maxsize=4096)
def _main_figure(entry: Entry, _tag: str) -> Figure | None:
    # Qt asks dozens of times for every key whether a cell can be edited.
    if entry.kind is Kind.ITEM:
        price = entry.price
        label = _("Price")
        return Figure((), label, price.pounds, True, False) if price is not None else None
    if entry.kind is Kind.OUTPUT:
        hours = [one for one in figures_of(entry) if "hours" in one.path]
        return hours[0] if len(hours) == 1 else None
    if entry.price is None:
        return None
    at = tuple(filter(None, next(iter(entry.amounts), "").split(".")))
    return next((one for one in figures_of(entry) if one.path == at), None)


def figures_of(entry: Entry) -> tuple[Figure, ...]:
    """Return every figure of an entry in the order it is written."""
    if entry.kind is Kind.ITEM:
        only = main_figure(entry)
        return (only,) if only is not None else ()
    return tuple(_figures(json.loads(entry.body), (), entry.code))


def with_figure(entry: Entry, path: Path, value: Decimal) -> Entry:
    """Return an entry with another figure at a place.

    >>> from estimator.store.book_parts import entry_of
    >>> bar = entry_of(Kind.BAR, {"length_mm": 1000, "price": "4.10"})
    >>> str(with_figure(bar, ("price",), Decimal("4.60")).price)
    '4.60'

    Raises:
        UserMistake: for a price finer than a penny where it is kept in pence.
    """
    if entry.kind is Kind.ITEM:
        if value % PENNY:
            raise UserMistake(
                _("a price of an article is kept to the penny"), do=_("write whole pence")
            )
        return replace(entry, price=Money.of(value))
    body = _put(json.loads(entry.body), path, value)
    return replace(book_parts.with_body(entry, body), title=entry.title)


def sources_of(entry: Entry) -> tuple[str, ...]:
    """Return the keys of all sources an entry names, each once."""
    inside = _sources(json.loads(entry.body)) if entry.body else iter(())
    return tuple(dict.fromkeys(key for key in (entry.source, *inside) if key))


def _sources(body: Any) -> Iterator[str]:
    if isinstance(body, list):
        for one in body:
            yield from _sources(one)
    elif isinstance(body, dict):
        for name, value in body.items():
            if name == "source":
                yield str(value)
            elif name == "sources":
                yield from map(str, value.values())
            else:
                yield from _sources(value)


def rate_words(entry: Entry, currency: str = "GBP") -> str:
    """Return what stands in the price column: a sum, hours, or nothing."""
    if entry.kind is Kind.OUTPUT:
        return _hours(entry, LANGUAGE.tag)
    if entry.price is None:
        return ""
    exact = next(iter(entry.amounts.values()), entry.price.pounds)
    return money(exact, currency)


@lru_cache(maxsize=1024)
def _hours(entry: Entry, _tag: str) -> str:
    """Return the hours of a unit, from the softest mortar to the hardest."""
    steps = json.loads(entry.body).get("steps", ())
    mortars = {name for step in steps for name in step["hours"] if name != "any"} or {"any"}
    sums = [
        sum(Decimal(step["hours"].get(name) or step["hours"].get("any", "0")) for step in steps)
        for name in mortars
    ]
    least, most = min(sums, default=Decimal(0)), max(sums, default=Decimal(0))
    if not most:
        return ""
    if least == most:
        return _("{hours} h").format(hours=number(Decimal(most)))
    return _("{least} to {most} h").format(least=number(Decimal(least)), most=number(Decimal(most)))


def _figures(body: Any, path: Path, above: str) -> Iterator[Figure]:
    """Find the figures in a body, each with the words above it."""
    if isinstance(body, dict):
        for name, value in body.items():
            if name not in NO_FIGURES:
                yield from _figures(value, (*path, name), str(body.get("title", above)))
    elif isinstance(body, list):
        for place, value in enumerate(body):
            yield from _figures(value, (*path, place), above)
    elif not isinstance(body, bool) and WRITTEN.fullmatch(str(body)):
        name = next((str(part) for part in reversed(path) if isinstance(part, str)), above)
        called = _label(path, above)
        yield Figure(path, called, Decimal(str(body)), name in SUMS, isinstance(body, int))


def _label(path: Path, above: str) -> str:
    """Return what a figure is called, by where it stands."""
    named = [part for part in path if isinstance(part, str)]
    last = named[-1] if named else above
    known = _labels(LANGUAGE.tag)
    if "steps" in named and "hours" in named:
        step = _("{step}, hours") if last == "any" else _("{step}, hours in {mortar}")
        return step.format(step=above, mortar=last)
    if "steps" in named and last == "charge":
        return _("{step}, charge").format(step=above)
    if len(named) > 2 and named[0] == "hours":
        told = _("{mortar}, {bond}, hours")
        return told.format(mortar=named[1].capitalize(), bond=named[2].replace("_", " "))
    if "materials" in named:
        return _("{material} used").format(material=last.replace("_", " ").capitalize())
    return known.get(last, last.replace("_", " ").capitalize())


@cache
def _labels(_tag: str) -> Mapping[str, str]:
    """Return what the figures of a price book are called."""
    return {**_labour_labels(), **_bought_labels(), **_habit_labels()}


def _labour_labels() -> dict[str, str]:
    return {
        "basic": _("Pay an hour"),
        "tools": _("Tools and clothing a year"),
        "weeks": _("Weeks paid in a year"),
        "hours_a_week": _("Hours a week"),
        "leave_hours": _("Holidays, hours a year"),
        "sick_hours": _("Sickness, hours a year"),
        "training_hours": _("Training, hours a year"),
        "weather_percent": _("Lost to weather, per cent"),
        "contribution_percent": _("National Insurance, per cent"),
        "contribution_above": _("National Insurance above"),
        "pension_percent": _("Pension, per cent"),
        "pension_above": _("Pension above"),
        "training": _("Courses and cards a year"),
        "severance_percent": _("Severance and sundries, per cent"),
        "liability_percent": _("Insurance, per cent"),
        "bricklayers": _("Bricklayers in the gang"),
        "labourers": _("Labourers in the gang"),
        "hours_a_day": _("Hours on the wall a day"),
    }


def _bought_labels() -> dict[str, str]:
    return {
        "pack_size": _("In a pack"),
        "pack_price": _("Price a pack"),
        "working_minutes": _("Minutes it can be worked"),
        "length_mm": _("Length, mm"),
        "price": _("Price"),
        "resale": _("Fetches when sold"),
        "life_hours": _("Hours it lasts"),
        "upkeep": _("Upkeep a year"),
        "consumables_an_hour": _("Blades and bags an hour"),
        "a_day": _("A day"),
        "kerf_mm": _("Lost in a cut, mm"),
        "hop_up": _("Hop-up a day"),
        "tower": _("Tower, bring and take"),
        "tower_a_week": _("Tower a week"),
        "scaffold_a_m2": _("Scaffold a m²"),
        "scaffold_least_m2": _("Least scaffold, m²"),
        "scaffold_a_week": _("Scaffold a week"),
        "a_mile": _("A mile"),
        "minutes_a_mile": _("Minutes a mile"),
        "a_job": _("A job"),
        "minimum_charge": _("Least for a job"),
    }


def _habit_labels() -> dict[str, str]:
    return {
        "usual_depth_mm": _("Usual depth, mm"),
        "percent_per_mm": _("More for each mm, per cent"),
        "raking_share": _("Share that is raking out"),
        "usual_joint": _("Usual joint"),
        "grout_wait_days": _("Days grout must wait"),
        "brick_wait_days": _("Days bricks must wait"),
        "look_ins": _("Look-ins"),
        "look_in_hours": _("Hours a look-in"),
        "setting_up_hours": _("Hours to set up a day"),
        "risk_percent": _("Risk, per cent"),
        "overhead_percent": _("Overhead, per cent"),
        "percent": _("Profit, per cent"),
        "courses_percent": _("Courses told, give or take per cent"),
        "further_bricks": _("Further bricks, at most"),
        "rates_low_percent": _("Rates lower by, per cent"),
        "rates_high_percent": _("Rates higher by, per cent"),
        "fine_below": _("Rounded finely below"),
        "fine_step": _("Fine step"),
        "coarse_step": _("Coarse step"),
        "draws": _("Draws of a range"),
        "seed": _("Seed of the draws"),
    }


def _put(body: Any, path: Path, value: Decimal) -> Any:
    """Return a body with another figure, written as the one before was."""
    if not path:
        return int(value) if isinstance(body, int) else f"{value:f}"
    first, *rest = path
    if isinstance(body, list):
        place = int(first)
        return [*body[:place], _put(body[place], tuple(rest), value), *body[place + 1 :]]
    return {**body, first: _put(body[first], tuple(rest), value)}
