"""Working days against the bank holidays of three nations, typed in by hand.

Source: the pattern of gov.uk/bank-holidays for 2026 to 2028, as a trade dossier lists it; the
list of gov.uk itself was not read, and every year is subject to proclamation.
"""

from __future__ import annotations

import datetime

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.contract.works import Nation
from estimator.works.calendar import WorkingCalendar, bank_holidays

WEEKEND = {5, 6}
ENGLAND_AND_WALES = {
    2026: "1 Jan, 3 Apr, 6 Apr, 4 May, 25 May, 31 Aug, 25 Dec, 28 Dec",
    2027: "1 Jan, 26 Mar, 29 Mar, 3 May, 31 May, 30 Aug, 27 Dec, 28 Dec",
    2028: "3 Jan, 14 Apr, 17 Apr, 1 May, 29 May, 28 Aug, 25 Dec, 26 Dec",
}
SCOTLAND = {
    # 15 June 2026 is the day of Scotland's first match of the World Cup, by proclamation.
    2026: "1 Jan, 2 Jan, 3 Apr, 4 May, 25 May, 15 Jun, 3 Aug, 30 Nov, 25 Dec, 28 Dec",
    2027: "1 Jan, 4 Jan, 26 Mar, 3 May, 31 May, 2 Aug, 30 Nov, 27 Dec, 28 Dec",
    2028: "3 Jan, 4 Jan, 14 Apr, 1 May, 29 May, 7 Aug, 30 Nov, 25 Dec, 26 Dec",
}
NORTHERN_IRELAND = {
    2026: f"{ENGLAND_AND_WALES[2026]}, 17 Mar, 13 Jul",
    2027: f"{ENGLAND_AND_WALES[2027]}, 17 Mar, 12 Jul",
    2028: f"{ENGLAND_AND_WALES[2028]}, 17 Mar, 12 Jul",
}
TABLE = {
    Nation.ENGLAND_AND_WALES: ENGLAND_AND_WALES,
    Nation.SCOTLAND: SCOTLAND,
    Nation.NORTHERN_IRELAND: NORTHERN_IRELAND,
}
NEXT = [
    # (day, nation, next working day); the first three are check values of the dossier.
    ("2026-12-24", Nation.ENGLAND_AND_WALES, "2026-12-29"),
    ("2027-12-24", Nation.ENGLAND_AND_WALES, "2027-12-29"),
    ("2026-08-28", Nation.ENGLAND_AND_WALES, "2026-09-01"),
    ("2026-08-28", Nation.SCOTLAND, "2026-08-31"),
    ("2026-12-31", Nation.SCOTLAND, "2027-01-05"),
    ("2026-04-02", Nation.ENGLAND_AND_WALES, "2026-04-07"),
    ("2026-04-02", Nation.SCOTLAND, "2026-04-06"),
    ("2026-07-10", Nation.NORTHERN_IRELAND, "2026-07-14"),
]


def typed(year: int, days: str) -> set[datetime.date]:
    """Days as typed above."""
    parts = (day.split() for day in days.split(", "))
    return {
        datetime.datetime.strptime(f"{number} {month} {year}", "%d %b %Y").date()
        for number, month in parts
    }


@pytest.mark.parametrize("nation", TABLE, ids=lambda nation: nation.value)
@pytest.mark.parametrize("year", [2026, 2027, 2028])
def test_bank_holidays_on_weekdays_are_those_typed_by_hand(nation: Nation, year: int) -> None:
    # A holiday at a weekend is kept on a weekday after it, which is the one that counts here.
    found = {day for day in bank_holidays(year, nation) if day.weekday() not in WEEKEND}
    assert found == typed(year, TABLE[nation][year])


def test_the_end_of_august_2026_is_a_holiday_in_england_and_not_in_scotland() -> None:
    day = datetime.date(2026, 8, 31)
    assert not WorkingCalendar(Nation.ENGLAND_AND_WALES).is_worked(day)
    assert WorkingCalendar(Nation.SCOTLAND).is_worked(day)


@pytest.mark.parametrize(("day", "nation", "after"), NEXT)
def test_the_next_working_day(day: str, nation: Nation, after: str) -> None:
    found = WorkingCalendar(nation).after(datetime.date.fromisoformat(day))
    assert found.isoformat() == after


@given(
    st.sampled_from(list(TABLE)),
    st.dates(datetime.date(2026, 1, 1), datetime.date(2028, 6, 30)),
    st.integers(0, 90),
)
def test_working_days_are_added_as_numpy_adds_them(
    nation: Nation, day: datetime.date, count: int
) -> None:
    # numpy's business days, given the holidays typed above.
    free = sorted(set().union(*(typed(year, days) for year, days in TABLE[nation].items())))
    wanted = numpy.busday_offset(day, count, roll="forward", holidays=free)
    assert WorkingCalendar(nation).plus(day, count) == wanted.astype(object)


@given(
    st.sets(st.integers(0, 6), min_size=1),
    st.sets(st.dates(datetime.date(2026, 1, 1), datetime.date(2026, 2, 28)), max_size=20),
    st.dates(datetime.date(2026, 1, 2), datetime.date(2026, 2, 28)),
    st.integers(0, 20),
)
def test_a_firm_s_own_week_and_closed_days_are_kept(
    week: set[int], closed: set[datetime.date], day: datetime.date, count: int
) -> None:
    free = closed | typed(2026, ENGLAND_AND_WALES[2026])
    mask = [number in week for number in range(7)]
    wanted = numpy.busday_offset(day, count, roll="forward", weekmask=mask, holidays=sorted(free))
    found = WorkingCalendar(working_week=tuple(week), closed=tuple(closed)).plus(day, count)
    # No bank holiday of 2026 falls at a weekend before December.
    assert found == wanted.astype(object)
