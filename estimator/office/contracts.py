"""What is done with a job once its quotation is out.

Each is one transaction: the deed, and where a paper goes with it, the paper, its number and its
PDF. Either all of it is in the file afterwards or none of it.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import replace

from estimator.contract.acceptance import Yes, contract_of
from estimator.contract.account import CreditNote, Invoice, Payment
from estimator.contract.contract import Cancelling, Manner, Retention, StageTerm
from estimator.contract.deeds import (
    Accepted,
    Answered,
    Completed,
    Confirmed,
    Credited,
    Deed,
    Drafted,
    Invoiced,
    Paid,
    Sent,
)
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing, Variation
from estimator.contract.works import Completion
from estimator.office import frozen_offers, noting
from estimator.office.noting import Asked, Gone
from estimator.pricing.tax_habits import Deduction
from estimator.quoting.quotation import Trader
from estimator.store import clock, happenings
from estimator.store.clock import Clock
from estimator.store.database import Database
from estimator.store.kept_papers import PaperKind

ALONE = (
    PaperKind.DAYWORK_SHEET,
    PaperKind.SITE_SHEET,
    PaperKind.AS_BUILT,
    PaperKind.STATEMENT,
    PaperKind.FINAL_ACCOUNT,
)
"""Papers that tell of what was noted before, and note nothing themselves."""


def so_far(database: Database, job: str) -> SoFar:
    """Return what a job has come to.

    Raises:
        UserMistake: when there is no such job.
        DamagedFile: when a deed is no longer as it was noted.
    """
    return happenings.so_far(database, job)


def do(database: Database, job: str, deed: Deed, *, now: Clock = clock.now) -> SoFar:
    """Note a deed that needs no paper, and return what the job has come to.

    Raises:
        UserMistake: when the deed makes no sense after those before it.
        WorldFault: when the disk would not take it.
    """
    with database.writing() as connection:
        return noting.noted(connection, job, deed, now)


def do_all(database: Database, job: str, deeds: Iterable[Deed], *, now: Clock = clock.now) -> SoFar:
    """Note several deeds that need no paper, all of them or none; return what the job came to.

    Raises:
        UserMistake: when one makes no sense after those before it.
        WorldFault: when the disk would not take them.
    """
    with database.writing() as connection:
        for deed in deeds:
            noting.noted(connection, job, deed, now)
        return happenings.so_far(connection, job)


def accept(  # noqa: PLR0913 - each is asked for on the form of acceptance
    database: Database,
    job: str,
    number: str,
    option: int,
    *,
    accepted_by: str,
    how: Manner,
    accepted_on: datetime.date,
    stages: tuple[StageTerm, ...] = (),
    due_days: int | None = None,
    retention: Retention | None = None,
    cancelling: Cancelling | None = None,
    although_expired: bool = False,
    deduction: Deduction | None = None,
    now: Clock = clock.now,
) -> SoFar:
    """Make one option of a quotation the contract.

    Args:
        database: The file.
        job: The job's uid.
        number: Of the quotation.
        option: Place of the option on the paper, from 0.
        accepted_by: Who said yes.
        how: In which manner.
        accepted_on: On which day.
        stages: Parts of the price; the usual ones where none is named.
        due_days: From an invoice to when it should be paid; the usual where None. [day]
        retention: What the customer keeps back; nothing where None.
        cancelling: What the law on cancelling needs to know.
        although_expired: Whether we hold to an offer that has lapsed.
        deduction: What another contractor keeps back for the tax office; as quoted where None.
        now: The time.

    Raises:
        UserMistake: when it is no quotation of this job that stands, has lapsed, or something is
            accepted already.
        DamagedFile: when the quotation is no longer what was issued.
    """
    yes = Yes(
        accepted_by,
        how,
        accepted_on,
        stages,
        due_days,
        retention or Retention(),
        cancelling or Cancelling(),
        although_expired,
        deduction,
    )
    with database.writing() as connection:
        offer = frozen_offers.read(connection, job, number, option)
        contract = contract_of(offer.option, yes, offer.by, drift=offer.drift)
        return noting.noted(connection, job, Accepted(contract), now)


def draft(database: Database, job: str, variation: Variation, *, now: Clock = clock.now) -> SoFar:
    """Keep a variation as it is drawn up, in place of the draft of the same key.

    Raises:
        UserMistake: when one of that key went out already.
    """
    return do(database, job, Drafted(variation), now=now)


def send_variation(  # noqa: PLR0913 - as on the page that sends it
    database: Database,
    job: str,
    key: str,
    *,
    how: Manner,
    trader: Trader,
    date: datetime.date | None = None,
    now: Clock = clock.now,
) -> Gone:
    """Give a drafted variation its number, make its paper, and note that it went out.

    Raises:
        UserMistake: when there is no such draft.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    asked = Asked(
        PaperKind.VARIATION, trader, date, key, lambda number, on: Sent(key, number, on, how)
    )
    return noting.with_paper(database, job, asked, now)


