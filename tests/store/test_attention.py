"""Which jobs ask to be looked at today: each reason on its first day, and not a day before."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import pytest

from estimator.store import attention, jobs
from estimator.store.attention import Attention, Reason, needs_me
from estimator.store.database import Database, open_file
from estimator.store.jobs import Job, Stage
from tests.store import work

TODAY = work.MORNING.date()
VALID_UNTIL = date(2026, 12, 25)
"""Last day of the papers made here."""
TIMES = Attention(enquiry_days=1, answer_days=7, lapse_days=5, look_back_days=60)


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with open_file(work.fresh(tmp_path)) as opened:
        yield opened


def reasons(database: Database, today: date) -> list[Reason]:
    return [one.reason for one in needs_me(database, today, times=TIMES)]


def offered(database: Database) -> str:
    job = work.job_in(database)
    work.issued_for(database, job)
    jobs.move(database, job, Stage.OFFERED, now=work.at_nine)
    return job


@pytest.mark.parametrize(
    ("today", "expected"),
    [
        (TODAY, []),
        (TODAY + timedelta(days=6), []),
        (TODAY + timedelta(days=7), [Reason.NO_ANSWER]),
        (VALID_UNTIL - timedelta(days=6), [Reason.NO_ANSWER]),
        (VALID_UNTIL - timedelta(days=5), [Reason.LAPSING]),
        (VALID_UNTIL, [Reason.LAPSING]),
        (VALID_UNTIL + timedelta(days=1), [Reason.LAPSED]),
        (TODAY + timedelta(days=60), [Reason.LAPSED]),
        (TODAY + timedelta(days=61), []),
    ],
)
def test_an_offer_asks_in_turn(database: Database, today: date, expected: list[Reason]) -> None:
    job = offered(database)
    found = needs_me(database, today, times=TIMES)
    assert [one.reason for one in found] == expected
    for one in found:
        assert (one.job.uid, one.since, one.until) == (job, TODAY, VALID_UNTIL)


@pytest.mark.parametrize("days", [0, 1, 60, 61])
def test_an_enquiry_without_a_paper_asks_from_the_next_day(database: Database, days: int) -> None:
    work.job_in(database)
    expected = [Reason.NO_PAPER] if days in (1, 60) else []
    assert reasons(database, TODAY + timedelta(days=days)) == expected


def test_a_paper_that_went_out_counts_whatever_the_stage_says(database: Database) -> None:
    work.issued_for(database, work.job_in(database))
    assert reasons(database, TODAY + timedelta(days=1)) == []
    assert reasons(database, TODAY + timedelta(days=8)) == [Reason.NO_ANSWER]


@pytest.mark.parametrize("stage", [Stage.ACCEPTED, Stage.DONE, Stage.LOST])
def test_an_answered_offer_asks_no_more(database: Database, stage: Stage) -> None:
    jobs.move(database, offered(database), stage)
    assert reasons(database, TODAY + timedelta(days=20)) == []


def test_the_newest_paper_starts_the_wait_anew(database: Database) -> None:
    job = offered(database)
    later = datetime.combine(TODAY + timedelta(days=6), time(9), UTC)
    work.issued_for(database, job, now=lambda: later)
    assert reasons(database, TODAY + timedelta(days=8)) == []


def test_the_most_pressing_comes_first_and_the_oldest_of_each(database: Database) -> None:
    today = VALID_UNTIL - timedelta(days=2)
    for days in (3, 9):
        at = datetime.combine(today - timedelta(days=days), time(9), UTC)
        jobs.add(database, Job(f"Enquiry of {days} days"), now=lambda at=at: at)
    offered(database)
    found = needs_me(database, today, times=TIMES)
    assert [one.reason for one in found] == [Reason.LAPSING, Reason.NO_PAPER, Reason.NO_PAPER]
    assert [one.job.title for one in found[1:]] == ["Enquiry of 9 days", "Enquiry of 3 days"]
    assert needs_me(database, today, times=TIMES, limit=1) == found[:1]


def test_the_times_that_ship_are_days(database: Database) -> None:
    times = attention.attention()
    assert 0 < times.enquiry_days < times.answer_days < times.look_back_days
    assert 0 < times.lapse_days < times.look_back_days
