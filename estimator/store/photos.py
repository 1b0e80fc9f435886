"""The photographs of a job: kept by the hash of their bytes, and never changed.

A photograph is in the file from the moment it is taken in. It stays while any accepted survey, any
issued paper, any deed or any draft names it; only the erasure of a person takes it away before.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, delete, func, insert, select
from sqlalchemy.orm import InstrumentedAttribute

from estimator.store import clock
from estimator.store.clock import Clock
from estimator.store.faults import DamagedFile
from estimator.store.jobs import key_of
from estimator.store.paper_content import sha256 as hash_of
from estimator.store.tables import Drafts, Happenings, IssuedPapers, Jobs, Photos, Surveys
from estimator.store.within import Place, reading, writing

MOST_BYTES = 20_000_000
"""Of one kept photograph, which is a smaller copy; house rule."""


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """One photograph as a list shows it."""

    sha256: str
    width_px: int
    height_px: int
    size: int
    """Of its JPEG. [byte]"""
    added_at: datetime


def keep(
    place: Place,
    job: str,
    picture: bytes,
    *,
    width_px: int,
    height_px: int,
    now: Clock = clock.now,
) -> str:
    """Keep a photograph of a job and return its hash; one that is there already is left as it is.

    Raises:
        UserMistake: when there is no such job.
        WorldFault: when the disk would not take it.
    """
    if not 0 < len(picture) <= MOST_BYTES or min(width_px, height_px) < 1:
        raise ValueError("a photograph is kept as a small copy")
    name = hash_of(picture)
    with writing(place) as connection:
        key = key_of(connection, job)
        wanted = select(Photos.id).where(Photos.job_id == key, Photos.sha256 == name)
        if connection.scalar(wanted) is None:
            connection.execute(
                insert(Photos).values(
                    job_id=key,
                    sha256=name,
                    jpeg=picture,
                    width_px=width_px,
                    height_px=height_px,
                    added_at=now(),
                )
            )
    return name


def load(place: Place, job: str, sha256: str) -> bytes | None:
    """Return a photograph of a job, or None where the file does not have it.

    Raises:
        UserMistake: when there is no such job.
        DamagedFile: when it is no longer the picture that was taken in.
    """
    with reading(place) as connection:
        key = key_of(connection, job)
        wanted = select(Photos.jpeg).where(Photos.job_id == key, Photos.sha256 == sha256)
        picture = connection.scalar(wanted)
    if picture is None:
        return None
    if hash_of(picture) != sha256:
        raise DamagedFile(
            "a photograph is no longer as it was taken in",
            why="bytes of it were changed",
            do="take it from a good backup, or take the photograph in again",
        )
    return bytes(picture)


def every(place: Place, job: str) -> tuple[KeptPhoto, ...]:
    """Return the photographs of a job in the order they were taken in, without their pictures.

    Raises:
        UserMistake: when there is no such job.
    """
    wanted = select(
        Photos.sha256,
        Photos.width_px,
        Photos.height_px,
        func.length(Photos.jpeg).label("size"),
        Photos.added_at,
    ).order_by(Photos.id)
    with reading(place) as connection:
        rows = connection.execute(wanted.where(Photos.job_id == key_of(connection, job)))
        return tuple(KeptPhoto(*row) for row in rows)


def drop_unused(place: Place, job: str, kept: Iterable[str]) -> tuple[str, ...]:
    """Throw away the photographs of a job that nothing names any more, and return their hashes.

    Args:
        place: The file, or a transaction under way.
        job: The job's uid.
        kept: Hashes still wanted, by what is on the desk and by what undo may bring back.

    Raises:
        UserMistake: when there is no such job.
        WorldFault: when the disk would not take it; nothing is then thrown away.
    """
    wanted = set(kept)
    with writing(place) as connection:
        key = key_of(connection, job)
        names = connection.scalars(
            select(Photos.sha256).where(Photos.job_id == key).order_by(Photos.id)
        ).all()
        dropped = tuple(
            name for name in names if name not in wanted and not _is_named(connection, key, name)
        )
        for name in dropped:
            connection.execute(delete(Photos).where(Photos.job_id == key, Photos.sha256 == name))
    return dropped


def damaged(place: Place) -> tuple[tuple[str, str], ...]:
    """Return each photograph that is no longer what was taken in: its job's uid and its hash.

    Raises:
        WorldFault: when the file is too damaged to be read.
    """
    wanted = select(Jobs.uid, Photos.sha256, Photos.jpeg).join(Jobs, Jobs.id == Photos.job_id)
    with reading(place) as connection:
        # One at a time: the photographs of many years need not fit into memory.
        return tuple(
            (row.uid, row.sha256)
            for row in connection.execute(wanted.order_by(Photos.id))
            if hash_of(row.jpeg) != row.sha256
        )


def going(connection: Connection, customer: int, *, emptied: Iterable[str]) -> tuple[int, ...]:
    """Return the rows of the photographs an erasure takes away: all but those on kept papers.

    Args:
        connection: The transaction under way.
        customer: The customer's row.
        emptied: Numbers of papers that are to be emptied, and keep nothing.
    """
    rows = connection.execute(
        select(Photos.id, Photos.job_id, Photos.sha256)
        .join(Jobs, Jobs.id == Photos.job_id)
        .where(Jobs.customer_id == customer)
        .order_by(Photos.id)
    ).all()
    stays = (func.length(IssuedPapers.pdf) > 0, IssuedPapers.number.not_in(tuple(emptied)))
    return tuple(
        row.id
        for row in rows
        if connection.scalar(
            select(IssuedPapers.id)
            .where(IssuedPapers.job_id == row.job_id, *stays)
            .where(func.instr(IssuedPapers.content, row.sha256) > 0)
            .limit(1)
        )
        is None
    )


def erase(connection: Connection, rows: Iterable[int]) -> None:
    """Take photographs away for good; the file allows it during an erasure only."""
    connection.execute(delete(Photos).where(Photos.id.in_(tuple(rows))))


def _is_named(connection: Connection, job: int, name: str) -> bool:
    """Tell whether a survey, paper or deed of a job, or any draft, names a photograph."""

    def found(told: InstrumentedAttribute[str], *of: object) -> bool:
        wanted = select(func.count()).where(func.instr(told, name) > 0, *of)  # type: ignore[arg-type]
        return bool(connection.scalar(wanted))

    return (
        found(Surveys.document, Surveys.job_id == job)
        or found(IssuedPapers.content, IssuedPapers.job_id == job)
        or found(Happenings.document, Happenings.job_id == job)
        or found(Drafts.document)
    )
