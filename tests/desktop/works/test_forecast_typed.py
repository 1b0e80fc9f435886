"""A forecast as people type it: one reading or none."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.contract.works import Expected
from estimator.desktop.works.forecast_typed import expected, shown
from estimator.notices import UserMistake

ON = datetime.date(2026, 12, 1)
degrees = st.decimals(-40, 50, places=1).map(Decimal.normalize).map(lambda one: one + 0)


@pytest.mark.parametrize(
    ("typed", "least", "greatest", "rain"),
    [
        ("Tonight 3°, dry", "3", None, False),
        ("3", "3", None, False),
        ("3 to 9, rain", "3", "9", True),
        ("3-9", "3", "9", False),
        ("-2 to 5", "-2", "5", False),
        ("3 -1", "-1", "3", False),
        ("−4°, dry", "-4", None, False),
        ("minus 2", "-2", None, False),
        ("night 3, day 9, showers", "3", "9", False),
        ("1.5/7 heavy rain", "1.5", "7", True),
        ("2, snow", "2", None, True),
        ("5, no rain", "5", None, False),
    ],
)
def test_what_is_typed_is_read(typed: str, least: str, greatest: str | None, *, rain: bool) -> None:
    found = expected(typed, ON)
    most = None if greatest is None else Decimal(greatest)
    assert found == Expected(ON, Decimal(least), most, rain)


@pytest.mark.parametrize(
    "typed", ["rain", "soggy 3", "3 9 12", "3 dry rain", "99", "3,5", "x", "°"]
)
def test_what_can_be_read_in_no_way_or_in_two_is_said(typed: str) -> None:
    with pytest.raises(UserMistake, match="is no forecast"):
        expected(typed, ON)


@given(one=degrees, other=st.none() | degrees, rain=st.booleans())
def test_what_is_shown_reads_back_as_it_was(
    one: Decimal, other: Decimal | None, *, rain: bool
) -> None:
    known = [one] if other is None else sorted([one, other])
    told = Expected(ON, known[0], known[1] if other is not None else None, rain)
    assert expected(shown(told), ON) == told
