"""Papers that follow an offer: variations, invoices and the rest, each kept for good.

Like an offer, a paper, its number and its PDF come into the file in one transaction, or none of
them does; what it says is one hashed text. Unlike an offer, none takes the place of another: a
variation is taken back, an invoice credited.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from enum import Enum
from typing import Any

from sqlalchemy import Connection, Row, Select, insert, select

from estimator.money import Money
from estimator.store import clock, issued, jobs, numbering
from estimator.store.clock import Clock
from estimator.store.numbering import Series
from estimator.store.paper_content import canonical, moment, sha256
from estimator.store.tables import IssuedPapers, Jobs
from estimator.store.typed import kept
from estimator.store.within import Place, reading, writing

VERSION = 1
"""Of the layout of the text; a later one may add to it."""


class PaperKind(Enum):
    """Which paper it is."""

    CONFIRMATION = "confirmation"
    VARIATION = "variation"
    VARIATION_CONFIRMATION = "confirmation of a variation"
    DAYWORK_SHEET = "daywork sheet"
    SITE_SHEET = "site sheet"
    INVOICE = "invoice"
    CREDIT_NOTE = "credit note"
    AS_BUILT = "as-built record"
    COMPLETION = "completion"
    STATEMENT = "statement"
    FINAL_ACCOUNT = "final account"

    @property
    def series(self) -> Series:
        """The run of numbers it takes its number from."""
        return OWN_SERIES.get(self, Series.SHEET)


OWN_SERIES = {
    PaperKind.VARIATION: Series.VARIATION,
    PaperKind.INVOICE: Series.INVOICE,
    PaperKind.CREDIT_NOTE: Series.CREDIT_NOTE,
}


@dataclass(frozen=True, slots=True)
class Made:
    """A paper that has its number."""

    pdf: bytes
    said: dict[str, Any]
    """All that it says, as JSON holds it."""
    total: Money | None = None
    """What it asks for or changes, tax in; None where it is about no money. [£]"""


Make = Callable[[str], Made]
"""Makes a paper of its number."""


@dataclass(frozen=True, slots=True)
class KeptPaper:
    """One paper as a list shows it."""

    number: str
    kind: PaperKind
    job: str
    total: Money | None
    """What it asks for or changes, tax in; None where it is about no money. [£]"""
    issued_at: datetime
    pdf_sha256: str


def keep(
    place: Place, kind: PaperKind, *, job: str, make: Make, now: Clock = clock.now
) -> KeptPaper:
    """Give a paper its number, make it, and keep both for good.

    Args:
        place: The file, or a transaction under way.
        kind: Which paper it is.
        job: The job's uid.
        make: Called with the number, inside the transaction.
        now: The time.

    Raises:
        UserMistake: when there is no such job, or the paper cannot be made.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    with writing(place) as connection:
        key = jobs.key_of(connection, job)
        number, at = numbering.take(connection, kind.series), now()
        made = make(str(number))
        row = _put_in(connection, (str(number), kind, at), (key, job), made)
        numbering.note_paper(connection, number, row, now=lambda: at)
        return find(connection, str(number))


def _put_in(
    connection: Connection,
    named: tuple[str, PaperKind, datetime],
    of: tuple[int, str],
    made: Made,
) -> int:
    """Put a paper into the file, hashed, and return the row it is in."""
    (number, kind, at), (key, job) = named, of
    pence, digest = None if made.total is None else made.total.pence, sha256(made.pdf)
    content = canonical(
        {
            **made.said,
            "perpend_paper": VERSION,
            "number": number,
            "kind": kind.value,
            "job": job,
            "total_pence": "" if pence is None else pence,
            "issued_at": moment(at),
            "pdf_sha256": digest,
        }
    )
    row: int | None = connection.scalar(
        insert(IssuedPapers)
        .values(
            number=number,
            kind=kind.value,
            job_id=key,
            total_pence=pence,
            content=kept(content, "the paper"),
            content_sha256=sha256(content.encode()),
            pdf=made.pdf,
            pdf_sha256=digest,
            issued_at=at,
        )
        .returning(IssuedPapers.id)
    )
    assert row is not None
    return row


def list_papers(place: Place, *, job: str | None = None) -> tuple[KeptPaper, ...]:
    """Return the papers that followed the offers, of all jobs or one, the first first."""
    wanted = _papers().order_by(IssuedPapers.id)
    if job is not None:
        wanted = wanted.where(Jobs.uid == job)
    with reading(place) as connection:
        return tuple(_paper(row) for row in connection.execute(wanted))


def find(place: Place, number: str) -> KeptPaper:
    """Return one paper.

    Raises:
        UserMistake: when there is none with that number.
    """
    with reading(place) as connection:
        row = connection.execute(_papers().where(IssuedPapers.number == number)).one_or_none()
    if row is None:
        raise issued.unknown(number)
    return _paper(row)


def pdf_of(place: Place, number: str) -> bytes:
    """Return the PDF of a paper, the very bytes that went out.

    Raises:
        UserMistake: when there is no such paper.
        DamagedFile: when they are no longer those bytes.
    """
    return issued.pdf_of(place, number)


def said_by(place: Place, number: str) -> dict[str, Any]:
    """Return all that a paper says, as JSON holds it.

    Raises:
        UserMistake: when there is no such paper.
        DamagedFile: when it is no longer what was issued.
    """
    said: dict[str, Any] = json.loads(issued.content_text(place, number))
    return said


def _papers() -> Select[*tuple[Any, ...]]:
    return (
        select(
            IssuedPapers.number,
            IssuedPapers.kind,
            IssuedPapers.total_pence,
            IssuedPapers.issued_at,
            IssuedPapers.pdf_sha256,
            Jobs.uid.label("job"),
        )
        .join(Jobs, IssuedPapers.job_id == Jobs.id)
        .where(IssuedPapers.kind.in_([kind.value for kind in PaperKind]))
    )


def _paper(row: Row[Any]) -> KeptPaper:
    return KeptPaper(
        number=row.number,
        kind=PaperKind(row.kind),
        job=row.job,
        total=None if row.total_pence is None else Money(row.total_pence),
        issued_at=row.issued_at,
        pdf_sha256=row.pdf_sha256,
    )
