"""What has to be said beside a programme: weather, season, days not worked."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence

from estimator.contract.cancellation import right_of
from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar
from estimator.contract.works import Plan
from estimator.notices import Notice, Severity
from estimator.works import spoken
from estimator.works.calendar import ONE_DAY, WorkingCalendar, bank_holiday
from estimator.works.programme import DatedTask, TaskKind, programme
from estimator.works.settings import Settings
from estimator.works.site_work import site_work
from estimator.works.weather import mortars_of, season


def notes(so_far: SoFar, *, settings: Settings | None = None) -> tuple[Notice, ...]:
    """Return what has to be said beside the programme; nothing where nothing is planned.

    >>> notes(SoFar())
    ()
    """
    tasks = programme(so_far, settings=settings)
    if not tasks or so_far.plan is None or so_far.contract is None:
        return ()
    days = [day for task in tasks if task.is_worked for day in _from_to(task.first, task.last)]
    kinds = mortars_of(site_work(so_far).measure)
    text = "Weather permitting: mortar is not placed in frost, heavy rain or strong sun."
    return (
        *_may_be_cancelled(so_far.contract, min(days)),
        Notice("weather_permitting", Severity.NOTE, text, "common_practice"),
        *season(days, kinds, settings=settings),
        *_start_moved(so_far.plan, tasks),
        *_not_worked(so_far.plan, tasks),
    )


def visit_days(tasks: Iterable[DatedTask], plan: Plan) -> tuple[datetime.date, ...]:
    """Return the days worked on visits, in order.

    >>> visit_days((), Plan(datetime.date(2026, 12, 22)))
    ()
    """
    calendar = WorkingCalendar.of(plan)
    return tuple(
        day
        for task in tasks
        if task.kind is TaskKind.VISIT
        for day in _from_to(task.first, task.last)
        if calendar.is_worked(day)
    )


def _from_to(first: datetime.date, last: datetime.date) -> Iterable[datetime.date]:
    return (first + day * ONE_DAY for day in range((last - first).days + 1))


def _may_be_cancelled(contract: Contract, begins: datetime.date) -> tuple[Notice, ...]:
    """Return what has to be said where work begins while the customer may still cancel."""
    right = right_of(contract)
    if right.last_day is None or begins > right.last_day:
        return ()
    until = f"until {spoken.day(right.last_day)}"
    asked = contract.cancelling.early_start
    if asked is not None:
        text = (
            f"Work begins while the customer may still cancel, {until}, as they expressly asked on "
            f"{spoken.day(asked)}: what is done by then is paid for in proportion."
        )
        return (Notice("asked_to_begin", Severity.NOTE, text, "ccr_2013"),)
    text = (
        f"The customer may still cancel {until}, and has not expressly asked, in writing, for an "
        f"earlier start: work may not begin before {spoken.day(right.may_start)}, or nothing is "
        "owed for it."
    )
    return (Notice("may_be_cancelled", Severity.CAUTION, text, "ccr_2013"),)


def _start_moved(plan: Plan, tasks: Sequence[DatedTask]) -> tuple[Notice, ...]:
    begins = min(task.first for task in tasks)
    why = WorkingCalendar.of(plan).why_not(plan.start)
    if not why or begins == plan.start:
        return ()
    text = f"{spoken.day(plan.start)} is not worked ({why}): work begins on {spoken.day(begins)}."
    return (Notice("start_moved", Severity.NOTE, text, "house"),)


def _not_worked(plan: Plan, tasks: Sequence[DatedTask]) -> tuple[Notice, ...]:
    """Name the bank holidays and closed days that fall inside the working week meanwhile."""
    first = min(task.first for task in tasks)
    last = max(task.last for task in tasks if task.is_worked)
    named = []
    for day in _from_to(first, last):
        name = bank_holiday(day, plan.nation)
        if day.weekday() in plan.working_week and (name or day in plan.closed):
            named.append(f"{day.day} {spoken.month(day.month)} ({name or 'closed'})")
    if not named:
        return ()
    text = f"Not worked meanwhile: {', '.join(named)}."
    return (Notice("not_worked", Severity.NOTE, text, "house"),)
