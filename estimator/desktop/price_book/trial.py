"""Trying a change of rates on the open job before it is made; runs in a worker."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.pricing import price_book
from estimator.pricing.price_book import PriceBook
from estimator.quoting import offering
from estimator.quoting.edits import Work
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Option
from estimator.store import book_parts
from estimator.store.book_parts import Entry, Kind


@dataclass(frozen=True, slots=True)
class Total:
    """What one choice of the open job comes to."""

    key: str
    title: str
    pounds: Decimal
    """Tax in [£]."""


def totals_of(options: Sequence[Option]) -> tuple[Total, ...]:
    """Return what each choice comes to, tax in."""
    return tuple(
        Total(one.measure.scope.key, one.measure.scope.title, one.offer.total.pounds)
        for one in options
    )


def book_with(text: str, entries: Sequence[Entry]) -> PriceBook:
    """Return a price book with some entries changed.

    Raises:
        UserMistake: when the engine could not price with the result.
    """
    parts = book_parts.taken_apart(text)
    changed: dict[tuple[Kind, str], Entry] = {(one.kind, one.code): one for one in entries}
    tried = tuple(changed.get((one.kind, one.code), one) for one in parts.entries)
    return price_book.read(book_parts.put_together(replace(parts, entries=tried), indent=None))


def tried(
    text: str, entries: Sequence[Entry], work: Work, practice: Practice, date: datetime.date
) -> tuple[Total, ...]:
    """Return what each choice of a job would come to with some entries changed.

    Raises:
        UserMistake: when the engine could not price with the result.
    """
    with_change = replace(practice, book=book_with(text, entries))
    options = offering.priced(work.survey, with_change, scopes=work.scopes, date=date)
    return totals_of([one for one in options if one.measure.lines])
