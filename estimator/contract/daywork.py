"""A daywork sheet: hours, materials and plant of work that could not be measured."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal

from estimator.money import Money


@dataclass(frozen=True, slots=True)
class Hours:
    """One person's hours on one day."""

    on: datetime.date
    who: str
    trade: str
    hours: Decimal
    a_hour: Money
    """Prime cost. [£/h]"""


@dataclass(frozen=True, slots=True)
class Spent:
    """One material or piece of plant, at what it cost before tax."""

    what: str
    quantity: str
    cost: Money


@dataclass(frozen=True, slots=True)
class DayworkSheet:
    """Work paid by the hour; signed for what was done, which does not yet agree that it is extra.

    Source: JCT Standard Building Contract 2016, clause 5.7, as read on isurv.com.
    """

    key: str
    variation: str
    """Key of the variation it is charged in; empty while it is in none."""
    what: str
    hours: tuple[Hours, ...]
    materials: tuple[Spent, ...]
    plant: tuple[Spent, ...]
    labour_percent: Decimal
    materials_percent: Decimal
    plant_percent: Decimal
    signed_by: str = ""
    signed_on: datetime.date | None = None
