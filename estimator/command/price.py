"""The one thing asked of the command line so far: a survey in, a quotation or estimate out."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.quoting import offering, trader_file
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation, Trader
from estimator.survey import survey_file
from estimator.takeoff import rules, scope
from estimator.takeoff.scope import Scope
from estimator.whole_file import write_whole

UNNAMED = Trader(name="")
"""Stands in until a firm file is given; the paper then says that it is a draft."""


@dataclass(frozen=True, slots=True)
class Request:
    """What was asked on the command line."""

    survey: Path | None
    """A survey file; None when a job in the file is asked about."""
    book: Path | None = None
    firm: Path | None = None
    papers: Path | None = None
    """Folder for the papers."""
    scopes: tuple[Scope, ...] = scope.USUAL
    number: str = ""
    date: str = ""
    """ISO 8601 date; the survey's own when empty."""
    survey_paper: Path | None = None
    """File for the paper of the survey."""
    elevations: Path | None = None
    """Folder for the elevations as SVG."""
    ubl: Path | None = None
    """Folder for the choices of a quotation as UBL."""
    photos: Path | None = None
    """Folder of the photographs the survey names."""
    job: str = ""
    """A job in the file, by its name there or the first letters of it."""


def scope_named(key: str) -> Scope:
    """Return the scope with a key.

    Raises:
        UserMistake: when there is none.

    >>> scope_named("panel").title
    'Stitch, and repoint the whole panel'
    """
    if key not in scope.ALL:
        raise UserMistake(
            f"'{key}' is no scope", do=f"write {', '.join(scope.ALL)}, and the survey before them"
        )
    return scope.ALL[key]


def practice(request: Request) -> Practice:
    """Return the rates, rules and name asked for, the shipped ones where nothing was said."""
    return Practice(
        book=price_book.load(request.book) if request.book else price_book.shipped(),
        rules=rules.shipped(),
        trader=trader_of(request),
    )


def trader_of(request: Request) -> Trader:
    """Return whose name is on the paper."""
    return trader_file.load(request.firm) if request.firm else UNNAMED


def quoted(request: Request, practised: Practice) -> Quotation:
    """Return the quotation or estimate for the survey asked about.

    Raises:
        UserMistake: for anything in the survey or the request that cannot be used.
    """
    if request.survey is None:
        raise UserMistake("there is nothing to price", do="name a survey file, or a job with --job")
    survey = survey_file.load(request.survey)
    return offering.prepare(
        survey,
        practised,
        scopes=request.scopes,
        number=request.number or survey.reference,
        date=request.date,
    )


def write_ubl(quotation: Quotation, folder: Path) -> tuple[Path, ...]:
    """Write each choice of a quotation as UBL 2.3, and return where they lie.

    Raises:
        UserMistake: for an estimate, whose range no such document can hold.
        WorldFault: when the folder will not take them.
    """
    from estimator.exchange import ubl_quotation  # noqa: PLC0415 - not needed for pricing

    written = []
    for place, option in enumerate(quotation.options):
        path = (
            folder / f"{file_stem(quotation.paper, quotation.number)}-{option.offer.scope.key}.xml"
        )
        write_whole(path, ubl_quotation.quotation(quotation, place))
        written.append(path)
    return tuple(written)


def write_papers(quotation: Quotation, folder: Path) -> Sequence[Path]:
    """Write the paper for a quotation into a folder and return where it lies.

    Nothing is written where no price may be given.

    Raises:
        WorldFault: when the folder will not take it.
    """
    if not quotation.options:
        return ()
    from estimator.documents import quotation as paper  # noqa: PLC0415 - slower than pricing

    path = folder / f"{file_stem(quotation.paper, quotation.number)}.pdf"
    write_whole(path, paper.render(quotation))
    return (path,)


def file_stem(kind: Enum, number: str) -> str:
    """Return a file name for a paper that every disk takes.

    >>> from estimator.quoting.quotation import Paper
    >>> file_stem(Paper.QUOTATION, "Q/2026 014")
    'quotation-Q-2026-014'
    """
    plain = re.sub(r"[^\w.-]+", "-", number).strip(".-")[:80]
    return f"{str(kind.value).replace(' ', '-')}-{plain or 'unnumbered'}"
