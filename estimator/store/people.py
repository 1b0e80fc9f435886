"""What the file holds about one customer: handing all of it over, and taking it out again.

The law lets a person ask for both. An erasure keeps what the tax office may still ask for, says
until when, and empties the rest in one transaction; the file is then written anew, so that nothing
is left in pages that are no longer used.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time
from typing import Any

from sqlalchemy import (
    Connection,
    RowMapping,
    Select,
    delete,
    func,
    insert,
    or_,
    select,
    update,
)
from sqlalchemy.orm import InstrumentedAttribute

from estimator.notices import UserMistake
from estimator.store import emptied, happenings, indexing, photos, retention
from estimator.store.database import Database
from estimator.store.emptied import ERASED
from estimator.store.jobs import Stage
from estimator.store.paper_content import sha256
from estimator.store.retention import Keeping
from estimator.store.tables import (
    Customers,
    Drafts,
    Facts,
    Happenings,
    IssuedPapers,
    Jobs,
    Numbers,
    Surveys,
)

PERSONAL = ("name", "address", "telephone", "email", "vat_number")
"""What a customer can be told by."""
ERASING = "erasing"
"""The fact that lets issued papers and accepted surveys be changed, for one transaction."""
OPEN = (Stage.ENQUIRY.value, Stage.SURVEYED.value, Stage.OFFERED.value, Stage.ACCEPTED.value)
FEWEST_LETTERS = 8
"""Of the file's own name for a customer, that may stand for all of it."""
MOST_NAMED = 8
"""Customers listed when a part of a name fits several."""


@dataclass(frozen=True, slots=True)
class Person:
    """One customer, by the file's name for them and their own."""

    uid: str
    name: str


@dataclass(frozen=True, slots=True)
class Paper:
    """An issued paper that an erasure keeps or empties."""

    number: str
    issued: date
    total_pence: int | None
    until: date
    """Last day on which the tax office may ask for it."""


@dataclass(frozen=True, slots=True)
class Erased:
    """What goes, or has gone, and what stays."""

    uid: str
    jobs: int
    surveys: int
    drafts: int
    kept: tuple[Paper, ...]
    emptied: tuple[Paper, ...]
    open_jobs: tuple[str, ...] = ()
    """Names in the file of jobs that are not finished."""
    mentions: tuple[str, ...] = ()
    """Other places that hold the person's name, telephone or e-mail; left as they are."""
    photos: int = 0
    """Photographs that go; those printed in a paper that is kept stay with it."""
    happenings: int = 0
    """Deeds that names and remarks are taken out of; figures and days stay."""
    is_written_anew: bool = False
    """False when there was no room to write the file anew; erased pages are blank all the same."""


def person(database: Database, words: str) -> Person:
    """Return the one customer meant by a part of a name, or by how the file names them.

    Raises:
        UserMistake: when none or several fit.
    """
    wanted = words.strip()
    columns = select(Customers.uid, Customers.name)
    with database.reading() as connection:
        named = connection.execute(
            columns.where(Customers.uid.startswith(wanted, autoescape=True))
            if len(wanted) >= FEWEST_LETTERS
            else columns.where(Customers.uid == wanted)
        ).all()
        rows = connection.execute(columns.where(Customers.erased_at.is_(None))).all()
    # Compared here, because SQLite only knows the small letters of English.
    fit = [Person(*row) for row in rows if wanted and wanted.casefold() in row.name.casefold()]
    whole = [one for one in fit if one.name.casefold() == wanted.casefold()]
    found = (whole if len(whole) == 1 else fit) or [Person(*row) for row in named]
    if len(found) == 1:
        return found[0]
    if not found:
        raise UserMistake(
            f"no customer is called '{wanted[:60]}'", do="write another part of the name"
        )
    shown = ", ".join(f"{one.name} ({one.uid[:FEWEST_LETTERS]})" for one in found[:MOST_NAMED])
    raise UserMistake(
        f"'{wanted[:60]}' fits {len(found)} customers",
        why=f"these are there: {shown}",
        do="write the letters and digits that stand behind the name",
    )


def to_erase(database: Database, uid: str, *, today: date, kept: Keeping | None = None) -> Erased:
    """Return what an erasure would remove and keep; nothing is changed.

    Raises:
        UserMistake: when there is no such customer.
    """
    with database.reading() as connection:
        return _plan(connection, uid, today=today, kept=kept or retention.keeping())


