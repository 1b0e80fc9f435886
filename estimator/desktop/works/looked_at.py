"""What the works of a job have come to; worked out in the file's own thread."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from estimator.contract.cancellation import right_of
from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar
from estimator.contract.works import Nation, Plan
from estimator.desktop.agreed.wording import day_of_week
from estimator.desktop.language import _
from estimator.desktop.works import slips
from estimator.desktop.works.state import Beginning, HoursSheet, Took, Works
from estimator.store import happenings, kept_papers
from estimator.store.database import Database
from estimator.store.kept_papers import KeptPaper, PaperKind
from estimator.takeoff.lines import Item
from estimator.units import Unit
from estimator.works import forecast, programme_notes
from estimator.works.as_built import as_built
from estimator.works.calendar import ONE_DAY, WorkingCalendar
from estimator.works.day_work import by_days, hours_of
from estimator.works.programme import programme
from estimator.works.site_work import SiteWork, site_work
from estimator.works.vibration import exposures


def works_of(database: Database, job: str, so_far: SoFar, today: datetime.date) -> Works:
    """Return what the works of a job have come to."""
    if so_far.contract is None:
        return Works()
    work = site_work(so_far)
    hands = work.book.labour.gang.bricklayers
    marks = as_built(so_far).marks
    told = happenings.of_job(database, job)
    papers = kept_papers.list_papers(database, job=job)
    return Works(
        beginning=beginning(so_far.contract, so_far.plan, today),
        tasks=programme(so_far),
        forecast=forecast.wanted(so_far, today),
        weather=forecast.by_mortar(so_far, so_far.plan.expected if so_far.plan else (), today),
        notes=programme_notes.notes(so_far),
        marks=marks,
        noted=slips.noted(told, marks),
        booked=slips.booked(told),
        titles={line.item: _title(work, line.item) for line in work.measure.lines},
        exposures=exposures(by_days(work.measure, work.book), hands=hands),
        took=took(so_far, work),
        other_hours=sum((one.hours for one in so_far.bookings if one.item is None), Decimal(0)),
        materials=tuple((one.material, one.title) for one in work.offer.buying),
        daywork=daywork(database, so_far, papers),
        papers={one.kind.value: one.number for one in papers},
    )


def daywork(
    database: Database, so_far: SoFar, papers: Iterable[KeptPaper]
) -> tuple[HoursSheet, ...]:
    """Return the sheets of hours, each with its newest paper."""
    told = (one.number for one in papers if one.kind is PaperKind.DAYWORK_SHEET)
    numbers = {kept_papers.said_by(database, one)["daywork"]["key"]: one for one in told}
    return tuple(HoursSheet(one.key, one.what, numbers.get(one.key, "")) for one in so_far.daywork)


def planned(so_far: SoFar, plan: Plan, today: datetime.date) -> Works:
    """Return the programme as it would be by another plan."""
    as_if = replace(so_far, plan=plan)
    return Works(
        tasks=programme(as_if),
        forecast=forecast.wanted(as_if, today),
        weather=forecast.by_mortar(as_if, plan.expected, today),
        notes=programme_notes.notes(as_if),
    )


def took(so_far: SoFar, work: SiteWork) -> tuple[Took, ...]:
    """Return quoted and booked hours by kind of work, in the order of the price."""
    quoted = hours_of(work.measure, work.book)
    found = []
    for item in dict.fromkeys((*quoted, *(one.item for one in so_far.bookings))):
        if item is None:
            continue
        lines = [line for line in work.measure.lines if line.item is item]
        booked = [one for one in so_far.bookings if one.item is item]
        found.append(
            Took(
                item,
                _title(work, item),
                lines[0].quantity.unit if lines else Unit.NUMBER,
                sum((line.quantity.amount for line in lines), Decimal(0)),
                sum((one.done for one in booked), Decimal(0)),
                quoted.get(item, Decimal(0)),
                sum((one.hours for one in booked), Decimal(0)),
            )
        )
    return tuple(one for one in found if one.quoted or one.booked)


def beginning(contract: Contract, plan: Plan | None, today: datetime.date) -> Beginning:
    """Return the first day work may sensibly begin, and why then."""
    right = right_of(contract)
    earliest = max(right.may_start, today + ONE_DAY)
    calendar = WorkingCalendar.of(plan or Plan(today, nation=Nation.ENGLAND_AND_WALES))
    on = calendar.on_or_after(earliest)
    if right.last_day is None:
        why = _("They have no time in which to cancel, so it may begin at once.")
    elif contract.cancelling.early_start is not None:
        why = _(
            "They asked in writing for an early start; they may still cancel until {date}."
        ).format(date=day_of_week(right.last_day))
    elif earliest > right.may_start:
        why = _("Their time to cancel ended on {date}.").format(date=day_of_week(right.last_day))
    else:
        why = _(
            "The first working day after {date}, until when they may cancel. Work begun before "
            "that, without their asking in writing, need not be paid."
        ).format(date=day_of_week(right.last_day))
    return Beginning(on, why)


def _title(work: SiteWork, item: Item) -> str:
    known = work.book.outputs.get(item)
    return known.title if known else item.value.replace("_", " ").capitalize()
