"""A yes to an issued quotation: what the paper says is read back, and frozen as the contract."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from estimator.contract.acceptance import PaperOption, PricedBy, Yes, contract_of
from estimator.contract.contract import Sold
from estimator.contract.deeds import Accepted
from estimator.contract.frozen import parsed, rules_text
from estimator.contract.so_far import SoFar
from estimator.money import Money, total
from estimator.notices import UserMistake
from estimator.office.practice import rules_of
from estimator.pricing import price_book
from estimator.pricing.offer import Group
from estimator.pricing.pricing import price
from estimator.pricing.terms import Terms
from estimator.quoting.quotation import Paper
from estimator.store import clock, happenings, issued, jobs, price_books
from estimator.store.clock import Clock
from estimator.store.database import Database
from estimator.store.jobs import Stage
from estimator.survey import survey_file
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import changed
from estimator.takeoff.scope import Scope, Work
from estimator.units import Unit

BOUGHT = ("materials", "access")
"""Rungs of what was paid to others, which the construction scheme deducts nothing from."""
UNITS = {unit.symbol: unit for unit in Unit}


def accept(
    database: Database, job: str, number: str, option: int, yes: Yes, *, now: Clock = clock.now
) -> SoFar:
    """Make an option of an issued quotation the contract, and return what the job has come to.

    Args:
        database: The file.
        job: The job's uid.
        number: Of the quotation.
        option: Its place on the paper, from 0.
        yes: How it was accepted.
        now: The time.

    Raises:
        UserMistake: for an estimate, a paper of another job, one that has lapsed or was superseded,
            or terms that make no sense.
        DamagedFile: when the paper is no longer what was issued.
    """
    told: dict[str, Any] = json.loads(issued.content_text(database, number))
    _check(database, job, number, told)
    # A price book is only ever followed by another, so its text is still what was quoted from.
    by = _priced_by(database, job, told)
    on_paper = option_of(told, option)
    contract = contract_of(on_paper, yes, by, drift=_drift(on_paper, by))
    with database.writing() as connection:
        happenings.add(connection, job, Accepted(contract), now=now)
        jobs.move(connection, job, Stage.ACCEPTED, now=now)
        return happenings.so_far(connection, job)


def option_of(told: Mapping[str, Any], place: int) -> PaperOption:
    """Return one option as a paper says it.

    Raises:
        UserMistake: when there is no such option on it.
    """
    options = told["quotation"]["options"]
    if not 0 <= place < len(options):
        raise UserMistake(
            f"{told['number']} has no such choice", do=f"choose one of the {len(options)} on it"
        )
    offer = options[place]["offer"]
    others = [one["offer"] for at, one in enumerate(options) if at != place]
    return PaperOption(
        number=told["number"],
        valid_until=datetime.date.fromisoformat(told["quotation"]["valid_until"]),
        scope=_scope(offer["scope"]),
        lines=tuple(_sold(line) for line in offer["lines"]),
        others=tuple(_sold(line) for other in others for line in other["lines"]),
        net=Money.of(offer["net"]),
        total=Money.of(offer["total"]),
        further_brick=Money.of(offer["further_brick"]),
        working_days=Decimal(offer["working_days"]),
        materials_cost=total(
            Money.of(rung["amount"]) for rung in offer["rungs"] if rung["key"] in BOUGHT
        ),
    )


def _check(database: Database, job: str, number: str, told: Mapping[str, Any]) -> None:
    paper = issued.find(database, number)
    if paper.origin.job != job:
        raise UserMistake(f"{number} is a paper of another job", do="choose one of this job")
    if paper.superseded_by:
        raise UserMistake(
            f"{number} is no longer the newest", do=f"accept {paper.superseded_by} instead"
        )
    if told["kind"] != Paper.QUOTATION.value:
        raise UserMistake(
            f"{number} is an estimate",
            why="nobody can hold anybody to a range",
            do="measure the wall, issue a quotation, and have that accepted",
        )


def _priced_by(database: Database, job: str, told: Mapping[str, Any]) -> PricedBy:
    uid = told["price_book"]
    known = next((book.id for book in price_books.books(database) if book.uid == uid), None)
    text = price_books.document(database, known)
    survey = survey_file.read(told["survey"])
    date = datetime.date.fromisoformat(told["quotation"]["date"])
    return PricedBy(
        revision=told["revision"],
        survey=told["survey"],
        book=text,
        rules=rules_text(rules_of(database, job)),
        terms=Terms.of(survey, price_book.read(text), date=date),
    )


def _drift(on_paper: PaperOption, by: PricedBy) -> Money:
    """Return what the same wall comes to now, less what the paper says.

    Rules changed between issue and acceptance are the one thing a paper does not keep.
    """
    then = parsed(by.survey, by.book, by.rules)
    fitted = changed(then.rules, stock_lengths_mm=then.book.bar_lengths_mm)
    work = measure(then.survey, on_paper.scope, fitted)
    return price(work, then.book, by.terms).net - on_paper.net


def _scope(told: Mapping[str, Any]) -> Scope:
    works = {work.value: work for work in Work}
    return Scope(told["key"], told["title"], frozenset(works[one] for one in told["works"]))


def _sold(line: Mapping[str, Any]) -> Sold:
    return Sold(
        item=line["item"],
        group=Group(line["group"]),
        description=line["description"],
        unit=UNITS[line["quantity"]["unit"]],
        rate=Decimal(line["rate"]),
        quantity=Decimal(line["quantity"]["amount"]),
        amount=Money.of(line["amount"]),
        marks=tuple(line["marks"]),
    )
