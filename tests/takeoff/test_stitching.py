from __future__ import annotations

from itertools import pairwise

from hypothesis import given

from estimator.masonry.joints import bed_in
from estimator.masonry.region import Region
from estimator.survey.survey import Elevation, WallEnd
from estimator.survey.wall import ring_of, wall_of
from estimator.takeoff.lines import Bar
from estimator.takeoff.rules import changed, shipped
from estimator.takeoff.stitching import stitch
from tests.takeoff.strategies import WIDTH, elevations
from tests.takeoff.walls import side, upright, wall


def bars_of(front: Elevation) -> tuple[Bar, ...]:
    return stitch(side(front)).bars


@given(elevations())
def test_no_bar_crosses_an_opening(front: Elevation) -> None:
    coursing = wall_of(front).coursing
    holes = Region.of(*(ring_of(opening) for opening in front.openings))
    for bar in bars_of(front):
        assert bed_in(coursing, holes, bar.course, left=bar.left_mm, right=bar.right_mm) < 1e-9


@given(elevations())
def test_no_bar_crosses_a_movement_joint(front: Elevation) -> None:
    joints = list(front.movement_joints_mm)
    joints += [0.0] if front.left_end is WallEnd.MOVEMENT_JOINT else []
    joints += [WIDTH] if front.right_end is WallEnd.MOVEMENT_JOINT else []
    for bar in bars_of(front):
        assert not [x for x in joints if bar.left_mm + 1e-6 < x < bar.right_mm - 1e-6]


@given(elevations())
def test_every_bar_lies_in_brickwork(front: Elevation) -> None:
    laid = wall_of(front)
    for bar in bars_of(front):
        low, high = laid.gross.bounds[0], laid.gross.bounds[2]
        if front.left_end is not WallEnd.CONTINUES:
            assert bar.left_mm >= low - 1e-6
        if front.right_end is not WallEnd.CONTINUES:
            assert bar.right_mm <= high + 1e-6
        left, right = max(bar.left_mm, low), min(bar.right_mm, high)
        held = bed_in(laid.coursing, laid.net, bar.course, left=left, right=right)
        assert abs(held * 1000 - (right - left)) < 1e-3


@given(elevations())
def test_bars_of_one_bed_do_not_overlap(front: Elevation) -> None:
    bars = sorted(bars_of(front), key=lambda bar: (bar.course, bar.left_mm))
    for one, two in pairwise(bars):
        assert one.course != two.course or one.right_mm <= two.left_mm + 1e-6


@given(elevations())
def test_pieces_are_as_long_as_the_bar_and_its_laps(front: Elevation) -> None:
    rules = shipped()
    for bar in bars_of(front):
        laps = (len(bar.pieces_mm) - 1) * rules.lap_mm
        assert abs(sum(bar.pieces_mm) - laps - bar.length_mm) < 1e-6
        assert max(bar.pieces_mm) <= max(rules.stock_lengths_mm)


@given(elevations())
def test_every_bar_has_its_reasons(front: Elevation) -> None:
    for bar in bars_of(front):
        assert bar.reasons[0].code == "spacing"
        assert bar.reasons[1].code in {"anchorage", "shared"}
        assert all(reason.text.endswith(".") for reason in bar.reasons)


@given(elevations())
def test_bars_are_numbered_from_the_lowest(front: Elevation) -> None:
    bars = bars_of(front)
    assert [bar.id for bar in bars] == [f"front/bar/{n + 1}" for n in range(len(bars))]
    assert [bar.course for bar in bars] == sorted(bar.course for bar in bars)


def test_a_further_crack_leaves_the_bars_there_were() -> None:
    one = bars_of(wall(upright("a", 1120)))
    two = bars_of(wall(upright("a", 1120), upright("b", 3595, 2, 11)))
    assert {(bar.course, bar.left_mm, bar.right_mm) for bar in one} <= {
        (bar.course, bar.left_mm, bar.right_mm) for bar in two
    }


def test_bars_grow_half_way_to_their_neighbour_at_the_most() -> None:
    # Bars of 1020 mm, 180 mm apart, cut to 1500: 240 mm more at each end would have them overlap,
    # so each grows 90 mm between them and the rest on its free side.
    rules = changed(shipped(), bar_rounding_mm=500, anchorage_mm=510)
    bars = stitch(side(wall(upright("a", 1120, 1, 3), upright("b", 2320, 1, 3)), rules)).bars
    assert [bar.pieces_mm for bar in bars] == [(1500,), (1500,)]
    assert bars[0].right_mm == bars[1].left_mm == 1720


def test_a_bar_out_of_step_is_not_said_to_be_in_step() -> None:
    # Courses 8 to 17: bars under 9, 12 and 15 and, for the fourth that ten courses need, under 17.
    said = {bar.course: bar.reasons[0].text for bar in bars_of(wall(upright("a", 2020, 8, 10)))}
    assert list(said) == [9, 12, 15, 17]
    assert said[15].startswith("Every third course")
    assert said[17] == (
        "Crack a crosses 10 courses and needs 4 bars, so it has one near its end as well: the bed "
        "under course 17."
    )


def test_one_short_bar_is_spoken_of_as_one() -> None:
    found = stitch(side(wall(upright("a", 4420, 8, 2), right_end=WallEnd.STOPPED)))
    (short,) = [notice.text for notice in found.notices if notice.code == "short_bar"]
    assert "bar 1 reaches" in short and short.endswith("before it is set.")
