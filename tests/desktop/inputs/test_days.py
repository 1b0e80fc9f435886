"""Days as people type them where something was done, paid or said."""

from __future__ import annotations

import datetime

import pytest

from estimator.desktop.inputs.days import day_gone
from estimator.notices import UserMistake

SATURDAY = datetime.date(2026, 11, 28)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("27/11", "2026-11-27"),
        ("29/11", "2025-11-29"),
        ("Fri", "2026-11-27"),
        ("saturday", "2026-11-28"),
        ("Fri 27 Nov", "2026-11-27"),
        ("Friday, 27th November 2026", "2026-11-27"),
        ("1st of March", "2026-03-01"),
        (" Yesterday ", "2026-11-27"),
        ("27-11-26", "2026-11-27"),
    ],
)
def test_a_day_is_the_last_such_day(typed: str, day: str) -> None:
    assert day_gone(typed, today=SATURDAY).isoformat() == day


@pytest.mark.parametrize("typed", ["tomorrow", "29/11/2026", "1.12.26"])
def test_a_day_to_come_is_called_so(typed: str) -> None:
    with pytest.raises(UserMistake, match="still to come; type today or a day before"):
        day_gone(typed, today=SATURDAY)


@pytest.mark.parametrize("typed", ["30/2", "soon", "2.3", "12", "fr", "31 Nov"])
def test_what_is_no_day_is_said(typed: str) -> None:
    with pytest.raises(UserMistake, match="is no day"):
        day_gone(typed, today=SATURDAY)
