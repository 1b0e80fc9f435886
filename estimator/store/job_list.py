"""The page of jobs: cut down by stage and words, with the last paper of each."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Row, and_, case, func, select

from estimator.money import Money
from estimator.quoting.quotation import Paper
from estimator.store.issued import OFFERS
from estimator.store.jobs import Stage
from estimator.store.matching import jobs_with
from estimator.store.tables import Customers, IssuedPapers, Jobs, PaperLines, Surveys
from estimator.store.typed import lines_of
from estimator.store.within import Place, reading


@dataclass(frozen=True, slots=True)
class LastPaper:
    """The newest paper that went out for a job."""

    number: str
    kind: Paper
    total: Money | None
    """Of the first option on it, tax in. [£]"""
    issued_at: datetime
    valid_until: date | None
    """Last day it stands; None where an emptied paper no longer says."""
    low: Money | None = None
    """Low end of what an estimate says of its first option; None for a fixed price."""
    high: Money | None = None


@dataclass(frozen=True, slots=True)
class JobLine:
    """One job as the page shows it."""

    uid: str
    title: str
    stage: Stage
    site: tuple[str, ...]
    made_at: datetime
    changed_at: datetime
    customer: str
    """The customer's name, empty for none."""
    customer_uid: str
    telephone: str
    revision: int
    """Of the latest survey, 0 for none."""
    paper: LastPaper | None


def list_jobs(
    place: Place,
    *,
    stages: Collection[Stage] = (),
    typed: str = "",
    limit: int = 200,
    offset: int = 0,
) -> tuple[JobLine, ...]:
    """Return jobs, the last changed first.

    Args:
        place: The file, or a look under way.
        stages: Only jobs that have come so far; all of them where none is named.
        typed: Words of the title, site, customer's name, address, telephone number or postcode, or
            the number of a paper; every word must fit.
        limit: The most to return.
        offset: How many to leave out first.
    """
    wanted = (
        select(Jobs.id).order_by(Jobs.changed_at.desc(), Jobs.id.desc()).limit(limit).offset(offset)
    )
    with reading(place) as connection:
        return lines(
            connection, connection.scalars(wanted.where(*_conditions(stages, typed))).all()
        )


def counted(place: Place, *, typed: str = "") -> dict[Stage, int]:
    """Return how many jobs there are at each stage, of those that fit the words."""
    wanted = select(Jobs.stage, func.count(Jobs.id)).group_by(Jobs.stage)
    found = dict.fromkeys(Stage, 0)
    with reading(place) as connection:
        for stage, count in connection.execute(wanted.where(*_conditions((), typed))):
            found[Stage(stage)] = count
    return found


def lines(connection: Connection, keys: Sequence[int]) -> tuple[JobLine, ...]:
    """Return the lines of jobs by the rows they are in, in the same order."""
    wanted = (
        select(
            Jobs.__table__,
            Customers.name,
            Customers.uid.label("customer_uid"),
            Customers.telephone,
        )
        .outerjoin(Customers, Jobs.customer_id == Customers.id)
        .where(Jobs.id.in_(keys))
    )
    rows = {row.id: row for row in connection.execute(wanted)}
    papers, revisions = _papers(connection, keys), _revisions(connection, keys)
    return tuple(_line(rows[key], papers.get(key), revisions.get(key, 0)) for key in keys)


def _conditions(stages: Collection[Stage], typed: str) -> list[ColumnElement[bool]]:
    """Return what a job must be to be listed."""
    conditions: list[ColumnElement[bool]] = []
    if stages:
        conditions.append(Jobs.stage.in_([stage.value for stage in stages]))
    fitting = jobs_with(typed)
    return conditions if fitting is None else [*conditions, fitting]


def _papers(connection: Connection, keys: Sequence[int]) -> dict[int, LastPaper]:
    """Return the newest offer of each job that has one; no PDF is read for it."""
    newest = (
        select(func.max(PaperLines.id))
        .where(PaperLines.job_id.in_(keys), PaperLines.kind.in_(OFFERS))
        .group_by(PaperLines.job_id)
    )
    wanted = (
        select(PaperLines.__table__, _end("low"), _end("high"))
        .join(IssuedPapers, IssuedPapers.id == PaperLines.id)
        .where(PaperLines.id.in_(newest))
    )
    return {row.job_id: _last_paper(row) for row in connection.execute(wanted)}


def _end(name: str) -> ColumnElement[str | None]:
    """Return one end of the range an estimate was given in, read out of its content."""
    said = func.json_extract(IssuedPapers.content, f"$.quotation.options[0].spread.{name}")
    is_said = and_(
        PaperLines.kind == Paper.ESTIMATE.value, func.json_valid(IssuedPapers.content) == 1
    )
    return case((is_said, said), else_=None).label(name)


def _revisions(connection: Connection, keys: Sequence[int]) -> dict[int, int]:
    """Return the number of the latest revision of each job's survey."""
    wanted = (
        select(Surveys.job_id, func.max(Surveys.revision).label("revision"))
        .where(Surveys.job_id.in_(keys))
        .group_by(Surveys.job_id)
    )
    return {row.job_id: row.revision for row in connection.execute(wanted)}


def _line(row: Row[Any], paper: LastPaper | None, revision: int) -> JobLine:
    return JobLine(
        uid=row.uid,
        title=row.title,
        stage=Stage(row.stage),
        site=lines_of(row.site),
        made_at=row.made_at,
        changed_at=row.changed_at,
        customer=row.name or "",
        customer_uid=row.customer_uid or "",
        telephone=row.telephone or "",
        revision=revision,
        paper=paper,
    )


def _last_paper(row: Row[Any]) -> LastPaper:
    return LastPaper(
        number=row.number,
        kind=Paper(row.kind),
        total=None if row.total_pence is None else Money(row.total_pence),
        issued_at=row.issued_at,
        valid_until=_day(row.valid_until),
        low=None if row.low is None else Money.of(str(row.low)),
        high=None if row.high is None else Money.of(str(row.high)),
    )


def _day(written: str) -> date | None:
    """Return a day as a paper says it, or None for what is no day."""
    try:
        return date.fromisoformat(written)
    except ValueError:
        return None