def erase_customer(
    database: Database, uid: str, *, today: date, kept: Keeping | None = None
) -> Erased:
    """Take a person out of the file, but for what tax needs.

    Contact details and everything typed about them go: from the customer, their jobs, drafts,
    every revision of every survey, what happened to their jobs, and the words one searches by. A
    paper that tax still needs keeps its prices, its PDF to the byte and the photographs it names;
    an older one keeps number, date and total. All other photographs go. Asking again later empties
    the papers that have grown old since.

    Raises:
        UserMistake: when there is no such customer.
        WorldFault: when the disk would not take it; nothing is then erased.
    """
    kept = kept or retention.keeping()
    with database.writing() as connection:
        done = _plan(connection, uid, today=today, kept=kept)
        row = customer_row(connection, uid)
        connection.execute(insert(Facts).values(name=ERASING, value=uid))
        words = _words(connection, row)
        _empty_surveys(connection, row["id"], words)
        happenings.empty(connection, row["id"], words)
        photos.erase(connection, _photos(connection, row["id"], done.emptied))
        for paper in (*done.kept, *done.emptied):
            _empty_paper(connection, paper, words=words, today=today)
        _empty_rows(connection, row, datetime.combine(today, time(), UTC))
        indexing.forget(connection)
        connection.execute(delete(Facts).where(Facts.name == ERASING))
    return replace(done, is_written_anew=_write_anew(database.raw))


def customer_row(connection: Connection, uid: str) -> RowMapping:
    """Return the row of a customer.

    Raises:
        UserMistake: when there is none of that name.
    """
    wanted = select(Customers.__table__).where(Customers.uid == uid)
    row = connection.execute(wanted).mappings().one_or_none()
    if row is None:
        raise UserMistake(
            f"there is no customer '{uid[:40]}' in the file", do="choose one from the list"
        )
    return row


def _plan(connection: Connection, uid: str, *, today: date, kept: Keeping) -> Erased:
    """Work out what goes and what stays."""
    row = customer_row(connection, uid)
    jobs = connection.execute(
        select(Jobs.id, Jobs.uid, Jobs.stage).where(Jobs.customer_id == row["id"])
    ).all()
    papers = _papers(connection, row["id"], kept)
    going = tuple(paper for paper in papers if paper.until < today)
    surveys = select(func.count()).select_from(Surveys).join(Jobs, Jobs.id == Surveys.job_id)
    return Erased(
        uid=uid,
        jobs=len(jobs),
        surveys=connection.scalar(surveys.where(Jobs.customer_id == row["id"])) or 0,
        drafts=len(drafts_of(connection, [uid, *(job.uid for job in jobs)])),
        kept=tuple(paper for paper in papers if paper.until >= today),
        emptied=going,
        open_jobs=tuple(job.uid for job in jobs if job.stage in OPEN),
        mentions=_mentions(connection, row),
        photos=len(_photos(connection, row["id"], going)),
        happenings=happenings.count(connection, row["id"]),
    )


def _papers(connection: Connection, customer: int, kept: Keeping) -> tuple[Paper, ...]:
    """Return the papers issued to a customer that still hold the person."""
    rows = connection.execute(
        select(IssuedPapers.number, IssuedPapers.issued_at, IssuedPapers.total_pence)
        .join(Jobs, Jobs.id == IssuedPapers.job_id)
        .where(Jobs.customer_id == customer, func.length(IssuedPapers.pdf) > 0)
        .order_by(IssuedPapers.id)
    )
    return tuple(
        Paper(
            row.number,
            row.issued_at.date(),
            row.total_pence,
            retention.kept_until(row.issued_at.date(), kept),
        )
        for row in rows
    )


def _photos(connection: Connection, customer: int, going: Sequence[Paper]) -> tuple[int, ...]:
    """Return the rows of the photographs that go with a customer."""
    return photos.going(connection, customer, emptied=[paper.number for paper in going])


def drafts_of(connection: Connection, uids: Iterable[str]) -> tuple[str, ...]:
    """Return the keys of drafts that name a customer or a job of theirs."""
    named = [
        or_(func.instr(Drafts.key, uid) > 0, func.instr(Drafts.document, uid) > 0) for uid in uids
    ]
    return tuple(connection.scalars(select(Drafts.key).where(or_(*named)).order_by(Drafts.key)))


def _words(connection: Connection, row: RowMapping) -> tuple[str, ...]:
    """Return the words a customer is told by, from all that is theirs."""
    sites = connection.scalars(select(Jobs.site).where(Jobs.customer_id == row["id"]))
    documents = connection.scalars(_surveys(row["id"]).with_only_columns(Surveys.document))
    return emptied.own_words(
        [
            *(row[name] for name in PERSONAL),
            *sites,
            *(word for document in documents for word in emptied.party_words(document)),
        ]
    )


