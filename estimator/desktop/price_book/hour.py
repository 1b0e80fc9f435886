"""What an hour of work costs, worked on screen from pay to the hour that earns."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.desktop.language import _
from estimator.desktop.price_book.wording import money, number
from estimator.pricing.labour import (
    AllIn,
    Gang,
    Grade,
    OnCosts,
    WorkingYear,
    all_in,
    gang_rate,
)
from estimator.store import book_parts
from estimator.store.book_parts import Entry

Place = tuple[str, str]
"""Where a figure stands: the entry and the name in it."""
HUNDRED = Decimal(100)
GRADES = ("bricklayer", "labourer")
OTHERS = ("year", "on_costs", "gang")


@dataclass(frozen=True, slots=True)
class Built:
    """The build-up of one grade, and the gang's hour with it."""

    grade: Grade
    year: WorkingYear
    on_costs: OnCosts
    gang: Gang
    result: AllIn
    gang_hour: Decimal
    """Cost of the gang for each hour of one bricklayer [£/h]."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A figure that can be written into a line, and the word after it."""

    place: Place
    after: str
    is_money: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the build-up."""

    title: str
    asks: tuple[Asked, ...]
    result: Callable[[Built, str], str]
    """What it comes to, in a currency."""
    is_sum: bool = False


def figures_in(entries: Mapping[str, Entry]) -> dict[Place, Decimal]:
    """Return every figure of the labour part of a price book."""
    found: dict[Place, Decimal] = {}
    for code in (*GRADES, *OTHERS):
        body = json.loads(entries[code].body)
        for name, value in body.items():
            if name not in {"source", "title"}:
                found[code, name] = Decimal(str(value))
    return found


def with_figures(
    entries: Mapping[str, Entry], figures: Mapping[Place, Decimal]
) -> tuple[Entry, ...]:
    """Return the entries that differ once their figures are these."""
    before = figures_in(entries)
    changed: list[Entry] = []
    for code in (*GRADES, *OTHERS):
        names = [at[1] for at in before if at[0] == code and figures[at] != before[at]]
        if names:
            entry = entries[code]
            body = json.loads(entry.body) | {name: f"{figures[code, name]:f}" for name in names}
            changed.append(replace(book_parts.with_body(entry, body), title=entry.title))
    return tuple(changed)


def built(figures: Mapping[Place, Decimal], grade: str, titles: Mapping[str, str]) -> Built | None:
    """Return the build-up of a grade, or nothing where no hour is left that earns."""

    def part(code: str) -> dict[str, Decimal]:
        return {name: value for (held, name), value in figures.items() if held == code}

    year = WorkingYear(**part("year"), source="")
    on_costs = OnCosts(**part("on_costs"), source="")
    gang = Gang(**part("gang"), source="")
    if year.productive_hours <= 0 or gang.bricklayers <= 0:
        return None
    grades = {code: Grade(titles[code], **part(code), source="") for code in GRADES}
    all_of = {code: all_in(one, year, on_costs) for code, one in grades.items()}
    hour = gang_rate(all_of["bricklayer"].rate, all_of["labourer"].rate, gang)
    return Built(grades[grade], year, on_costs, gang, all_of[grade], hour)


def lines(grade: str) -> tuple[Line, ...]:
    """Return the build-up of a grade, line by line."""
    return (*_hours(grade), *_costs(grade), *_gang())


def _hours(grade: str) -> tuple[Line, ...]:
    a_week = Asked(("year", "hours_a_week"), _("h a week"))
    return (
        Line(
            _("Pay"),
            (Asked((grade, "basic"), _("an hour"), is_money=True), a_week),
            lambda b, c: _("{sum} a week").format(
                sum=money(b.grade.basic * b.year.hours_a_week, c)
            ),
        ),
        Line(
            _("Hours paid"),
            (Asked(("year", "weeks"), _("weeks a year")),),
            lambda b, _c: _h(b.year.paid_hours),
        ),
        Line(
            _("Holidays, bank holidays in"),
            (Asked(("year", "leave_hours"), _("h a year")),),
            lambda b, _c: _less(b.year.leave_hours),
        ),
        Line(
            _("Sickness"),
            (Asked(("year", "sick_hours"), _("h a year")),),
            lambda b, _c: _less(b.year.sick_hours),
        ),
        Line(
            _("Training"),
            (Asked(("year", "training_hours"), _("h a year")),),
            lambda b, _c: _less(b.year.training_hours),
        ),
        Line(
            _("Lost to weather"),
            (Asked(("year", "weather_percent"), _("% of the rest")),),
            lambda b, _c: _less(weather_hours(b.year)),
        ),
        Line(_("Hours that earn"), (), lambda b, _c: _h(b.year.productive_hours), is_sum=True),
    )


def _costs(grade: str) -> tuple[Line, ...]:
    def above(name: str) -> tuple[Asked, ...]:
        return (
            Asked(("on_costs", f"{name}_percent"), _("% above")),
            Asked(("on_costs", f"{name}_above"), _("a year"), is_money=True),
        )

    def cost(at: int) -> Callable[[Built, str], str]:
        return lambda b, c: money(b.result.costs[at].amount, c)

    training = Asked(("on_costs", "training"), _("a year"), is_money=True)
    tools = Asked((grade, "tools"), _("a year"), is_money=True)
    return (
        Line(_("Pay in a year"), (), cost(0)),
        Line(_("National Insurance"), above("contribution"), cost(1)),
        Line(_("Pension"), above("pension"), cost(2)),
        Line(_("Courses and cards"), (training,), cost(3)),
        Line(_("Tools and clothing"), (tools,), cost(4)),
        Line(
            _("Severance and sundries"),
            (Asked(("on_costs", "severance_percent"), _("% of the above")),),
            cost(5),
        ),
        Line(
            _("Insurance"),
            (Asked(("on_costs", "liability_percent"), _("% of the above")),),
            cost(6),
        ),
        Line(_("A year costs"), (), lambda b, c: money(b.result.year, c), is_sum=True),
        Line(_("An hour that earns"), (), lambda b, c: money(b.result.rate, c), is_sum=True),
    )


def _gang() -> tuple[Line, ...]:
    return (
        Line(
            _("The gang, for each bricklayer’s hour"),
            (
                Asked(("gang", "bricklayers"), _("bricklayers")),
                Asked(("gang", "labourers"), _("labourers")),
            ),
            lambda b, c: money(b.gang_hour, c),
        ),
    )


def weather_hours(year: WorkingYear) -> Decimal:
    """Return what the weather takes of a year [h]."""
    present = year.paid_hours - year.leave_hours - year.sick_hours - year.training_hours
    return present * year.weather_percent / HUNDRED


def _h(hours: Decimal) -> str:
    return _("{hours} h").format(hours=number(hours))


def _less(hours: Decimal) -> str:
    return _("−{hours} h").format(hours=number(hours))
