"""Vibration of hand and arm over a day, in exposure points.

Points are 2 × a² for each hour the trigger is pressed, a being the vibration at the handle in m/s².
Points of one day and one person add up; A(8) = 2.5 × √(points ÷ 100) in m/s². 100 points are the
exposure action value, 400 the exposure limit value. Source: ISO 5349-1 and the Control of Vibration
at Work Regulations 2005, as HSE turns them into points. Points planned are a plan: what the tool
really shakes and how long it was held is noted on site.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from estimator.takeoff.lines import Item
from estimator.units import whole_up
from estimator.works.day_work import DayWork
from estimator.works.settings import Settings, Tool, VibrationSettings, shipped

HUNDRED = Decimal(100)
ACTION_M_S2 = Decimal("2.5")
"""The action value as A(8); 100 points by definition. [m/s²]"""


class Level(Enum):
    """Where a day stands against the values of the regulations."""

    BELOW = "below"
    ACTION = "action"
    OVER = "over"


@dataclass(frozen=True, slots=True)
class Shaken:
    """One tool in one person's hands over a day."""

    tool: Tool
    hours: Decimal
    """Trigger pressed. [h]"""

    @property
    def points(self) -> Decimal:
        """Exposure points."""
        return points(self.tool.m_s2, self.hours)


@dataclass(frozen=True, slots=True)
class DayExposure:
    """One person's exposure on one day of the work."""

    visit: int
    """Which visit, from 1."""
    day: int
    """Which day of that visit, from 1."""
    tools: tuple[Shaken, ...]
    level: Level
    words: str
    operatives: int
    """Persons the tools must be shared by for nobody to go over the limit."""

    @property
    def points(self) -> Decimal:
        """Exposure points of the day."""
        return sum((one.points for one in self.tools), Decimal(0))

    @property
    def a8(self) -> Decimal:
        """The same as A(8), to two decimals [m/s²]."""
        return round(daily(self.points), 2)

    @property
    def hours(self) -> Decimal:
        """Trigger pressed, all tools together [h]."""
        return sum((one.hours for one in self.tools), Decimal(0))


def points(m_s2: Decimal, hours: Decimal) -> Decimal:
    """Return the exposure points of so many hours with the trigger pressed.

    >>> points(Decimal(6), Decimal("1.5")) + points(Decimal(12), Decimal("0.5"))
    Decimal('252.0')
    """
    return 2 * m_s2**2 * hours


def daily(exposure_points: Decimal) -> Decimal:
    """Return points as daily exposure A(8) [m/s²].

    >>> round(daily(Decimal(252)), 3)
    Decimal('3.969')
    """
    return ACTION_M_S2 * (exposure_points / HUNDRED).sqrt()


def hours_to(most_points: Decimal, m_s2: Decimal) -> Decimal:
    """Return the hours of trigger time that come to so many points [h].

    >>> [round(hours_to(Decimal(most), Decimal(6)), 3) for most in (100, 400)]
    [Decimal('1.389'), Decimal('5.556')]
    """
    return most_points / (2 * m_s2**2)


def level_of(exposure_points: Decimal, limits: VibrationSettings) -> Level:
    """Return where so many points stand: at the action value is action, at the limit not yet over.

    >>> [level_of(Decimal(one), shipped().vibration).value for one in (99, 100, 400, 401)]
    ['below', 'action', 'action', 'over']
    """
    if exposure_points > limits.limit_points:
        return Level.OVER
    return Level.ACTION if exposure_points >= limits.action_points else Level.BELOW


def exposures(
    days: tuple[DayWork, ...], *, hands: Decimal = Decimal(1), settings: Settings | None = None
) -> tuple[DayExposure, ...]:
    """Return the exposure of each day of the work on which a tool shakes a hand.

    Args:
        days: The work by days.
        hands: Bricklayers who share the tools alike.
        settings: What the works go by; as shipped when not said.

    >>> work = DayWork(1, 1, {Item.RAKE_OUT: Decimal(5)})
    >>> [day] = exposures((work,))
    >>> day.hours, day.points, day.level.value, day.operatives
    (Decimal('3.5'), Decimal('448.0'), 'over', 2)
    """
    limits = (settings or shipped()).vibration
    found = []
    for work in days:
        tools = _shaken(work.hours, limits, hands)
        if tools:
            found.append(_exposure(work, tools, limits, hands))
    return tuple(found)


def _shaken(
    hours: Mapping[Item, Decimal], limits: VibrationSettings, hands: Decimal
) -> tuple[Shaken, ...]:
    pressed: dict[str, Decimal] = {}
    for use in limits.uses:
        time = hours.get(use.item, Decimal(0)) * use.share / hands
        if time:
            pressed[use.tool] = pressed.get(use.tool, Decimal(0)) + time
    return tuple(Shaken(limits.tools[key], time) for key, time in pressed.items())


def _exposure(
    work: DayWork, tools: tuple[Shaken, ...], limits: VibrationSettings, hands: Decimal
) -> DayExposure:
    all_points = sum((one.points for one in tools), Decimal(0))
    level = level_of(all_points, limits)
    needed = max(whole_up(all_points * hands / limits.limit_points), 1)
    return DayExposure(work.visit, work.day, tools, level, limits.words[level.value], needed)
