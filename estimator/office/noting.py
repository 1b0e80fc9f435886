"""A deed noted in a transaction under way, with its paper and the stage of its job."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from sqlalchemy import Connection

from estimator.contract import allowed
from estimator.contract.deeds import Deed, Happening
from estimator.contract.so_far import SoFar
from estimator.contract.so_far import so_far as folded
from estimator.office import agreed_papers
from estimator.office.agreed_papers import Sheet
from estimator.quoting.quotation import Trader
from estimator.store import happenings, jobs, kept_papers, photos
from estimator.store.clock import Clock
from estimator.store.database import Database
from estimator.store.jobs import Stage
from estimator.store.kept_papers import Made, PaperKind


@dataclass(frozen=True, slots=True)
class Gone:
    """A paper that went out, and what the job has come to with it."""

    so_far: SoFar
    number: str
    pdf: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Asked:
    """A paper to be made, and the deed that goes with it."""

    kind: PaperKind
    trader: Trader
    date: datetime.date | None = None
    """Of the paper; today where None."""
    key: str = ""
    """Of the variation or daywork sheet it is about."""
    deed_of: Callable[[str, datetime.date], Deed] | None = None
    """Makes the deed of the paper's number and day; None where nothing is noted."""


def noted(connection: Connection, job: str, deed: Deed, now: Clock) -> SoFar:
    """Note a deed, move the job where that brings it, and return what it has come to.

    Raises:
        UserMistake: when the deed makes no sense after those before it.
    """
    before = happenings.of_job(connection, job)
    happening = happenings.add(connection, job, deed, before=before, now=now)
    come_to = folded((*before, happening))
    stage = stage_of(come_to)
    if stage is not None and stage is not stage_of(folded(before)):
        jobs.move(connection, job, stage, now=lambda: happening.at)
    return come_to


def with_paper(database: Database, job: str, asked: Asked, now: Clock) -> Gone:
    """Make a paper under its number, keep it, and note the deed that goes with it.

    Raises:
        UserMistake: when the deed makes no sense after those before it, or there is nothing to
            put on the paper.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    at = now()
    date = asked.date or at.astimezone().date()

    def then() -> datetime.datetime:
        return at

    def deed_under(number: str) -> Deed | None:
        return None if asked.deed_of is None else asked.deed_of(number, date)

    with database.writing() as connection:
        before = happenings.of_job(connection, job)

        def make(number: str) -> Made:
            deed = deed_under(number)
            if deed is not None:
                allowed.check(before, deed)
            come_to = folded((*before, *([] if deed is None else [Happening("", at, deed)])))
            pictures = _pictures(connection, job, come_to, asked)
            sheet = Sheet(
                asked.kind, come_to, asked.trader, date, asked.key, deed, pictures=pictures
            )
            pdf = agreed_papers.rendered(sheet, number)
            return Made(pdf, agreed_papers.said(sheet), agreed_papers.amount(sheet))

        kept = kept_papers.keep(connection, asked.kind, job=job, make=make, now=then)
        deed = deed_under(kept.number)
        if deed is not None:
            noted(connection, job, deed, then)
        return Gone(
            happenings.so_far(connection, job),
            kept.number,
            kept_papers.pdf_of(connection, kept.number),
        )


def stage_of(come_to: SoFar) -> Stage | None:
    """Return how far a job is by what was noted of it; None before anything was accepted."""
    if come_to.contract is None:
        return None
    if come_to.called_off is not None:
        return Stage.LOST
    return Stage.ACCEPTED if come_to.completion is None else Stage.DONE


def _pictures(
    connection: Connection, job: str, come_to: SoFar, asked: Asked
) -> Mapping[str, bytes]:
    """Return the photographs a paper shows, those the file has."""
    names = agreed_papers.picture_names(come_to, asked.kind, asked.key)
    found = {name: photos.load(connection, job, name) for name in names}
    return {name: picture for name, picture in found.items() if picture is not None}
