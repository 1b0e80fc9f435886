"""Time on site: hours into half days, waits into visits.

Kept simple on purpose: no dates and no weather, only how often somebody comes, for how long, and
what has to be waited for in between. Adding work never takes a wait away, so that it never makes
the job shorter.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from functools import lru_cache

from estimator.pricing.offer import Step
from estimator.takeoff.grout_and_mortar import Mortar
from estimator.takeoff.lines import Item
from estimator.units import whole_up

HALF = Decimal("0.5")
DAYS_A_WEEK = Decimal(7)
WORKING_DAYS_A_WEEK = Decimal(5)

BAR_WORK = frozenset(
    {Item.CUT_SLOT, Item.SKIM_ARRIS, Item.SET_BAR, Item.TURN_BAR, Item.LAP_BAR, Item.PROTECT}
)
BRICK_WORK = frozenset(
    {
        Item.REPLACE_BRICK,
        Item.REPLACE_HALF_BRICK,
        Item.TURN_BRICK,
        Item.TOOTH_IN,
        Item.ALLOWED_BRICK,
    }
)
"""Bricks come out before anything is pointed; all else is pointing and clearing up."""


@dataclass(frozen=True, slots=True)
class Timing:
    """How this contractor works."""

    wet_on_wet: bool
    """Whether the pointing goes straight over the grout."""
    grout_wait_days: Decimal
    """Before pointing over grout where it does not [day]."""
    brick_wait_days: Decimal
    """Between bricks laid in and a panel raked beside them [day]."""
    look_ins: int
    """Visits to mist a newly pointed panel in lime."""
    look_in_hours: Decimal
    setting_up_hours: Decimal
    """Each visit, from unloading to the first cut and back, of one bricklayer with the gang [h]."""
    source: str


@dataclass(frozen=True, slots=True)
class Programme:
    """Visits and waits, and what follows from them."""

    steps: tuple[Step, ...]
    visits: int
    """Visits to work, each of one or more days on end."""
    work_days: Decimal
    """Days of work on site [day]."""
    look_ins: int
    trips: int
    """Days on which the gang drives there; look-ins drive for themselves."""
    weeks: int
    """Weeks from first to last day of work, waits in, for hire [week]."""

    @property
    def working_days(self) -> Decimal:
        """Days of work, a look-in counting half [day]."""
        return self.work_days + self.look_ins * HALF


def half_days(hours: Decimal, day_hours: Decimal) -> Decimal:
    """Return hours as days, rounded up to half days [day].

    >>> half_days(Decimal("7.1"), Decimal(7)), half_days(Decimal(0), Decimal(7))
    (Decimal('1.5'), Decimal('0'))
    """
    return (hours / day_hours / HALF).to_integral_value(rounding=ROUND_CEILING) * HALF


@dataclass(frozen=True, slots=True)
class Stage:
    """Kinds of work done in one visit, and what is waited for before it."""

    title: str
    items: frozenset[Item]
    wait_days: Decimal
    waits_for: str


def plan(
    hours: Mapping[Item, Decimal],
    timing: Timing,
    *,
    day_hours: Decimal,
    mortars: Collection[Mortar],
) -> Programme:
    """Return the programme for hours of work by kind.

    Args:
        hours: Hours of bricklayers on each kind of work. [h]
        timing: How this contractor works.
        day_hours: Hours of bricklayers in a day of the gang. [h]
        mortars: The mortars pointed with.

    >>> from estimator.pricing.price_book import shipped
    >>> plan({Item.CUT_SLOT: Decimal(6)}, shipped().timing, day_hours=Decimal(7),
    ...     mortars=()).work_days
    Decimal('1.0')
    """
    days: list[Decimal] = []
    steps: list[Step] = []
    stages = stages_of(frozenset(hours), timing) if hours else ()
    for stage in stages:
        # Added up in the order of the work, not of a set, so that no run differs from another.
        taken = [time for item, time in hours.items() if item in stage.items]
        work = sum(taken, Decimal(0))
        days.append(half_days(work + timing.setting_up_hours, day_hours))
        if stage.wait_days:
            steps.append(_wait(stage.waits_for, stage.wait_days))
        how = f"{work:.1f} h of work and {timing.setting_up_hours:f} h setting up"
        steps.append(Step(stage.title, days[-1], is_wait=False, reason=how))
    # The pointing that takes longest to cure says how long the wall stays covered.
    slowest = max(mortars, key=lambda mortar: mortar.cure_days, default=None)
    is_lime_panel = Item.REPOINT in hours and any(_is_lime(mortar) for mortar in mortars)
    look_ins = timing.look_ins if is_lime_panel else 0
    steps += _after_care(look_ins, slowest)
    work_days = sum(days, Decimal(0))
    waits = sum((stage.wait_days for stage in stages), Decimal(0))
    # Weekends count for hire, and so does waiting.
    span = work_days * DAYS_A_WEEK / WORKING_DAYS_A_WEEK + waits
    return Programme(
        tuple(steps),
        len(stages),
        work_days,
        look_ins,
        sum(whole_up(taken) for taken in days),
        whole_up(span / DAYS_A_WEEK),
    )


@lru_cache(maxsize=1024)
def stages_of(items: frozenset[Item], timing: Timing) -> tuple[Stage, ...]:
    """Return the visits that kinds of work fall into, wherever something has to set in between.

    >>> from estimator.pricing.price_book import shipped
    >>> items = frozenset({Item.REPLACE_BRICK, Item.REPOINT})
    >>> [stage.title for stage in stages_of(items, shipped().timing)]
    ['Replace bricks', 'Point, clear up']
    """
    days, reason = _wait_before_pointing(items, timing)
    if not days:
        return (Stage(_title(items), items, Decimal(0), ""),)
    first = items & (BAR_WORK | BRICK_WORK)
    then = items - first
    return (
        Stage(_title(first), first, Decimal(0), ""),
        Stage(_title(then), then, days, reason),
    )


def _wait_before_pointing(items: frozenset[Item], timing: Timing) -> tuple[Decimal, str]:
    """Return the longest wait that the work asks for before the pointing, and what for."""
    waits = [(Decimal(0), "")]
    if not timing.wet_on_wet and Item.SET_BAR in items:
        waits.append((timing.grout_wait_days, "the grout round the bars to set"))
    if Item.REPOINT in items and not BRICK_WORK.isdisjoint(items):
        waits.append((timing.brick_wait_days, "the new bricks to set before raking beside them"))
    return max(waits, key=lambda wait: wait[0])


def _title(items: Collection[Item]) -> str:
    """Say what is done on a visit."""
    done = []
    if Item.CUT_SLOT in items or Item.SET_BAR in items:
        done += ["cut the beds", "set the bars"]
    if not BRICK_WORK.isdisjoint(items):
        done.append("replace bricks")
    if any(item not in BAR_WORK and item not in BRICK_WORK for item in items):
        done += ["point", "clear up"]
    return (", ".join(done) or "work on the wall").capitalize()


def _wait(for_what: str, days: Decimal) -> Step:
    return Step(f"Wait for {for_what}", days, is_wait=True, reason="Nothing is worked on meanwhile")


def _is_lime(mortar: Mortar) -> bool:
    return all(one.material != "cement" for one in mortar.ingredients)


def _after_care(look_ins: int, slowest: Mortar | None) -> list[Step]:
    """Return the look-ins, and the days the pointing stays covered."""
    steps = [
        Step("Look in and mist the lime", HALF, is_wait=False, reason="Lime cures only while damp")
        for _look_in in range(look_ins)
    ]
    if slowest is not None:
        days = Decimal(slowest.cure_days)
        why = "Frost, sun or wind on young mortar spoils it"
        steps.append(Step("Keep the pointing damp and covered", days, is_wait=True, reason=why))
    return steps
