"""What the law on cancelling comes to for one agreement, in plain sentences."""

from __future__ import annotations

import datetime
from decimal import Decimal
from enum import Enum

from estimator.contract.cancellation import days_in_all, owed_if_cancelled, refund_by, right_of
from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar
from estimator.desktop.agreed import wording
from estimator.desktop.language import _
from estimator.documents import formats
from estimator.money import NOTHING, Money


def said(contract: Contract) -> tuple[str, str]:
    """Return until when a customer may cancel, and what that rests on."""
    right = right_of(contract)
    if right.last_day is None:
        return _("There is no time in which they may cancel."), right.reason
    until = _("They may cancel until {date}.").format(date=wording.day_of_week(right.last_day))
    if right.may_start > contract.accepted_on:
        start = _("Work starts on {date} at the earliest, unless they ask for it in writing.")
        start = start.format(date=wording.day(right.may_start))
    else:
        start = _("They asked for an early start, so work may begin at once.")
    return until, "\n".join((_upper(right.reason), start))


def caution_of(so_far: SoFar, today: datetime.date) -> str:
    """Return the last day to cancel while it is still to come; nothing after it."""
    contract = so_far.contract
    if contract is None:
        return ""
    right = right_of(contract)
    if right.last_day is None or right.last_day < today:
        return ""
    until = _("They may cancel until {date}.").format(date=wording.day_of_week(right.last_day))
    if not right.told:
        return _("{until} They were never told so: give them the notice now.").format(until=until)
    return until


def what_follows(so_far: SoFar, on: datetime.date) -> tuple[str, str]:
    """Return what follows where the customer cancels on a day, as heading and sentences."""
    contract = so_far.contract
    if contract is None:
        return "", ""
    right = right_of(contract)
    advice = _("This is no legal advice.")
    if right.last_day is None or on > right.last_day:
        heading = _("They have no right to cancel on that day.")
        end = "" if right.last_day is None else wording.day_of_week(right.last_day)
        why = _("It ended on {date}.").format(date=end) if end else right.reason
        owed = _("What is owed for it is a matter of the agreement: talk to them first.")
        return heading, " ".join((_upper(why), owed, advice))
    back = _("What they paid goes back by {date}.").format(date=wording.day(refund_by(on)))
    if contract.cancelling.early_start is not None and right.told:
        owed = _("They owe the part of the price that is done, since they asked for it to begin.")
    else:
        owed = _("They owe nothing for what is done, since they did not ask for it to begin.")
    return _("They may cancel on that day."), " ".join((back, owed, advice))


class OwedBy(Enum):
    """What the sum rests on that is owed for what was done."""

    NOTHING = "nothing is owed"
    DAYS = "days of work done"
    AGREEMENT = "what they agree to"


def days_of(so_far: SoFar) -> Decimal:
    """Return the days of work in all."""
    return days_in_all(so_far)


def owed_by(so_far: SoFar, on: datetime.date) -> OwedBy:
    """Return what the sum rests on that is owed by who cancels on a day."""
    days = days_of(so_far)
    if days <= 0:
        return OwedBy.AGREEMENT
    # Where all of it done is worth nothing, none of it is.
    most = owed_if_cancelled(so_far, on=on, done=days, of_all=days).net
    if most is None:
        return OwedBy.AGREEMENT
    return OwedBy.DAYS if most else OwedBy.NOTHING


def owed_for(so_far: SoFar, on: datetime.date, done: Decimal) -> tuple[Money, str]:
    """Return what is owed for days of work, before tax, and say so."""
    days = days_of(so_far)
    net = owed_if_cancelled(so_far, on=on, done=done, of_all=days).net or NOTHING
    said = _("{done} days of {all} are done: {sum} before VAT is owed for it.").format(
        done=formats.plain(done), all=formats.plain(days), sum=formats.money(net)
    )
    return net, said


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
