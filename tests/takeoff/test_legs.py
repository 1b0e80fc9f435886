"""Legs on a return, worked out by hand."""

from __future__ import annotations

from estimator.masonry.region import Point
from estimator.survey.survey import Elevation, HandBar, WallEnd
from estimator.takeoff.legs import Leg, legs_on
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import LOCAL
from tests.takeoff.walls import rectangle, survey, wall

FRONT = wall(
    bars=(
        HandBar("l", 5, 0, 600, turn_left_mm=300),
        HandBar("r", 7, 4000, 4500, turn_right_mm=250),
    ),
    left_end=WallEnd.QUOIN,
    right_end=WallEnd.QUOIN,
    left_return="left",
    right_return="right",
)


def side(name: str, datum: float = 150.0, outline: tuple[Point, ...] = ()) -> Elevation:
    """A return of 3 by 2.4 m."""
    return wall(id=name, outline=outline or rectangle(3000, 2400), datum_height_mm=datum)


def legs(*elevations: Elevation) -> tuple[Leg, ...]:
    seen = survey(*elevations)
    return legs_on(measure(seen, LOCAL, shipped()).bars, seen)


def test_a_leg_shows_at_the_near_end_of_its_return() -> None:
    # Bed 5 is in the middle at 305, bed 7 at 455.
    assert legs(FRONT, side("left"), side("right")) == (
        Leg("left", "front/bar/1", 2700, 3000, 305, at_right=True),
        Leg("right", "front/bar/2", 0, 250, 455, at_right=False),
    )


def test_levels_agree_above_the_ground() -> None:
    # The datum of the return is 75 mm higher: one course less on it.
    (leg,) = legs(FRONT, side("left", datum=225))
    assert leg.y_mm == 230


def test_under_a_raking_verge_the_leg_starts_at_the_verge() -> None:
    verge = ((0.0, 0.0), (3000.0, 0.0), (3000.0, 50.0), (2000.0, 1050.0), (0.0, 1050.0))
    (leg,) = legs(FRONT, side("left", outline=verge))
    assert leg.right_mm == 2745


def test_no_leg_shows_where_the_return_has_no_wall_or_is_not_drawn() -> None:
    assert legs(FRONT, side("left", datum=9000)) == ()
    assert legs(FRONT) == ()
