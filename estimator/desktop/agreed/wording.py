"""How the screen says what was agreed: who, how, when, by which rate, and how much more."""

from __future__ import annotations

import datetime
from decimal import Decimal

from estimator.contract.contract import Made, Manner, StageDue
from estimator.contract.so_far import Varied
from estimator.contract.variation import Standing, Valued, ValuedBy
from estimator.desktop.inputs.days import weekday_names
from estimator.desktop.language import _, counted, in_context, in_full
from estimator.documents import formats
from estimator.money import NOTHING, Money
from estimator.units import Quantity, Unit

MINUS = "−"
HELD = "\N{NO-BREAK SPACE}"
"""Between a sign and its sum: no line ends there."""


def manner_words() -> dict[Manner, str]:
    """Return how somebody answers, the ways that leave nothing in writing last."""
    return {
        Manner.SIGNED: in_context("answered", "signed"),
        Manner.EMAIL: in_context("answered", "by e-mail"),
        Manner.MESSAGE: in_context("answered", "by message"),
        Manner.TELEPHONE: in_context("answered", "by telephone"),
        Manner.IN_PERSON: in_context("answered", "in person"),
    }


def sending_words() -> dict[Manner, str]:
    """Return how a paper goes out."""
    return {
        Manner.EMAIL: in_context("sent", "by e-mail"),
        Manner.MESSAGE: in_context("sent", "by message"),
        Manner.IN_PERSON: in_context("sent", "handed over"),
    }


def made_words() -> dict[Made, str]:
    """Return where a contract is made."""
    return {
        Made.AT_A_DISTANCE: _("by post, e-mail or telephone"),
        Made.AT_THEIR_HOME: _("at the customer's home"),
        Made.AT_OUR_PREMISES: _("at our premises"),
    }


def due_words() -> dict[StageDue, str]:
    """Return when a part of the price falls due."""
    return {
        StageDue.ON_ACCEPTANCE: _("on acceptance"),
        StageDue.AT_START: _("when work starts"),
        StageDue.DURING: _("during the work"),
        StageDue.ON_COMPLETION: _("on completion"),
    }


def standing_words() -> dict[Standing, str]:
    """Return how far a variation has come."""
    return {
        Standing.DRAFTED: in_context("variation", "draft"),
        Standing.SENT: in_context("variation", "sent"),
        Standing.AGREED: in_context("variation", "agreed"),
        Standing.DECLINED: in_context("variation", "declined"),
        Standing.WITHDRAWN: in_context("variation", "withdrawn"),
    }


def basis_words() -> dict[ValuedBy, str]:
    """Return what each code of valuing means."""
    return {
        ValuedBy.CONTRACT_RATE: _("at the agreed rate"),
        ValuedBy.PRO_RATA: _("agreed rate, fitted to the conditions found"),
        ValuedBy.FAIR_RATE: _("fair rate, since no agreed one fits"),
        ValuedBy.PROVISIONAL_QUANTITY: _("agreed rate, counted anew"),
        ValuedBy.PROVISIONAL_SUM: _("provisional sum"),
        ValuedBy.DAYWORK: _("by the hour, from a signed sheet"),
    }


def basis(one: Valued) -> str:
    """Return the code a line is valued by, and what that means for it."""
    meaning = one.why or basis_words()[one.basis]
    return _("{code}: {meaning}").format(code=one.basis.value, meaning=meaning)


def kind_of(one: Valued) -> str:
    """Return whether a line is added, omitted or changed."""
    if not one.was:
        return in_context("line", "added")
    if not one.now:
        return in_context("line", "omitted")
    return in_context("line", "changed")


def change_of(one: Valued) -> str:
    """Return by how much the quantity of a line changes, with its sign; nothing for one sum."""
    if one.unit is Unit.ITEM or not one.change:
        return ""
    said = formats.quantity(Quantity(abs(one.change), one.unit))
    return f"+{HELD}{said}" if one.change > 0 else f"{MINUS}{HELD}{said}"


def was_and_now(one: Valued) -> str:
    """Return whether a line is added, omitted or changed, and then from what to what."""
    if one.was and one.now and one.unit is not Unit.ITEM and one.change:
        was, now = (formats.quantity(Quantity(much, one.unit)) for much in (one.was, one.now))
        return _("Changed: was {was}, now {now}").format(was=was, now=now)
    return in_full(kind_of(one))


def signed(amount: Money) -> str:
    """Return a change of a sum with its sign, never in two lines.

    >>> [signed(Money.of(much)).split() for much in ("214.60", "-3", "0")]
    [['+', '£214.60'], ['−', '£3.00'], ['£0.00']]
    """
    if amount == NOTHING:
        return formats.money(amount)
    said = formats.money(Money(abs(amount.pence)))
    return f"+{HELD}{said}" if amount.pence > 0 else f"{MINUS}{HELD}{said}"


def days(change: Decimal) -> str:
    """Return how much longer or shorter the works take; nothing where no longer."""
    if not change:
        return ""
    much = _count_of_days(abs(change))
    more, less = _("{days} more"), _("{days} less")
    return (more if change > 0 else less).format(days=much)


def _count_of_days(much: Decimal) -> str:
    if much == Decimal("0.5"):
        return _("½ day")
    if much == 1:
        return _("1 day")
    return _("{days} days").format(days=formats.plain(much))


def day(on: datetime.date) -> str:
    """Return a day with its month as a word."""
    return formats.date(on.isoformat())


def day_of_week(on: datetime.date) -> str:
    """Return a day with its name, as one says it to a customer."""
    return _("{weekday} {date}").format(weekday=weekday_names()[on.weekday()], date=day(on))


def moment(at: datetime.datetime) -> str:
    """Return a moment in the time of this machine."""
    local = at.astimezone()
    return _("{date}, {time}").format(date=day(local.date()), time=f"{local:%H:%M}")


def answered(one: Varied) -> str:
    """Return what became of a variation, in a sentence; nothing while it is a draft."""
    if one.standing is Standing.SENT and one.sent_on is not None:
        return _("Sent on {date}; no answer yet.").format(date=day(one.sent_on))
    if one.answered_at is None:
        return ""
    how = "" if one.how is None else manner_words()[one.how]
    gaps = {"who": one.who, "how": how, "when": moment(one.answered_at)}
    if one.standing is Standing.AGREED:
        return _("Agreed by {who}, {how}, {when}.").format(**gaps)
    if one.standing is Standing.DECLINED:
        return _("Declined by {who}, {how}, {when}.").format(**gaps)
    return _("Taken back by us, {when}.").format(when=gaps["when"])


def counted_variations(number: int) -> str:
    """Return how many variations there are."""
    return counted("{n} variation", "{n} variations", number)
