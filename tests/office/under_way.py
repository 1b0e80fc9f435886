"""Jobs in a file with a quotation out, all invented, and the figures of what came after."""

from __future__ import annotations

import datetime
from dataclasses import replace
from functools import lru_cache

from estimator.contract import drafting, valuation
from estimator.contract.contract import Manner
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Variation
from estimator.office import contracts
from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation, Trader
from estimator.store import customers, issued, jobs, price_books
from estimator.store.database import Database
from estimator.store.issued import IssuedPaper, Origin
from estimator.store.jobs import Job
from estimator.store.within import Place
from estimator.survey.survey import CrackedBrick, CustomerKind, Survey, Treatment
from estimator.takeoff import rules
from tests.store import work

DAY = datetime.date(2026, 11, 26)
TRADER = Trader("Sample Masonry", address=("1 Kiln Row",), telephone="01632 960100")
WHO = "Ines Marlowe"


def found(survey: Survey, courses: tuple[int, ...] = (5, 6, 7, 8)) -> Survey:
    """The wall with more cracked bricks in it, one in each of some courses."""
    side = survey.elevations[0]
    more = tuple(CrackedBrick(course, 3, Treatment.REPLACE) for course in courses)
    return replace(
        survey, elevations=(replace(side, bricks=(*side.bricks, *more)), *survey.elevations[1:])
    )


@lru_cache(maxsize=4)
def trade_survey() -> Survey:
    """The wall of a main contractor's, who accounts for tax and keeps the deduction back."""
    survey = work.demo()
    party = replace(
        survey.customer, kind=CustomerKind.TRADE, vat_number="GB 999 9999 73", is_end_user=False
    )
    return replace(survey, customer=party)


def quoted(survey: Survey, place: Database, uid: str = "") -> Quotation:
    """What is offered for a wall at the file's own rates, or those that ship."""
    book = price_books.load(place) if uid else price_book.shipped()
    return offering.prepare(survey, Practice(book, rules.shipped(), TRADER), date="2026-11-25")


def offered(
    database: Database, survey: Survey | None = None, *, book: str = "", supersedes: str = ""
) -> tuple[str, IssuedPaper]:
    """Put a job and its quotation into a file; return the job's uid and the paper."""
    seen = survey or work.demo()
    who = customers.add(database, customers.from_party(seen.customer), now=work.at_nine)
    job = jobs.add(database, Job(seen.title, customer=who.uid), now=work.at_nine)
    jobs.accept_survey(database, job.uid, seen, why="first visit", now=work.at_nine)
    return job.uid, issue(database, job.uid, quoted(seen, database, book), book, supersedes)


def issue(
    place: Place, job: str, quotation: Quotation, book: str = "", supersedes: str = ""
) -> IssuedPaper:
    origin = Origin(job, 1, book, supersedes)
    return issued.issue(place, quotation, origin=origin, make_pdf=work.pdf, now=work.at_nine)


def accepted(database: Database, option: int = 0) -> tuple[str, SoFar]:
    """Put an accepted job into a file."""
    job, paper = offered(database)
    return job, accept(database, job, paper.number, option)


def accept(database: Database, job: str, number: str, option: int = 0, **more: object) -> SoFar:
    return contracts.accept(
        database,
        job,
        number,
        option,
        **{  # type: ignore[arg-type]
            "accepted_by": WHO,
            "how": Manner.TELEPHONE,
            "accepted_on": DAY,
            "now": work.at_nine,
            **more,
        },
    )


def drawn_up(so_far: SoFar, courses: tuple[int, ...] = (5, 6, 7, 8)) -> Variation:
    """A variation for more cracked bricks."""
    assert so_far.contract is not None
    told = valuation.value(so_far, found(work.demo(), courses), so_far.contract.scope)
    return drafting.drawn_up(
        so_far, told, date=DAY, asked_by="found on site", reason="cracked through", revision=1
    )
