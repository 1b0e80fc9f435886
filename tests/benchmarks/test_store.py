"""How long saving and listing take. Skipped in the ordinary run; start them with

    python -m pytest tests/benchmarks/test_store.py --benchmark-only

Targets on two cores: 10,000 jobs, the first 200 with their customers and latest surveys within
20 ms; one edit saved, to the disk, within 5 ms in 95 of 100 cases. The disk must have nothing
else to do: a commit waits for whatever others have it write.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from estimator.store import drafts, issued, jobs
from estimator.store.customers import Customer, add
from estimator.store.database import Database, open_file
from estimator.store.jobs import Job
from tests.store import work

JOBS, SHOWN = 10_000, 200
EDITS = 200
LIST_S, SAVE_S = 0.020, 0.005


@pytest.fixture(scope="module")
def full() -> Iterator[Database]:
    """A file with 10,000 jobs, each with a customer and two revisions of a survey."""
    with tempfile.TemporaryDirectory() as folder, open_file(work.fresh(Path(folder))) as database:
        texts = [work.survey_text(), work.survey_text("terrace")]
        with database.writing() as connection:
            for number in range(JOBS):
                who = add(connection, Customer(f"Customer {number}"))
                jobs.add(connection, Job(f"Wall {number}", customer=who.uid), now=work.at_nine)
        raw = database.raw
        raw.execute("BEGIN IMMEDIATE")
        for revision, text in enumerate(texts, start=1):
            raw.execute(
                "INSERT INTO surveys (job_id, revision, document, why, made_at)"
                " SELECT id, ?, ?, 'visit', made_at FROM jobs",
                (revision, text),
            )
        raw.execute("COMMIT")
        yield database


def quantile(benchmark: Any, share: float) -> float:
    """The time that so large a share of the rounds took at most. [s]"""
    times = sorted(benchmark.stats.stats.data)
    return times[min(int(len(times) * share), len(times) - 1)]


def test_the_first_200_of_10_000_jobs(benchmark: Any, full: Database) -> None:
    rows = benchmark.pedantic(
        jobs.list_jobs, (full,), {"limit": SHOWN}, rounds=100, warmup_rounds=3
    )
    assert len(rows) == SHOWN
    assert rows[0].revision == 2
    assert rows[0].survey == work.demo("terrace").title
    assert quantile(benchmark, 0.95) <= LIST_S


def test_the_last_200_of_10_000_jobs(benchmark: Any, full: Database) -> None:
    ask = {"limit": SHOWN, "offset": JOBS - SHOWN}
    rows = benchmark.pedantic(jobs.list_jobs, (full,), ask, rounds=50, warmup_rounds=3)
    assert len(rows) == SHOWN
    assert quantile(benchmark, 0.95) <= LIST_S


def test_saving_one_edit_of_a_survey(benchmark: Any, full: Database) -> None:
    job = jobs.list_jobs(full, limit=1)[0].uid
    states = iter([work.changed_survey(f"said {number}") for number in range(EDITS + 5)])

    def save() -> None:
        jobs.accept_survey(full, job, next(states), why="an edit")

    benchmark.pedantic(save, rounds=EDITS, warmup_rounds=5)
    assert quantile(benchmark, 0.95) <= SAVE_S


def test_keeping_a_draft(benchmark: Any, full: Database) -> None:
    benchmark.pedantic(
        drafts.keep, (full, "job/new", work.survey_text()), rounds=EDITS, warmup_rounds=5
    )
    assert quantile(benchmark, 0.95) <= SAVE_S


def test_checking_100_issued_papers(benchmark: Any, full: Database) -> None:
    job = work.job_in(full)
    for _ in range(100):
        work.issued_for(full, job)
    assert benchmark.pedantic(issued.verify, (full,), rounds=10) == ()
