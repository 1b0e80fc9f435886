"""Issued quotations and estimates: what was offered, never changed, only superseded.

A paper, its number and its PDF come into the file in one transaction, or none of them does. What
the paper says is kept as one hashed text, with the hash of the PDF in it, so that a changed byte
anywhere in a paper is noticed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, func, insert, select
from sqlalchemy.orm import aliased

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.quoting.quotation import Paper, Quotation
from estimator.store import clock, happenings, jobs, numbering
from estimator.store.clock import Clock
from estimator.store.faults import DamagedFile
from estimator.store.numbering import Series
from estimator.store.paper_checks import Damage, verify
from estimator.store.paper_content import Circumstances, content_of, sha256, total_pence
from estimator.store.tables import IssuedPapers, Jobs, PriceBooks, Surveys
from estimator.store.within import Place, reading, writing
from estimator.survey import survey_file

__all__ = [
    "Damage",
    "IssuedPaper",
    "Origin",
    "content_text",
    "find",
    "issue",
    "list_papers",
    "pdf_of",
    "verify",
]

OFFERS = tuple(paper.value for paper in Paper)
"""Kinds of paper kept here; ``kept_papers`` has all that come after an offer."""
SERIES = {Paper.QUOTATION: Series.QUOTATION, Paper.ESTIMATE: Series.ESTIMATE}
MakePdf = Callable[[Quotation], bytes]
"""Renders a quotation that has its number."""


@dataclass(frozen=True, slots=True)
class Origin:
    """What a paper is made from."""

    job: str
    """The job's uid."""
    revision: int
    """Of the job's survey."""
    price_book: str = ""
    """The price book's uid; empty for the rates that come with the program."""
    supersedes: str = ""
    """Number of the paper this one takes the place of."""


@dataclass(frozen=True, slots=True)
class IssuedPaper:
    """One paper as the list shows it."""

    number: str
    kind: Paper
    origin: Origin
    total: Money
    """Of the first option on it, tax in. [£]"""
    issued_at: datetime
    content_sha256: str
    pdf_sha256: str
    superseded_by: str = ""
    """Number of the paper that took its place."""


