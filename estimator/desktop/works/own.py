"""Own outputs and own track record, asked of the file; every function runs in its own thread."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.contract.so_far import SoFar
from estimator.desktop import kept
from estimator.office import contracts
from estimator.quoting.offering import Practice
from estimator.store import price_books
from estimator.store.database import Database
from estimator.works import own_rates, track_record
from estimator.works.own_rates import OwnOutput
from estimator.works.track_record import TrackRecord

OUTPUTS_TAKEN = "outputs from our own jobs"
RANGE_TAKEN = "range from our own finished jobs"
"""Why a price book came to be, where one of these was taken up."""


@dataclass(frozen=True, slots=True)
class Own:
    """What our own jobs show, and since when the outputs of the book are our own."""

    outputs: tuple[OwnOutput, ...] = ()
    record: TrackRecord | None = None
    jobs: int = 0
    """Jobs with hours booked."""
    finished: int = 0
    """Of those, finished."""
    since: datetime.date | None = None
    """Day outputs were last taken up."""


def own(database: Database) -> Own:
    """Return what is offered by now."""
    jobs = contracts.with_hours(database)
    book = price_books.load(database)
    since = taken_on(database, OUTPUTS_TAKEN)
    done = [one for job in jobs if (one := track_record.of_job(job)) is not None]
    return Own(
        outputs=own_rates.compared(_dones(jobs), book, since=since),
        record=track_record.record_of(done, book.ranges),
        jobs=len(jobs),
        finished=len(done),
        since=since,
    )


def take_outputs(database: Database, accepted: Sequence[OwnOutput]) -> Practice:
    """Make a new price book with outputs of our own; what was agreed before keeps its own book."""
    text = own_rates.taken_up(price_books.document(database), accepted)
    price_books.install(database, text, OUTPUTS_TAKEN)
    return kept.practice(database)


def take_range(database: Database, record: TrackRecord) -> Practice:
    """Make a new price book with the range of our own finished jobs."""
    text = track_record.taken_up(price_books.document(database), record)
    price_books.install(database, text, RANGE_TAKEN)
    return kept.practice(database)


def taken_on(database: Database, why: str) -> datetime.date | None:
    """Return the day something was last taken up and not taken back, None for never."""
    found = [
        one.made_at.astimezone().date()
        for one in price_books.batches(database)
        if one.title == why and one.undone_at is None
    ]
    return max(found, default=None)


def _dones(jobs: Sequence[SoFar]) -> tuple[own_rates.JobDone, ...]:
    return tuple(own_rates.job_done(job) for job in jobs if job.contract is not None)
