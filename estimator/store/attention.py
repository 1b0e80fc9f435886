"""Which jobs ask to be looked at today, and why.

When they do stands in ``resources/keeping.json``. Only reasons and dates are told; the words are
the screen's.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from enum import Enum

from sqlalchemy import ColumnElement, Connection, select

from estimator import resources
from estimator.store.job_list import JobLine, lines
from estimator.store.jobs import Stage
from estimator.store.tables import Jobs, PaperLines
from estimator.store.within import Place, reading

UNPRICED = (Stage.ENQUIRY.value, Stage.SURVEYED.value)
WAITING = (*UNPRICED, Stage.OFFERED.value)
"""Stages of a job nobody said yes or no to."""


class Reason(Enum):
    """Why a job asks to be looked at, the most pressing first."""

    LAPSING = "the offer is about to lapse"
    LAPSED = "the offer has lapsed"
    NO_ANSWER = "no answer to the offer yet"
    NO_PAPER = "nothing has gone out yet"


PRESSING = {reason: place for place, reason in enumerate(Reason)}


@dataclass(frozen=True, slots=True)
class Attention:
    """After how long a job asks to be looked at."""

    enquiry_days: int
    """Without a paper, since it was taken up. [day]"""
    answer_days: int
    """Without an answer, since the last paper went out. [day]"""
    lapse_days: int
    """Until the last paper lapses. [day]"""
    look_back_days: int
    """What is older asks no more. [day]"""


@dataclass(frozen=True, slots=True)
class Needed:
    """One job that asks to be looked at."""

    job: JobLine
    reason: Reason
    since: date
    """Day the enquiry came or the last paper went out."""
    until: date | None = None
    """Last day the last paper stands."""


def attention() -> Attention:
    """Return the times that are set.

    >>> attention().lapse_days
    5
    """
    told = resources.data("keeping.json")["attention"]
    names = ("enquiry_days", "answer_days", "lapse_days", "look_back_days")
    return Attention(**{name: told[name] for name in names})


def needs_me(
    place: Place, today: date, *, times: Attention | None = None, limit: int = 200
) -> tuple[Needed, ...]:
    """Return the jobs that ask to be looked at, the most pressing first, the oldest first in each.

    Args:
        place: The file, or a look under way.
        today: The day on which it is asked.
        times: Other times than those that are set.
        limit: The most to return.
    """
    times = times or attention()
    earliest = datetime.combine(today - timedelta(days=times.look_back_days), time(), UTC)
    with reading(place) as connection:
        keys = _waiting(connection, earliest) + _unpriced(connection, earliest)
        found = [_needed(job, today, times) for job in lines(connection, keys)]
    needed = [one for one in found if one is not None]
    needed.sort(key=lambda one: (PRESSING[one.reason], one.until or one.since, one.job.uid))
    return tuple(needed[:limit])


def _waiting(connection: Connection, earliest: datetime) -> list[int]:
    """Return the rows of jobs with a paper out lately and no answer."""
    issued = select(PaperLines.job_id).where(PaperLines.issued_at >= earliest)
    return _keys(connection, Jobs.stage.in_(WAITING), Jobs.id.in_(issued))


def _unpriced(connection: Connection, earliest: datetime) -> list[int]:
    """Return the rows of jobs taken up lately for which nothing ever went out."""
    out = select(PaperLines.id).where(PaperLines.job_id == Jobs.id).exists()
    return _keys(connection, Jobs.stage.in_(UNPRICED), Jobs.changed_at >= earliest, ~out)


def _keys(connection: Connection, *conditions: ColumnElement[bool]) -> list[int]:
    wanted = select(Jobs.id).where(Jobs.closed_at.is_(None), *conditions)
    return list(connection.scalars(wanted))


def _needed(job: JobLine, today: date, times: Attention) -> Needed | None:
    """Return why a job asks to be looked at, if it does."""
    if job.paper is None:
        since = job.made_at.date()
        is_due = today - since >= timedelta(days=times.enquiry_days)
        return Needed(job, Reason.NO_PAPER, since) if is_due else None
    since, until = job.paper.issued_at.date(), job.paper.valid_until
    if until is not None and until < today:
        return Needed(job, Reason.LAPSED, since, until)
    if until is not None and until - today <= timedelta(days=times.lapse_days):
        return Needed(job, Reason.LAPSING, since, until)
    if today - since >= timedelta(days=times.answer_days):
        return Needed(job, Reason.NO_ANSWER, since, until)
    return None
