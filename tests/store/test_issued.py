"""Issued papers: whole, hashed, superseded and never changed; every changed byte is found."""

from __future__ import annotations

import hashlib
import json
import random
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from estimator.documents.quotation import render
from estimator.money import Money
from estimator.notices import UserMistake, WorldFault
from estimator.quoting.quotation import Paper
from estimator.store import issued, jobs, numbering, people, price_books
from estimator.store.database import Database, open_file
from estimator.store.faults import DamagedFile
from estimator.store.issued import Origin
from estimator.store.numbering import Series
from tests.store import work

GUARDS = ("tr_issued_papers_frozen", "tr_numbers_frozen")
FLIPS = 200


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    with open_file(work.fresh(quick)) as opened:
        yield opened


def content(database: Database, number: str) -> dict[str, object]:
    return json.loads(issued.content_text(database, number))


def unguarded(database: Database) -> None:
    """Take the guards off, as a stray program or a failing disk asks none."""
    for name in GUARDS:
        database.raw.execute(f"DROP TRIGGER {name}")


def test_a_paper_is_kept_with_all_it_says(database: Database) -> None:
    job = work.job_in(database)
    paper = work.issued_for(database, job)
    quoted = work.quotation()
    said = content(database, "Q-0001")
    assert (paper.number, paper.kind, paper.issued_at) == (
        "Q-0001", Paper.QUOTATION, work.MORNING,
    )  # fmt: skip
    assert paper.total == quoted.options[0].offer.total
    assert said["survey"] == work.survey_text()
    assert said["quotation"]["trader"]["name"] == "Sample Masonry"
    options = said["quotation"]["options"]
    assert [one["offer"]["total"] for one in options] == [
        str(one.offer.total) for one in quoted.options
    ]
    for told, option in zip(options, quoted.options, strict=True):
        amounts = [Money.of(line["amount"]) for line in told["offer"]["lines"]]
        assert amounts == [line.amount for line in option.offer.lines]


def test_hashes_are_those_anybody_can_work_out(database: Database) -> None:
    paper = work.issued_for(database, work.job_in(database))
    text = issued.content_text(database, paper.number)
    pdf = issued.pdf_of(database, paper.number)
    assert paper.content_sha256 == hashlib.sha256(text.encode()).hexdigest()
    assert paper.pdf_sha256 == hashlib.sha256(pdf).hexdigest()
    assert json.loads(text)["pdf_sha256"] == paper.pdf_sha256
    again = json.dumps(json.loads(text), ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    assert again == text


def test_the_pdf_is_made_with_the_number_it_is_kept_under(database: Database) -> None:
    job = work.job_in(database)
    paper = issued.issue(database, work.quotation(), origin=Origin(job, 1), make_pdf=render)
    numbered = replace(work.quotation(), number="Q-0001")
    assert issued.pdf_of(database, paper.number) == render(numbered)


def test_a_paper_names_the_price_book_it_is_from(database: Database) -> None:
    job = work.job_in(database)
    book = price_books.installed(database)
    origin = Origin(job, 1, price_book=book.uid)
    paper = issued.issue(database, work.quotation(), origin=origin, make_pdf=work.pdf)
    assert content(database, paper.number)["price_book"] == book.uid
    assert paper.origin == origin
    assert issued.verify(database) == ()


def test_a_paper_is_superseded_and_stays(database: Database) -> None:
    job = work.job_in(database)
    first = work.issued_for(database, job)
    second = work.issued_for(database, job, supersedes=first.number)
    old, new = issued.list_papers(database)
    assert (old.superseded_by, new.origin.supersedes) == (second.number, first.number)
    assert issued.pdf_of(database, first.number) == work.pdf(
        replace(work.quotation(), number=first.number)
    )


def test_only_a_paper_of_the_job_is_superseded_and_once(database: Database) -> None:
    job, other = work.job_in(database), work.job_in(database)
    work.issued_for(database, job)
    with pytest.raises(UserMistake, match="Q-0001 is a paper of another job"):
        work.issued_for(database, other, supersedes="Q-0001")
    with pytest.raises(UserMistake, match="there is no paper 'Q-0009'"):
        work.issued_for(database, job, supersedes="Q-0009")
    work.issued_for(database, job, supersedes="Q-0001")
    with pytest.raises(UserMistake, match="superseded already; supersede Q-0002 instead"):
        work.issued_for(database, job, supersedes="Q-0001")
    assert numbering.next_value(database, Series.QUOTATION) == 3


def test_nothing_is_issued_where_no_price_is_given(database: Database) -> None:
    job = work.job_in(database, "refer")
    with pytest.raises(UserMistake, match="there is nothing to issue because no price is given"):
        work.issued_for(database, job, name="refer")
    assert issued.list_papers(database) == ()


def test_a_paper_needs_a_job_a_revision_and_a_book_that_are_there(database: Database) -> None:
    job = work.job_in(database)
    for origin, said in (
        (Origin("nothing", 1), "there is no job"),
        (Origin(job, 2), "no revision 2"),
        (Origin(job, 1, price_book="nothing"), "price book is not in the file"),
    ):
        with pytest.raises(UserMistake, match=said):
            issued.issue(database, work.quotation(), origin=origin, make_pdf=work.pdf)


def test_a_paper_is_not_issued_from_another_survey_than_it_names(database: Database) -> None:
    job = work.job_in(database)
    jobs.accept_survey(database, job, work.changed_survey("It grows."), why="a call")
    with pytest.raises(ValueError, match="from the very survey it names"):
        issued.issue(database, work.quotation(), origin=Origin(job, 2), make_pdf=work.pdf)


def test_a_paper_there_is_not_is_told_in_words(database: Database) -> None:
    for ask in (issued.find, issued.pdf_of, issued.content_text):
        with pytest.raises(UserMistake, match="there is no paper 'Q-9' in the file; see the list"):
            ask(database, "Q-9")


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE issued_papers SET content = '{}'",
        "UPDATE issued_papers SET total_pence = total_pence + 1",
        "UPDATE OR REPLACE issued_papers SET number = 'Q-0002' WHERE number = 'Q-0001'",
        "DELETE FROM issued_papers WHERE number = 'Q-0004'",
        "REPLACE INTO issued_papers SELECT id, number, kind, job_id, survey_id, book_id, 1,"
        " content, content_sha256, pdf, pdf_sha256, issued_at, supersedes_id FROM issued_papers",
        "REPLACE INTO issued_papers SELECT id + 9, number, kind, job_id, survey_id, book_id, 1,"
        " content, content_sha256, pdf, pdf_sha256, issued_at, NULL FROM issued_papers",
        "REPLACE INTO issued_papers SELECT id + 9, 'Q-9', kind, job_id, survey_id, book_id, 1,"
        " content, content_sha256, pdf, pdf_sha256, issued_at, supersedes_id FROM issued_papers"
        " WHERE supersedes_id IS NOT NULL",
    ],
)
def test_the_file_itself_keeps_papers_as_they_are(database: Database, statement: str) -> None:
    work.busy(database)
    before = issued.list_papers(database)
    with pytest.raises(sqlite3.IntegrityError, match="an issued paper is never"):
        database.raw.execute(statement)
    assert issued.list_papers(database) == before
    assert issued.verify(database) == ()


