"""The page of jobs: found by what is known of the customer, the newest first, with its paper."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from estimator.money import Money
from estimator.quoting.quotation import Paper
from estimator.store import customers, issued, job_list, jobs, people
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file
from estimator.store.jobs import Job, Stage
from tests.store import work
from tests.store.conftest import stored

MAUD = Customer(
    "Maud O'Hara", address=("4 Mill Lane", "ZZ1 4XX"), telephone="01632 960 123", email="m@x.org"
)
COLM = Customer("Colm Bartlett", address=("9 Tarn Street", "zz99ab"), telephone="+44 1632 960456")
JOBS = (
    ("Gable crack", 0, ("4 Mill Lane",), Stage.ENQUIRY),
    ("Café lintel", 0, (), Stage.OFFERED),
    ("Chimney", 1, ("The old school",), Stage.OFFERED),
    ("Pier", None, (), Stage.LOST),
)


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Database]:
    with open_file(work.fresh(tmp_path_factory.mktemp("jobs"))) as opened:
        who = [customers.add(opened, one).uid for one in (MAUD, COLM)]
        for at, (title, customer, site, stage) in enumerate(JOBS):
            uid = None if customer is None else who[customer]
            moment = work.MORNING + timedelta(hours=at)
            jobs.add(opened, Job(title, uid, site, stage), now=lambda moment=moment: moment)
        yield opened


def titles(database: Database, typed: str = "", **cut: object) -> list[str]:
    return [line.title for line in job_list.list_jobs(database, typed=typed, **cut)]


def test_the_last_changed_comes_first_with_all_the_page_shows(database: Database) -> None:
    assert titles(database) == ["Pier", "Chimney", "Café lintel", "Gable crack"]
    line = job_list.list_jobs(database)[3]
    assert (line.customer, line.telephone) == (MAUD.name, MAUD.telephone)
    assert (line.site, line.stage, line.revision) == (("4 Mill Lane",), Stage.ENQUIRY, 0)
    assert line.paper is None
    assert job_list.list_jobs(database)[0].customer == ""


def test_pages_lie_end_to_end(database: Database) -> None:
    assert titles(database, limit=3) + titles(database, limit=3, offset=3) == titles(database)
    assert titles(database, limit=0) == []


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("maud", ["Café lintel", "Gable crack"]),
        ("o'hara", ["Café lintel", "Gable crack"]),
        ("HARA gab", ["Gable crack"]),
        ("cafe", ["Café lintel"]),
        ("01632 960123", ["Café lintel", "Gable crack"]),
        ("01632960456", ["Chimney"]),
        ("+44 (0)1632 960 456", ["Chimney"]),
        ("960-4", ["Chimney"]),
        ("456", ["Chimney"]),
        ("zz1 4xx", ["Café lintel", "Gable crack"]),
        ("ZZ14XX", ["Café lintel", "Gable crack"]),
        ("zz9 9ab", ["Chimney"]),
        ("zz9", ["Chimney"]),
        ("tarn", ["Chimney"]),
        ("old school", ["Chimney"]),
        ("m@x.org", ["Café lintel", "Gable crack"]),
        ("mill chimney", []),
        ("nobody", []),
        ("   ", ["Pier", "Chimney", "Café lintel", "Gable crack"]),
        ('"; DROP TABLE jobs; --', []),
    ],
)
def test_a_job_is_found_by_what_is_known_of_it(
    database: Database, typed: str, found: list[str]
) -> None:
    assert titles(database, typed) == found
    assert sum(job_list.counted(database, typed=typed).values()) == len(found)


def test_stages_and_words_cut_down_together(database: Database) -> None:
    assert titles(database, stages=[Stage.OFFERED]) == ["Chimney", "Café lintel"]
    assert titles(database, stages={Stage.LOST, Stage.ENQUIRY}) == ["Pier", "Gable crack"]
    assert titles(database, "maud", stages=[Stage.OFFERED]) == ["Café lintel"]
    assert job_list.counted(database)[Stage.OFFERED] == 2
    assert job_list.counted(database, typed="maud")[Stage.LOST] == 0


def test_anything_typed_is_answered(database: Database) -> None:
    for text in work.nasty_texts(300, seed=11):
        assert len(job_list.list_jobs(database, typed=text)) <= len(JOBS)


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[Database]:
    with open_file(work.fresh(tmp_path)) as opened:
        yield opened


def test_the_newest_paper_stands_beside_its_job(fresh: Database) -> None:
    job = work.job_in(fresh)
    work.issued_for(fresh, job)
    later = work.issued_for(fresh, job)
    (line,) = job_list.list_jobs(fresh)
    assert line.paper is not None
    assert (line.paper.number, line.paper.total) == (later.number, later.total)
    assert (line.paper.kind, line.paper.issued_at) == (Paper.QUOTATION, work.MORNING)
    said = json.loads(issued.content_text(fresh, later.number))["quotation"]["valid_until"]
    assert line.paper.valid_until == date.fromisoformat(said)
    assert line.revision == 1
    assert [one.title for one in job_list.list_jobs(fresh, typed=later.number)] == [line.title]


def test_an_estimate_is_listed_with_its_range_and_a_quotation_with_none(fresh: Database) -> None:
    told = "phone_call"
    work.issued_for(fresh, work.job_in(fresh))
    estimate = work.issued_for(fresh, work.job_in(fresh, told), name=told)
    said = json.loads(issued.content_text(fresh, estimate.number))["quotation"]["options"][0]
    papers = {line.paper.kind: line.paper for line in job_list.list_jobs(fresh) if line.paper}
    assert papers[Paper.ESTIMATE].low == Money.of(said["spread"]["low"])
    assert papers[Paper.ESTIMATE].high == Money.of(said["spread"]["high"])
    assert papers[Paper.QUOTATION].low is papers[Paper.QUOTATION].high is None


def test_an_emptied_paper_says_no_longer_until_when(fresh: Database) -> None:
    job = work.job_in(fresh)
    number = work.issued_for(fresh, job).number
    customer = jobs.find(fresh, job).customer
    assert customer is not None
    people.erase_customer(fresh, customer, today=date(2040, 1, 1))
    (line,) = job_list.list_jobs(fresh)
    assert line.paper is not None
    assert (line.paper.number, line.paper.valid_until) == (number, None)
    assert job_list.list_jobs(fresh, typed=work.demo().customer.name) == ()


TRAP = '"x","valid_until":"1999-01-01'


def test_no_text_on_a_paper_passes_for_its_last_day(fresh: Database) -> None:
    # Typed text stands before the day in the content, where a search for the name finds it first.
    job = work.job_in(fresh)
    content = json.dumps({"quotation": {"notes": TRAP, "valid_until": "2026-12-25"}})
    for separators in ((",", ":"), None):
        text = json.dumps(json.loads(content), separators=separators)
        fresh.raw.execute("DELETE FROM paper_lines")
        fresh.raw.execute(
            "INSERT INTO issued_papers (number, kind, job_id, content, content_sha256, pdf,"
            " pdf_sha256, issued_at) SELECT 'Q-' || length(?), 'quotation', id, ?, ?, x'00', ?, ?"
            " FROM jobs",
            (text, text, "0" * 64, "0" * 64, "2026-11-25T09:30:00.000000+00:00"),
        )
        (line,) = job_list.list_jobs(fresh)
        assert line.uid == job
        assert line.paper is not None
        assert line.paper.valid_until == (date(2026, 12, 25) if separators else None)


@pytest.mark.parametrize("name", ["v0001", "v0002"])
def test_an_older_file_tells_of_its_papers(tmp_path: Path, name: str) -> None:
    with open_file(stored(name, tmp_path / "old.perpend")) as opened:
        numbers = "SELECT id, job_id, number, kind, total_pence, issued_at FROM {}"
        told = opened.raw.execute(numbers.format("paper_lines")).fetchall()
        assert told == opened.raw.execute(numbers.format("issued_papers")).fetchall()
        assert len(told) == 3
        papers = [line.paper for line in job_list.list_jobs(opened) if line.paper]
        assert [paper.number for paper in papers] == ["Q-0003"]
