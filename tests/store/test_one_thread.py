"""The file may be looked after by one thread that is not the one the program began in."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from pathlib import Path

import pytest

from estimator.store import clock, desk, job_list, jobs
from estimator.store.backup import back_up, back_up_when_due
from estimator.store.database import Database, open_file, problems_in
from estimator.store.jobs import Job
from estimator.store.manifest import backups_in, folder_beside
from estimator.store.search import find
from tests.store import people_made_up as made_up
from tests.store import work
from tests.store.conftest import stored


@pytest.fixture
def keeper() -> Iterator[ThreadPoolExecutor]:
    with ThreadPoolExecutor(1, "file") as made:
        yield made


def whole_day(path: Path) -> str:
    """Everything a day asks of the file, from opening to closing."""
    with open_file(path) as database:
        job = work.job_in(database)
        desk.keep_working(database, job, "{}")
        desk.saved_all(database, jobs.find(database, job), work.changed_survey("x"), why="call")
        work.issued_for(database, job)
        assert find(database, "marlowe") is not None
        assert len(job_list.list_jobs(database)) == 1
        back_up(database, now=clock.now())
        made = made_up.customer(database)
        assert made.uid
    return job


def test_one_other_thread_opens_uses_and_closes_the_file(
    tmp_path: Path, keeper: ThreadPoolExecutor
) -> None:
    path = tmp_path / "work.perpend"
    job = keeper.submit(whole_day, path).result()
    # The lock is free again, and this thread finds all of it.
    with open_file(path) as database:
        assert jobs.survey(database, job) == work.changed_survey("x")
        assert problems_in(database.raw) == []


def test_another_thread_brings_an_older_file_up_to_date(
    tmp_path: Path, keeper: ThreadPoolExecutor
) -> None:
    path = stored("v0001", tmp_path / "old.perpend")
    database = keeper.submit(open_file, path).result()
    assert keeper.submit(lambda: len(job_list.list_jobs(database))).result() == 8
    keeper.submit(database.close).result()


def test_a_second_thread_is_refused_and_does_no_harm(
    tmp_path: Path, keeper: ThreadPoolExecutor
) -> None:
    path = work.fresh(tmp_path)
    database: Database = keeper.submit(open_file, path).result()
    with pytest.raises(RuntimeError, match="another thread opened the file"):
        jobs.add(database, Job("From the window"))
    with pytest.raises(RuntimeError, match="another thread opened the file"):
        job_list.list_jobs(database)
    with pytest.raises(sqlite3.ProgrammingError, match="same thread"):
        database.raw.execute("SELECT 1")
    keeper.submit(jobs.add, database, Job("From its own")).result()
    keeper.submit(database.close).result()
    with open_file(path) as again:
        assert [line.title for line in job_list.list_jobs(again)] == ["From its own"]


def test_a_backup_is_made_when_the_newest_is_old(tmp_path: Path) -> None:
    def made() -> list[str]:
        return [one.manifest.why for one in backups_in(folder_beside(database.path))]

    with open_file(work.fresh(tmp_path)) as database:
        for minutes, expected in ((0, 1), (29, 1), (30, 2), (31, 2), (61, 3)):
            jobs.add(database, Job(f"Taken at {minutes}"))
            at = work.MORNING + timedelta(minutes=minutes)
            back_up_when_due(database, now=at, why="while at work")
            assert len(made()) == expected
        assert back_up_when_due(database, now=at + timedelta(minutes=40), why="again") is None
        assert made() == ["while at work"] * 3
