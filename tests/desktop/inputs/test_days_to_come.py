"""Days to come, as people say them; the calendar is the Gregorian one of the standard library."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.desktop.inputs.days import coming_day
from estimator.notices import UserMistake

TODAY = datetime.date(2026, 11, 25)
"""A Wednesday."""


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("tomorrow", "2026-11-26"),
        ("Wed", "2026-12-02"),
        ("thursday", "2026-11-26"),
        ("7 Dec", "2026-12-07"),
        ("24 Nov", "2027-11-24"),
        ("7/12/2026", "2026-12-07"),
        ("2027-01-04", "2027-01-04"),
    ],
)
def test_a_day_is_the_next_such_day(typed: str, day: str) -> None:
    assert coming_day(typed, today=TODAY).isoformat() == day


@given(st.dates(datetime.date(2020, 1, 1), datetime.date(2090, 1, 1)), st.integers(0, 363))
def test_a_day_without_its_year_is_found_again(today: datetime.date, ahead: int) -> None:
    day = today + datetime.timedelta(days=ahead)
    if (day.month, day.day) == (2, 29):
        return
    found = coming_day(f"{day.day}/{day.month}/{day.year}", today=today)
    assert found == day
    assert coming_day(f"{day:%d %b}".lower(), today=today) == day


@pytest.mark.parametrize("typed", ["soon", "31 Feb", "mo", "7"])
def test_what_is_no_day_is_said(typed: str) -> None:
    with pytest.raises(UserMistake, match="is no day"):
        coming_day(typed, today=TODAY)
