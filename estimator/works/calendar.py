"""Working days: the working week, the bank holidays of a nation, and the days a firm is closed.

Bank holidays come from the library ``holidays``, whose dates follow the pattern of gov.uk; a
proclamation may still move one, so a firm types it as a closed day. Cancellation periods count
every day and have nothing to do with this.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from estimator.contract.works import Nation, Plan
from estimator.notices import UserMistake

ONE_DAY = datetime.timedelta(days=1)
SUBDIVISIONS = MappingProxyType(
    {
        Nation.ENGLAND_AND_WALES: "ENG",
        Nation.SCOTLAND: "SCT",
        Nation.NORTHERN_IRELAND: "NIR",
    }
)
"""Nations by the names of ISO 3166-2:GB; Wales keeps the days of England."""
LONGEST_SEARCH = 3_660
"""Days looked ahead for one that is worked; more closed days than that are a slip. [day]"""


@dataclass(frozen=True, slots=True)
class WorkingCalendar:
    """On which days a firm works."""

    nation: Nation = Nation.ENGLAND_AND_WALES
    working_week: tuple[int, ...] = (0, 1, 2, 3, 4)
    """Days worked, Monday is 0."""
    closed: tuple[datetime.date, ...] = ()

    @classmethod
    def of(cls, plan: Plan) -> WorkingCalendar:
        """Return the calendar a plan goes by.

        >>> WorkingCalendar.of(Plan(datetime.date(2026, 12, 1))).working_week
        (0, 1, 2, 3, 4)
        """
        return cls(plan.nation, plan.working_week, plan.closed)

    def why_not(self, day: datetime.date) -> str:
        """Return why a day is not worked, empty where it is.

        >>> WorkingCalendar().why_not(datetime.date(2026, 8, 31))
        'bank holiday: Late Summer Bank Holiday'
        >>> WorkingCalendar(Nation.SCOTLAND).why_not(datetime.date(2026, 8, 31))
        ''
        """
        if day.weekday() not in self.working_week:
            return "outside the working week"
        if day in self.closed:
            return "closed"
        name = bank_holiday(day, self.nation)
        return f"bank holiday: {name}" if name else ""

    def is_worked(self, day: datetime.date) -> bool:
        """Say whether a day is worked.

        >>> WorkingCalendar().is_worked(datetime.date(2026, 12, 24))
        True
        """
        return not self.why_not(day)

    def on_or_after(self, day: datetime.date) -> datetime.date:
        """Return a day, or the first one after it that is worked.

        Raises:
            UserMistake: when no day is worked at all, or none within ten years.

        >>> WorkingCalendar().on_or_after(datetime.date(2026, 12, 25)).isoformat()
        '2026-12-29'
        """
        if not set(self.working_week) & set(range(7)):
            raise UserMistake("no day of the week is worked", do="tick at least one")
        for _day in range(LONGEST_SEARCH):
            if self.is_worked(day):
                return day
            day = _next(day)
        raise UserMistake(
            "no day is worked for ten years", do="take some of the closed days out again"
        )

    def after(self, day: datetime.date) -> datetime.date:
        """Return the next day worked after one.

        Raises:
            UserMistake: as ``on_or_after``.

        >>> WorkingCalendar().after(datetime.date(2026, 12, 24)).isoformat()
        '2026-12-29'
        """
        return self.on_or_after(_next(day))

    def plus(self, day: datetime.date, working_days: int) -> datetime.date:
        """Return the day so many working days later; 0 is the day itself, or the next one worked.

        Raises:
            UserMistake: as ``on_or_after``.
            ValueError: for fewer days than none.

        >>> WorkingCalendar().plus(datetime.date(2026, 12, 22), 3).isoformat()
        '2026-12-29'
        """
        if working_days < 0:
            raise ValueError("working days are only ever added")
        found = self.on_or_after(day)
        for _day in range(working_days):
            found = self.after(found)
        return found

    def worked_between(self, first: datetime.date, last: datetime.date) -> int:
        """Count the days worked from one day to another, both of them in [day].

        >>> WorkingCalendar().worked_between(
        ...     datetime.date(2026, 12, 21), datetime.date(2026, 12, 31))
        7
        """
        days = range((last - first).days + 1)
        return sum(self.is_worked(first + datetime.timedelta(days=day)) for day in days)


def bank_holiday(day: datetime.date, nation: Nation) -> str:
    """Return the name of the bank holiday a day is, empty where it is none.

    >>> bank_holiday(datetime.date(2027, 7, 12), Nation.NORTHERN_IRELAND)
    'Battle of the Boyne'
    """
    return bank_holidays(day.year, nation).get(day, "")


@lru_cache(maxsize=64)
def bank_holidays(year: int, nation: Nation) -> Mapping[datetime.date, str]:
    """Return the bank holidays of a year by date, in their order.

    >>> [day.isoformat() for day in bank_holidays(2028, Nation.ENGLAND_AND_WALES)][:2]
    ['2028-01-01', '2028-01-03']
    """
    # Late, so that a start without a programme never pays for it.
    from holidays import country_holidays  # noqa: PLC0415

    found = country_holidays("GB", subdiv=SUBDIVISIONS[nation], years=year, language="en_GB")
    return MappingProxyType({day: found[day] for day in sorted(found)})


def _next(day: datetime.date) -> datetime.date:
    try:
        return day + ONE_DAY
    except OverflowError as error:
        raise UserMistake("no day comes after that", do="write an earlier date") from error
