"""Turned left for right, a wall is as much work as before; and turned back, the same wall."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.masonry.bond import bond_keys, takes_ratio
from estimator.masonry.brick import format_keys
from estimator.masonry.joints import joints_in
from estimator.quoting.edits import Work
from estimator.quoting.wall_edits import mirroring, photos, sides
from estimator.survey import checks
from estimator.survey.ranges import settled
from estimator.survey.survey import (
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    Elevation,
    HandBar,
    PhotoPoint,
    SteppedRun,
    ThinBed,
    TracedRun,
    Treatment,
    WallEnd,
)
from estimator.survey.wall import path_of, wall_of
from tests.quoting.wall_edits.works import WINDOW, wall, work
from tests.survey.strategies import brickworks
from tests.survey.strategies import elevations as any_walls
from tests.survey.walls import survey


def sums(one: Elevation) -> tuple[float, float, float]:
    """Lengths of bed and of perpend [m], and area [m²]."""
    laid = wall_of(one)
    found = joints_in(laid.coursing, laid.net)
    return found.bed_m, found.perpend_m, found.area_m2


def runs(one: Elevation) -> list[tuple[float, float, int, int]]:
    """Lengths of each crack along joints and in all, perpends it runs up and bricks it breaks."""
    coursing = wall_of(one).coursing
    paths = [path_of(settled(crack), coursing) for crack in one.cracks]
    return [(path.joint_m, path.length_m, path.perpends, len(path.bricks)) for path in paths]


def mirrored(one: Elevation) -> Elevation:
    return wall(sides.mirror_side(Work(survey(elevations=(one,))), one.id), one.id)


def assert_alike(one: Elevation, two: Elevation) -> None:
    assert sums(two) == pytest.approx(sums(one), abs=1e-5)
    for before, after in zip(runs(one), runs(two), strict=True):
        assert after == pytest.approx(before, abs=5e-5)


@given(any_walls)
def test_a_mirrored_wall_has_the_same_joints_cracks_and_broken_bricks(one: Elevation) -> None:
    checks.check_elevation(one)
    there = mirrored(one)
    assert_alike(one, there)
    back = mirrored(there)
    assert_alike(one, back)
    assert [brick.course for brick in there.bricks] == [brick.course for brick in one.bricks]


@given(any_walls)
def test_marked_bricks_fall_on_their_mirror_images(one: Elevation) -> None:
    there = mirroring.mirrored(one)
    line = mirroring.mirror_sum(one, wall_of(one).coursing)
    for before, after in zip(one.bricks, there.bricks, strict=True):
        left, bottom, right, top = wall_of(one).box_of(before)
        image = (line - right, bottom, line - left, top)
        assert wall_of(there).box_of(after) == pytest.approx(image, abs=1e-3)


@pytest.mark.parametrize("brick", format_keys())
@pytest.mark.parametrize("bond", bond_keys())
def test_every_bond_is_its_own_mirror_image(brick: str, bond: str) -> None:
    for ratio in (0, 1, 2, 3, 4, 5) if takes_ratio(bond) else (0,):
        one = Elevation(
            "f",
            "Front",
            ((0.0, 0.0), (5130.0, 0.0), (5130.0, 1700.0), (1900.0, 2900.0), (0.0, 1400.0)),
            Brickwork(brick=brick, bond=bond, ratio=ratio),
        )
        assert sums(mirroring.mirrored(one)) == pytest.approx(sums(one), abs=1e-5)


def test_a_wall_of_whole_bricks_comes_back_to_where_it_was() -> None:
    job = work(openings=(WINDOW,), bricks=(CrackedBrick(4, 6, Treatment.REPLACE),))
    there = sides.mirror_side(job, "front")
    # The perpend after its last brick is the first thing in it now.
    assert wall(there).outline == ((-10, 0), (4490, 0), (4490, 2700), (-10, 2700))
    assert wall(there).openings == (replace(WINDOW, left_mm=4490 - 1575 - 1350),)
    back = sides.mirror_side(there.after, "front")
    assert back.after.survey.elevations == job.survey.elevations


def test_everything_on_the_wall_is_turned_with_it() -> None:
    job = work(
        cracks=(
            Crack("a", SteppedRun(445.0, 2, 5.0), 2.0),
            Crack("b", BedRun(4, 500.0, 900.0), 2.0),
            Crack("c", TracedRun(((1000.0, 80.0), (1500.0, 600.0)), cuts=(1,)), 2.0),
        ),
        left_end=WallEnd.QUOIN,
        right_end=WallEnd.STOPPED,
        movement_joints_mm=(1000.0,),
        thin_beds=(ThinBed(4, 300.0, 900.0, 6.0),),
        bars=(HandBar("added", 5, 300.0, 1200.0, turn_left_mm=200.0),),
    )
    there = wall(sides.mirror_side(job, "front"))
    # The nearest perpend of course 2 to 445 is the one at 332.5.
    assert there.cracks[0].run == SteppedRun(4490 - 332.5, 2, 5.0, "left")
    assert there.cracks[1].run == BedRun(4, 3590, 3990)
    assert there.cracks[2].run == TracedRun(((3490, 80), (2990, 600)), cuts=(1,))
    assert (there.left_end, there.right_end) == (WallEnd.STOPPED, WallEnd.QUOIN)
    assert there.movement_joints_mm == (3490,)
    assert there.thin_beds == (ThinBed(4, 3590, 4190, 6),)
    assert there.bars == (HandBar("added", 5, 3290, 4190, turn_right_mm=200),)


def test_returns_change_over_and_photographs_lose_their_points() -> None:
    two = sides.add_return(work(), "front", "left", width_mm=3000).after
    two = photos.add_photo(two, "front", picture="0a" * 32, width_px=900, height_px=900).after
    points = (PhotoPoint(1.0, 1.0, 0.0, 0.0),)
    two = photos.set_points(two, "photo", points).after
    edit = sides.mirror_side(two, "front")
    assert (wall(edit).left_return, wall(edit).right_return) == ("", "front-left")
    assert edit.after.survey.photos[0].points == ()


@given(brickworks(), st.integers(600, 9000))
def test_a_mirrored_wall_stays_at_its_datum_unless_headers_drift(
    brickwork: Brickwork, width: int
) -> None:
    outline = ((0.0, 0.0), (float(width), 0.0), (float(width), 900.0), (0.0, 900.0))
    one = Elevation("f", "Front", outline, brickwork)
    coursing = wall_of(one).coursing
    repeat = mirroring.common_repeat(coursing)
    left = mirroring.mirrored(one).outline[0][0]
    if repeat is not None:
        assert abs(left) <= repeat / 2 + 1e-3
