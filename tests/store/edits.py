"""Edits and issues without end in a process of its own, telling each change once it is saved."""

from __future__ import annotations

import random
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

from estimator.quoting.quotation import Quotation
from estimator.store import customers, drafts, issued, jobs
from estimator.store.customers import Customer
from estimator.store.database import open_file
from estimator.store.issued import Origin
from tests.store import work

PDF_BYTES = 60_000
"""Many pages of the file, so that a change takes a while to write."""


@dataclass(frozen=True, slots=True)
class Saved:
    """One change, told after its transaction came to an end."""

    what: str
    """``survey``, ``paper``, ``customer`` or ``draft``."""
    name: str
    """Revision, number, uid or key."""
    said: str
    """What stands there."""


def loaded() -> None:
    """Price the wall beforehand, so that a fork of this process has it already."""
    work.quotation()


def pdf_of(quotation: Quotation) -> bytes:
    return random.Random(quotation.number).randbytes(PDF_BYTES)


def without_end(path: Path, job: str, told: Connection) -> None:
    """Change the file until killed."""
    round_ = 0
    with open_file(path) as database:
        while True:
            round_ += 1
            said = f"{told.fileno()}-{round_}-{random.random()}"
            revision = jobs.accept_survey(database, job, work.changed_survey(said), why=said)
            told.send(Saved("survey", str(revision), said))
            drafts.keep(database, "note", said)
            told.send(Saved("draft", "note", said))
            customer = customers.add(database, Customer(said))
            told.send(Saved("customer", customer.uid, said))
            paper = issued.issue(database, work.quotation(), origin=Origin(job, 1), make_pdf=pdf_of)
            told.send(Saved("paper", paper.number, paper.pdf_sha256))


loaded()
