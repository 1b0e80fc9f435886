"""Papers that follow an offer: numbered without gaps, whole, hashed and never changed."""

from __future__ import annotations

import json
import random
import sqlite3
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.store import (
    attention,
    issued,
    job_list,
    jobs,
    kept_papers,
    numbering,
    paper_checks,
    people,
    search,
)
from estimator.store.database import Database, open_file
from estimator.store.faults import DamagedFile
from estimator.store.kept_papers import Made, PaperKind
from estimator.store.numbering import Fate, Series
from tests.store import work

FLIPS = 200


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    with open_file(work.fresh(quick)) as opened:
        yield opened


@pytest.fixture
def job(database: Database) -> str:
    return work.job_in(database)


def made(number: str) -> Made:
    said = {"deed": {"who": "Ines Marlowe", "how": "signed"}, "trader": {"name": "Sample"}}
    return Made(b"%PDF-1.7\n" + number.encode() * 90, said, Money.of("120.50"))


def kept(database: Database, job: str, kind: PaperKind = PaperKind.INVOICE) -> str:
    return kept_papers.keep(database, kind, job=job, make=made, now=work.at_nine).number


@pytest.mark.parametrize(
    ("kind", "first"),
    [
        (PaperKind.VARIATION, "V-0001"),
        (PaperKind.INVOICE, "I-0001"),
        (PaperKind.CREDIT_NOTE, "C-0001"),
        *((kind, "S-0001") for kind in PaperKind if kind.series is Series.SHEET),
    ],
)
def test_each_kind_has_its_run_of_numbers(
    database: Database, job: str, kind: PaperKind, first: str
) -> None:
    assert kept(database, job, kind) == first
    assert str(numbering.read(first.lower())) == first
    (paper,) = kept_papers.list_papers(database, job=job)
    assert (paper.kind, paper.job, paper.total) == (kind, job, Money.of("120.50"))
    assert paper.issued_at == work.MORNING


def test_a_paper_is_kept_with_all_it_says(database: Database, job: str) -> None:
    number = kept(database, job)
    assert kept_papers.pdf_of(database, number) == made(number).pdf
    said = kept_papers.said_by(database, number)
    assert said["deed"] == {"who": "Ines Marlowe", "how": "signed"}
    assert (said["number"], said["total_pence"], said["kind"]) == ("I-0001", 12050, "invoice")
    assert paper_checks.verify(database) == ()


def test_a_paper_about_no_money_has_no_total(database: Database, job: str) -> None:
    def sheet(_number: str) -> Made:
        return Made(b"%PDF", {})

    paper = kept_papers.keep(database, PaperKind.SITE_SHEET, job=job, make=sheet)
    assert paper.total is None
    assert paper_checks.verify(database) == ()


class Jammed(Exception):
    """Raised on purpose."""


def test_a_paper_that_cannot_be_made_uses_no_number_up(database: Database, job: str) -> None:
    def jams(_number: str) -> Made:
        raise Jammed

    for _turn in range(3):
        kept(database, job)
        with pytest.raises(Jammed):
            kept_papers.keep(database, PaperKind.INVOICE, job=job, make=jams)
    told = numbering.explain(database, Series.INVOICE)
    assert [(one.first, one.fate) for one in told] == [
        ("I-0001", Fate.ISSUED), ("I-0002", Fate.ISSUED), ("I-0003", Fate.ISSUED),
    ]  # fmt: skip
    assert len(kept_papers.list_papers(database)) == 3


def test_offers_and_later_papers_are_listed_apart(database: Database, job: str) -> None:
    work.issued_for(database, job)
    kept(database, job)
    kept(database, work.job_in(database))
    assert [one.number for one in issued.list_papers(database)] == ["Q-0001"]
    assert [one.number for one in kept_papers.list_papers(database)] == ["I-0001", "I-0002"]
    assert [one.number for one in kept_papers.list_papers(database, job=job)] == ["I-0001"]
    with pytest.raises(UserMistake, match="no paper 'I-0001'"):
        issued.find(database, "I-0001")
    with pytest.raises(UserMistake, match="no paper 'Q-0001'"):
        kept_papers.find(database, "Q-0001")


def test_no_offer_takes_the_place_of_a_later_paper(database: Database, job: str) -> None:
    kept(database, job)
    with pytest.raises(UserMistake, match="no paper 'I-0001'"):
        work.issued_for(database, job, supersedes="I-0001")


