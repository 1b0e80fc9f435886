"""What happens to a job once its quotation is out: each step one transaction of the file.

Every function adds a deed, and where a paper goes out its number and PDF with it, or nothing at
all; each returns what the job has come to.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from estimator.contract import keeping
from estimator.contract.acceptance import Yes
from estimator.contract.account import CreditNote, Invoice, Payment
from estimator.contract.contract import Cancelling, Manner, StageTerm
from estimator.contract.deeds import (
    Answered,
    CalledOff,
    Completed,
    Confirmed,
    Credited,
    Deed,
    Invoiced,
    Paid,
    Sent,
)
from estimator.contract.so_far import SoFar
from estimator.contract.sums import running
from estimator.contract.variation import Standing
from estimator.contract.works import Completion
from estimator.money import Money
from estimator.office import accepting
from estimator.quoting.quotation import Trader
from estimator.store import clock, happenings, jobs, kept_papers
from estimator.store.clock import Clock
from estimator.store.database import Database
from estimator.store.jobs import Stage
from estimator.store.kept_papers import PaperKind

Pictures = Mapping[str, bytes]
"""JPEG by the SHA-256 a survey or variation names it by."""


@dataclass(frozen=True, slots=True)
class Out:
    """A paper that went out, and what the job has come to with it."""

    number: str
    pdf: bytes
    so_far: SoFar


def so_far(database: Database, job: str) -> SoFar:
    """Return what a job has come to.

    Raises:
        UserMistake: when there is no such job.
        DamagedFile: when a deed is no longer as it was noted.
    """
    return happenings.so_far(database, job)


def do(database: Database, job: str, deed: Deed, *, now: Clock = clock.now) -> SoFar:
    """Note a deed that no paper goes with.

    Raises:
        UserMistake: when it makes no sense after those before it.
    """
    with database.writing() as connection:
        happenings.add(connection, job, deed, now=now)
        return happenings.so_far(connection, job)


def accept(  # noqa: PLR0913 - what is asked on accepting
    database: Database,
    job: str,
    number: str,
    option: int,
    *,
    accepted_by: str,
    how: Manner,
    accepted_on: datetime.date,
    stages: tuple[StageTerm, ...] = (),
    cancelling: Cancelling | None = None,
    although_expired: bool = False,
    now: Clock = clock.now,
) -> SoFar:
    """Make an option of a quotation the contract.

    Raises:
        UserMistake: for a paper or terms that cannot be accepted.
    """
    yes = Yes(
        accepted_by,
        how,
        accepted_on,
        stages,
        cancelling=cancelling or Cancelling(),
        although_expired=although_expired,
    )
    return accepting.accept(database, job, number, option, yes, now=now)


def call_off(database: Database, job: str, deed: CalledOff, *, now: Clock = clock.now) -> SoFar:
    """Note that the contract was cancelled; the job is then lost, whatever is still to settle.

    Raises:
        UserMistake: when there is no contract, or it is cancelled already.
    """
    with database.writing() as connection:
        happenings.add(connection, job, deed, now=now)
        jobs.move(connection, job, Stage.LOST, now=now)
        return happenings.so_far(connection, job)


def send_variation(  # noqa: PLR0913 - what is asked on sending
    database: Database,
    job: str,
    key: str,
    *,
    how: Manner,
    trader: Trader,
    pictures: Pictures | None = None,
    finish: str = "",
    now: Clock = clock.now,
) -> Out:
    """Give a variation its number, and keep its paper.

    Raises:
        UserMistake: when it went out already, or is not there.
    """
    from estimator.documents import variation_paper  # noqa: PLC0415 - loads the PDF library

    day = _day(now)

    def pdf(before: SoFar, number: str) -> bytes:
        return variation_paper.render(
            before,
            key,
            trader=trader,
            number=number,
            date=day,
            pictures=pictures or {},
            finish=finish,
        )

    def said(before: SoFar) -> dict[str, Any]:
        return {"variation": keeping.plain(before.varied(key).variation)}

    return _issue(
        database,
        job,
        _Issue(
            PaperKind.VARIATION,
            pdf,
            said,
            lambda number: Sent(key, number, day, how),
            lambda before: running(before, key).change.total,
        ),
        now=now,
    )


def answer(  # noqa: PLR0913 - what is asked of an answer
    database: Database,
    job: str,
    key: str,
    given: Standing,
    *,
    who: str,
    how: Manner,
    words: str = "",
    now: Clock = clock.now,
) -> SoFar:
    """Note what became of a variation.

    Raises:
        UserMistake: when no such answer can be given now.
    """
    return do(database, job, Answered(key, given, who, how, now(), words), now=now)


def confirm(
    database: Database, job: str, key: str, *, trader: Trader, now: Clock = clock.now
) -> Out:
    """Confirm in writing what was agreed; the acceptance itself for an empty key.

    Raises:
        UserMistake: when it is not agreed.
    """
    from estimator.documents import confirmation, variation_confirmation  # noqa: PLC0415 - as above

    day = _day(now)

    def pdf(before: SoFar, number: str) -> bytes:
        if not key:
            return confirmation.render(before, trader=trader, number=number, date=day)
        return variation_confirmation.render(before, key, trader=trader, number=number, date=day)

    def said(before: SoFar) -> dict[str, Any]:
        about = before.varied(key) if key else before.contract
        return {"confirmed": keeping.plain(about)}

    kind = PaperKind.VARIATION_CONFIRMATION if key else PaperKind.CONFIRMATION
    issue = _Issue(kind, pdf, said, lambda number: Confirmed(key, number, day))
    return _issue(database, job, issue, now=now)


def invoice(
    database: Database, job: str, asked: Invoice, *, trader: Trader, now: Clock = clock.now
) -> Out:
    """Give an invoice its number, and keep it.

    Raises:
        UserMistake: when nothing was agreed yet.
    """
    from estimator.documents import invoice_paper  # noqa: PLC0415 - as above

    return _issue(
        database,
        job,
        _Issue(
            PaperKind.INVOICE,
            lambda before, number: invoice_paper.render(
                before, replace(asked, number=number), trader=trader
            ),
            lambda _before: {"invoice": keeping.plain(asked)},
            lambda number: Invoiced(replace(asked, number=number)),
            lambda _before: asked.gross,
        ),
        now=now,
    )


def credit(
    database: Database, job: str, note: CreditNote, *, trader: Trader, now: Clock = clock.now
) -> Out:
    """Give a credit note its number, and keep it.

    Raises:
        UserMistake: when there is no such invoice.
    """
    from estimator.documents import credit_paper  # noqa: PLC0415 - as above

    return _issue(
        database,
        job,
        _Issue(
            PaperKind.CREDIT_NOTE,
            lambda before, number: credit_paper.render(
                before, replace(note, number=number), trader=trader
            ),
            lambda _before: {"credit_note": keeping.plain(note)},
            lambda number: Credited(replace(note, number=number)),
            lambda _before: note.gross,
        ),
        now=now,
    )


def pay(database: Database, job: str, payment: Payment, *, now: Clock = clock.now) -> SoFar:
    """Note money that came in, or went back.

    Raises:
        UserMistake: when nothing was agreed yet.
    """
    return do(database, job, Paid(payment), now=now)


def complete(
    database: Database, job: str, completion: Completion, *, now: Clock = clock.now
) -> SoFar:
    """Note that the works are complete; what is left is the account.

    Raises:
        UserMistake: when nothing was agreed, or the contract was cancelled.
    """
    with database.writing() as connection:
        happenings.add(connection, job, Completed(completion), now=now)
        jobs.move(connection, job, Stage.DONE, now=now)
        return happenings.so_far(connection, job)


Render = Callable[[SoFar, str], bytes]
"""Makes the PDF of a paper that has its number."""


def sheet(
    database: Database, job: str, kind: PaperKind, render: Render, *, now: Clock = clock.now
) -> Out:
    """Keep a paper that is no deed by itself: a site sheet, a completion, a statement.

    Raises:
        UserMistake: when it cannot be made.
    """
    issue = _Issue(kind, render, lambda _before: {})
    return _issue(database, job, issue, now=now)


@dataclass(frozen=True, slots=True)
class _Issue:
    """One paper on its way out."""

    kind: PaperKind
    render: Render
    said: Callable[[SoFar], dict[str, Any]]
    deed: Callable[[str], Deed] | None = None
    """By the number; None for a paper that is no deed."""
    total: Callable[[SoFar], Money] | None = None


def _issue(database: Database, job: str, issue: _Issue, *, now: Clock) -> Out:
    """Number a paper, make it, keep it and note its deed, all or nothing."""
    with database.writing() as connection:
        before = happenings.so_far(connection, job)
        made: list[bytes] = []

        def pdf(number: str) -> bytes:
            # The deed goes first: one that makes no sense must use up no paper.
            if issue.deed is not None:
                happenings.add(connection, job, issue.deed(number), now=now)
            made.append(issue.render(before, number))
            return made[-1]

        paper = kept_papers.keep(
            connection,
            issue.kind,
            job=job,
            said=lambda _number: issue.said(before),
            make_pdf=pdf,
            total=None if issue.total is None else issue.total(before),
            now=now,
        )
        return Out(paper.number, made[0], happenings.so_far(connection, job))


def _day(now: Clock) -> datetime.date:
    """Return the day it is here."""
    return now().astimezone().date()
