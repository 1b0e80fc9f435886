"""Jobs, and every accepted revision of the survey of each."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from enum import Enum
from functools import lru_cache
from typing import Any

from sqlalchemy import (
    Connection,
    Insert,
    Row,
    Select,
    Update,
    bindparam,
    func,
    insert,
    select,
    update,
)
from sqlalchemy.orm import aliased

from estimator.notices import UserMistake
from estimator.store import clock
from estimator.store.clock import Clock
from estimator.store.tables import Customers, Jobs, Surveys
from estimator.store.typed import is_uid, kept, kept_lines, lines_of, new_uid
from estimator.store.within import Place, reading, writing
from estimator.survey import survey_file
from estimator.survey.survey import Survey

FEWEST_LETTERS = 4
"""Letters of a job's name that may stand for all of it, where no other job begins so."""


class Stage(Enum):
    """How far a job has come."""

    ENQUIRY = "enquiry"
    SURVEYED = "surveyed"
    OFFERED = "offered"
    ACCEPTED = "accepted"
    DONE = "done"
    LOST = "lost"


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of work."""

    title: str
    customer: str | None = None
    """The customer's uid."""
    site: tuple[str, ...] = ()
    stage: Stage = Stage.ENQUIRY
    notes: str = ""
    uid: str = ""
    """What the file calls it; given when it is added, unless it has one."""
    made_at: datetime | None = None
    changed_at: datetime | None = None
    closed_at: datetime | None = None
    choices: str = ""
    """The scopes it is priced for and the rules changed for it alone, as JSON; empty for none."""


@dataclass(frozen=True, slots=True)
class JobRow:
    """One line of the list of jobs."""

    uid: str
    title: str
    stage: Stage
    changed_at: datetime
    customer: str
    """The customer's name, empty for none."""
    survey: str
    """Title of the latest survey, empty for none."""
    revision: int
    """Of the latest survey, 0 for none."""


@dataclass(frozen=True, slots=True)
class Revision:
    """One accepted state of a survey."""

    revision: int
    why: str
    made_at: datetime


def add(place: Place, job: Job, *, now: Clock = clock.now) -> Job:
    """Add a job and return it with its name in the file.

    One that was begun on the desk has its name already and keeps it; any other is given one.

    Raises:
        UserMistake: for a customer there is not, or a text that no file can hold.
    """
    if job.uid and not is_uid(job.uid):
        raise ValueError("a job's name in the file is 32 digits and letters up to f")
    at = now()
    added = replace(job, uid=job.uid or new_uid(), made_at=at, changed_at=at)
    with writing(place) as connection:
        connection.execute(
            insert(Jobs).values(
                uid=added.uid, made_at=at, changed_at=at, **_columns(connection, added)
            )
        )
    return added


def change(place: Place, job: Job, *, now: Clock = clock.now) -> Job:
    """Write what a job is now over what it was; its surveys stay.

    Raises:
        UserMistake: when there is no such job, or for a text that no file can hold.
    """
    changed = replace(job, changed_at=now())
    with writing(place) as connection:
        done = connection.execute(
            update(Jobs)
            .where(Jobs.uid == job.uid)
            .values(changed_at=changed.changed_at, **_columns(connection, changed))
        )
        if done.rowcount != 1:
            raise unknown(job.uid)
    return changed


def move(place: Place, uid: str, stage: Stage, *, now: Clock = clock.now) -> None:
    """Note how far a job has come.

    Raises:
        UserMistake: when there is no such job.
    """
    wanted = update(Jobs).where(Jobs.uid == uid).values(stage=stage.value, changed_at=now())
    with writing(place) as connection:
        if connection.execute(wanted).rowcount != 1:
            raise unknown(uid)


def find(place: Place, uid: str) -> Job:
    """Return one job.

    Raises:
        UserMistake: when there is none of that name.
    """
    wanted = (
        select(Jobs.__table__, Customers.uid.label("customer"))
        .outerjoin(Customers, Jobs.customer_id == Customers.id)
        .where(Jobs.uid == uid)
    )
    with reading(place) as connection:
        row = connection.execute(wanted).one_or_none()
    if row is None:
        raise unknown(uid)
    return _job(row)


def full_uid(place: Place, start: str) -> str:
    """Return the name of the one job whose name begins so.

    Raises:
        UserMistake: when there is no such job, or more than one.
    """
    if len(start) < FEWEST_LETTERS:
        raise unknown(start)
    wanted = select(Jobs.uid).where(Jobs.uid.startswith(start, autoescape=True)).limit(2)
    with reading(place) as connection:
        found = connection.scalars(wanted).all()
    if len(found) > 1:
        raise UserMistake(f"more than one job begins with '{start}'", do="write more of its name")
    if not found:
        raise unknown(start)
    return found[0]


def list_jobs(place: Place, *, limit: int = 200, offset: int = 0) -> tuple[JobRow, ...]:
    """Return jobs with their customers and latest surveys, the last changed first."""
    with reading(place) as connection:
        return tuple(_listed(row) for row in connection.execute(_list(limit, offset)))


