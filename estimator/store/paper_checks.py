"""Whether issued papers are still what went out, byte for byte.

SQLite's own checks ask whether the file hangs together, not whether a letter in it has changed.
Here every hash is worked out anew, and every column is held against the hashed text, which says
again all that stands in them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Label, LargeBinary, Row, Select, cast, select
from sqlalchemy.orm import aliased
from sqlalchemy.orm.attributes import InstrumentedAttribute

from estimator.store.paper_content import sha256
from estimator.store.tables import Customers, IssuedPapers, Jobs, Numbers, PriceBooks, Surveys
from estimator.store.within import Place, reading

NO_PAPER = "its paper is gone from the file"


@dataclass(frozen=True, slots=True)
class Damage:
    """One thing about one paper that is not as it was issued."""

    number: str
    what: str


def verify(place: Place) -> tuple[Damage, ...]:
    """Work out every hash again and return each paper that is not as it was issued.

    Raises:
        WorldFault: when the file is too damaged to be read.
    """
    found: list[Damage] = []
    with reading(place) as connection:
        # One at a time: the papers of many years need not fit into memory.
        for row in connection.execute(_papers()):
            number, faults = _faults(row)
            found += [Damage(number, fault) for fault in faults]
        found += [Damage(_shown(row.number), NO_PAPER) for row in connection.execute(_orphans())]
    return tuple(found)


def _raw(column: InstrumentedAttribute[Any], name: str) -> Label[bytes]:
    """Return a cell as its bytes, because a changed one may be no text at all."""
    return cast(column, LargeBinary).label(name)


def _papers() -> Select[*tuple[Any, ...]]:
    earlier = aliased(IssuedPapers)
    return (
        select(
            _raw(IssuedPapers.number, "number"),
            _raw(IssuedPapers.kind, "kind"),
            _raw(IssuedPapers.total_pence, "total_pence"),
            _raw(IssuedPapers.content, "content"),
            _raw(IssuedPapers.content_sha256, "content_sha256"),
            _raw(IssuedPapers.pdf, "pdf"),
            _raw(IssuedPapers.pdf_sha256, "pdf_sha256"),
            _raw(IssuedPapers.issued_at, "issued_at"),
            _raw(Jobs.uid, "job"),
            _raw(Surveys.revision, "revision"),
            _raw(Surveys.document, "survey"),
            _raw(PriceBooks.uid, "price_book"),
            _raw(earlier.number, "supersedes"),
            _raw(Numbers.number, "noted_number"),
            (Surveys.job_id == IssuedPapers.job_id).label("is_jobs_own"),
            Customers.erased_at.is_not(None).label("is_erased"),
        )
        .select_from(IssuedPapers)
        .outerjoin(Jobs, IssuedPapers.job_id == Jobs.id)
        .outerjoin(Customers, Jobs.customer_id == Customers.id)
        .outerjoin(Surveys, IssuedPapers.survey_id == Surveys.id)
        .outerjoin(PriceBooks, IssuedPapers.book_id == PriceBooks.id)
        .outerjoin(earlier, IssuedPapers.supersedes_id == earlier.id)
        .outerjoin(Numbers, Numbers.paper_id == IssuedPapers.id)
        .order_by(IssuedPapers.id)
    )


def _orphans() -> Select[*tuple[Any, ...]]:
    """Return the question for numbers whose paper is not there."""
    return (
        select(_raw(Numbers.number, "number"))
        .outerjoin(IssuedPapers, Numbers.paper_id == IssuedPapers.id)
        .where(Numbers.paper_id.is_not(None), IssuedPapers.id.is_(None))
    )


def _faults(row: Row[Any]) -> tuple[str, list[str]]:
    """Return the number of a paper, and what is wrong with it."""
    if sha256(row.content or b"") != _shown(row.content_sha256):
        return _shown(row.number), ["what it says, or the hash of that, was changed"]
    try:
        said = json.loads(row.content or b"")
        number = str(said["number"])
    except (ValueError, KeyError, TypeError):
        return _shown(row.number), ["what it says cannot be read"]
    return number, list(_disagreements(row, said))


def _disagreements(row: Row[Any], said: dict[str, Any]) -> Iterator[str]:
    """Return where the columns of a paper do not say what its hashed text says."""
    is_emptied = "emptied" in said
    if is_emptied:
        said = {"pdf_sha256": sha256(b""), **said}
    if sha256(row.pdf or b"") != said.get("pdf_sha256"):
        yield "its PDF was changed"
    columns = (
        ("number", row.number, "its number was changed"),
        ("number", row.noted_number, "the number noted for it was changed"),
        ("kind", row.kind, "its kind was changed"),
        ("total_pence", row.total_pence, "its total was changed"),
        ("pdf_sha256", row.pdf_sha256, "the hash of its PDF was changed"),
        ("issued_at", row.issued_at, "its time of issue was changed"),
        ("job", row.job, "the job it is for was changed"),
        ("revision", row.revision, "the survey it is from was changed"),
        ("price_book", row.price_book, "the price book it is from was changed"),
        ("supersedes", row.supersedes, "the paper it supersedes was changed"),
    )
    for name, cell, words in columns:
        # A paper emptied when somebody was erased says less than it did.
        if is_emptied and name not in said:
            continue
        if (cell or b"") != str(said.get(name, "")).encode():
            yield words
    if is_emptied or row.revision is None:
        return
    if not row.is_jobs_own:
        yield "its survey belongs to another job"
    # The survey of somebody erased is emptied, while a paper may have to be kept for the tax.
    if not row.is_erased and (row.survey or b"") != str(said.get("survey", "")).encode():
        yield "the survey kept in its job was changed"


def _shown(cell: bytes | None) -> str:
    return (cell or b"").decode("utf-8", "replace")
