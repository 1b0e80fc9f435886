"""What happened to a job after its quotation: deeds, only ever added, each by its hash.

A deed that makes no sense after those before it is refused inside the same transaction, so what a
job has come to can always be worked out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import (
    Connection,
    Label,
    LargeBinary,
    Row,
    Select,
    cast,
    func,
    insert,
    select,
    update,
)
from sqlalchemy.orm.attributes import InstrumentedAttribute

from estimator.contract import allowed, keeping
from estimator.contract.deeds import Booked, Deed, Happening, Struck
from estimator.contract.so_far import SoFar
from estimator.contract.so_far import so_far as folded
from estimator.contract.works import Booking
from estimator.notices import UserMistake
from estimator.store import clock, emptied
from estimator.store.clock import Clock
from estimator.store.faults import DamagedFile
from estimator.store.jobs import key_of
from estimator.store.paper_content import moment, sha256
from estimator.store.tables import Happenings, Jobs
from estimator.store.typed import kept, new_uid
from estimator.store.within import Place, reading, writing


@dataclass(frozen=True, slots=True)
class OfJob:
    """A booking, and the job it is of."""

    job: str
    """The job's uid."""
    booking: Booking


@dataclass(frozen=True, slots=True)
class Spoilt:
    """A deed that is not as it was noted."""

    job: str
    """The job's uid; empty where the deed hangs on none."""
    uid: str
    """What the file calls the deed."""


def add(
    place: Place,
    job: str,
    deed: Deed,
    *,
    before: Sequence[Happening] | None = None,
    now: Clock = clock.now,
) -> Happening:
    """Note a deed for good and return it with its name in the file.

    Args:
        place: The file, or a transaction under way.
        job: The job's uid.
        deed: What happened.
        before: All that happened before, where it was read in the same transaction.
        now: The time.

    Raises:
        UserMistake: when there is no such job, or the deed makes no sense after those before it.
        DamagedFile: when a deed before it is no longer as it was noted.
        WorldFault: when the disk would not take it.
    """
    with writing(place) as connection:
        before = of_job(connection, job) if before is None else before
        allowed.check(before, deed)
        happening = Happening(new_uid(), now(), deed)
        _refuse_if_missed(before, happening)
        _put_in(connection, job, happening)
        touch = update(Jobs).where(Jobs.uid == job).values(changed_at=happening.at)
        connection.execute(touch)
    return happening


def of_job(place: Place, job: str) -> tuple[Happening, ...]:
    """Return all that happened to a job, the first first.

    Raises:
        UserMistake: when there is no such job.
        DamagedFile: when a deed is no longer as it was noted.
    """
    with reading(place) as connection:
        wanted = _told().where(Happenings.job_id == key_of(connection, job))
        rows = connection.execute(wanted.order_by(Happenings.id)).all()
    return tuple(Happening(row.uid, row.at, _deed(row)) for row in rows)


def so_far(place: Place, job: str) -> SoFar:
    """Return what a job has come to.

    Raises:
        UserMistake: when there is no such job.
        DamagedFile: when a deed is no longer as it was noted.
    """
    return folded(of_job(place, job))


def jobs_with(place: Place) -> tuple[str, ...]:
    """Return the names in the file of all jobs that something happened to, the first first."""
    wanted = select(Jobs.uid).where(Jobs.id.in_(select(Happenings.job_id))).order_by(Jobs.id)
    with reading(place) as connection:
        return tuple(connection.scalars(wanted))


def bookings(place: Place) -> tuple[OfJob, ...]:
    """Return the hours and materials booked on all jobs, but for those struck out.

    Raises:
        DamagedFile: when one is no longer as it was noted.
    """
    kinds = (Booked.__name__, Struck.__name__)
    wanted = _told().where(Happenings.kind.in_(kinds)).order_by(Happenings.id)
    with reading(place) as connection:
        told = [(row, _deed(row)) for row in connection.execute(wanted)]
    struck = {deed.happening for _row, deed in told if isinstance(deed, Struck)}
    return tuple(
        OfJob(row.job, deed.booking)
        for row, deed in told
        if isinstance(deed, Booked) and row.uid not in struck
    )