CELLS = (
    ("issued_papers", "number"),
    ("issued_papers", "kind"),
    ("issued_papers", "total_pence"),
    ("issued_papers", "content"),
    ("issued_papers", "content_sha256"),
    ("issued_papers", "pdf"),
    ("issued_papers", "pdf_sha256"),
    ("issued_papers", "issued_at"),
    ("numbers", "number"),
)


def flipped(cell: int | str | bytes, chance: random.Random) -> int | str | bytes:
    """A cell with one bit of it the other way round."""
    if isinstance(cell, int):
        return cell ^ 1 << chance.randrange(40)
    raw = bytearray(cell.encode() if isinstance(cell, str) else cell)
    raw[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
    return bytes(raw)


def write_cell(database: Database, place: tuple[str, str, int], cell: object) -> None:
    """Put bytes into a cell, whatever it takes to be; text that is none among them."""
    table, column, row = place
    cast = "CAST(? AS TEXT)" if isinstance(cell, bytes) and column != "pdf" else "?"
    database.raw.execute(f"UPDATE {table} SET {column} = {cast} WHERE rowid = ?", (cell, row))


def test_each_of_200_flipped_bits_in_papers_is_reported_by_number(database: Database) -> None:
    numbers = work.busy(database)
    unguarded(database)
    seed = 12
    chance = random.Random(seed)
    for turn in range(FLIPS):
        table, column = CELLS[turn % len(CELLS)]
        row = chance.randint(1, len(numbers))
        (old,) = database.raw.execute(
            f"SELECT {column} FROM {table} WHERE rowid = ?", (row,)
        ).fetchone()
        write_cell(database, (table, column, row), flipped(old, chance))
        found = issued.verify(database)
        # A later paper that supersedes the one whose number changed is named as well.
        assert any(damage.number == numbers[row - 1] for damage in found), (
            f"seed {seed}, turn {turn}: {table}.{column} of row {row}: {found}"
        )
        write_cell(database, (table, column, row), old)
    assert issued.verify(database) == ()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("UPDATE issued_papers SET kind = 'estimate' WHERE id = 2", "its kind was changed"),
        ("UPDATE issued_papers SET total_pence = NULL WHERE id = 2", "its total was changed"),
        ("UPDATE issued_papers SET pdf = x'' WHERE id = 2", "its PDF was changed"),
        ("UPDATE issued_papers SET supersedes_id = 3 WHERE id = 2", "supersedes was changed"),
        ("UPDATE issued_papers SET survey_id = NULL WHERE id = 2", "survey it is from was changed"),
        ("UPDATE numbers SET number = 'Q-9' WHERE value = 2", "number noted for it was changed"),
    ],
)
def test_a_changed_column_is_named(database: Database, change: str, said: str) -> None:
    work.busy(database)
    unguarded(database)
    database.raw.execute(change)
    (damage,) = issued.verify(database)
    assert damage.number == "Q-0002"
    assert said in damage.what


