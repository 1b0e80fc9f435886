"""Pricing a job that is in the file, with the file's own rates."""

from __future__ import annotations

from pathlib import Path

from estimator.command.price import Request, trader_of
from estimator.notices import WorldFault
from estimator.office.place import file_in
from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation
from estimator.store import jobs, photos, price_books
from estimator.store.database import open_file
from estimator.survey.survey import Survey
from estimator.takeoff import rules


def quoted(request: Request, folder: Path) -> tuple[Quotation, Practice]:
    """Return the offer for a job in the file, and what it was priced with.

    Raises:
        UserMistake: when there is no such job, or for anything that cannot be used.
        WorldFault: when there is no file, or it cannot be opened.
    """
    path = file_in(folder)
    if not path.exists():
        raise WorldFault(
            f"there is no file in {folder} yet", do="take a survey in with the command data add"
        )
    with open_file(path) as database:
        survey = jobs.survey(database, jobs.full_uid(database, request.job))
        if request.book is not None:
            book = price_book.load(request.book)
        else:
            price_books.installed(database)
            book = price_books.load(database)
    practice = Practice(book, rules.shipped(), trader_of(request))
    quotation = offering.prepare(
        survey,
        practice,
        scopes=request.scopes,
        number=request.number or survey.reference,
        date=request.date,
    )
    return quotation, practice


def photographs(request: Request, folder: Path, survey: Survey) -> dict[str, bytes]:
    """Return the photographs of a job by their SHA-256, as far as the paper asked for shows them.

    Raises:
        UserMistake: when there is no such job.
        WorldFault: when the file cannot be opened, or a photograph in it was damaged.
    """
    names = {photo.picture for photo in survey.photos}
    if request.survey_paper is None or not names:
        return {}
    with open_file(file_in(folder), read_only=True) as database:
        job = jobs.full_uid(database, request.job)
        found = {name: photos.load(database, job, name) for name in sorted(names)}
    return {name: picture for name, picture in found.items() if picture is not None}