def accept_survey(
    place: Place, job: str, survey: Survey, *, why: str, now: Clock = clock.now
) -> int:
    """Keep a survey as the next revision of a job's and return its number.

    Raises:
        UserMistake: when there is no such job, or the survey could not be read again.
    """
    document = survey_file.write(survey)
    if survey_file.read(document) != survey:
        raise ValueError("a survey must read back as it was written")
    at = now()
    with writing(place) as connection:
        questions = _saving()
        latest = connection.execute(questions.latest, {"job": job}).one_or_none()
        if latest is None:
            raise unknown(job)
        revision = (latest.revision or 0) + 1
        given = {"job_id": latest.id, "revision": revision, "document": document}
        reason = kept(why, "the reason")
        connection.execute(questions.keep, {**given, "why": reason, "made_at": at})
        connection.execute(questions.touch, {"job": latest.id, "at": at})
    return revision


def survey(place: Place, job: str, *, revision: int | None = None) -> Survey:
    """Return a job's survey as it is now, or as it was at an earlier revision.

    Raises:
        UserMistake: when there is no such job, or it has no such revision.
    """
    wanted = select(Surveys.document).order_by(Surveys.revision.desc()).limit(1)
    if revision is not None:
        wanted = wanted.where(Surveys.revision == revision)
    with reading(place) as connection:
        document = connection.scalar(wanted.where(Surveys.job_id == key_of(connection, job)))
    if document is None:
        which = "survey yet" if revision is None else f"revision {revision} of its survey"
        raise UserMistake(f"the job has no {which}", do="add a survey to it, or choose another")
    return survey_file.read(document)


def revisions(place: Place, job: str) -> tuple[Revision, ...]:
    """Return every accepted revision of a job's survey, the first first.

    Raises:
        UserMistake: when there is no such job.
    """
    wanted = select(Surveys.revision, Surveys.why, Surveys.made_at).order_by(Surveys.revision)
    with reading(place) as connection:
        rows = connection.execute(wanted.where(Surveys.job_id == key_of(connection, job)))
        return tuple(Revision(row.revision, row.why, row.made_at) for row in rows)


def key_of(connection: Connection, uid: str) -> int:
    """Return the row a job is in, for the other stores.

    Raises:
        UserMistake: when there is no such job.
    """
    key = connection.scalar(select(Jobs.id).where(Jobs.uid == uid))
    if key is None:
        raise unknown(uid)
    return key


def unknown(uid: str) -> UserMistake:
    """Return what to say about a job there is not."""
    return UserMistake(
        f"there is no job '{uid[:40]}' in the file", do="see the list with the command data jobs"
    )


@dataclass(frozen=True, slots=True)
class _Saving:
    """What is asked of the file at every save."""

    latest: Select[int, int | None]
    keep: Insert
    touch: Update


@lru_cache(maxsize=1)
def _saving() -> _Saving:
    """Return the statements of a save; putting them together takes longer than running them."""
    latest = (
        select(Jobs.id, func.max(Surveys.revision).label("revision"))
        .outerjoin(Surveys, Surveys.job_id == Jobs.id)
        .where(Jobs.uid == bindparam("job"))
        .group_by(Jobs.id)
    )
    touch = update(Jobs).where(Jobs.id == bindparam("job")).values(changed_at=bindparam("at"))
    return _Saving(latest, insert(Surveys), touch)


def _list(limit: int, offset: int) -> Select[Any]:
    """Return the question behind the list.

    The page is cut out first, so that surveys are only looked for on the lines that are shown.
    """
    page = (
        select(Jobs.__table__)
        .order_by(Jobs.changed_at.desc(), Jobs.id.desc())
        .limit(limit)
        .offset(offset)
        .subquery()
    )
    each = aliased(Surveys)
    latest = (
        select(func.max(each.revision))
        .where(each.job_id == page.c.id)
        .correlate(page)
        .scalar_subquery()
    )
    return (
        select(
            page,
            Customers.name.label("customer"),
            Surveys.revision,
            func.json_extract(Surveys.document, "$.title").label("survey"),
        )
        .outerjoin(Customers, page.c.customer_id == Customers.id)
        .outerjoin(Surveys, (Surveys.job_id == page.c.id) & (Surveys.revision == latest))
        .order_by(page.c.changed_at.desc(), page.c.id.desc())
    )


def _listed(row: Row[Any]) -> JobRow:
    return JobRow(
        uid=row.uid,
        title=row.title,
        stage=Stage(row.stage),
        changed_at=row.changed_at,
        customer=row.customer or "",
        survey=row.survey or "",
        revision=row.revision or 0,
    )


def _job(row: Row[Any]) -> Job:
    return Job(
        title=row.title,
        customer=row.customer,
        site=lines_of(row.site),
        stage=Stage(row.stage),
        notes=row.notes,
        uid=row.uid,
        made_at=row.made_at,
        changed_at=row.changed_at,
        closed_at=row.closed_at,
        choices=row.choices,
    )


def _columns(connection: Connection, job: Job) -> dict[str, Any]:
    """Return what was typed about a job, by column."""
    customer = None
    if job.customer is not None:
        customer = connection.scalar(select(Customers.id).where(Customers.uid == job.customer))
        if customer is None:
            raise UserMistake("the job's customer is not in the file", do="add the customer first")
    return {
        "customer_id": customer,
        "title": kept(job.title, "the title"),
        "site": kept_lines(job.site, "the site"),
        "stage": job.stage.value,
        "notes": kept(job.notes, "the notes"),
        "closed_at": job.closed_at,
        "choices": kept(job.choices, "the choices"),
    }
