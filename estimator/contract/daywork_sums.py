"""What a daywork sheet comes to, and when it has to be handed over."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal

from estimator.contract.daywork import DayworkSheet
from estimator.money import Money, total

HUNDRED = Decimal(100)
SUNDAY = 6


@dataclass(frozen=True, slots=True)
class Share:
    """One part of the sheet: prime cost, the percentage on it, and both together."""

    prime_cost: Money
    percent: Decimal
    amount: Money

    @property
    def addition(self) -> Money:
        """What the percentage adds."""
        return self.amount - self.prime_cost


@dataclass(frozen=True, slots=True)
class DayworkSums:
    """A sheet added up."""

    labour: Share
    materials: Share
    plant: Share

    @property
    def net(self) -> Money:
        """All of it, before tax."""
        return self.labour.amount + self.materials.amount + self.plant.amount


def daywork_sums(sheet: DayworkSheet) -> DayworkSums:
    """Return what a sheet comes to: prime cost with its percentages.

    Source: Definition of Prime Cost of Daywork, 3rd edition, option A.

    >>> from estimator.contract.daywork import Hours, Spent
    >>> day = datetime.date(2026, 11, 25)
    >>> hours = (Hours(day, "Ada", "", Decimal("6.5"), Money.of(18)),)
    >>> sheet = DayworkSheet("a", "", "Prop", hours,
    ...     (Spent("Timber", "", Money.of(84)),), (Spent("Props", "", Money.of(40)),),
    ...     Decimal(110), Decimal(15), Decimal(15))
    >>> str(daywork_sums(sheet).net)
    '388.30'
    """
    labour = total(one.a_hour.times(one.hours) for one in sheet.hours)
    return DayworkSums(
        _share(labour, sheet.labour_percent),
        _share(total(one.cost for one in sheet.materials), sheet.materials_percent),
        _share(total(one.cost for one in sheet.plant), sheet.plant_percent),
    )


def hand_over_by(done_on: datetime.date) -> datetime.date:
    """Return the last day to hand a sheet over: the end of the week after the work.

    Source: JCT Standard Building Contract 2016, clause 5.7, as read on isurv.com.

    >>> hand_over_by(datetime.date(2026, 11, 25)).isoformat()
    '2026-12-06'
    """
    return done_on + datetime.timedelta(days=SUNDAY - done_on.weekday() + 7)


def _share(cost: Money, percent: Decimal) -> Share:
    return Share(cost, percent, cost.times(1 + percent / HUNDRED))
