"""How the screen says what is planned, done, and what it took."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from decimal import Decimal

from estimator.contract.works import Nation
from estimator.desktop.language import _, counted, in_full
from estimator.documents import formats
from estimator.takeoff.grout_and_mortar import Mortar
from estimator.units import Quantity, Unit
from estimator.works.forecast import MortarDays
from estimator.works.programme import DatedTask, TaskKind
from estimator.works.weather import DayWeather, Verdict

HALF = Decimal("0.5")


def nation_words() -> dict[Nation, str]:
    """Return whose bank holidays are kept."""
    return {
        Nation.ENGLAND_AND_WALES: _("of England and Wales"),
        Nation.SCOTLAND: _("of Scotland"),
        Nation.NORTHERN_IRELAND: _("of Northern Ireland"),
    }


def days_of(task: DatedTask) -> str:
    """Return the days of a task, as short as they can be said."""
    first, last = task.first, task.last
    if first == last:
        return formats.short_day(first)
    return _("{first} to {last}").format(
        first=formats.short_day(first), last=formats.short_day(last)
    )


def task_line(task: DatedTask) -> str:
    """Return a task in one line."""
    gaps = {"days": days_of(task), "what": in_full(task.title)}
    if task.kind is TaskKind.WAIT:
        return _("{days}: nobody there. {what}").format(**gaps)
    return _("{days}: {what}").format(**gaps)


def task_lines(tasks: Sequence[DatedTask]) -> str:
    """Return the tasks, a line each."""
    return "\n".join(task_line(one) for one in tasks)


def hours(much: Decimal) -> str:
    """Return hours to a tenth, less than half of one in minutes.

    >>> hours(Decimal("3.50")), hours(Decimal("1.0794")), hours(Decimal("0.0362"))
    ('3.5 h', '1.1 h', '2 min')
    """
    if 0 < much < HALF:
        return _("{n} min").format(n=max(round(much * 60), 1))
    return _("{n} h").format(n=formats.plain(round(much, 1)))


def much(amount: Decimal, unit: Unit) -> str:
    """Return how much of some work."""
    return formats.quantity(Quantity(amount, unit))


def marks(number: int) -> str:
    """Return how many places."""
    return counted("{n} place", "{n} places", number)


def day(on: datetime.date) -> str:
    """Return a day as one says it on site."""
    return formats.short_day(on)


def names(text: str) -> tuple[str, ...]:
    """Return names typed one after another.

    >>> names("Jo Bell, Sam ,, Ada")
    ('Jo Bell', 'Sam', 'Ada')
    """
    return tuple(part.strip() for part in text.split(",") if part.strip())


def weather(judged: Sequence[MortarDays]) -> tuple[list[str], list[str]]:
    """Return what speaks against days, and what is said of the others, mortar by mortar."""
    against: list[str] = []
    fine: list[str] = []
    for one in judged:
        for judged_day in one.days:
            what = _judged(judged_day, one.mortar)
            gaps = {"mortar": in_full(one.mortar.title), "what": what}
            text = _("{mortar}: {what}").format(**gaps)
            (against if judged_day.verdict is Verdict.NOT_WORKABLE else fine).append(text)
    return against, fine


def _judged(one: DayWeather, kind: Mortar) -> str:
    gaps = {
        "n": kind.cure_days,
        "day": day(one.on),
        "why": " ".join(in_full(note.text) for note in one.notices),
        "days": ", ".join(day(gap) for gap in one.missing),
    }
    if one.verdict is Verdict.NOT_WORKABLE:
        return _("not on {day}. {why}").format(**gaps)
    if one.verdict is Verdict.NOT_KNOWN:
        text = _("{day} is not known yet, until a forecast for {days} is typed. {why}")
    else:
        text = _("{day} may be worked: warm enough through the {n} days it cures. {why}")
    return text.format(**gaps).strip()
