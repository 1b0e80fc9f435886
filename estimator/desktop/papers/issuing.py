"""Issuing a paper, and reading back what was issued; every function runs in the file's thread."""

from __future__ import annotations

import datetime
import json
from dataclasses import dataclass, fields, replace
from typing import Any

from estimator.desktop import kept
from estimator.desktop.state import OpenJob
from estimator.documents import formats
from estimator.documents.quotation import render
from estimator.documents.wording import say
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.office import electronic_quotations
from estimator.pricing.price_book import PriceBook
from estimator.quoting.quotation import Paper, Quotation
from estimator.store import happenings, issued, jobs, price_books
from estimator.store.database import Database
from estimator.store.issued import IssuedPaper, Origin
from estimator.store.jobs import Stage
from estimator.store.within import Place
from estimator.survey import survey_file
from estimator.survey.survey import Party

BEFORE_OFFER = (Stage.ENQUIRY, Stage.SURVEYED)


@dataclass(frozen=True, slots=True)
class Gone:
    """A paper that went out, with what is wanted to send it again."""

    number: str
    kind: Paper
    issued_at: datetime.datetime
    pdf: bytes
    pdf_sha256: str
    supersedes: str
    superseded_by: str
    title: str
    """Of the job."""
    customer: Party
    firm: str
    firm_email: str
    firm_telephone: str
    offered: tuple[tuple[str, str], ...]
    """Title and price of each choice."""
    valid_until: str
    """In words."""
    accepted: str = ""
    """The day it was accepted, in words; none where nobody said yes, or the work was cancelled."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One line of a list of papers."""

    number: str
    kind: Paper
    date: str
    """In words."""
    superseded_by: str


def issue(
    database: Database, job: OpenJob, quotation: Quotation, *, book: PriceBook
) -> tuple[OpenJob, Gone]:
    """Keep the job, give its paper a number and keep that for good; return both.

    What is issued is the very paper that was checked: it is not priced again.

    Raises:
        UserMistake: when the rates are no longer those it was priced with, or it may not be issued.
        WorldFault: when the disk would not take it; no number is used up then.
    """
    kept.keep_working(database, job)
    job = kept.accept(database, job)
    origin = Origin(job.uid, 0, _book_in_use(database, book))
    with database.writing() as connection:
        origin = replace(
            origin,
            revision=jobs.revisions(connection, job.uid)[-1].revision,
            supersedes=latest(connection, job.uid),
        )
        _check(connection, origin, quotation)
        paper = issued.issue(connection, quotation, origin=origin, make_pdf=render)
        stage = jobs.find(connection, job.uid).stage
        # An estimate is no offer, so the job stays where it is on the strip.
        if stage in BEFORE_OFFER and quotation.paper is Paper.QUOTATION:
            stage = Stage.OFFERED
            jobs.move(connection, job.uid, stage)
        numbers = tuple(one.number for one in issued.list_papers(connection, job=job.uid))
        gone = _gone(connection, paper)
    return replace(job, stage=stage.value, papers=numbers), gone


def latest(place: Place, job: str) -> str:
    """Return the number of the paper of a job that none has taken the place of, if any."""
    standing = [one for one in issued.list_papers(place, job=job) if not one.superseded_by]
    return standing[-1].number if standing else ""


def gone(database: Database, number: str) -> Gone:
    """Return a paper as it went out, byte for byte.

    Raises:
        UserMistake: when there is no such paper.
        DamagedFile: when it is no longer what was issued.
    """
    with database.reading() as connection:
        return _gone(connection, issued.find(connection, number))


def electronic(database: Database, number: str, option: int) -> bytes:
    """Return one choice of a quotation as UBL, for a customer's own books.

    Raises:
        UserMistake: where the standard cannot say what is on it.
    """
    return electronic_quotations.document(database, number, option)


def listed(database: Database, job: str) -> tuple[Listed, ...]:
    """Return the papers of a job, the last first."""
    found = issued.list_papers(database, job=job)
    return tuple(
        Listed(one.number, one.kind, _date(one.issued_at), one.superseded_by)
        for one in reversed(found)
    )


def _book_in_use(database: Database, priced_with: PriceBook) -> str:
    """Return the name of the price book a paper was priced with, which must be the newest."""
    newest = price_books.installed(database)
    kept_rates = price_books.load(database, newest.id)
    # Two books are equal only as one object, so their figures are gone through.
    changed = (
        one.name
        for one in fields(PriceBook)
        if getattr(kept_rates, one.name) != getattr(priced_with, one.name)
    )
    if next(changed, None) is not None:
        raise UserMistake(
            "the rates have changed since this paper was made",
            do="open the job again, check the new paper, then issue it",
        )
    return newest.uid


def _check(place: Place, origin: Origin, quotation: Quotation) -> None:
    """Make sure that the file holds what the paper was made from."""
    now = jobs.survey(place, origin.job, revision=origin.revision)
    if survey_file.write(now) != survey_file.write(quotation.survey):
        raise UserMistake(
            "the job has changed since this paper was made", do="check the new one, then issue it"
        )


def _gone(place: Place, paper: IssuedPaper) -> Gone:
    told: dict[str, Any] = json.loads(issued.content_text(place, paper.number))
    quotation, survey = told["quotation"], survey_file.read(told["survey"])
    firm = quotation["trader"]
    return Gone(
        number=paper.number,
        kind=paper.kind,
        issued_at=paper.issued_at,
        pdf=issued.pdf_of(place, paper.number),
        pdf_sha256=paper.pdf_sha256,
        supersedes=paper.origin.supersedes,
        superseded_by=paper.superseded_by,
        title=survey.title,
        customer=survey.customer,
        firm=firm["name"],
        firm_email=firm["email"],
        firm_telephone=firm["telephone"],
        offered=tuple(
            (one["offer"]["scope"]["title"], _price(one)) for one in quotation["options"]
        ),
        valid_until=formats.date(quotation["valid_until"]),
        accepted=_accepted(place, paper),
    )


def _accepted(place: Place, paper: IssuedPaper) -> str:
    come_to = happenings.so_far(place, paper.origin.job)
    contract = come_to.contract
    if contract is None or come_to.called_off is not None or contract.quotation != paper.number:
        return ""
    return formats.date(contract.accepted_on.isoformat())


def _price(option: dict[str, Any]) -> str:
    """Return the price of a choice as it was printed: exact, or a range without pence."""
    spread = option["spread"]
    if spread is None:
        return formats.money(Money.of(option["offer"]["total"]))
    low, high = (formats.whole_money(Money.of(spread[end])) for end in ("low", "high"))
    return say("options.range", low=low, high=high)


def _date(at: datetime.datetime) -> str:
    return formats.date(at.astimezone().date().isoformat())
