"""From a frozen quotation and a yes to a contract."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field, replace
from decimal import Decimal

from estimator.contract.contract import (
    Cancelling,
    Contract,
    Manner,
    Retention,
    Sold,
    StageDue,
    StageTerm,
)
from estimator.contract.frozen import RulesText
from estimator.contract.stages import (
    most_deposit,
    most_due_days,
    most_retained,
    most_retention_months,
    usual_due_days,
    usual_stages,
)
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake
from estimator.pricing import tax
from estimator.pricing.tax_habits import Deduction
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind
from estimator.takeoff.scope import Scope

ALL = Decimal(100)


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
    deduction: Deduction | None = None
    """What another contractor keeps back for the tax office; as it was quoted where None."""


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
        UserMistake: when nobody is named, the offer was not written yet or has lapsed, the shares
            of the stages do not make a whole or ask for too much beforehand, a household would
            keep money back, or who is no contractor a part for the tax office.
    """
    _check(option, yes, by)
    quoted = Contract(
        quotation=option.number,
        scope=option.scope,
        accepted_by="",
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
        drift=drift,
    )
    return as_agreed(quoted, yes)


def as_agreed(contract: Contract, yes: Yes) -> Contract:
    """Return a contract with who says yes, how, when and on what terms; nothing is checked.

    Args:
        contract: What it would make of the paper.
        yes: How it is accepted.
    """
    terms = contract.terms
    if yes.deduction is not None:
        terms = replace(terms, deduction=yes.deduction)
    return replace(
        contract,
        accepted_by=yes.accepted_by.strip(),
        how=yes.how,
        accepted_on=yes.accepted_on,
        terms=terms,
        stages=yes.stages or usual_stages(),
        due_days=usual_due_days() if yes.due_days is None else yes.due_days,
        retention=yes.retention,
        cancelling=yes.cancelling,
    )


def deducted_percent(deduction: Deduction, terms: Terms) -> Decimal | None:
    """Return what a contractor keeps back of the labour [%]; None where nobody may on such terms.

    >>> from estimator.pricing.tax_habits import Deduction
    >>> terms = Terms(datetime.date(2026, 11, 25), customer=CustomerKind.TRADE)
    >>> deducted_percent(Deduction.REGISTERED, terms)
    Decimal('20')
    """
    if terms.customer is not CustomerKind.TRADE:
        return None
    try:
        return tax.deduction_percent(replace(terms, deduction=deduction))
    except UserMistake:
        return None


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
    if yes.accepted_on < by.terms.date:
        raise UserMistake(
            f"{option.number} was not yet written on {yes.accepted_on.isoformat()}",
            do="write the day on which it was accepted",
        )
    if yes.due_days is not None:
        _check_due_days(yes.due_days)
    _check_stages(yes.stages)
    _check_retention(yes.retention, by.terms.customer)
    _check_deduction(yes.deduction, by.terms)


def _check_due_days(days: int) -> None:
    if days < 0:
        raise UserMistake(
            "an invoice cannot be paid before it is asked for", do="write 0 days or more"
        )
    if days > most_due_days():
        raise UserMistake(
            f"{days} days is a long time to pay", do=f"write {most_due_days()} or less"
        )


def _check_stages(stages: tuple[StageTerm, ...]) -> None:
    if stages and sum((stage.percent for stage in stages), Decimal(0)) != ALL:
        raise UserMistake(
            "the parts of the price do not make a whole", do="let the shares add up to 100 %"
        )
    if any(stage.percent <= 0 for stage in stages):
        raise UserMistake("a part of the price is nothing", do="leave it out, or give it a share")
    ahead = (stage.percent for stage in stages if stage.due is StageDue.ON_ACCEPTANCE)
    if sum(ahead, Decimal(0)) > most_deposit():
        raise UserMistake(
            "that is too much before any work",
            do=f"ask for {most_deposit():f} % or less on acceptance",
        )


def _check_retention(retention: Retention, customer: CustomerKind) -> None:
    if not 0 <= retention.percent <= most_retained():
        raise UserMistake(
            f"{retention.percent:f} % cannot be kept back",
            do=f"write {most_retained():f} % or less",
        )
    if retention.percent and customer is CustomerKind.HOUSEHOLD:
        raise UserMistake(
            "a household keeps nothing back",
            why="retention is for larger work between businesses",
            do="leave it out, or agree on a last stage instead",
        )
    if not 0 <= retention.months <= most_retention_months():
        raise UserMistake(
            f"nothing is kept back for {retention.months} months",
            do=f"write {most_retention_months()} months or less",
        )


def _check_deduction(deduction: Deduction | None, terms: Terms) -> None:
    if deduction in (None, Deduction.NONE):
        return
    if deducted_percent(deduction, terms) is None:
        raise UserMistake(
            "only another contractor keeps a part back for the tax office",
            do="leave the deduction out, or correct who the customer is and quote anew",
        )
