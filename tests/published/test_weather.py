"""When mortar may be placed, against what is published."""

from __future__ import annotations

import pytest

from estimator.takeoff.grout_and_mortar import mortar
from estimator.works.weather import Trend, may_lay

CEMENT, LIME = "cement_lime_1_1_6", "nhl35_1_3"
PUBLISHED = [
    # (mortar, now °C, trend, expected °C, may be laid)
    # NHBC Standards 2023, 3.2.5: stop below 3 °C and falling; start again at 1 °C and rising where
    # more than 3 °C is expected.
    (CEMENT, 2.9, Trend.FALLING, None, False),
    (CEMENT, 1.5, Trend.RISING, 4.0, True),
    (CEMENT, 1.5, Trend.RISING, 3.0, False),
    (CEMENT, 0.9, Trend.RISING, 4.0, False),
    (CEMENT, 3.1, Trend.FALLING, None, True),
    # Lime producers' guidance: none below 5 °C.
    (LIME, 4.0, Trend.RISING, 9.0, False),
    (LIME, 5.0, Trend.RISING, 9.0, True),
]


@pytest.mark.parametrize(("key", "now", "trend", "expected", "may"), PUBLISHED)
def test_cold(key: str, now: float, trend: Trend, expected: float | None, *, may: bool) -> None:
    assert may_lay(mortar(key), now, trend, expected_c=expected) is may


def test_the_limits_are_those_published() -> None:
    # Lime 5 °C and 7 days: lime producers, and a method note on lime pointing. Cement 3 °C: BS
    # 8000-3 and NHBC 3.2.5; its 2 days are a house rule.
    assert (mortar(LIME).least_temperature_c, mortar(LIME).cure_days) == (5, 7)
    assert (mortar(CEMENT).least_temperature_c, mortar(CEMENT).cure_days) == (3, 2)
