"""Points counted on the wall, and points that cannot settle how it is seen."""

from __future__ import annotations

import pytest

from estimator.notices import UserMistake
from estimator.survey.photo_points import (
    MOST,
    area_of,
    hull_of,
    joint_crossing,
    pairs_of,
    points_from_counting,
)
from estimator.survey.survey import Brickwork, Elevation, PhotoPoint
from estimator.survey.wall import coursing_of

FRONT = Elevation("a", "Front", ((0, 0), (4500, 0), (4500, 2700), (0, 2700)))
GABLE = Elevation("g", "Gable", ((0, 0), (4500, 0), (4500, 1500), (2250, 3000), (0, 1500)))
SQUARE = ((100, 100), (900, 100), (900, 700), (100, 700))


def points(*seen: tuple[float, float]) -> list[PhotoPoint]:
    """Points of a photograph taken square in front, two millimetres to the pixel."""
    return [PhotoPoint(u, v, u * 2, 2000 - v * 2) for u, v in seen]


@pytest.mark.parametrize(
    ("up", "along", "place"),
    [
        # Gauge 75, brick and perpend 225; a bed of 10 lies at the foot of its course.
        (0, 1, (220.0, 5.0)),
        (7, 5, (1007.5, 530.0)),  # Course 8 begins with half a brick: 102.5, then 4 of 225, and 5.
        (8, 5, (1120.0, 605.0)),
        (8, 0, (0.0, 605.0)),
    ],
)
def test_courses_up_and_bricks_along_are_a_place(
    up: int, along: int, place: tuple[float, float]
) -> None:
    assert points_from_counting(FRONT, up, along) == pytest.approx(place)


def test_under_a_gable_bricks_are_counted_from_the_verge() -> None:
    x, y = points_from_counting(GABLE, 25, 0)
    assert y == 25 * 75 + 5
    assert x == pytest.approx((y - 1500) / 1500 * 2250)
    assert x < points_from_counting(GABLE, 25, 1)[0] < x + 225


@pytest.mark.parametrize(("up", "along"), [(60, 2), (-1, 2), (4, -1)])
def test_a_place_off_the_wall_cannot_be_counted(up: int, along: int) -> None:
    with pytest.raises(UserMistake, match="count again"):
        points_from_counting(FRONT, up, along)


def test_a_crossing_lies_in_the_bed_and_the_perpend() -> None:
    coursing = coursing_of(Brickwork(bond="flemish", bed_usual_mm=12.0, perpend_mm=8.0))
    x, y = joint_crossing(coursing, 3, 4)
    _left, right = coursing.rhythm(3).face_span(4)
    assert (x, y) == (right + 4, coursing.bed_bottom(3) + 6)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([], "it takes 4 points, and none are marked"),
        (points(*SQUARE[:3]), "it takes 4 points, and 3 are marked"),
        (points(*SQUARE, (100.5, 100.5)), "points 1 and 5 are the same place on the photograph"),
        (
            [*points(*SQUARE), PhotoPoint(500, 500, 200, 1800)],
            "points 1 and 5 are the same place on the wall",
        ),
        (points((100, 100), (500, 101), (900, 100), (500, 700)), "points 1, 2 and 3 lie in a line"),
        (points((100, 100), (300, 102), (600, 99), (900, 100)), "lie in a line"),
        (
            points((100, 100), (300, 101), (600, 99), (900, 100), (500, 700)),
            "points 1, 2, 3 and 4 lie in a line on the wall",
        ),
        ([PhotoPoint(float("nan"), 1, 1, 1), *points(*SQUARE[:3])], "a point has no place"),
        (points(*((u, v) for u in range(0, 800, 100) for v in range(0, 600, 100))), "48 points"),
    ],
)
def test_points_that_leave_the_view_open_are_refused(given: list[PhotoPoint], said: str) -> None:
    assert MOST < 48
    with pytest.raises(UserMistake, match=said):
        pairs_of(given)


def test_points_of_another_order_are_refused() -> None:
    good = points(*SQUARE, (400, 300))
    assert len(pairs_of(good)) == 5
    mirrored = [PhotoPoint(1000 - one.across_px, one.down_px, one.x_mm, one.y_mm) for one in good]
    with pytest.raises(UserMistake, match="mirrored"):
        pairs_of(mirrored)
    upside_down = [PhotoPoint(one.across_px, 800 - one.down_px, one.x_mm, one.y_mm) for one in good]
    with pytest.raises(UserMistake, match="mirrored"):
        pairs_of(upside_down)
    # Turned by half is no mistake: the telephone was held upside down.
    pairs_of(
        [PhotoPoint(1000 - one.across_px, 800 - one.down_px, one.x_mm, one.y_mm) for one in good]
    )
    one, two, *rest = good
    exchanged = [
        PhotoPoint(one.across_px, one.down_px, two.x_mm, two.y_mm),
        PhotoPoint(two.across_px, two.down_px, one.x_mm, one.y_mm),
        *rest,
    ]
    with pytest.raises(UserMistake, match="do not lie on the photograph as they lie on the wall"):
        pairs_of(exchanged)


def test_five_points_of_which_three_are_in_a_line_are_enough() -> None:
    # Two lines that cross: four of them still span an area.
    assert pairs_of(points((100, 100), (500, 100), (900, 100), (100, 700), (500, 400)))


def test_a_hull_goes_round_against_the_clock() -> None:
    hull = hull_of([(0, 0), (4, 0), (2, 1), (4, 3), (0, 3), (0, 1.5)])
    assert hull == ((0, 0), (4, 0), (4, 3), (0, 3))
    assert area_of(hull) == 12