def _surveys(customer: int) -> Select[int, str]:
    return (
        select(Surveys.id, Surveys.document)
        .join(Jobs, Jobs.id == Surveys.job_id)
        .where(Jobs.customer_id == customer)
    )


def _empty_surveys(connection: Connection, customer: int, words: Sequence[str]) -> None:
    """Empty every revision of every survey of a customer's jobs."""
    for survey in connection.execute(_surveys(customer)).all():
        connection.execute(
            update(Surveys)
            .where(Surveys.id == survey.id)
            .values(document=emptied.survey(survey.document, words), why=ERASED)
        )


def _empty_paper(
    connection: Connection, paper: Paper, *, words: Sequence[str], today: date
) -> None:
    """Take the person out of what a paper says; out of its PDF too once nobody may ask for it."""
    this = IssuedPapers.number == paper.number
    content = connection.scalar(select(IssuedPapers.content).where(this)) or ""
    values: dict[str, Any] = {}
    if paper.until < today:
        values = {"pdf": b"", "pdf_sha256": sha256(b"")}
        content = emptied.old_paper(content, number=paper.number, emptied=today)
    else:
        content = emptied.kept_paper(content, words=words, emptied=today)
    values |= {"content": content, "content_sha256": sha256(content.encode())}
    connection.execute(update(IssuedPapers).where(this).values(**values))


def _empty_rows(connection: Connection, row: RowMapping, at: datetime) -> None:
    """Empty the customer and their jobs, and throw their drafts away."""
    of_them = Jobs.customer_id == row["id"]
    uids = [row["uid"], *connection.scalars(select(Jobs.uid).where(of_them))]
    connection.execute(delete(Drafts).where(Drafts.key.in_(drafts_of(connection, uids))))
    connection.execute(
        update(Jobs).where(of_them).values(title=ERASED, site="", notes="", choices="")
    )
    connection.execute(
        update(Customers)
        .where(Customers.id == row["id"])
        .values(
            name=ERASED,
            address="",
            telephone="",
            email="",
            vat_number="",
            notes="",
            changed_at=at,
            erased_at=row["erased_at"] or at,
        )
    )


def _write_anew(raw: sqlite3.Connection) -> bool:
    """Write the file anew without its unused pages, which may hold what was erased."""
    try:
        raw.execute("PRAGMA secure_delete = ON")
        raw.execute("VACUUM")
    except sqlite3.OperationalError:
        # The erasure itself is safe, and erased pages were blanked by it: only the file is larger.
        return False
    return True


def _mentions(connection: Connection, row: RowMapping) -> tuple[str, ...]:
    """Return where else the person is named, by the file's own names for the places."""
    plain = emptied.own_words(row[name] for name in ("name", "telephone", "email"))
    if not plain:
        return ()
    # In JSON, other letters than those of English may be written as numbers.
    words = tuple(dict.fromkeys(way for word in plain for way in (word, json.dumps(word)[1:-1])))
    other_jobs = or_(Jobs.customer_id.is_(None), Jobs.customer_id != row["id"])

    def holds(*columns: InstrumentedAttribute[str]) -> Any:
        return or_(
            *(column.contains(word, autoescape=True) for column in columns for word in words)
        )

    customers = select(Customers.uid).where(
        Customers.id != row["id"], holds(Customers.name, Customers.address, Customers.notes)
    )
    jobs = select(Jobs.uid).where(other_jobs, holds(Jobs.title, Jobs.site, Jobs.notes))
    surveys = (
        select(Jobs.uid)
        .join(Surveys, Surveys.job_id == Jobs.id)
        .where(other_jobs, holds(Surveys.document, Surveys.why))
        .distinct()
    )
    deeds = (
        select(Jobs.uid)
        .join(Happenings, Happenings.job_id == Jobs.id)
        .where(other_jobs, holds(Happenings.document))
        .distinct()
    )
    numbers = select(Numbers.number).where(holds(Numbers.reason))
    of_them = select(Jobs.uid).where(Jobs.customer_id == row["id"])
    theirs = drafts_of(connection, [row["uid"], *connection.scalars(of_them)])
    drafts = select(Drafts.key).where(Drafts.key.not_in(theirs), holds(Drafts.document))
    return tuple(
        f"{what} {uid}"
        for what, wanted in (
            ("customer", customers),
            ("job", jobs),
            ("a survey of job", surveys),
            ("what happened to job", deeds),
            ("the reason for the gap at number", numbers),
            ("draft", drafts),
        )
        for uid in connection.scalars(wanted)
    )
