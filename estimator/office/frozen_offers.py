"""A quotation read back from the file, with all it was priced with, to make a contract of it.

Prices are taken as they were printed. The same survey is priced anew beside them only to tell
whether rules or the program have changed since.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from sqlalchemy import Connection

from estimator import resources
from estimator.contract.acceptance import PaperOption, PricedBy, deducted_percent
from estimator.contract.contract import Sold
from estimator.contract.frozen import rules_text
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.office.practice import rules_of
from estimator.pricing import price_book, tax
from estimator.pricing.offer import Group, Offer
from estimator.pricing.price_book import PriceBook
from estimator.pricing.pricing import price
from estimator.pricing.tax_habits import Deduction
from estimator.pricing.terms import Terms
from estimator.quoting.quotation import Paper
from estimator.store import book_rows, issued, kept_papers
from estimator.store.within import Place
from estimator.survey import survey_file
from estimator.survey.ranges import settled
from estimator.survey.survey import Survey
from estimator.takeoff import rules
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import Rules
from estimator.takeoff.scope import Scope, Work
from estimator.units import Unit

ASKED = Deduction.UNVERIFIED
"""A deduction that is asked for to learn what it is not taken from; the greatest tells it best."""


@dataclass(frozen=True, slots=True)
class FrozenOffer:
    """One option of a quotation as it went out, and what it was priced with."""

    option: PaperOption
    by: PricedBy
    drift: Money
    """What the same survey comes to when it is priced now, less what was printed."""


def read(connection: Connection, job: str, number: str, option: int) -> FrozenOffer:
    """Return one option of a quotation of a job.

    Args:
        connection: The transaction under way.
        job: The job's uid.
        number: Of the quotation.
        option: Its place on the paper, from 0.

    Raises:
        UserMistake: when it is no quotation of this job that stands, or has no such option.
        DamagedFile: when it is no longer what was issued.
    """
    paper = issued.find(connection, number)
    _check(paper, job)
    said = said_of(connection, number)
    book_text = _book_text(connection, paper.origin.price_book)
    survey, book = survey_file.read(said["survey"]), price_book.read(book_text)
    quoted = said["quotation"]
    terms = Terms.of(settled(survey), book, date=datetime.date.fromisoformat(quoted["date"]))
    own = rules_of(connection, job)
    by = PricedBy(paper.origin.revision, said["survey"], book_text, rules_text(own), terms)
    chosen = _option(quoted, number, option, terms)
    asked = terms
    may_deduct = deducted_percent(ASKED, terms) is not None
    if may_deduct and terms.deduction is Deduction.NONE:
        asked = replace(terms, deduction=ASKED)
    anew = _priced_anew(survey, chosen.scope, book, own, asked)
    if asked is not terms:
        # A deduction may still be agreed, and then nothing hired is to be deducted from.
        cost = anew.net - tax.labour_of(anew.deduction, asked)
        chosen = replace(chosen, materials_cost=cost)
    return FrozenOffer(chosen, by, anew.net - chosen.net)


def said_of(place: Place, number: str) -> dict[str, Any]:
    """Return all that a quotation said when it went out.

    Raises:
        UserMistake: when there is none of that number, or its person was erased.
        DamagedFile: when it is no longer what was issued.
    """
    said = kept_papers.said_by(place, number)
    if "emptied" in said:
        raise UserMistake(
            f"{number} no longer says what was offered",
            why="the person it was for has been erased",
            do="issue a new quotation",
        )
    return said


def _check(paper: issued.IssuedPaper, job: str) -> None:
    if paper.origin.job != job:
        raise UserMistake(f"{paper.number} is a paper of another job", do="choose one of this job")
    if paper.kind is not Paper.QUOTATION:
        raise UserMistake(
            f"{paper.number} is an estimate",
            why="an estimate is no offer, so nobody can accept it",
            do="measure what is still a range, and issue a quotation",
        )
    if paper.superseded_by:
        raise UserMistake(
            f"{paper.superseded_by} has taken the place of {paper.number}",
            do=f"note that {paper.superseded_by} was accepted",
        )


def _book_text(connection: Connection, uid: str) -> str:
    """Return the price book a paper was priced with; the one that ships where it names none."""
    if not uid:
        return resources.path("price_book.json").read_text(encoding="utf-8")
    books = book_rows.all_books(connection)
    book = next(one for one in books if one.uid == uid)
    return book_rows.document_of(connection, book, indent=None)


def _option(quoted: Mapping[str, Any], number: str, option: int, terms: Terms) -> PaperOption:
    offers = [one["offer"] for one in quoted["options"]]
    if not 0 <= option < len(offers):
        raise UserMistake(f"{number} has no choice {option + 1}", do="choose one that is on it")
    offer = offers[option]
    others = [line for place, one in enumerate(offers) if place != option for line in one["lines"]]
    return PaperOption(
        number=number,
        valid_until=datetime.date.fromisoformat(quoted["valid_until"]),
        scope=_scope(offer["scope"]),
        lines=tuple(_sold(line) for line in offer["lines"]),
        others=tuple(_sold(line) for line in others),
        net=Money.of(offer["net"]),
        total=Money.of(offer["total"]),
        further_brick=Money.of(offer["further_brick"]),
        working_days=Decimal(offer["working_days"]),
        materials_cost=_materials_cost(offer, terms),
    )


def _sold(line: Mapping[str, Any]) -> Sold:
    return Sold(
        item=line["item"],
        group=Group(line["group"]),
        description=line["description"],
        unit=Unit.of_symbol(line["quantity"]["unit"]),
        rate=Decimal(line["rate"]),
        quantity=Decimal(line["quantity"]["amount"]),
        amount=Money.of(line["amount"]),
        marks=tuple(line["marks"]),
    )


def _scope(told: Mapping[str, Any]) -> Scope:
    return Scope(told["key"], told["title"], frozenset(Work(one) for one in told["works"]))


def _materials_cost(offer: Mapping[str, Any], terms: Terms) -> Money:
    """Return what materials and hire cost us of an offer.

    The paper says what was deducted and not from what, so that is worked back; where nothing was
    deducted it is what the ladder says of materials.
    """
    net, deducted = Money.of(offer["net"]), Money.of(offer["deduction"])
    if deducted:
        return net - tax.labour_of(deducted, terms)
    rungs = (rung for rung in offer["rungs"] if rung["key"] == "materials")
    return next((Money.of(rung["amount"]) for rung in rungs), Money(0))


def _priced_anew(survey: Survey, scope: Scope, book: PriceBook, own: Rules, terms: Terms) -> Offer:
    fitted = rules.changed(own, stock_lengths_mm=book.bar_lengths_mm)
    return price(measure(settled(survey), scope, fitted), book, terms)
