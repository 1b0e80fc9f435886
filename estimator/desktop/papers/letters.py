"""What is written to a customer beside a paper: an e-mail, and a message for a telephone."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from estimator.desktop.language import _
from estimator.desktop.papers import checks
from estimator.exchange import email_draft
from estimator.exchange.email_draft import Attached, Letter, Person
from estimator.quoting.quotation import Paper

if TYPE_CHECKING:
    from estimator.desktop.papers.issuing import Gone


def file_name(gone: Gone) -> str:
    """Return what a copy of the paper is called."""
    parts = (checks.kind_named(gone.kind), gone.number, gone.customer.name.strip())
    return email_draft.file_name(" ".join(part for part in parts if part))


def email(gone: Gone, *, to: str, at: datetime) -> bytes:
    """Return a draft of an e-mail with the paper on it.

    Raises:
        UserMistake: for an address no mail program could send to.
    """
    subject = _("{kind} {number} from {firm}").format(
        kind=checks.kind_named(gone.kind), number=gone.number, firm=gone.firm
    )
    return email_draft.draft(
        Letter(subject, _body(gone)),
        Attached(file_name(gone), gone.pdf),
        sender=Person(gone.firm, gone.firm_email),
        to=Person(gone.customer.name, to),
        at=at,
    )


def short(gone: Gone) -> str:
    """Return a message of a line or two: which paper, how much, and until when."""
    gaps = {
        "number": gone.number,
        "firm": gone.firm,
        "price": _(" or ").join(price for _title, price in gone.offered),
        "date": gone.valid_until,
    }
    if gone.kind is Paper.QUOTATION:
        return _("Quotation {number} from {firm}: {price}, open until {date}.").format(**gaps)
    return _(
        "Estimate {number} from {firm}: {price}, a guide until {date}. It is not a fixed price."
    ).format(**gaps)


def _body(gone: Gone) -> str:
    name = gone.customer.name.strip()
    greeting = _("Dear {name},").format(name=name) if name else _("Hello,")
    if gone.kind is Paper.QUOTATION:
        opening = _("Here is our quotation {number}: {title}.")
        until = _("The price is fixed for the work described, and open until {date}.")
    else:
        opening = _("Here is our estimate {number}: {title}.")
        until = _("It is a guide until {date}, not a fixed price.")
    prices = "\n".join(
        _("{title}: {price}").format(title=title, price=price) for title, price in gone.offered
    )
    closing = "\n".join(part for part in (gone.firm, gone.firm_telephone) if part.strip())
    parts = (
        greeting,
        opening.format(number=gone.number, title=gone.title),
        prices,
        until.format(date=gone.valid_until),
        closing,
    )
    return "\n\n".join(part for part in parts if part) + "\n"
