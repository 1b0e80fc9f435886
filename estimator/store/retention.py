"""How long people's details are kept: what the law asks for, and what is due for another look.

Nothing here removes anything. The periods stand in ``resources/keeping.json``, each with its
source.
"""

from __future__ import annotations

from calendar import monthrange
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date

from sqlalchemy import Connection, func, select

from estimator import resources
from estimator.store.database import Database
from estimator.store.jobs import Stage
from estimator.store.tables import Customers, IssuedPapers, Jobs, Surveys

TAKEN_UP = (Stage.ACCEPTED.value, Stage.DONE.value)
"""Stages of a job that somebody said yes to."""


@dataclass(frozen=True, slots=True)
class Keeping:
    """The periods, as set."""

    paper_years: int
    """Counted from the end of the business year a paper went out in. [year]"""
    year_ends: tuple[int, int]
    """Month and day on which a business year ends."""
    unaccepted_months: int
    """After which an enquiry or quotation nobody took up is looked at again. [month]"""


@dataclass(frozen=True, slots=True)
class Due:
    """One customer whose details have no more reason to be here."""

    uid: str
    name: str
    last_touched: date
    jobs: int
    surveys: int
    papers_emptied: int
    """Papers old enough to be emptied of the person."""
    papers_kept: int
    kept_until: date | None
    """Day on which the last of the kept papers may go, too."""


def keeping() -> Keeping:
    """Return the periods that are set.

    >>> keeping().unaccepted_months
    12
    """
    told = resources.data("keeping.json")
    month, day = told["papers"]["year_ends"].split("-")
    return Keeping(
        paper_years=told["papers"]["years"],
        year_ends=(int(month), int(day)),
        unaccepted_months=told["unaccepted"]["months"],
    )


def kept_until(issued: date, kept: Keeping) -> date:
    """Return the last day on which the tax office may still ask for a paper.

    >>> kept_until(date(2025, 4, 6), Keeping(6, (4, 5), 12))
    datetime.date(2032, 4, 5)
    >>> kept_until(date(2025, 4, 5), Keeping(6, (4, 5), 12))
    datetime.date(2031, 4, 5)
    """
    month, day = kept.year_ends
    ends_later = (issued.month, issued.day) > (month, day)
    return _day_in(issued.year + ends_later + kept.paper_years, month, day)


def months_before(today: date, months: int) -> date:
    """Return the same day some months earlier, or the last of a month that is too short.

    >>> months_before(date(2024, 3, 31), 1)
    datetime.date(2024, 2, 29)
    """
    years, month = divmod(today.year * 12 + today.month - 1 - months, 12)
    return _day_in(years, month + 1, today.day)


@dataclass(slots=True)
class _Tally:
    """What there is of one customer, counted."""

    touched: date = date.min
    jobs: int = 0
    surveys: int = 0
    is_taken_up: bool = False
    papers: list[date] = field(default_factory=list)
    """Days of issue of those that still hold the person."""


def due(database: Database, *, today: date, kept: Keeping | None = None) -> tuple[Due, ...]:
    """Return who is due for another look, longest untouched first.

    Listed are customers none of whose jobs was taken up and none touched within the period, and
    erased ones with papers that have since grown old enough to be emptied.
    """
    kept = kept or keeping()
    before = months_before(today, kept.unaccepted_months)
    with database.reading() as connection:
        tallies = _tallied(connection)
        rows = connection.execute(
            select(Customers.id, Customers.uid, Customers.name, Customers.changed_at)
            .add_columns(Customers.erased_at)
            .order_by(Customers.id)
        ).all()
    listed = []
    for row in rows:
        tally = tallies[row.id]
        tally.touched = max(tally.touched, row.changed_at.date())
        one = _due(row.uid, row.name, tally, today=today, kept=kept)
        is_idle = tally.touched < before and not tally.is_taken_up
        if one.papers_emptied if row.erased_at is not None else is_idle:
            listed.append(one)
    return tuple(sorted(listed, key=lambda one: (one.last_touched, one.uid)))


def _tallied(connection: Connection) -> dict[int | None, _Tally]:
    """Count jobs, surveys and papers by the row of their customer, in one pass over each."""
    found: dict[int | None, _Tally] = defaultdict(_Tally)
    for customer, stage, changed_at in connection.execute(
        select(Jobs.customer_id, Jobs.stage, Jobs.changed_at)
    ):
        tally = found[customer]
        tally.jobs += 1
        tally.is_taken_up |= stage in TAKEN_UP
        tally.touched = max(tally.touched, changed_at.date())
    for customer, count in connection.execute(
        select(Jobs.customer_id, func.count())
        .join(Surveys, Surveys.job_id == Jobs.id)
        .group_by(Jobs.customer_id)
    ):
        found[customer].surveys = count
    for customer, issued_at, is_emptied in connection.execute(
        select(Jobs.customer_id, IssuedPapers.issued_at, func.length(IssuedPapers.pdf) == 0).join(
            IssuedPapers, IssuedPapers.job_id == Jobs.id
        )
    ):
        tally = found[customer]
        tally.touched = max(tally.touched, issued_at.date())
        tally.papers += [] if is_emptied else [issued_at.date()]
    return found


def _due(uid: str, name: str, tally: _Tally, *, today: date, kept: Keeping) -> Due:
    """Return what an erasure would remove and keep."""
    until = [kept_until(issued, kept) for issued in tally.papers]
    still = [day for day in until if day >= today]
    return Due(
        uid=uid,
        name=name,
        last_touched=tally.touched,
        jobs=tally.jobs,
        surveys=tally.surveys,
        papers_emptied=len(until) - len(still),
        papers_kept=len(still),
        kept_until=max(still, default=None),
    )


def _day_in(year: int, month: int, day: int) -> date:
    """Return a day of a month, its last one where the month is too short."""
    return date(year, month, min(day, monthrange(year, month)[1]))
