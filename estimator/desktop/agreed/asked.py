"""What is asked of the file about an agreed job; every function runs in the file's own thread."""

from __future__ import annotations

import datetime
import json
from dataclasses import dataclass, replace
from typing import Any

from estimator.contract.acceptance import Yes, contract_of
from estimator.contract.contract import Contract, Manner
from estimator.contract.deeds import Deed
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing, Variation
from estimator.desktop import kept
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.papers import issuing
from estimator.desktop.state import OpenJob
from estimator.notices import UserMistake
from estimator.office import contracts, frozen_offers
from estimator.quoting.quotation import Paper, Trader
from estimator.store import desk, issued, jobs, kept_papers
from estimator.store.database import Database


@dataclass(frozen=True, slots=True)
class Known:
    """What the file knows of a job beyond its wall."""

    so_far: SoFar
    stage: str
    """A value of ``store.jobs.Stage``; empty for a job that is not in the file yet."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One option of a paper."""

    title: str
    price: str
    """As it was printed."""
    contract: Contract
    """What it would make, but for who says yes and when."""


@dataclass(frozen=True, slots=True)
class Offered:
    """A paper that can be said yes to, or not."""

    number: str
    is_estimate: bool
    options: tuple[Choice, ...]
    valid_until: datetime.date


def known(database: Database, job: str) -> Known:
    """Return what a job has come to; nothing for one that is not in the file yet."""
    try:
        stage = jobs.find(database, job).stage.value
    except UserMistake:
        return Known(SoFar(), "")
    return Known(contracts.so_far(database, job), stage)


def newest_offer(database: Database, job: str) -> Offered | None:
    """Return the newest paper of a job that none has taken the place of."""
    number = issuing.latest(database, job)
    if not number:
        return None
    gone = issuing.gone(database, number)
    told: dict[str, Any] = json.loads(issued.content_text(database, number))
    until = datetime.date.fromisoformat(told["quotation"]["valid_until"])
    if gone.kind is Paper.ESTIMATE:
        return Offered(number, is_estimate=True, options=(), valid_until=until)
    # Only the law on cancelling is asked of it, which looks at who buys, for how much and when.
    yes = Yes(gone.customer.name.strip() or number, Manner.SIGNED, until)
    choices = []
    with database.reading() as connection:
        for place, (title, price) in enumerate(gone.offered):
            offer = frozen_offers.read(connection, job, number, place)
            choices.append(Choice(title, price, contract_of(offer.option, yes, offer.by)))
    return Offered(number, is_estimate=False, options=tuple(choices), valid_until=until)


def accept(database: Database, job: str, option: tuple[str, int], told: Yes) -> SoFar:
    """Make an option of a quotation the contract, as it was accepted."""
    return contracts.accept(
        database,
        job,
        *option,
        accepted_by=told.accepted_by,
        how=told.how,
        accepted_on=told.accepted_on,
        stages=told.stages,
        due_days=told.due_days,
        retention=told.retention,
        deduction=told.deduction,
        cancelling=told.cancelling,
        although_expired=told.although_expired,
    )


def do(database: Database, job: str, deed: Deed) -> SoFar:
    """Note a deed."""
    return contracts.do(database, job, deed)


def draft(database: Database, job: OpenJob, variation: Variation) -> SoFar:
    """Keep a draft with the survey it was made from, which becomes a revision of the job."""
    kept.keep_working(database, job)
    kept.accept(database, job)
    revision = jobs.revisions(database, job.uid)[-1].revision
    return contracts.draft(database, job.uid, replace(variation, revision=revision))


def send(database: Database, job: str, key: str, how: Manner, trader: Trader) -> Kept:
    """Give a variation its number, and keep its paper."""
    sent = contracts.send_variation(database, job, key, how=how, trader=trader)
    return Kept(sent.number, sent.pdf)


def answer(
    database: Database, job: str, key: str, given: Standing, by: tuple[str, Manner, str]
) -> SoFar:
    """Note what became of a variation, at this moment."""
    who, how, words = by
    return contracts.answer(database, job, key, given, who=who, how=how, words=words)


def confirm(database: Database, job: str, key: str, trader: Trader) -> Kept:
    """Confirm in writing what was only spoken; of the acceptance itself for an empty key."""
    sent = contracts.confirm(database, job, key, trader=trader)
    return Kept(sent.number, sent.pdf)


def kept_paper(database: Database, number: str) -> Kept:
    """Return a paper that was kept, byte for byte."""
    return Kept(number, kept_papers.pdf_of(database, number))


def form(database: Database, job: str, name: str) -> str:
    """Return what was half typed in a form of a job, as JSON; empty for nothing."""
    return desk.form(database, job, name) or ""


def keep_form(database: Database, job: str, name: str, document: str) -> None:
    """Keep what is half typed in a form of a job; forget it where that is nothing."""
    if document:
        desk.keep_form(database, job, name, document)
    else:
        desk.drop_form(database, job, name)