def damaged(place: Place) -> tuple[Spoilt, ...]:
    """Return every deed that is not as it was noted.

    Raises:
        WorldFault: when the file is too damaged to be read.
    """
    columns = ("uid", "kind", "document", "sha256", "at")
    # Read as bytes, because a changed cell may be no text at all; and one at a time.
    wanted = (
        select(*(_raw(getattr(Happenings, name), name) for name in columns), _raw(Jobs.uid, "job"))
        .select_from(Happenings)
        .outerjoin(Jobs, Jobs.id == Happenings.job_id)
        .order_by(Happenings.id)
    )
    found = []
    with reading(place) as connection:
        for row in connection.execute(wanted):
            told = (row.uid, row.job, row.kind, row.at, row.document)
            if not _is_whole(told, _shown(row.sha256)):
                found.append(Spoilt(_shown(row.job), _shown(row.uid)))
    return tuple(found)


def count(connection: Connection, customer: int) -> int:
    """Return how many deeds were noted for the jobs of a customer."""
    wanted = select(func.count(Happenings.id)).join(Jobs, Jobs.id == Happenings.job_id)
    return connection.scalar(wanted.where(Jobs.customer_id == customer)) or 0


def empty(connection: Connection, customer: int, words: Sequence[str]) -> None:
    """Take a person out of all that happened to their jobs.

    The file allows it during an erasure only. Figures and days stay.
    """
    rows = connection.execute(
        _told().where(Jobs.customer_id == customer).order_by(Happenings.id)
    ).all()
    for row in rows:
        document = emptied.deed(row.document, words)
        digest = _hash(row.uid, row.job, row.kind, moment(row.at), document)
        connection.execute(
            update(Happenings)
            .where(Happenings.uid == row.uid)
            .values(document=document, sha256=digest)
        )


def _put_in(connection: Connection, job: str, happening: Happening) -> None:
    text, kind = keeping.written(happening.deed), type(happening.deed).__name__
    if keeping.read(text) != happening.deed:
        raise ValueError("a deed must read back as it was written")
    connection.execute(
        insert(Happenings).values(
            uid=happening.uid,
            job_id=key_of(connection, job),
            kind=kind,
            document=kept(text, "what happened"),
            sha256=_hash(happening.uid, job, kind, moment(happening.at), text),
            at=happening.at,
        )
    )


def _refuse_if_missed(before: Sequence[Happening], happening: Happening) -> None:
    """Refuse to strike out what something later rests on."""
    try:
        folded((*before, happening))
    except KeyError as error:
        raise UserMistake(
            "this cannot be struck out",
            why="something that came later rests on it",
            do="strike out the later one first, or take it back",
        ) from error


def _told() -> Select[*tuple[Any, ...]]:
    return select(
        Happenings.uid,
        Happenings.kind,
        Happenings.document,
        Happenings.sha256,
        Happenings.at,
        Jobs.uid.label("job"),
    ).join(Jobs, Jobs.id == Happenings.job_id)


def _hash(uid: str, job: str, kind: str, at: str, document: str) -> str:
    """Return the hash of all that is noted; no part holds a line end but the last."""
    return sha256("\n".join((uid, job, kind, at, document)).encode())


def _deed(row: Row[Any]) -> Deed:
    at: datetime = row.at
    if _hash(row.uid, row.job, row.kind, moment(at), row.document) != row.sha256:
        raise _damage()
    try:
        return keeping.read(row.document)
    except UserMistake as error:
        raise _damage() from error


def _is_whole(told: tuple[bytes, bytes, bytes, bytes, bytes], kept_sha256: str) -> bool:
    """Tell whether a deed has its hash and reads as the kind it is."""
    if sha256(b"\n".join(cell or b"" for cell in told)) != kept_sha256:
        return False
    _uid, _job, kind, _at, document = told
    try:
        return type(keeping.read(_shown(document))).__name__ == _shown(kind)
    except UserMistake:
        return False


def _raw(column: InstrumentedAttribute[Any], name: str) -> Label[bytes]:
    return cast(column, LargeBinary).label(name)


def _shown(cell: bytes | None) -> str:
    return (cell or b"").decode("utf-8", "replace")


def _damage() -> DamagedFile:
    return DamagedFile(
        "something that happened to a job is no longer as it was noted",
        why="bytes of it were changed, or a newer program noted it",
        do="take the file from a good backup, or use the newer program",
    )
