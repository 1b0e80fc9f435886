"""How long people's details are kept: what the law asks for, and what is due for another look.

Nothing here removes anything. The periods stand in ``resources/keeping.json``, each with its
source.
"""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, func, select

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


def due(database: Database, *, today: date, kept: Keeping | None = None) -> tuple[Due, ...]:
    """Return who is due for another look, longest untouched first.

    Listed are customers none of whose jobs was taken up and none touched within the period, and
    erased ones with papers that have since grown old enough to be emptied.
    """
    kept = kept or keeping()
    with database.reading() as connection:
        touched = _last_touched(connection)
        rows = connection.execute(select(Customers).order_by(Customers.id)).all()
        busy = set(
            connection.scalars(select(Jobs.customer_id).where(Jobs.stage.in_(TAKEN_UP)).distinct())
        )
        before = months_before(today, kept.unaccepted_months)
        listed = []
        for row in rows:
            last = max(row.changed_at.date(), touched.get(row.id, date.min))
            is_idle = row.id not in busy and last < before
            if row.erased_at is None and not is_idle:
                continue
            one = _due(connection, row, last=last, today=today, kept=kept)
            if row.erased_at is None or one.papers_emptied:
                listed.append(one)
    return tuple(sorted(listed, key=lambda one: (one.last_touched, one.uid)))


def _last_touched(connection: Connection) -> dict[int, date]:
    """Return the day each customer's jobs or papers were last touched, by the customer's row."""
    found: dict[int, date] = {}
    for wanted in (
        select(Jobs.customer_id, func.max(Jobs.changed_at)).group_by(Jobs.customer_id),
        select(Jobs.customer_id, func.max(IssuedPapers.issued_at))
        .join(IssuedPapers, IssuedPapers.job_id == Jobs.id)
        .group_by(Jobs.customer_id),
    ):
        for customer, moment in connection.execute(wanted):
            if customer is not None:
                found[customer] = max(found.get(customer, date.min), moment.date())
    return found


def _due(connection: Connection, row: Row[Any], *, last: date, today: date, kept: Keeping) -> Due:
    """Count what an erasure would remove and keep."""
    of_them = Jobs.customer_id == row.id
    papers = connection.execute(
        select(IssuedPapers.issued_at)
        .join(Jobs, Jobs.id == IssuedPapers.job_id)
        .where(of_them, IssuedPapers.pdf != b"")
    )
    until = [kept_until(paper.issued_at.date(), kept) for paper in papers]
    still = [day for day in until if day >= today]
    return Due(
        uid=row.uid,
        name=row.name,
        last_touched=last,
        jobs=connection.scalar(select(func.count()).select_from(Jobs).where(of_them)) or 0,
        surveys=connection.scalar(
            select(func.count())
            .select_from(Surveys)
            .join(Jobs, Jobs.id == Surveys.job_id)
            .where(of_them)
        )
        or 0,
        papers_emptied=len(until) - len(still),
        papers_kept=len(still),
        kept_until=max(still, default=None),
    )


def _day_in(year: int, month: int, day: int) -> date:
    """Return a day of a month, its last one where the month is too short."""
    return date(year, month, min(day, monthrange(year, month)[1]))
