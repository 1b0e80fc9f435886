"""Saved work survives a crash: a process that edits and issues is killed at random moments.

20 times in every run; 1,000 times with ``--long``.
"""

from __future__ import annotations

import multiprocessing
import random
import time
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.context import BaseContext
from pathlib import Path

import pytest

from estimator.store import customers, drafts, issued, jobs, numbering
from estimator.store.database import Database, open_file, problems_in
from estimator.store.numbering import Fate, Series
from tests.store import edits, work
from tests.store.edits import Saved

FEW, MANY = 50, 1000
"""Kills in every run, and in a long one."""
TO_A_FILE = 50
"""Kills before a fresh file is taken, so that it stays small."""
LATEST = 0.06
"""Seconds after the first saved change in which the blow falls."""


@dataclass
class Seen:
    """What was saved in all rounds on one file, and what the blows met with."""

    saved: list[Saved] = field(default_factory=list)
    journals: int = 0
    """Files found in the middle of a change."""


@pytest.fixture(scope="module")
def forks() -> BaseContext:
    """Processes that start at once, with everything loaded and no file open."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([edits.__name__, "pytest"])
    return context


def killed_once(forks: BaseContext, path: Path, job: str, chance: random.Random) -> list[Saved]:
    """Let a process change the file, kill it, and return what it told."""
    told, tell = forks.Pipe(duplex=False)
    child = forks.Process(target=edits.without_end, args=(path, job, tell))
    child.start()
    tell.close()
    assert told.poll(30), "the process changed nothing"
    time.sleep(chance.uniform(0, LATEST))
    child.kill()
    child.join()
    with told:
        return list(everything_told(told))


def everything_told(told: Connection) -> list[Saved]:
    saved: list[Saved] = []
    try:
        while True:
            saved.append(told.recv())
    except EOFError:
        return saved


def check(database: Database, job: str, saved: list[Saved]) -> None:
    """Everything told is there, nothing is there by half, and the file is sound."""
    assert problems_in(database.raw) == []
    assert database.raw.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert issued.verify(database) == ()
    surveys = {str(one.revision): one.why for one in jobs.revisions(database, job)}
    assert list(surveys) == [str(number) for number in range(1, len(surveys) + 1)]
    papers = {one.number: one.pdf_sha256 for one in issued.list_papers(database)}
    told = numbering.explain(database, Series.QUOTATION)
    assert [one.first for one in told] == list(papers)
    assert {one.fate for one in told} <= {Fate.ISSUED}
    people = {one.uid: one.name for one in customers.list_customers(database, limit=-1)}
    there = {"survey": surveys, "paper": papers, "customer": people}
    lost = [one for one in saved if one.what in there and there[one.what].get(one.name) != one.said]
    assert not lost
    # The blow may fall after a draft was saved and before it was told; one told earlier is lost.
    (draft,) = drafts.every(database) or (None,)
    told_drafts = [one.said for one in saved if one.what == "draft"]
    assert draft is None or draft.document not in told_drafts[:-1]
    assert draft is not None or not told_drafts


def blows(forks: BaseContext, folder: Path, count: int, seed: int) -> Seen:
    """Kill the process so many times on one file and check after each."""
    chance, seen = random.Random(seed), Seen()
    path = work.fresh(folder)
    with open_file(path) as database:
        job = work.job_in(database)
    for turn in range(count):
        seen.saved += killed_once(forks, path, job, chance)
        seen.journals += path.with_name(path.name + "-journal").exists()
        with open_file(path) as database:
            try:
                check(database, job, seen.saved)
            except AssertionError as error:
                raise AssertionError(f"seed {seed}, kill {turn}: {error}") from error
    return seen


def test_20_kills_lose_nothing_that_was_saved(forks: BaseContext, quick: Path) -> None:
    seen = blows(forks, quick, FEW, seed=1)
    assert len(seen.saved) >= FEW


@pytest.mark.long
def test_1000_kills_lose_nothing_that_was_saved(forks: BaseContext, tmp_path: Path) -> None:
    saved = journals = 0
    for start in range(0, MANY, TO_A_FILE):
        folder = tmp_path / str(start)
        folder.mkdir()
        seen = blows(forks, folder, TO_A_FILE, seed=start)
        saved += len(seen.saved)
        journals += seen.journals
    print(f"{MANY} kills, {saved} saved changes told, {journals} in the middle of a change, 0 lost")
    # A blow that never fell in the middle of a change would have tried nothing.
    assert journals > MANY / 50
