"""Whose paper it is, and what it is called: the same on papers of every kind."""

from __future__ import annotations

from estimator.documents.content import Letterhead
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader


def titled(heading: str, number: str) -> str:
    """Return what a paper is called.

    >>> titled("Survey", "Q-0147")
    'Survey Q-0147'
    """
    return say("meta.title", heading=heading, number=number).strip()


def letterhead(trader: Trader, *, is_taxed: bool) -> Letterhead:
    """Return whose paper it is; a trader who charges no VAT shows no number for it.

    >>> letterhead(Trader("Tarn & Pike", telephone="01632 960188"), is_taxed=False).contact
    ('01632 960188',)
    """
    under = " · ".join(p for p in (trader.trade, ", ".join(trader.address)) if p.strip())
    contact = [part for part in (trader.telephone, trader.email) if part.strip()]
    kept = ("vat_number", "company_number") if is_taxed else ("company_number",)
    numbers = [
        say(f"letterhead.{name}", number=getattr(trader, name).strip())
        for name in kept
        if getattr(trader, name).strip()
    ]
    if numbers:
        contact.append(" · ".join(numbers))
    named = bool(trader.name.strip())
    return Letterhead(
        name=trader.name.strip(),
        under=under,
        contact=tuple(contact),
        draft="" if named else say("letterhead.draft"),
    )