def test_the_page_of_jobs_shows_the_last_offer(database: Database, job: str) -> None:
    work.issued_for(database, job)
    kept(database, job)
    (line,) = job_list.list_jobs(database)
    assert line.paper is not None
    assert line.paper.number == "Q-0001"
    jobs.move(database, job, jobs.Stage.OFFERED)
    day = date(2027, 3, 1)
    lasting = attention.Attention(1, 7, 5, 600)
    (needed,) = attention.needs_me(database, day, times=lasting)
    assert needed.reason is attention.Reason.LAPSED


def test_a_job_is_found_by_the_number_of_a_later_paper(database: Database, job: str) -> None:
    number = kept(database, job)
    work.job_in(database)
    assert [one.uid for one in job_list.list_jobs(database, typed=number)] == [job]
    (hit,) = search.find(database, number, kinds=[search.Kind.PAPER])
    assert hit.code == number


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE issued_papers SET content = '{}'",
        "DELETE FROM issued_papers",
        "REPLACE INTO issued_papers SELECT id, number, kind, job_id, survey_id, book_id, 1,"
        " content, content_sha256, pdf, pdf_sha256, issued_at, supersedes_id FROM issued_papers",
    ],
)
def test_the_file_itself_keeps_papers_as_they_are(
    database: Database, job: str, statement: str
) -> None:
    kept(database, job)
    with pytest.raises(sqlite3.IntegrityError, match="an issued paper is never"):
        database.raw.execute(statement)


CELLS = ("number", "kind", "total_pence", "content", "content_sha256", "pdf", "pdf_sha256")


def test_each_of_200_flipped_bits_is_reported_by_number(database: Database, job: str) -> None:
    numbers = [kept(database, job, kind) for kind in (PaperKind.INVOICE, PaperKind.VARIATION)]
    database.raw.execute("DROP TRIGGER tr_issued_papers_frozen")
    seed = 21
    chance = random.Random(seed)
    for turn in range(FLIPS):
        column, row = CELLS[turn % len(CELLS)], chance.randint(1, 2)
        (old,) = database.raw.execute(
            f"SELECT {column} FROM issued_papers WHERE id = ?", (row,)
        ).fetchone()
        if isinstance(old, int):
            new: object = old ^ 1 << chance.randrange(40)
        else:
            raw = bytearray(old.encode() if isinstance(old, str) else old)
            raw[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
            new = bytes(raw)
        cast = "?" if column in {"pdf", "total_pence"} else "CAST(? AS TEXT)"
        change = f"UPDATE issued_papers SET {column} = {cast} WHERE id = ?"
        database.raw.execute(change, (new, row))
        found = {one.number for one in paper_checks.verify(database)}
        assert numbers[row - 1] in found, f"seed {seed}, turn {turn}: {column} of {row}"
        database.raw.execute(f"UPDATE issued_papers SET {column} = ? WHERE id = ?", (old, row))
    assert paper_checks.verify(database) == ()


def test_changed_bytes_are_not_handed_out(database: Database, job: str) -> None:
    number = kept(database, job)
    database.raw.execute("DROP TRIGGER tr_issued_papers_frozen")
    database.raw.execute("UPDATE issued_papers SET pdf = zeroblob(9), content = content || ' '")
    for ask in (kept_papers.pdf_of, kept_papers.said_by):
        with pytest.raises(DamagedFile, match="I-0001 is no longer as it was issued"):
            ask(database, number)


@pytest.mark.parametrize("today", [date(2027, 1, 1), date(2045, 1, 1)])
def test_papers_of_somebody_erased_are_no_damage(database: Database, job: str, today: date) -> None:
    number = kept(database, job)
    customer = jobs.find(database, job).customer
    assert customer is not None
    people.erase_customer(database, customer, today=today)
    assert paper_checks.verify(database) == ()
    (paper,) = kept_papers.list_papers(database)
    assert (paper.number, paper.total) == (number, Money.of("120.50"))
    said = json.dumps(kept_papers.said_by(database, number))
    assert "Ines" not in said
    # Within the years the tax office may ask for it, the paper itself stays to the byte.
    expected = made(number).pdf if today.year == 2027 else b""
    assert kept_papers.pdf_of(database, number) == expected
