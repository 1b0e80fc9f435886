"""Exposure points and A(8) against worked figures and the definition of A(8).

The formula of points is HSE's and ISO 5349-1's (A(8) = a√(t/8); 100 points at 2.5 m/s², 400 at
5.0 m/s²); the magnitudes are illustrations of a trade dossier, its check values 7 to 11.
"""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from estimator.works.settings import shipped
from estimator.works.vibration import Level, daily, hours_to, level_of, points

WORKED = [
    # (m/s², hours) of each tool, points, A(8)
    ([(6, "1.5"), (12, "0.5")], "252", "3.969"),
    ([(10, "0.5")], "100", "2.5"),
    ([(4, "2")], "64", "2"),
]
TO_VALUES = [(6, "1.389", "5.556"), (12, "0.347", "1.389")]
READY_RECKONER = [
    # (m/s², hours, points) of the table HSE prints for a ready reckoner, from memory.
    ("2.5", "8", 100),
    ("5", "2", 100),
    ("5", "8", 400),
    ("10", "1", 200),
    ("3", "1", 18),
    ("20", "0.25", 200),
]


@pytest.mark.parametrize(("tools", "told", "a8"), WORKED)
def test_worked_days(tools: list[tuple[int, str]], told: str, a8: str) -> None:
    found = sum((points(Decimal(a), Decimal(h)) for a, h in tools), Decimal(0))
    assert found == Decimal(told)
    assert round(daily(found), 3) == Decimal(a8)


@pytest.mark.parametrize(("tools", "told", "a8"), WORKED)
def test_points_are_the_root_of_the_sum_of_squares(
    tools: list[tuple[int, str]], told: str, a8: str
) -> None:
    # By the definition of A(8) in ISO 5349-1, without points.
    partial = [a * math.sqrt(float(hours) / 8) for a, hours in tools]
    assert float(daily(Decimal(told))) == pytest.approx(math.hypot(*partial))


@pytest.mark.parametrize(("m_s2", "action", "limit"), TO_VALUES)
def test_hours_to_the_values(m_s2: int, action: str, limit: str) -> None:
    limits = shipped().vibration
    assert round(hours_to(limits.action_points, Decimal(m_s2)), 3) == Decimal(action)
    assert round(hours_to(limits.limit_points, Decimal(m_s2)), 3) == Decimal(limit)


@pytest.mark.parametrize(("m_s2", "hours", "told"), READY_RECKONER)
def test_the_ready_reckoner(m_s2: str, hours: str, told: int) -> None:
    assert points(Decimal(m_s2), Decimal(hours)) == told


def test_the_values_are_those_of_the_regulations() -> None:
    # Control of Vibration at Work Regulations 2005, regulation 4: 2.5 and 5 m/s² A(8).
    limits = shipped().vibration
    assert daily(limits.action_points) == Decimal("2.5")
    assert daily(limits.limit_points) == 5
    assert level_of(Decimal("252"), limits) is Level.ACTION