def issue(
    place: Place,
    quotation: Quotation,
    *,
    origin: Origin,
    make_pdf: MakePdf,
    now: Clock = clock.now,
) -> IssuedPaper:
    """Give a quotation or estimate its number, make its PDF, and keep both for good.

    Args:
        place: The file, or a transaction under way.
        quotation: What is offered; any number on it is replaced.
        origin: What it was made from.
        make_pdf: Called with the numbered quotation, inside the transaction.
        now: The time.

    Raises:
        UserMistake: where no price may be given, for a job, revision or price book there is not,
            or a paper that cannot be superseded: one that was accepted stays, unless that was
            cancelled.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    if not quotation.options:
        raise UserMistake(
            "there is nothing to issue",
            why=f"no price is given for a wall with the route '{quotation.assessment.route.value}'",
            do="see what is said about the wall",
        )
    with writing(place) as connection:
        keys = _keys(connection, quotation, origin)
        number = numbering.take(connection, SERIES[quotation.paper])
        numbered, at = replace(quotation, number=str(number)), now()
        pdf = make_pdf(numbered)
        made = Circumstances(
            number=str(number),
            issued_at=at,
            job=origin.job,
            revision=origin.revision,
            price_book=origin.price_book,
            supersedes=origin.supersedes,
            pdf_sha256=sha256(pdf),
        )
        key = _put_in(connection, numbered, (made, pdf), keys)
        numbering.note_paper(connection, number, key, now=lambda: at)
        return find(connection, str(number))


def list_papers(place: Place, *, job: str | None = None) -> tuple[IssuedPaper, ...]:
    """Return every quotation and estimate, or those of one job, in the order they were issued."""
    wanted = _papers().order_by(IssuedPapers.id)
    if job is not None:
        wanted = wanted.where(Jobs.uid == job)
    with reading(place) as connection:
        return tuple(_paper(row) for row in connection.execute(wanted))


def find(place: Place, number: str) -> IssuedPaper:
    """Return one paper.

    Raises:
        UserMistake: when there is none with that number.
    """
    with reading(place) as connection:
        row = connection.execute(_papers().where(IssuedPapers.number == number)).one_or_none()
    if row is None:
        raise unknown(number)
    return _paper(row)


def pdf_of(place: Place, number: str) -> bytes:
    """Return the PDF of a paper, the very bytes that went out.

    Raises:
        UserMistake: when there is no such paper.
        DamagedFile: when they are no longer those bytes.
    """
    wanted = select(IssuedPapers.pdf, IssuedPapers.pdf_sha256).where(IssuedPapers.number == number)
    with reading(place) as connection:
        row = connection.execute(wanted).one_or_none()
    if row is None:
        raise unknown(number)
    if sha256(row.pdf) != row.pdf_sha256:
        raise _changed(number)
    return bytes(row.pdf)


def content_text(place: Place, number: str) -> str:
    """Return all that a paper says, as JSON.

    Raises:
        UserMistake: when there is no such paper.
        DamagedFile: when it is no longer what was issued.
    """
    wanted = select(IssuedPapers.content, IssuedPapers.content_sha256)
    with reading(place) as connection:
        row = connection.execute(wanted.where(IssuedPapers.number == number)).one_or_none()
    if row is None:
        raise unknown(number)
    if sha256(row.content.encode()) != row.content_sha256:
        raise _changed(number)
    return str(row.content)


def _put_in(
    connection: Connection,
    numbered: Quotation,
    paper: tuple[Circumstances, bytes],
    keys: dict[str, int | None],
) -> int:
    """Put a paper into the file, hashed, and return the row it is in."""
    made, pdf = paper
    content = content_of(numbered, made)
    key: int | None = connection.scalar(
        insert(IssuedPapers)
        .values(
            number=made.number,
            kind=numbered.paper.value,
            total_pence=total_pence(numbered),
            content=content,
            content_sha256=sha256(content.encode()),
            pdf=pdf,
            pdf_sha256=made.pdf_sha256,
            issued_at=made.issued_at,
            **keys,
        )
        .returning(IssuedPapers.id)
    )
    assert key is not None
    return key


def _keys(connection: Connection, quotation: Quotation, origin: Origin) -> dict[str, int | None]:
    """Return the rows a paper hangs on, having made sure that it is from them."""
    job = jobs.key_of(connection, origin.job)
    return {
        "job_id": job,
        "survey_id": _survey_key(connection, job, quotation, origin),
        "book_id": _book_key(connection, origin.price_book),
        "supersedes_id": _superseded_key(connection, job, origin),
    }


def _survey_key(connection: Connection, job: int, quotation: Quotation, origin: Origin) -> int:
    wanted = select(Surveys.id, Surveys.document).where(
        Surveys.job_id == job, Surveys.revision == origin.revision
    )
    row = connection.execute(wanted).one_or_none()
    if row is None:
        raise UserMistake(
            f"the job has no revision {origin.revision} of its survey", do="choose another"
        )
    if row.document != survey_file.write(quotation.survey):
        raise ValueError("a paper is issued from the very survey it names")
    return int(row.id)


def _book_key(connection: Connection, uid: str) -> int | None:
    if not uid:
        return None
    key = connection.scalar(select(PriceBooks.id).where(PriceBooks.uid == uid))
    if key is None:
        raise UserMistake("the price book is not in the file", do="choose another")
    return key


def _superseded_key(connection: Connection, job: int, origin: Origin) -> int | None:
    number = origin.supersedes
    if not number:
        return None
    wanted = select(IssuedPapers.id, IssuedPapers.job_id).where(
        IssuedPapers.number == number, IssuedPapers.kind.in_(OFFERS)
    )
    row = connection.execute(wanted).one_or_none()
    if row is None:
        raise unknown(number)
    if row.job_id != job:
        raise UserMistake(f"{number} is a paper of another job", do="choose one of this job")
    later = select(IssuedPapers.number).where(IssuedPapers.supersedes_id == row.id)
    taken = connection.scalar(later)
    if taken is not None:
        raise UserMistake(f"{number} is superseded already", do=f"supersede {taken} instead")
    _check_not_accepted(connection, origin)
    return int(row.id)


def _check_not_accepted(connection: Connection, origin: Origin) -> None:
    """Refuse to take the place of what was agreed, unless that was cancelled."""
    come_to = happenings.so_far(connection, origin.job)
    contract = come_to.contract
    if contract is None or come_to.called_off is not None:
        return
    if contract.quotation == origin.supersedes:
        raise UserMistake(
            f"no paper can take the place of {contract.quotation}",
            why=f"it was accepted on {contract.accepted_on.isoformat()}",
            do="write what changes as a variation, or begin a job of its own for other work",
        )


def _papers() -> Select[*tuple[Any, ...]]:
    earlier, later = aliased(IssuedPapers), aliased(IssuedPapers)
    return (
        select(
            IssuedPapers.number,
            IssuedPapers.kind,
            IssuedPapers.total_pence,
            IssuedPapers.issued_at,
            IssuedPapers.content_sha256,
            IssuedPapers.pdf_sha256,
            Jobs.uid.label("job"),
            Surveys.revision,
            func.coalesce(PriceBooks.uid, "").label("price_book"),
            func.coalesce(earlier.number, "").label("supersedes"),
            func.coalesce(later.number, "").label("superseded_by"),
        )
        .join(Jobs, IssuedPapers.job_id == Jobs.id)
        .outerjoin(Surveys, IssuedPapers.survey_id == Surveys.id)
        .outerjoin(PriceBooks, IssuedPapers.book_id == PriceBooks.id)
        .outerjoin(earlier, IssuedPapers.supersedes_id == earlier.id)
        .outerjoin(later, later.supersedes_id == IssuedPapers.id)
        .where(IssuedPapers.kind.in_(OFFERS))
    )


def _paper(row: Row[Any]) -> IssuedPaper:
    return IssuedPaper(
        number=row.number,
        kind=Paper(row.kind),
        origin=Origin(row.job, row.revision, row.price_book, row.supersedes),
        total=Money(row.total_pence),
        issued_at=row.issued_at,
        content_sha256=row.content_sha256,
        pdf_sha256=row.pdf_sha256,
        superseded_by=row.superseded_by,
    )


def unknown(number: str) -> UserMistake:
    """Return what to say about a paper there is not."""
    return UserMistake(
        f"there is no paper '{number[:40]}' in the file",
        do="see the list with the command data papers",
    )


def _changed(number: str) -> DamagedFile:
    return DamagedFile(
        f"{number} is no longer as it was issued",
        why="bytes of it were changed",
        do="take it from a good backup",
    )
