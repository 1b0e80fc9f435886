"""The commands for jobs and their papers: list, issue, look at what went out."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

from estimator.command import price
from estimator.command.data import SHORT_UID, opened
from estimator.command.exits import Exit
from estimator.command.speech import complain, say
from estimator.notices import UserMistake
from estimator.quoting import offering, trader_file
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Paper, Quotation
from estimator.store import issued, jobs, kept_papers, numbering, price_books
from estimator.store.database import Database
from estimator.store.issued import IssuedPaper, Origin
from estimator.store.jobs import JobRow, Stage
from estimator.store.kept_papers import KeptPaper
from estimator.store.numbering import Fate, Series
from estimator.takeoff import rules, scope
from estimator.whole_file import write_whole

BEFORE_OFFER = (Stage.ENQUIRY, Stage.SURVEYED)


def add_to(commands: Any) -> None:
    """Add the commands for jobs and papers."""
    listing = commands.add_parser("jobs", help="list jobs, the last changed first")
    listing.add_argument("--most", type=int, default=200, help="how many (200)")
    listing.add_argument("--skip", type=int, default=0, help="how many to pass over first")
    listing.set_defaults(run=list_jobs)

    issuing = commands.add_parser("issue", help="issue the paper for a job and print its number")
    issuing.add_argument("job", metavar="JOB", help="the job, as listed")
    issuing.add_argument("--firm", metavar="FILE", type=Path, help="whose name is on the paper")
    issuing.add_argument("--pdf", metavar="FOLDER", type=Path, help="write it into a folder, too")
    issuing.add_argument("--date", metavar="YYYY-MM-DD", default="", help="date on it (today)")
    issuing.add_argument(
        "--supersede", metavar="NUMBER", default="", help="the paper it takes the place of"
    )
    issuing.add_argument(
        "--scope",
        metavar="SCOPE",
        nargs="+",
        action="extend",
        help=f"what to offer, side by side: {', '.join(scope.ALL)} (usually local panel)",
    )
    issuing.set_defaults(run=issue)

    papers = commands.add_parser("papers", help="list issued papers, and check every byte of them")
    papers.set_defaults(run=list_papers)

    numbers = commands.add_parser("numbers", help="say what became of every number")
    numbers.add_argument(
        "--next",
        metavar="NUMBER",
        default="",
        help="go on from this number, such as Q-0148, and leave out those before it",
    )
    numbers.add_argument("--why", default="", help="why they are left out")
    numbers.set_defaults(run=tell_numbers)

    paper = commands.add_parser("paper", help="write an issued paper out again, byte for byte")
    paper.add_argument("number", metavar="NUMBER", help="its number, as listed")
    paper.add_argument("folder", metavar="FOLDER", type=Path, help="where to")
    paper.set_defaults(run=write_paper)


def list_jobs(arguments: argparse.Namespace) -> Exit:
    """List jobs."""
    with opened(arguments) as database:
        rows = jobs.list_jobs(database, limit=max(arguments.most, 0), offset=max(arguments.skip, 0))
    for row in rows:
        say(_job_line(row))
    if not rows:
        complain("There are no jobs here yet; add one with the command data add.")
    return Exit.DONE


def issue(arguments: argparse.Namespace) -> Exit:
    """Issue the paper for a job's latest survey, with its PDF, and print its number."""
    # Slower to load than everything else the command needs.
    from estimator.documents.quotation import render  # noqa: PLC0415

    with opened(arguments) as database:
        job = jobs.full_uid(database, arguments.job)
        quotation, origin = offered(database, job, arguments)
        with database.writing() as connection:
            paper = issued.issue(connection, quotation, origin=origin, make_pdf=render)
            now = jobs.find(connection, job)
            # An estimate is no offer, so the job stays at the stage it has come to.
            is_offer = now.stage in BEFORE_OFFER and quotation.paper is Paper.QUOTATION
            jobs.move(connection, job, Stage.OFFERED if is_offer else now.stage)
        say(paper.number)
        if arguments.pdf:
            say(f"Written: {_written(database, paper, arguments.pdf)}")
    if not quotation.rates_confirmed:
        complain("Some rates on it are illustrations, not yours yet.")
    return Exit.DONE


