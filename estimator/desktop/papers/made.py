"""A paper made in another process: prepared, priced and laid out, with what is checked about it.

Nothing here knows a window, so that the process that makes a paper loads none.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from estimator.notices import UserMistake
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation
from estimator.survey.survey import Survey
from estimator.takeoff.scope import Scope


@dataclass(frozen=True, slots=True)
class Offered:
    """One choice on the paper, as it is printed there."""

    key: str
    title: str
    price: str


@dataclass(frozen=True, slots=True)
class Draft:
    """A paper without its number, and what is checked before it gets one."""

    quotation: Quotation
    pdf: bytes
    offered: tuple[Offered, ...]
    date: str
    valid_until: str
    """In words."""
    cautions: tuple[str, ...]
    """Sentences about this wall that the customer will read."""


def made(
    survey: Survey, practice: Practice, scopes: tuple[Scope, ...], date: datetime.date
) -> Draft:
    """Return the paper for a survey as it would go out on a day.

    Raises:
        UserMistake: where no price may be given, or the choices come to nothing.
    """
    # Slower to load than everything else here.
    from estimator.documents import formats, terms  # noqa: PLC0415
    from estimator.documents.offered import headline  # noqa: PLC0415
    from estimator.documents.quotation import render  # noqa: PLC0415

    quotation = offering.prepare(survey, practice, scopes=scopes, date=date.isoformat())
    if not quotation.options:
        raise UserMistake(
            "no price is given for this wall",
            why="what was told about it asks for somebody else first",
            do="read what is said over the money",
        )
    return Draft(
        quotation=quotation,
        pdf=render(quotation),
        offered=tuple(
            Offered(one.offer.scope.key, one.offer.scope.title, headline(one, quotation.paper))
            for one in quotation.options
        ),
        date=formats.date(quotation.date),
        valid_until=formats.date(quotation.valid_until),
        cautions=tuple(
            text
            for section in terms.sections(quotation)
            if section.key == "cautions"
            for block in section.blocks
            for text in getattr(block, "items", ())
        ),
    )
