"""Values a wall as found, and the other ways to do its work; no widget, so it runs anywhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from time import thread_time

from estimator.contract.other_repairs import OtherRepair, other_repair
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.sums import price_of
from estimator.contract.valuation import Valuation, value
from estimator.contract.variation import Standing
from estimator.desktop.language import in_full
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake
from estimator.pricing.price_book import PriceBook
from estimator.survey.survey import Survey
from estimator.takeoff.scope import Scope


@dataclass(frozen=True, slots=True)
class Wall:
    """What is valued: the wall as found, and how."""

    so_far: SoFar
    """But for the draft that is still being written."""
    survey: Survey
    scope: Scope
    today: PriceBook
    all_found: bool = False
    reviewed_rate: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """Another way to do the work, at what it changes against the way taken now."""

    scope: Scope
    amount: Money
    """Tax in, as the customer would pay it."""
    extra_days: Decimal
    is_agreed: bool
    """Whether it is the way the work is agreed to be done."""
    repair: OtherRepair | None = None
    """The bricks found since repaired another way, the rest as now; None for another scope."""


Valued = tuple[Valuation | None, str]
"""What was valued, or why it cannot be, in a plain sentence."""


def valued(wall: Wall) -> Valued:
    """Return what the wall as found changes."""
    try:
        found = value(
            wall.so_far,
            wall.survey,
            wall.scope,
            all_found=wall.all_found,
            today=wall.today,
            reviewed_rate=wall.reviewed_rate,
        )
    except UserMistake as mistake:
        return None, in_full(mistake)
    return found, ""


def other_ways(wall: Wall, scopes: Iterable[Scope]) -> tuple[Choice, ...]:
    """Return every other way to do the work, at what it changes against the one taken."""
    now, _problem = valued(wall)
    if now is None:
        return ()
    agreed, before = covered_scope(wall.so_far), net_of(now)
    ways = {one.key: one for one in (agreed, *scopes)}
    found = []
    for way in ways.values():
        then, _problem = valued(replace(wall, scope=way))
        is_agreed = way.key == agreed.key
        if way.key == wall.scope.key or then is None or not (then.lines or is_agreed):
            continue
        after = net_of(then)
        amount = with_tax(wall.so_far, after) - with_tax(wall.so_far, before)
        found.append(Choice(way, amount, then.extra_days - now.extra_days, is_agreed))
    return (*found, *_other_repair(wall, now))


def _other_repair(wall: Wall, now: Valuation) -> Iterator[Choice]:
    """Yield the bricks found since repaired another way, at what that changes."""
    repair = other_repair(wall.so_far, wall.survey)
    if repair is None:
        return
    then, _problem = valued(replace(wall, survey=repair.on(wall.survey), reviewed_rate=None))
    if then is not None:
        amount = with_tax(wall.so_far, net_of(then)) - with_tax(wall.so_far, net_of(now))
        days = then.extra_days - now.extra_days
        yield Choice(wall.scope, amount, days, is_agreed=False, repair=repair)


def timed(wall: Wall) -> tuple[Valued, float]:
    """Return what the wall as found changes, and the processor's time that took [ms]."""
    began = thread_time()
    found = valued(wall)
    return found, (thread_time() - began) * 1000


def covered_scope(so_far: SoFar) -> Scope:
    """Return the way the work is done with all that was sent and not refused.

    Raises:
        ValueError: before anything was accepted.
    """
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    covered = [one.variation.scope for one in so_far.variations if one.standing.is_covered]
    return covered[-1] if covered else so_far.contract.scope


def is_draft(one: Varied) -> bool:
    """Return whether a variation is still being written."""
    return one.standing is Standing.DRAFTED


def without_drafts(so_far: SoFar) -> SoFar:
    """Return what a job has come to without variations nobody has been sent."""
    gone_out = tuple(one for one in so_far.variations if not is_draft(one))
    return replace(so_far, variations=gone_out) if gone_out != so_far.variations else so_far


def with_tax(so_far: SoFar, net: Money) -> Money:
    """Return what a change of the sum comes to with the tax it brings."""
    contract = so_far.contract
    if contract is None or not net:
        return NOTHING
    return price_of(contract, so_far.net + net).total - price_of(contract, so_far.net).total


def net_of(valuation: Valuation) -> Money:
    """Return what a change comes to, before tax."""
    return total(line.amount for line in valuation.lines)