def offered(
    database: Database, job: str, arguments: argparse.Namespace
) -> tuple[Quotation, Origin]:
    """Return what is offered for a job's latest survey, and what it is made from."""
    latest = jobs.revisions(database, job)
    if not latest:
        raise UserMistake("the job has no survey yet", do="add one with the command data add")
    revision = latest[-1].revision
    book = price_books.installed(database)
    practice = Practice(
        book=price_books.load(database, book.id),
        rules=rules.shipped(),
        trader=trader_file.load(arguments.firm) if arguments.firm else price.UNNAMED,
    )
    keys: Sequence[str] = arguments.scope or [one.key for one in scope.USUAL]
    quotation = offering.prepare(
        jobs.survey(database, job, revision=revision),
        practice,
        scopes=[price.scope_named(key) for key in keys],
        date=arguments.date or datetime.now().astimezone().date().isoformat(),
    )
    origin = Origin(job, revision, price_book=book.uid, supersedes=arguments.supersede)
    return quotation, origin


def list_papers(arguments: argparse.Namespace) -> Exit:
    """List issued papers and say of each whether it is still as it went out."""
    with opened(arguments) as database:
        damages = issued.verify(database)
        # A changed paper may be too far gone to be listed.
        papers = () if damages else issued.list_papers(database)
        later = () if damages else kept_papers.list_papers(database)
    for line in (*map(_paper_line, papers), *map(_kept_line, later)):
        say(line)
    for damage in damages:
        complain(f"{damage.number} is not as it was issued: {damage.what}.")
    if damages:
        complain("Take the papers from a good backup with the command data restore.")
        return Exit.FAULT
    return Exit.DONE


def tell_numbers(arguments: argparse.Namespace) -> Exit:
    """Say what became of every number, or go on from a later one."""
    with opened(arguments) as database:
        if arguments.next:
            number = numbering.read(arguments.next)
            with database.writing() as connection:
                numbering.go_on_from(connection, number.series, number.value, why=arguments.why)
        told = [one for series in Series for one in numbering.explain(database, series)]
    for one in told:
        run = one.first if one.first == one.last else f"{one.first} to {one.last}"
        say(f"{run}  {one.fate.value}" + (f": {one.why}" if one.why else ""))
    return Exit.FAULT if any(one.fate is Fate.MISSING for one in told) else Exit.DONE


def write_paper(arguments: argparse.Namespace) -> Exit:
    """Write the PDF of an issued paper into a folder."""
    with opened(arguments) as database:
        say(f"Written: {_written_out(database, arguments.number, arguments.folder)}")
    return Exit.DONE


def _written(database: Database, paper: IssuedPaper, folder: Path) -> Path:
    path = folder / f"{price.file_stem(paper.kind, paper.number)}.pdf"
    write_whole(path, issued.pdf_of(database, paper.number))
    return path


def _written_out(database: Database, number: str, folder: Path) -> Path:
    """Write any paper that is kept, offer or not."""
    later = next((one for one in kept_papers.list_papers(database) if one.number == number), None)
    if later is None:
        return _written(database, issued.find(database, number), folder)
    path = folder / f"{price.file_stem(later.kind, number)}.pdf"
    write_whole(path, kept_papers.pdf_of(database, number))
    return path


def _job_line(row: JobRow) -> str:
    changed = row.changed_at.astimezone().date().isoformat()
    customer = row.customer or "no name"
    return f"{row.uid[:SHORT_UID]}  {changed}  {row.stage.value:8}  {customer}  {row.title}"


def _paper_line(paper: IssuedPaper) -> str:
    issued_on = paper.issued_at.astimezone().date().isoformat()
    line = f"{paper.number}  {issued_on}  {paper.kind.value:9}  £{paper.total.pounds:,}"
    return f"{line}  superseded by {paper.superseded_by}" if paper.superseded_by else line


def _kept_line(paper: KeptPaper) -> str:
    issued_on = paper.issued_at.astimezone().date().isoformat()
    amount = "" if paper.total is None else f"  £{paper.total.pounds:,}"
    return f"{paper.number}  {issued_on}  {paper.kind.value}{amount}"
