"""From a survey to a frozen quotation or estimate: the one flow, in one place.

Triage speaks first. A stop or refer route gives no price at all. Otherwise each scope is measured
and priced; a route that allows a fixed price makes a quotation, any other an estimate with an
honest range from a seeded sample through the same engine.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

from estimator.money import NOTHING, Money
from estimator.notices import UserMistake
from estimator.pricing.price_book import PriceBook
from estimator.pricing.pricing import price
from estimator.pricing.risk import Band, spread
from estimator.pricing.terms import Terms
from estimator.quoting.quotation import Option, Paper, Quotation, Spread, Trader
from estimator.survey.ranges import settled
from estimator.survey.survey import Survey
from estimator.survey.triage import assess
from estimator.takeoff.measure import measure_all
from estimator.takeoff.rules import Rules, changed
from estimator.takeoff.scope import USUAL, Scope


@dataclass(frozen=True, slots=True)
class Practice:
    """How one contractor works: their rates, their rules, their name, and how long offers stand."""

    book: PriceBook
    rules: Rules
    trader: Trader
    validity_days: int = 30
    """Days an offer stays open. [day]"""

    @property
    def fitted_rules(self) -> Rules:
        """The rules, with the bar lengths that the price book can sell."""
        return changed(self.rules, stock_lengths_mm=self.book.bar_lengths_mm)


def prepare(
    survey: Survey,
    practice: Practice,
    *,
    scopes: Sequence[Scope] = USUAL,
    number: str = "",
    date: str = "",
) -> Quotation:
    """Return the quotation or estimate for a survey; no options where the route allows no price.

    A scope that has nothing to do on this wall is not offered.

    Raises:
        UserMistake: for no scope, a scope twice, a date that is none, or nothing to do at all.
    """
    _check(scopes)
    assessment = assess(survey)
    issued = _day(date or survey.date)
    is_firm = assessment.route.allows_fixed_price and settled(survey) is survey
    options: tuple[Option, ...] = ()
    if assessment.route.allows_price:
        options = _worth_offering(priced(survey, practice, scopes=scopes, date=issued))
        if not is_firm:
            options = _with_spreads(survey, practice, options, date=issued)
    return Quotation(
        paper=Paper.QUOTATION if is_firm else Paper.ESTIMATE,
        number=number,
        date=issued.isoformat(),
        valid_until=_end_of_validity(issued, practice).isoformat(),
        trader=practice.trader,
        survey=survey,
        assessment=assessment,
        options=options,
        rates_confirmed=practice.book.confirmed,
        currency=practice.book.currency,
        country=practice.book.tax.country,
    )


def priced(
    survey: Survey, practice: Practice, *, scopes: Sequence[Scope], date: datetime.date
) -> tuple[Option, ...]:
    """Return each scope measured and priced at the likely value of every range."""
    plain = settled(survey)
    terms = Terms.of(plain, practice.book, date=date)
    return tuple(
        Option(measure, price(measure, practice.book, terms))
        for measure in measure_all(plain, scopes, practice.fitted_rules)
    )


def totals(
    survey: Survey, practice: Practice, *, scopes: Sequence[Scope], date: datetime.date
) -> tuple[Money, ...]:
    """Return the total of each scope, tax in; one that has nothing to do comes to nothing."""
    return tuple(
        option.offer.total if option.measure.lines else NOTHING
        for option in priced(survey, practice, scopes=scopes, date=date)
    )


def _worth_offering(options: tuple[Option, ...]) -> tuple[Option, ...]:
    """Return the options with any work in them: nobody signs for nothing at no price."""
    found = tuple(option for option in options if option.measure.lines)
    if not found:
        raise UserMistake(
            "there is nothing to price",
            why="nothing in the survey asks for the work that was to be offered",
            do="mark a crack, a brick to repair or an area to repoint, or offer something else",
        )
    return found


def _with_spreads(
    survey: Survey, practice: Practice, options: tuple[Option, ...], *, date: datetime.date
) -> tuple[Option, ...]:
    """Return the options with a range each, drawn through the whole engine."""
    scopes = tuple(option.measure.scope for option in options)

    def drawn_totals(drawn: Survey) -> tuple[Money, ...]:
        return totals(drawn, practice, scopes=scopes, date=date)

    bands = spread(drawn_totals, survey, book=practice.book)
    return tuple(
        replace(option, spread=_shown(band)) for option, band in zip(options, bands, strict=True)
    )


def _shown(band: Band) -> Spread:
    return Spread(band.low, band.likely, band.high, band.confidence)


def _check(scopes: Sequence[Scope]) -> None:
    keys = [scope.key for scope in scopes]
    if not keys:
        raise UserMistake("there is nothing to price", do="name at least one scope")
    twice = next((key for key in keys if keys.count(key) > 1), None)
    if twice is not None:
        raise UserMistake(f"the scope '{twice}' is asked for twice", do="name each scope once")


def _end_of_validity(issued: datetime.date, practice: Practice) -> datetime.date:
    try:
        return issued + datetime.timedelta(days=practice.validity_days)
    except OverflowError as error:
        raise UserMistake(
            f"{issued.isoformat()} is too far ahead for a paper", do="write an earlier date"
        ) from error


def _day(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError as error:
        raise UserMistake(
            f"'{text}' is not a date", do="write the year, month and day, such as 2026-11-25"
        ) from error
