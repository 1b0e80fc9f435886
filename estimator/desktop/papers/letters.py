"""What is written to a customer beside a paper: an e-mail, and a message for a telephone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from estimator.desktop.language import _
from estimator.desktop.papers import checks
from estimator.documents import formats
from estimator.exchange import email_draft
from estimator.exchange.email_draft import Attached, Letter, Person
from estimator.quoting.quotation import Paper, Trader
from estimator.survey.survey import Basis, Survey

if TYPE_CHECKING:
    from estimator.desktop.papers.issuing import Gone


@dataclass(frozen=True, slots=True)
class Enclosed:
    """A paper as it is saved, printed or put into a message."""

    name: str
    """Of a copy as a file."""
    pdf: bytes
    letter: Letter
    sender: Person
    to: str = ""
    """Name of whoever it is for; empty where it may be for several."""


def of_paper(gone: Gone) -> Enclosed:
    """Return a paper that went out, ready to be sent."""
    gaps = {"kind": checks.kind_named(gone.kind), "number": gone.number}
    name = gone.customer.name.strip()
    return Enclosed(
        email_draft.file_name(" ".join(part for part in (*gaps.values(), name) if part)),
        gone.pdf,
        Letter(_("{kind} {number} from {firm}").format(firm=gone.firm, **gaps), _body(gone)),
        Person(gone.firm, gone.firm_email),
        gone.customer.name,
    )


def of_survey(survey: Survey, trader: Trader, pdf: bytes) -> Enclosed:
    """Return the paper of a survey, ready to be sent to whoever asked for it.

    Nobody is named as who it is for: it goes to an engineer as often as to the customer.
    """
    party, firm = survey.customer, trader.name.strip()
    name = party.name.strip()
    place = ", ".join(line.strip() for line in (party.site or party.address) if line.strip())
    subject = _("Survey: {title}").format(title=survey.title)
    if firm:
        subject = _("Survey: {title}, from {firm}").format(title=survey.title, firm=firm)
    is_told = survey.basis is Basis.TOLD
    day = formats.date(survey.date)
    taken = (
        _("The sizes were told on the telephone on {day}. Nothing was measured.")
        if is_told
        else _("The wall was measured on {day}.")
    ).format(day=day)
    gaps = {"title": survey.title, "place": place}
    opening = (
        _("Here is our survey: {title}, {place}.") if place else _("Here is our survey: {title}.")
    )
    parts = (
        _("Hello,"),
        opening.format(**gaps),
        taken,
        _("It says what was seen. It is no structural report, and it offers no price."),
        "\n".join(part for part in (firm, trader.telephone) if part.strip()),
    )
    return Enclosed(
        email_draft.file_name(" ".join(part for part in (_("Survey"), survey.title, name) if part)),
        pdf,
        Letter(subject, "\n\n".join(part for part in parts if part) + "\n"),
        Person(firm, trader.email),
    )


def email(enclosed: Enclosed, *, to: str, at: datetime) -> bytes:
    """Return a draft of an e-mail with the paper on it.

    Raises:
        UserMistake: for an address no mail program could send to.
    """
    return email_draft.draft(
        enclosed.letter,
        Attached(enclosed.name, enclosed.pdf),
        sender=enclosed.sender,
        to=Person(enclosed.to, to),
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