def test_a_paper_given_new_hashes_that_fit_its_new_total_is_still_told(database: Database) -> None:
    """Whoever forges a total has to forge it in the columns, the text and the hash alike."""
    work.busy(database)
    unguarded(database)
    text = issued.content_text(database, "Q-0002").replace('"total_pence":', '"total_pence":1')
    digest = hashlib.sha256(text.encode()).hexdigest()
    database.raw.execute(
        "UPDATE issued_papers SET content = ?, content_sha256 = ? WHERE id = 2", (text, digest)
    )
    assert [damage.what for damage in issued.verify(database)] == ["its total was changed"]


def test_a_paper_that_is_gone_and_a_changed_survey_are_told(database: Database) -> None:
    work.busy(database)
    database.raw.execute("PRAGMA foreign_keys = OFF")
    database.raw.execute("DROP TRIGGER tr_issued_papers_kept")
    database.raw.execute("DELETE FROM issued_papers WHERE id = 2")
    assert [(one.number, one.what) for one in issued.verify(database)] == [
        ("Q-0002", "its paper is gone from the file")
    ]
    database.raw.execute("DROP TRIGGER tr_surveys_frozen")
    database.raw.execute("UPDATE surveys SET document = replace(document, 'crack', 'Crack')")
    said = {one.what for one in issued.verify(database)}
    assert "the survey kept in its job was changed" in said


def test_changed_bytes_are_not_handed_out(database: Database) -> None:
    work.busy(database)
    unguarded(database)
    database.raw.execute("UPDATE issued_papers SET pdf = zeroblob(9), content = content || ' '")
    for ask in (issued.pdf_of, issued.content_text):
        with pytest.raises(DamagedFile, match="Q-0001 is no longer as it was issued"):
            ask(database, "Q-0001")


PAPERS = """
    SELECT papers.id, hex(papers.number), hex(papers.kind), papers.total_pence,
        hex(papers.content), hex(papers.content_sha256), hex(papers.pdf), hex(papers.pdf_sha256),
        hex(papers.issued_at), papers.job_id, papers.survey_id, papers.book_id,
        papers.supersedes_id, hex(numbers.number)
    FROM issued_papers AS papers LEFT JOIN numbers ON numbers.paper_id = papers.id
    ORDER BY papers.rowid
"""


def papers_in(path: Path) -> object:
    """All there is of the papers in a file, or that it cannot be read."""
    with sqlite3.connect(f"file:{path}?mode=ro", uri=True) as connection:
        try:
            found = connection.execute(PAPERS).fetchall()
        except sqlite3.Error as error:
            found = [str(error)]
    connection.close()
    return found


def report_on(path: Path) -> str:
    """What the program says of a file: refused, reported, or nothing."""
    try:
        with open_file(path, read_only=True) as database:
            return "reported" if issued.verify(database) else ""
    except WorldFault:
        return "refused"


def test_200_flipped_bits_in_the_file_leave_no_changed_paper_unreported(quick: Path) -> None:
    path = work.fresh(quick)
    with open_file(path) as database:
        work.busy(database, papers=12)
    sound = path.read_bytes()
    before = papers_in(path)
    seed = 46
    chance = random.Random(seed)
    answers = {"reported": 0, "refused": 0, "": 0}
    for turn in range(FLIPS):
        raw = bytearray(sound)
        at = chance.randrange(100, len(raw))
        raw[at] ^= 1 << chance.randrange(8)
        path.write_bytes(raw)
        answer = report_on(path)
        answers[answer] += 1
        assert answer or papers_in(path) == before, f"seed {seed}, turn {turn}: byte {at}"
    assert answers["reported"] > FLIPS / 4, answers


@pytest.mark.parametrize("today", [date(2027, 1, 1), date(2045, 1, 1)])
def test_papers_of_somebody_erased_are_no_damage_and_a_flip_in_them_is(
    database: Database, today: date
) -> None:
    numbers = work.busy(database)
    uid = jobs.find(database, issued.find(database, numbers[0]).origin.job).customer
    people.erase_customer(database, uid, today=today)
    assert issued.verify(database) == ()
    assert [paper.number for paper in issued.list_papers(database)] == numbers
    unguarded(database)
    for column in ("content", "number", "total_pence"):
        (old,) = database.raw.execute(f"SELECT {column} FROM issued_papers WHERE id = 2").fetchone()
        write_cell(database, ("issued_papers", column, 2), flipped(old, random.Random(1)))
        assert [damage.number for damage in issued.verify(database)] == [numbers[1]]
        write_cell(database, ("issued_papers", column, 2), old)
