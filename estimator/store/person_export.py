"""Everything the file holds about one customer, to hand over: for people and for programs."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, RowMapping, select

from estimator.store.database import Database
from estimator.store.people import customer_row, drafts_of
from estimator.store.tables import Drafts, Happenings, IssuedPapers, Jobs, Photos, Surveys

VERSION = 1
OUR_OWN = ("id", "customer_id", "job_id", "survey_id", "book_id", "supersedes_id")
"""Row numbers, which mean nothing outside the file."""
DOCUMENTS = ("choices", "document", "content", "survey")
"""JSON kept as text."""
OURS = {"book": "our price list", "rules": "our rules of measuring"}
"""Of a contract: texts of the firm's own, which hold nothing of the person."""
UNFIT = re.compile(r"[^\w.-]+")


@dataclass(frozen=True, slots=True)
class PaperFile:
    """The PDF of one issued paper, to be written beside the rest."""

    name: str
    pdf: bytes


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """One photograph, to be written beside the rest."""

    name: str
    jpeg: bytes


@dataclass(frozen=True, slots=True)
class Export:
    """All that is held about one customer."""

    uid: str
    held: dict[str, Any]
    papers: tuple[PaperFile, ...]
    photos: tuple[PhotoFile, ...] = ()

    def as_json(self) -> str:
        """Return it as one JSON object."""
        return json.dumps(self.held, indent=1, ensure_ascii=False) + "\n"

    def as_text(self) -> str:
        """Return it as plain lines to read; nothing is left out that the JSON has."""
        return "\n".join(_lines(self.held)) + "\n"


def export_customer(database: Database, uid: str) -> Export:
    """Return everything held about a customer.

    Raises:
        UserMistake: when there is no such customer.
    """
    with database.reading() as connection:
        row = customer_row(connection, uid)
        jobs = (
            connection.execute(
                select(Jobs.__table__).where(Jobs.customer_id == row["id"]).order_by(Jobs.id)
            )
            .mappings()
            .all()
        )
        papers: list[PaperFile] = []
        photos: list[PhotoFile] = []
        held = {
            "perpend_customer": VERSION,
            "customer": _plain(row),
            "jobs": [
                {**_job(connection, job, papers), "photographs": _photos(connection, job, photos)}
                for job in jobs
            ],
            "drafts": _drafts(connection, [uid, *(job["uid"] for job in jobs)]),
        }
    return Export(uid, held, tuple(papers), tuple(photos))


def _job(connection: Connection, job: RowMapping, papers: list[PaperFile]) -> dict[str, Any]:
    """Return a job with its surveys and papers; their PDFs are added to the list."""
    surveys = connection.execute(
        select(Surveys.__table__).where(Surveys.job_id == job["id"]).order_by(Surveys.revision)
    ).mappings()
    issued = connection.execute(
        select(IssuedPapers.__table__)
        .where(IssuedPapers.job_id == job["id"])
        .order_by(IssuedPapers.id)
    ).mappings()
    told = []
    for row in issued:
        name = UNFIT.sub("-", f"{row['kind']}-{row['number']}") + ".pdf"
        if row["pdf"]:
            papers.append(PaperFile(name, bytes(row["pdf"])))
        told.append({**_plain(row), "pdf": name if row["pdf"] else ""})
    return {
        **_plain(job),
        "surveys": [_plain(row) for row in surveys],
        "papers": told,
        "happenings": _happenings(connection, job["id"]),
    }


def _happenings(connection: Connection, job: int) -> list[dict[str, Any]]:
    """Return what happened to a job, without what is only the firm's."""
    rows = connection.execute(
        select(Happenings.__table__).where(Happenings.job_id == job).order_by(Happenings.id)
    ).mappings()
    told = [_plain(row) for row in rows]
    for one in told:
        deed = one["document"]
        if isinstance(deed, dict) and isinstance(deed.get("contract"), dict):
            deed["contract"] |= OURS
    return told


def _photos(
    connection: Connection, job: RowMapping, photos: list[PhotoFile]
) -> list[dict[str, Any]]:
    """Return what is known of a job's photographs; the pictures are added to the list."""
    rows = connection.execute(
        select(Photos.__table__).where(Photos.job_id == job["id"]).order_by(Photos.id)
    ).mappings()
    told = []
    for row in rows:
        name = f"photograph-{row['sha256'][:12]}.jpg"
        photos.append(PhotoFile(name, bytes(row["jpeg"])))
        told.append({**_plain(row), "jpeg": name})
    return told


def _drafts(connection: Connection, uids: list[str]) -> list[dict[str, Any]]:
    keys = drafts_of(connection, uids)
    wanted = select(Drafts.__table__).where(Drafts.key.in_(keys)).order_by(Drafts.key)
    return [_plain(row) for row in connection.execute(wanted).mappings()]


def _plain(row: RowMapping) -> dict[str, Any]:
    """Return a row as JSON holds it."""
    return {name: _opened(name, value) for name, value in row.items() if name not in OUR_OWN}


def _opened(name: str, value: Any) -> Any:
    """Return a cell as JSON holds it, documents in it opened."""
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bytes):
        return ""
    if name in DOCUMENTS and isinstance(value, str):
        try:
            return _inside(json.loads(value))
        except ValueError:
            return value
    return value


def _inside(value: Any) -> Any:
    """Open the documents within a document."""
    if isinstance(value, dict):
        return {name: _opened(name, _inside(inner)) for name, inner in value.items()}
    return [_inside(inner) for inner in value] if isinstance(value, list) else value


def _lines(value: Any, depth: int = 0) -> Iterator[str]:
    """Yield a JSON group as indented lines, a name and what it holds on each."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value, start=1)
    for name, inner in pairs:
        lead = f"{'  ' * depth}{str(name).replace('_', ' ')}:"
        if isinstance(inner, dict | list) and not _is_flat(inner):
            yield lead
            yield from _lines(inner, depth + 1)
        elif isinstance(inner, str):
            # Lines that were typed stay lines, further in than what they belong to.
            indent = "\n" + "  " * (depth + 2)
            yield f"{lead} {indent.join(inner.split(chr(10)))}".rstrip()
        else:
            yield f"{lead} {json.dumps(inner)}"


def _is_flat(value: Any) -> bool:
    """Tell whether a list fits on one line: numbers, or the points of a wall."""
    if isinstance(value, list):
        return all(isinstance(one, int | float) or _is_flat(one) for one in value)
    return False
