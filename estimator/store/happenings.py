"""What happened to a job after its quotation: deeds, only ever added, each by its hash.

A deed that makes no sense after those before it is refused inside the same transaction, so what a
job has come to can always be worked out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Connection, insert, select

from estimator.contract import allowed, keeping
from estimator.contract.deeds import Booked, Deed, Happening, Struck
from estimator.contract.so_far import SoFar
from estimator.contract.so_far import so_far as folded
from estimator.contract.works import Booking
from estimator.notices import UserMistake
from estimator.store import clock
from estimator.store.clock import Clock
from estimator.store.faults import DamagedFile
from estimator.store.jobs import key_of
from estimator.store.paper_content import sha256
from estimator.store.tables import Happenings, Jobs
from estimator.store.typed import new_uid
from estimator.store.within import Place, reading, writing


@dataclass(frozen=True, slots=True)
class OfJob:
    """A booking, and the job it is of."""

    job: str
    """The job's uid."""
    booking: Booking


def add(place: Place, job: str, deed: Deed, *, now: Clock = clock.now) -> Happening:
    """Note a deed for good and return it with its name in the file.

    Raises:
        UserMistake: when there is no such job, or the deed makes no sense after those before it.
        WorldFault: when the disk would not take it.
    """
    with writing(place) as connection:
        before = of_job(connection, job)
        allowed.check(before, deed)
        happening = Happening(new_uid(), now(), deed)
        text = keeping.written(deed)
        if keeping.read(text) != deed:
            raise ValueError("a deed must read back as it was written")
        connection.execute(
            insert(Happenings).values(
                uid=happening.uid,
                job_id=key_of(connection, job),
                kind=type(deed).__name__,
                document=text,
                sha256=sha256(text.encode()),
                happened_at=happening.at,
            )
        )
    return happening


def of_job(place: Place, job: str) -> tuple[Happening, ...]:
    """Return all that happened to a job, the first first.

    Raises:
        UserMistake: when there is no such job.
        DamagedFile: when a deed is no longer as it was noted.
    """
    with reading(place) as connection:
        wanted = select(Happenings.__table__).where(Happenings.job_id == key_of(connection, job))
        rows = connection.execute(wanted.order_by(Happenings.id)).all()
    return tuple(
        Happening(row.uid, row.happened_at, _deed(row.document, row.sha256)) for row in rows
    )


def so_far(place: Place, job: str) -> SoFar:
    """Return what a job has come to.

    Raises:
        UserMistake: when there is no such job.
        DamagedFile: when a deed is no longer as it was noted.
    """
    return folded(of_job(place, job))


def bookings(place: Place) -> tuple[OfJob, ...]:
    """Return the hours and materials booked on all jobs, but for those struck out."""
    kinds = (Booked.__name__, Struck.__name__)
    wanted = (
        select(Happenings.uid, Happenings.document, Happenings.sha256, Jobs.uid.label("job"))
        .join(Jobs, Jobs.id == Happenings.job_id)
        .where(Happenings.kind.in_(kinds))
        .order_by(Happenings.id)
    )
    with reading(place) as connection:
        rows = connection.execute(wanted).all()
    told = [(row, _deed(row.document, row.sha256)) for row in rows]
    struck = {deed.happening for _row, deed in told if isinstance(deed, Struck)}
    return tuple(
        OfJob(row.job, deed.booking)
        for row, deed in told
        if isinstance(deed, Booked) and row.uid not in struck
    )


def damaged(connection: Connection) -> Iterator[str]:
    """Yield the name of each deed that is not as it was noted."""
    wanted = select(Happenings.uid, Happenings.document, Happenings.sha256)
    for row in connection.execute(wanted.order_by(Happenings.id)):
        try:
            _deed(row.document, row.sha256)
        except DamagedFile:
            yield row.uid


def _deed(text: str, kept_sha256: str) -> Deed:
    damage = DamagedFile(
        "something that happened to a job is no longer as it was noted",
        why="bytes of it were changed",
        do="take the file from a good backup",
    )
    if sha256(text.encode()) != kept_sha256:
        raise damage
    try:
        return keeping.read(text)
    except UserMistake as error:
        raise damage from error
