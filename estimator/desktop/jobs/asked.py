"""What the page of jobs asks of the file; every function here runs in the file's own thread."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from estimator.desktop.jobs.wording import Filter, stages_of
from estimator.store import attention, job_list, search
from estimator.store.attention import Needed
from estimator.store.database import Database
from estimator.store.job_list import JobLine
from estimator.store.jobs import Stage

PAGE = 200
"""Jobs fetched at once."""
MOST_RATES = 100
"""Rates counted beside the jobs; so many and more are only called many."""


@dataclass(frozen=True, slots=True)
class Found:
    """The jobs that fit, counted by stage, and the first of them."""

    counts: dict[Stage, int]
    first: tuple[JobLine, ...]
    rates: int = 0
    """Rates of the price book that fit the same words."""

    def count(self, stage: Filter) -> int:
        """Return how many jobs stand at a stage of the strip; all of them for none."""
        return sum(self.counts[one] for one in stages_of(stage) or tuple(Stage))


def found(database: Database, stage: Filter, typed: str) -> Found:
    """Return what fits a stage and the words typed."""
    return Found(
        job_list.counted(database, typed=typed),
        page(database, stage, typed, 0),
        rates(database, typed),
    )


def page(database: Database, stage: Filter, typed: str, number: int) -> tuple[JobLine, ...]:
    """Return one page of the jobs that fit."""
    return job_list.list_jobs(
        database, stages=stages_of(stage), typed=typed, limit=PAGE, offset=number * PAGE
    )


def rates(database: Database, typed: str) -> int:
    """Return how many rates fit the words, counted no further than ``MOST_RATES``."""
    if not typed.strip():
        return 0
    return len(search.find(database, typed, limit=MOST_RATES, kinds=(search.Kind.ITEM,)))


def needed(database: Database, today: datetime.date) -> tuple[Needed, ...]:
    """Return the jobs that ask to be looked at today."""
    return attention.needs_me(database, today)
