"""The right to cancel, as papers after the quotation tell households of it, and the form for it.

Source: Consumer Contracts Regulations 2013, regulations 27 to 38 and schedule 3, as the sentences
in ``wording.json`` say of themselves. Not legal advice.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, replace

from estimator.contract import cancellation
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.sums import Running
from estimator.documents import agreed_words
from estimator.documents.content import CancelForm, Fact, Section, Text, Tone
from estimator.documents.formats import NONE
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader


def addressee(trader: Trader) -> str:
    """Return the trader's name, postal address and email in one line.

    >>> addressee(Trader("Tarn & Pike", address=("3 Kiln Yard",), email="office@example.com"))
    'Tarn & Pike, 3 Kiln Yard, office@example.com'
    """
    name = trader.name.strip() or say("letterhead.draft")
    return agreed_words.listed((name, *trader.address, trader.email))


def reach(trader: Trader) -> str:
    """Return the same with the telephone number."""
    return agreed_words.listed((addressee(trader), trader.telephone))


@dataclass(frozen=True, slots=True)
class Right:
    """A household's right to cancel the contract."""

    last_day: datetime.date
    early_start: datetime.date | None
    """When it asked in writing that work start before that day."""
    is_notice: bool
    """Whether this very paper gives the notice."""


def right_of(so_far: SoFar, date: datetime.date) -> Right | None:
    """Return the right to cancel as it stands on the day of a paper; None where there is none.

    Where nobody gave the notice before, the paper gives it, and the time runs from its date.
    """
    contract = agreed_words.contract_of(so_far)
    told = contract.cancelling
    is_notice = told.notice_given is None
    given = replace(told, notice_given=told.notice_given or date)
    last_day = cancellation.right_of(replace(contract, cancelling=given)).last_day
    return Right(last_day, told.early_start, is_notice) if last_day is not None else None


def urgent(so_far: SoFar) -> Iterator[Section]:
    """Yield what is said where the customer asked for this very visit, for urgent repairs."""
    contract = agreed_words.contract_of(so_far)
    if agreed_words.is_household(so_far) and contract.cancelling.is_urgent:
        texts = (Text(say("contract.urgent"), Tone.STRONG),)
        yield Section("cancel", say("headings.cancel"), texts)


def notice(trader: Trader, right: Right) -> Section:
    """Return the notice of the right to cancel the contract, with its last day."""
    last = agreed_words.day(right.last_day)
    key = "contract.last_day_notice" if right.is_notice else "contract.last_day"
    texts = [Text(say(key, date=last), Tone.STRONG)]
    texts += [Text(say("cancel.right")), Text(say("cancel.goods"))]
    texts.append(Text(say("cancel.how", trader=reach(trader))))
    texts += [Text(say("cancel.effect")), Text(say("cancel.start"))]
    return Section("cancel", say("headings.cancel"), tuple(texts))


def may_cancel_change(so_far: SoFar, sums: Running) -> bool:
    """Whether a household may cancel a change by itself, so that the notice goes with it."""
    contract = agreed_words.contract_of(so_far)
    return cancellation.is_variation_noticed_again(contract, sums.change.total)


def change_notice(trader: Trader) -> Section:
    """Return the notice that goes with a change: how to cancel it, and what then happens."""
    texts = (
        Text(say("variation.cancel_right"), Tone.STRONG),
        Text(say("variation.cancel_how", trader=reach(trader))),
        Text(say("variation.cancel_effect")),
        Text(say("variation.cancel_start")),
    )
    return Section("cancel", say("variation.cancel_title"), texts)


def change_form(so_far: SoFar, varied: Varied, *, trader: Trader, number: str) -> CancelForm:
    """Return the form a household may cancel a change with."""
    service = say(
        "variation.service_value",
        title=agreed_words.survey_of(agreed_words.contract_of(so_far)).title,
        number=number or NONE,
        quotation=agreed_words.contract_of(so_far).quotation,
    )
    ordered = agreed_words.day(varied.answered_at.date()) if varied.answered_at else ""
    given = form(so_far, trader, service=service, ordered=ordered)
    return replace(given, lead=say("variation.form_lead"))


def contract_form(so_far: SoFar, trader: Trader) -> CancelForm:
    """Return the form a household may cancel the contract with."""
    contract = agreed_words.contract_of(so_far)
    title = agreed_words.survey_of(contract).title
    service = say("form.service_value", title=title, number=contract.quotation)
    ordered = agreed_words.day(contract.accepted_on)
    return form(so_far, trader, service=service, ordered=ordered)


def form(so_far: SoFar, trader: Trader, *, service: str, ordered: str) -> CancelForm:
    """Return the form of schedule 3 part B, filled in as far as it is known."""
    customer = agreed_words.customer_of(so_far)
    return CancelForm(
        title=say("headings.form"),
        lead=say("form.lead"),
        to=Fact(say("form.to"), addressee(trader)),
        statement=say("form.statement"),
        fields=(
            Fact(say("form.service"), service),
            Fact(say("form.ordered"), ordered),
            Fact(say("form.name"), customer.name),
            Fact(say("form.address"), ", ".join(customer.address)),
            Fact(say("form.signature"), ""),
            Fact(say("form.date"), ""),
        ),
        star=say("form.star"),
    )
