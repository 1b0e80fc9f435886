"""From a frozen quotation and a yes to a contract."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from decimal import Decimal

from estimator.contract.contract import (
    Cancelling,
    Contract,
    Manner,
    Retention,
    Sold,
    StageTerm,
)
from estimator.contract.frozen import RulesText
from estimator.contract.stages import usual_due_days, usual_stages
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind
from estimator.takeoff.scope import Scope

ALL = Decimal(100)
MOST_RETAINED = Decimal(10)
"""Per cent; more is a slip of the finger: 3 to 5 % are customary. House rule."""


@dataclass(frozen=True, slots=True)
class PaperOption:
    """One option of a quotation, as it stands on the paper."""

    number: str
    valid_until: datetime.date
    scope: Scope
    lines: tuple[Sold, ...]
    others: tuple[Sold, ...]
    """The lines of every other option on the same paper."""
    net: Money
    total: Money
    further_brick: Money
    working_days: Decimal
    materials_cost: Money


@dataclass(frozen=True, slots=True)
class Yes:
    """How an option was accepted, and on what terms."""

    accepted_by: str
    how: Manner
    accepted_on: datetime.date
    stages: tuple[StageTerm, ...] = ()
    """The usual ones where empty."""
    due_days: int | None = None
    """The usual where None. [day]"""
    retention: Retention = field(default_factory=Retention)
    cancelling: Cancelling = field(default_factory=Cancelling)
    although_expired: bool = False
    """Whether we hold to the price although its time is over."""


@dataclass(frozen=True, slots=True)
class PricedBy:
    """What a quotation was priced with, as texts that can be kept."""

    revision: int
    """Of the job's survey."""
    survey: str
    book: str
    rules: RulesText
    terms: Terms


def contract_of(option: PaperOption, yes: Yes, by: PricedBy, *, drift: Money = NOTHING) -> Contract:
    """Return the contract that a yes to an option makes.

    Args:
        option: What the paper says.
        yes: How it was accepted.
        by: What it was priced with.
        drift: What the engine makes of the same survey now, less what was printed.

    Raises:
        UserMistake: when nobody is named, the offer has lapsed, the shares of the stages do not
            make a whole, or a household would have to keep money back.
    """
    _check(option, yes, by)
    return Contract(
        quotation=option.number,
        scope=option.scope,
        accepted_by=yes.accepted_by.strip(),
        how=yes.how,
        accepted_on=yes.accepted_on,
        revision=by.revision,
        survey=by.survey,
        book=by.book,
        rules=by.rules,
        terms=by.terms,
        net=option.net,
        total=option.total,
        lines=option.lines,
        offered=option.others,
        further_brick=option.further_brick,
        working_days=option.working_days,
        materials_cost=option.materials_cost,
        stages=yes.stages or usual_stages(),
        due_days=usual_due_days() if yes.due_days is None else yes.due_days,
        retention=yes.retention,
        cancelling=yes.cancelling,
        drift=drift,
    )


def _check(option: PaperOption, yes: Yes, by: PricedBy) -> None:
    if total(line.amount for line in option.lines) != option.net:
        raise ValueError("the lines of a quotation add up to its price")
    if not yes.accepted_by.strip():
        raise UserMistake("nobody is named who accepted", do="write the customer's name")
    if yes.accepted_on > option.valid_until and not yes.although_expired:
        raise UserMistake(
            f"{option.number} stood until {option.valid_until.isoformat()}",
            why="an offer that has lapsed binds nobody",
            do="say that you hold to it all the same, or issue a new one",
        )
    if yes.stages and sum((stage.percent for stage in yes.stages), Decimal(0)) != ALL:
        raise UserMistake(
            "the parts of the price do not make a whole", do="let the shares add up to 100 %"
        )
    if any(stage.percent <= 0 for stage in yes.stages):
        raise UserMistake("a part of the price is nothing", do="leave it out, or give it a share")
    if not 0 <= yes.retention.percent <= MOST_RETAINED:
        raise UserMistake(
            f"{yes.retention.percent:f} % cannot be kept back", do="write 10 % or less"
        )
    if yes.retention.percent and by.terms.customer is CustomerKind.HOUSEHOLD:
        raise UserMistake(
            "a household keeps nothing back",
            why="retention is for larger work between businesses",
            do="leave it out, or agree on a last stage instead",
        )
