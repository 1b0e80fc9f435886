"""A firm's own week."""

from __future__ import annotations

import datetime

import pytest

from estimator.contract.works import Nation, Plan
from estimator.notices import UserMistake
from estimator.works.calendar import WorkingCalendar

DAY = datetime.date(2026, 12, 23)


def test_a_week_without_a_day_is_refused_in_a_sentence() -> None:
    with pytest.raises(UserMistake, match="no day of the week is worked"):
        WorkingCalendar(working_week=()).on_or_after(DAY)


def test_closed_without_an_end_is_refused_in_a_sentence() -> None:
    closed = tuple(DAY + datetime.timedelta(days=day) for day in range(4_000))
    with pytest.raises(UserMistake, match="ten years"):
        WorkingCalendar(closed=closed).on_or_after(DAY)


def test_the_last_day_there_is_has_none_after_it() -> None:
    with pytest.raises(UserMistake, match="no day comes after"):
        WorkingCalendar().after(datetime.date.max)


def test_a_closed_day_says_so() -> None:
    calendar = WorkingCalendar.of(Plan(DAY, closed=(DAY,), nation=Nation.SCOTLAND))
    assert calendar.why_not(DAY) == "closed"
    assert calendar.why_not(datetime.date(2026, 12, 26)) == "outside the working week"
    assert calendar.worked_between(DAY, datetime.date(2026, 12, 29)) == 2


def test_working_days_are_not_taken_away() -> None:
    with pytest.raises(ValueError, match="only ever added"):
        WorkingCalendar().plus(DAY, -1)
