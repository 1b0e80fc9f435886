"""What the works go by, read from ``resources/works.json`` and typed; a firm may change it.

Temperature limits and cure windows of each mortar stand with the mortars themselves
(``takeoff.grout_and_mortar``), so that price and site never tell two figures.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Any

from estimator import resources
from estimator.contract.works import Feature
from estimator.notices import Notice, Severity, UserMistake
from estimator.takeoff.lines import Item

ALWAYS = "always"


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool that shakes the hand."""

    key: str
    title: str
    m_s2: Decimal
    """Vibration at the handle, all three axes together. [m/s²]"""
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class ToolUse:
    """How much of the hours of one kind of work a tool's trigger is pressed."""

    item: Item
    tool: str
    """Key of the tool."""
    share: Decimal
    """Of the hours, from 0 to 1."""
    source: str


@dataclass(frozen=True, slots=True)
class VibrationSettings:
    """Tools, what they are used for, and the values of the day."""

    tools: Mapping[str, Tool]
    uses: tuple[ToolUse, ...]
    action_points: Decimal
    limit_points: Decimal
    limits_source: str
    words: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class WeatherSettings:
    """Limits of weather that do not stand with a mortar."""

    restart_c: float
    """Work that stopped for cold starts again from here, while it rises. [°C]"""
    restart_expected_over_c: float
    """And only where more than this is expected. [°C]"""
    restart_source: str
    hot_from_c: float
    """From here on pointing is shaded and kept damp. [°C]"""
    hot_source: str
    lime_months: tuple[int, ...]
    """Months in which lime is warned of."""
    lime_months_source: str
    lime_frost_days: int
    """Days after pointing in which frost harms young lime. [day]"""
    lime_frost_source: str
    frost_c: float
    reach_days: int
    """So far ahead a forecast is asked for. [day]"""
    reach_source: str


@dataclass(frozen=True, slots=True)
class DayLength:
    """How long the gang is on site, breaks in; for the times of a calendar only."""

    hours: int
    """Of a whole day. [h]"""
    half_hours: int
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class LookIns:
    """When somebody looks in to mist the lime."""

    first_after_days: int
    then_every_days: int
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class HoldPointSetting:
    """One thing made sure of before the work goes on."""

    feature: Feature
    text: str
    """With gaps for what it is made sure of against."""
    source: str


@dataclass(frozen=True, slots=True)
class OrderStep:
    """One step of the order of work."""

    items: frozenset[Item]
    """It is done where any of these is."""
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Call:
    """Whom to ring, and when."""

    who: str
    why: str
    number: str
    source: str


@dataclass(frozen=True, slots=True)
class Credibility:
    """How fast own figures take the place of the book's."""

    jobs_k: Decimal
    """Jobs after which own figures count for half."""
    least_jobs: int
    """Jobs before which nothing is offered."""
    source: str


@dataclass(frozen=True, slots=True)
class Settings:
    """All that the works go by."""

    vibration: VibrationSettings
    weather: WeatherSettings
    day: DayLength
    look_ins: LookIns
    hold_points: Mapping[str, tuple[HoldPointSetting, ...]]
    """By what is held: ``bar``, ``joints``, ``bricks``, ``side``."""
    order_of_work: tuple[OrderStep, ...]
    calls: tuple[Call, ...]
    cautions: tuple[Notice, ...]
    own_rates: Credibility
    track_record: Credibility


def _vibration(told: Mapping[str, Any]) -> VibrationSettings:
    tools = {
        key: Tool(key, one["title"], Decimal(one["m_s2"]), one["source"], one["note"])
        for key, one in told["tools"].items()
    }
    uses = tuple(
        ToolUse(Item(one["item"]), one["tool"], Decimal(one["share"]), one["source"])
        for one in told["uses"]
    )
    return VibrationSettings(
        MappingProxyType(tools),
        uses,
        Decimal(told["action_points"]),
        Decimal(told["limit_points"]),
        told["limits_source"],
        MappingProxyType(dict(told["words"])),
    )


def _weather(told: Mapping[str, Any]) -> WeatherSettings:
    return WeatherSettings(**{**told, "lime_months": tuple(told["lime_months"])})


def _hold_points(told: Mapping[str, Any]) -> Mapping[str, tuple[HoldPointSetting, ...]]:
    return MappingProxyType(
        {
            kind: tuple(
                HoldPointSetting(Feature(one["feature"]), one["text"], one["source"])
                for one in points
            )
            for kind, points in told.items()
        }
    )


def _credibility(told: Mapping[str, Any]) -> Credibility:
    return Credibility(Decimal(told["jobs_k"]), told["least_jobs"], told["source"])


@cache
def shipped() -> Settings:
    """Return what the works go by as it ships.

    >>> shipped().vibration.tools["grinder"].m_s2, shipped().track_record.least_jobs
    (Decimal('8'), 20)
    """
    told = resources.data("works.json")
    return Settings(
        _vibration(told["vibration"]),
        _weather(told["weather"]),
        DayLength(**told["day"]),
        LookIns(**told["look_ins"]),
        _hold_points(told["hold_points"]),
        tuple(
            OrderStep(frozenset(map(Item, one["items"])), one["text"], one["source"])
            for one in told["order_of_work"]
        ),
        tuple(Call(**one) for one in told["calls"]),
        tuple(
            Notice(one["id"], Severity[one["severity"]], one["text"], one["source"])
            for one in told["cautions"]
        ),
        _credibility(told["own_rates"]),
        _credibility(told["track_record"]),
    )


def with_tool(settings: Settings, key: str, m_s2: Decimal) -> Settings:
    """Return settings with the vibration of a tool as it was measured or declared.

    Raises:
        UserMistake: for a tool that is not there, or a figure that makes no sense.

    >>> with_tool(shipped(), "grinder", Decimal("5.5")).vibration.tools["grinder"].m_s2
    Decimal('5.5')
    """
    vibration = settings.vibration
    if key not in vibration.tools:
        raise UserMistake(f"there is no tool called {key}", do="choose one of the list")
    if not 0 < m_s2 <= 100:
        raise UserMistake(
            f"a vibration of {m_s2} m/s² cannot be", do="type a number above 0, up to 100 m/s²"
        )
    tool = replace(vibration.tools[key], m_s2=m_s2, source="house", note="")
    tools = MappingProxyType({**vibration.tools, key: tool})
    return replace(settings, vibration=replace(vibration, tools=tools))
