"""What is on the desk: the job half worked on, which one it was, and saving all of it at once."""

from __future__ import annotations

from sqlalchemy import Connection, select

from estimator.notices import UserMistake
from estimator.store import clock, drafts, facts, jobs
from estimator.store.clock import Clock
from estimator.store.jobs import Job
from estimator.store.tables import Customers, Jobs, Surveys
from estimator.store.within import Place, reading, writing
from estimator.survey import survey_file
from estimator.survey.survey import Survey

DRAFT = "desk/"
"""Begins the name of a draft; the job's uid ends it, so that an erasure finds it."""
FORM = "form/"
"""Begins the name of what is half typed in a form; the form's name and the job's uid follow."""
OPEN = "open on the desk"
"""The fact that holds the uid of the job last opened."""


def keep_working(place: Place, job: str, document: str, *, now: Clock = clock.now) -> None:
    """Keep a job as it stands on the desk, half typed or not.

    Raises:
        UserMistake: for a job there is not, one whose customer was erased, or a text that no file
            can hold.
        WorldFault: when the disk would not take it.
    """
    _keep(place, job, DRAFT + job, document, now)


def working(place: Place, job: str) -> str | None:
    """Return a job as it was left on the desk, or None where all of it is saved."""
    return drafts.load(place, DRAFT + job)


def drop_working(place: Place, job: str) -> None:
    """Throw away what was half typed of a job; nothing happens where there is none."""
    drafts.drop(place, DRAFT + job)


def keep_form(place: Place, job: str, name: str, document: str, *, now: Clock = clock.now) -> None:
    """Keep what is half typed in a form about a job.

    Raises:
        UserMistake: for a job there is not, one whose customer was erased, or a text that no file
            can hold.
        WorldFault: when the disk would not take it.
    """
    _keep(place, job, _form(job, name), document, now)


def form(place: Place, job: str, name: str) -> str | None:
    """Return what was half typed in a form about a job, or None where nothing was."""
    return drafts.load(place, _form(job, name))


def drop_form(place: Place, job: str, name: str) -> None:
    """Throw away what was half typed in a form about a job; nothing happens where nothing was."""
    drafts.drop(place, _form(job, name))


def note_open(place: Place, job: str) -> None:
    """Remember which job is on the desk."""
    facts.keep(place, OPEN, job)


def last_open(place: Place) -> str | None:
    """Return the job that was on the desk last, or None where there was none."""
    return facts.load(place, OPEN)


def saved_all(place: Place, job: Job, survey: Survey, *, why: str, now: Clock = clock.now) -> int:
    """Save a job and its survey, drop what was half typed, and return the survey's revision.

    All of it or nothing: title, customer, site, stage and choices are those given; the survey
    becomes a new revision unless it is the latest already.

    Raises:
        UserMistake: for a job or customer there is not, a customer who was erased, or a text that
            no file can hold.
        WorldFault: when the disk would not take it; everything is then as it was.
    """
    with writing(place) as connection:
        _refuse_erased(connection, job.uid)
        jobs.change(connection, job, now=now)
        revision = _unchanged(connection, job.uid, survey_file.write(survey))
        if revision is None:
            revision = jobs.accept_survey(connection, job.uid, survey, why=why, now=now)
        drop_working(connection, job.uid)
    return revision


def _keep(place: Place, job: str, key: str, document: str, now: Clock) -> None:
    with writing(place) as connection:
        _refuse_erased(connection, job)
        drafts.keep(connection, key, document, now=now)


def _form(job: str, name: str) -> str:
    return f"{FORM}{name}/{job}"


def _unchanged(connection: Connection, job: str, document: str) -> int | None:
    """Return the number of the latest revision where it says the same, else None."""
    latest = (
        select(Surveys.revision, Surveys.document)
        .join(Jobs, Jobs.id == Surveys.job_id)
        .where(Jobs.uid == job)
        .order_by(Surveys.revision.desc())
        .limit(1)
    )
    row = connection.execute(latest).one_or_none()
    return row.revision if row is not None and row.document == document else None


def _refuse_erased(connection: Connection, job: str) -> None:
    """Refuse to write a person back into the file who was taken out while the job was open."""
    wanted = (
        select(Customers.erased_at)
        .select_from(Jobs)
        .outerjoin(Customers, Jobs.customer_id == Customers.id)
        .where(Jobs.uid == job)
    )
    row = connection.execute(wanted).one_or_none()
    if row is None:
        raise jobs.unknown(job)
    if row.erased_at is not None:
        raise UserMistake(
            "this job is not kept", why="its customer was erased", do="begin a new job"
        )


def has_other_jobs(place: Place, customer: str, *, than: str) -> bool:
    """Return whether the file knows a customer from a job other than the one named."""
    wanted = (
        select(Jobs.id)
        .join(Customers, Jobs.customer_id == Customers.id)
        .where(Customers.uid == customer, Jobs.uid != than)
        .limit(1)
    )
    with reading(place) as connection:
        return connection.execute(wanted).one_or_none() is not None
