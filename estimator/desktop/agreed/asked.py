"""What is asked of the file about an agreed job; every function runs in the file's own thread."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.contract.so_far import SoFar
from estimator.notices import UserMistake
from estimator.office import contracts  # type: ignore[attr-defined]
from estimator.store import jobs
from estimator.store.database import Database


@dataclass(frozen=True, slots=True)
class Known:
    """What the file knows of a job beyond its wall."""

    so_far: SoFar
    stage: str
    """A value of ``store.jobs.Stage``; empty for a job that is not in the file yet."""


def known(database: Database, job: str) -> Known:
    """Return what a job has come to; nothing for one that is not in the file yet."""
    try:
        stage = jobs.find(database, job).stage.value
    except UserMistake:
        return Known(SoFar(), "")
    return Known(contracts.so_far(database, job), stage)
