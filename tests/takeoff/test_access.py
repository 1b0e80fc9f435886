from __future__ import annotations

import pytest

from estimator.survey.survey import Ground
from estimator.takeoff.lines import Item
from estimator.takeoff.rules import changed, shipped
from tests.takeoff.walls import amount, measured, upright, wall, window


@pytest.mark.parametrize(
    ("courses", "datum", "means"),
    [
        # House settings: a hop-up over 1.5 m, a tower over 2.3 m, a scaffold over 6 m.
        (18, 150, "ground"),
        (20, 150, "hop_up"),
        (32, 150, "tower"),
        (20, 5000, "scaffold"),
    ],
)
def test_means_by_height(courses: int, datum: float, means: str) -> None:
    found = measured(wall(upright("a", 2020, 1, courses), datum_height_mm=datum))
    assert [reach.means for reach in found.reaches] == [means]
    assert found.reaches[0].top_mm == courses * 75 + datum


def test_over_a_roof_it_is_a_scaffold() -> None:
    found = measured(wall(upright("a", 2020, 1, 6), ground=Ground.OVER_ROOF))
    assert found.reaches[0].means == "scaffold"
    assert "over a roof" in found.reaches[0].reason


def test_soft_ground_is_said() -> None:
    found = measured(wall(upright("a", 2020, 1, 32), ground=Ground.SOFT))
    assert "soft or sloping" in found.reaches[0].reason


def test_heights_are_rules() -> None:
    found = measured(wall(upright("a", 2020, 1, 18)), rules=changed(shipped(), tower_above_mm=1000))
    assert found.reaches[0].means == "tower"


def test_width_is_that_of_the_work() -> None:
    assert measured(wall(upright("a", 2020))).reaches[0].width_mm == 1000


def test_sheets_lie_before_the_work_and_over_openings_near_it() -> None:
    # 1.0 m of work and 0.5 m on each side, 1.5 m deep: 3.00 m²; a window of 0.9 × 1.2 m beside it.
    assert amount(measured(wall(upright("a", 2020))), Item.PROTECT) == 3
    near = wall(upright("a", 2020), openings=(window(2600, 600, 900, 1200),))
    far = wall(upright("a", 2020), openings=(window(3100, 600, 900, 1200),))
    assert amount(measured(near), Item.PROTECT) == 4.08
    assert amount(measured(far), Item.PROTECT) == 3


def test_waste_is_what_is_cut_and_raked() -> None:
    # 8 m of slot, 10 × 25 mm, and 12 perpends of 65 mm, 10 × 20 mm: 2.0 + 0.156 L at 1.8 kg/L.
    assert amount(measured(wall(upright("a", 2020))), Item.CLEAR_WASTE) == 3.88


def test_the_wall_is_cleaned_where_it_was_worked_on() -> None:
    # A band of 150 mm along 8 m of slot and 12 × 65 mm of perpend.
    assert amount(measured(wall(upright("a", 2020))), Item.MAKE_GOOD) == round(8.78 * 0.15, 2)
