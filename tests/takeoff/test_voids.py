from __future__ import annotations

from dataclasses import replace

from estimator.masonry.region import Region
from estimator.survey.wall import ring_of, rings_of
from estimator.takeoff.rules import changed, shipped
from estimator.takeoff.voids import Void, measured_m2, voids_in
from tests.takeoff.walls import rectangle, window

WALL = Region.of(rectangle(3000, 3000))


def test_an_opening_off_the_area_is_no_void_of_it() -> None:
    low = Region.of(rectangle(3000, 900))
    assert voids_in(low, low, [window(1000, 1200, 600, 500)]) == ()


def test_an_opening_half_in_the_area_stands_at_its_boundary() -> None:
    opening = window(1000, 600, 600, 500)
    low = Region.of(rectangle(3000, 900))
    (void,) = voids_in(low, low.without(Region.of(ring_of(opening))), [opening])
    assert void.at_boundary


def test_a_sill_belongs_to_its_void() -> None:
    opening = window(1000, 600, 600, 500, sill=75)
    (void,) = voids_in(WALL, WALL.without(Region.of(ring_of(opening))), [opening])
    assert void == Void(600, 575)


def test_the_working_names_the_rule() -> None:
    smm7 = changed(shipped(), void_method="smm7")
    assert measured_m2(8.7, [Void(600, 500)], smm7) == (
        8.7,
        "8.70 m² of brickwork, 1 void taken out by SMM7",
    )
    assert measured_m2(9.0, [], smm7)[1] == "9.00 m² of brickwork, no voids"


def test_a_lintel_belongs_to_its_void() -> None:
    opening = replace(window(1000, 600, 600, 500), lintel_mm=100, lintel_bearing_mm=150)
    net = WALL.without(Region.of(*rings_of(opening)))
    (void,) = voids_in(WALL, net, [opening])
    assert void == Void(600, 500, at_boundary=False, lintel_m2=0.09)
    assert void.area_m2 == 0.39


def test_a_lintel_that_reaches_the_edge_makes_its_void_one_at_the_boundary() -> None:
    opening = replace(window(100, 600, 600, 500), lintel_mm=100, lintel_bearing_mm=150)
    (void,) = voids_in(WALL, WALL.without(Region.of(*rings_of(opening))), [opening])
    assert void.at_boundary
