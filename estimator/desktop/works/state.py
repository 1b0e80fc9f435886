"""What is shown of the works of a job."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from estimator.contract.works import Booking, Built
from estimator.notices import Notice
from estimator.takeoff.lines import Item
from estimator.units import Unit
from estimator.works.as_built import BuiltMark
from estimator.works.forecast import MortarDays, Wanted
from estimator.works.programme import DatedTask, finish_of
from estimator.works.vibration import DayExposure


@dataclass(frozen=True, slots=True)
class Took:
    """One kind of work: hours it was quoted at, and hours booked."""

    item: Item
    title: str
    unit: Unit
    measured: Decimal
    done: Decimal
    """How much bookings say was done. [unit]"""
    quoted: Decimal
    """[h]"""
    booked: Decimal
    """[h]"""


@dataclass(frozen=True, slots=True)
class Beginning:
    """On which day work may begin, and why then."""

    on: datetime.date
    why: str


@dataclass(frozen=True, slots=True)
class Noted:
    """One note of what was done at a place, as the file has it."""

    uid: str
    """What the file calls it."""
    words: str
    """Bar 3, bed under course 8."""
    built: Built
    signed: tuple[str, ...] = ()
    """What the file calls the signatures that were noted with it."""
    shallow_mm: int = 0
    """How much less deep than planned; 0 for not. [mm]"""
    not_signed: int = 0
    """Points of the place nobody signed for."""


@dataclass(frozen=True, slots=True)
class BookedThere:
    """One booking, as the file has it."""

    uid: str
    """What the file calls it."""
    booking: Booking


@dataclass(frozen=True, slots=True)
class HoursSheet:
    """A sheet of hours worked that could not be measured."""

    key: str
    what: str
    number: str = ""
    """Of its newest paper; empty while there is none."""


@dataclass(frozen=True, slots=True)
class Works:
    """All that is shown of the works; empty before anything was accepted."""

    beginning: Beginning | None = None
    tasks: tuple[DatedTask, ...] = ()
    forecast: Wanted = field(default_factory=Wanted)
    """The days a forecast is wanted for."""
    weather: tuple[MortarDays, ...] = ()
    """Coming days judged by the forecast that was typed."""
    notes: tuple[Notice, ...] = ()
    marks: tuple[BuiltMark, ...] = ()
    titles: Mapping[Item, str] = field(default_factory=dict)
    """What each kind of work is called in the price book of the contract."""
    exposures: tuple[DayExposure, ...] = ()
    noted: tuple[Noted, ...] = ()
    """What was done, oldest first."""
    booked: tuple[BookedThere, ...] = ()
    """Hours and materials, oldest first."""
    took: tuple[Took, ...] = ()
    other_hours: Decimal = Decimal(0)
    """Booked on setting up, travel and the like. [h]"""
    materials: tuple[tuple[str, str], ...] = ()
    """Key and title of each material and bar the job needs."""
    daywork: tuple[HoursSheet, ...] = ()
    papers: Mapping[str, str] = field(default_factory=dict)
    """Number of the newest paper of each kind, by the value of ``store.kept_papers.PaperKind``."""

    @property
    def finish(self) -> datetime.date | None:
        """Last day somebody is there."""
        return finish_of(self.tasks)

    @property
    def still_to_do(self) -> tuple[BuiltMark, ...]:
        """Places planned at which nothing was noted."""
        return tuple(one for one in self.marks if one.items and not one.done)
