"""From a frozen quotation to everything its paper says."""

from __future__ import annotations

from estimator.documents import figure, formats, head, offered, seen, terms
from estimator.documents.content import Content, Fact, Foot, Metadata
from estimator.documents.wording import say
from estimator.quoting.quotation import Paper, Quotation

POINTED_TO = ("cautions", "safety", "excluded", "next", "cancel")
"""Sections that the first page points to, in this order."""


def content_of(quotation: Quotation) -> Content:
    """Return all that the paper says.

    Raises:
        ValueError: when there is no option, so no price to put on paper.
    """
    if not quotation.options:
        raise ValueError("a paper needs at least one option")
    kind = quotation.paper.value
    full = seen.in_full(quotation)
    sections = terms.sections(quotation)
    heading, under = say(f"headings.{kind}"), say(f"headings.{kind}_under")
    return Content(
        paper=quotation.paper,
        letterhead=head.letterhead(quotation.trader, is_taxed=_is_taxed(quotation)),
        heading=heading,
        under_heading=under,
        facts=_facts(quotation),
        saw=seen.first_page(quotation),
        choices=offered.choices(quotation),
        work=offered.work(quotation),
        figures=figure.of_quotation(quotation),
        figures_title=say("headings.drawings"),
        schedule=offered.schedule(quotation),
        sections=sections if full is None else (full, *sections),
        acceptance=terms.acceptance(quotation),
        form=terms.form(quotation),
        foot=Foot(
            name=head.titled(heading, quotation.number),
            warnings=_warnings(quotation),
            pointer=tuple(
                (key, section.title)
                for key in POINTED_TO
                for section in sections
                if section.key == key
            ),
        ),
        metadata=Metadata(
            title=head.titled(heading, quotation.number),
            author=quotation.trader.name.strip(),
            subject=say("meta.subject", heading=heading, under=under, title=quotation.survey.title),
        ),
    )


def _is_taxed(quotation: Quotation) -> bool:
    return any(option.offer.taxes for option in quotation.options)


def _facts(quotation: Quotation) -> tuple[Fact, ...]:
    customer = quotation.survey.customer
    until = "good_until" if quotation.paper is Paper.ESTIMATE else "open_until"
    values = {
        "number": quotation.number,
        "date": formats.date(quotation.date),
        until: formats.date(quotation.valid_until),
        "for": ", ".join(part for part in (customer.name, *customer.address) if part.strip()),
        "site": ", ".join(part for part in customer.site if part.strip()),
    }
    return tuple(
        Fact(say(f"letterhead.{key}"), value) for key, value in values.items() if value.strip()
    )


def _warnings(quotation: Quotation) -> tuple[str, ...]:
    """Return what every page warns of before the paper is sent."""
    warnings = []
    if not quotation.trader.name.strip():
        warnings.append(say("letterhead.draft"))
    elif _is_taxed(quotation) and not quotation.trader.vat_number.strip():
        warnings.append(say("letterhead.no_vat_number"))
    if not quotation.rates_confirmed:
        warnings.append(say("letterhead.illustrative"))
    return tuple(warnings)