def answer(  # noqa: PLR0913 - as on the page that asks for the answer
    database: Database,
    job: str,
    key: str,
    given: Standing,
    *,
    who: str,
    how: Manner,
    words: str = "",
    at: datetime.datetime | None = None,
    now: Clock = clock.now,
) -> SoFar:
    """Note that a variation was agreed, declined or taken back.

    Args:
        database: The file.
        job: The job's uid.
        key: Of the variation.
        given: What became of it.
        who: Who said so.
        how: In which manner.
        words: What was said.
        at: When; now where None.
        now: The time.

    Raises:
        UserMistake: when that cannot become of it, or nobody is named.
    """
    return do(database, job, Answered(key, given, who, how, at or now(), words), now=now)


def confirm(
    database: Database,
    job: str,
    key: str = "",
    *,
    trader: Trader,
    date: datetime.date | None = None,
    now: Clock = clock.now,
) -> Gone:
    """Confirm in writing what was agreed: a variation, or the acceptance for an empty key.

    Raises:
        UserMistake: when it is not agreed.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    kind = PaperKind.VARIATION_CONFIRMATION if key else PaperKind.CONFIRMATION
    asked = Asked(kind, trader, date, key, lambda number, on: Confirmed(key, number, on))
    return noting.with_paper(database, job, asked, now)


def invoice(
    database: Database, job: str, told: Invoice, *, trader: Trader, now: Clock = clock.now
) -> Gone:
    """Give an invoice its number, make its paper, and note that it went out.

    Raises:
        UserMistake: when nothing is agreed.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    asked = Asked(
        PaperKind.INVOICE,
        trader,
        told.date,
        deed_of=lambda number, _on: Invoiced(replace(told, number=number)),
    )
    return noting.with_paper(database, job, asked, now)


def credit(
    database: Database, job: str, told: CreditNote, *, trader: Trader, now: Clock = clock.now
) -> Gone:
    """Give a credit note its number, make its paper, and note that it went out.

    Raises:
        UserMistake: when there is no such invoice.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    asked = Asked(
        PaperKind.CREDIT_NOTE,
        trader,
        told.date,
        deed_of=lambda number, _on: Credited(replace(told, number=number)),
    )
    return noting.with_paper(database, job, asked, now)


def pay(database: Database, job: str, payment: Payment, *, now: Clock = clock.now) -> SoFar:
    """Note money that came in or went back.

    Raises:
        UserMistake: when nothing is agreed.
    """
    return do(database, job, Paid(payment), now=now)


def complete(
    database: Database, job: str, told: Completion, *, trader: Trader, now: Clock = clock.now
) -> Gone:
    """Note that the works are complete, and make the paper that says so.

    Raises:
        UserMistake: when nothing is agreed.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    asked = Asked(
        PaperKind.COMPLETION, trader, told.on, deed_of=lambda _number, _on: Completed(told)
    )
    return noting.with_paper(database, job, asked, now)


def sheet(  # noqa: PLR0913 - one paper for every kind
    database: Database,
    job: str,
    kind: PaperKind,
    *,
    trader: Trader,
    key: str = "",
    date: datetime.date | None = None,
    now: Clock = clock.now,
) -> Gone:
    """Make a paper that goes with no deed, and keep it: a site sheet, a statement and the like.

    Raises:
        UserMistake: when nothing is agreed, or there is nothing of that key.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    if kind not in ALONE:
        raise ValueError(f"a {kind.value} goes with a deed")
    return noting.with_paper(database, job, Asked(kind, trader, date, key), now)


def with_hours(database: Database) -> tuple[SoFar, ...]:
    """Return what every job has come to that hours or materials were booked on.

    Raises:
        DamagedFile: when a deed is no longer as it was noted.
    """
    with database.reading() as connection:
        found = dict.fromkeys(one.job for one in happenings.bookings(connection))
        return tuple(happenings.so_far(connection, job) for job in found)
