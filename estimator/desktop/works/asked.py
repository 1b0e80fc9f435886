"""What the works ask of the file; every function runs in the file's own thread."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from estimator.contract.deeds import Deed, Struck
from estimator.contract.works import Completion
from estimator.desktop.agreed.kept_paper import Kept
from estimator.exchange import calendar_out
from estimator.exchange.calendar_out import About
from estimator.office import contracts
from estimator.quoting.quotation import Trader
from estimator.store import happenings
from estimator.store.database import Database
from estimator.store.kept_papers import PaperKind
from estimator.survey.survey import Survey
from estimator.works.reissued import reissue

SLIP = "typed by mistake"
"""Why something was struck out that somebody took back at once."""


def note(database: Database, job: str, deeds: Sequence[Deed]) -> None:
    """Note deeds, all of them or none."""
    contracts.do_all(database, job, deeds)


def take_back(database: Database, job: str, happened: Sequence[str]) -> None:
    """Strike out what was a slip, all of it or nothing; it is kept, and counts no more.

    Args:
        database: The file.
        job: The job's uid.
        happened: What the file calls what was noted.

    Raises:
        UserMistake: when something of it does not count any more, or may not be struck out.
    """
    contracts.do_all(database, job, [Struck(one, SLIP) for one in happened])


def sheet(database: Database, job: str, kind: str, trader: Trader, key: str = "") -> Kept:
    """Make a paper that notes nothing, under its number, and keep it."""
    gone = contracts.sheet(database, job, PaperKind(kind), trader=trader, key=key)
    return Kept(gone.number, gone.pdf)


def complete(database: Database, job: str, told: Completion, trader: Trader) -> Kept:
    """Note that the works are complete, with the paper that says so."""
    gone = contracts.complete(database, job, told, trader=trader)
    return Kept(gone.number, gone.pdf)


def calendar_file(database: Database, job: str, survey: Survey, trader: Trader) -> bytes:
    """Return the programme as an iCalendar file that moves what was sent before."""
    about = About(
        job,
        survey.title,
        ", ".join(survey.customer.site or survey.customer.address),
        trader.name,
        datetime.datetime.now(datetime.UTC),
    )
    return calendar_out.to_ics(reissue(happenings.of_job(database, job)), about)
