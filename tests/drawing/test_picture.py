"""What is drawn, before anything is painted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.desktop.state import OpenJob, Sight
from estimator.drawing.courses import masonry_of, tint_of
from estimator.drawing.shapes import BrickState, Part, Picture
from estimator.quoting.edits import Work
from estimator.survey.ranges import likely
from estimator.survey.survey import Asked, CrackedBrick, Treatment
from tests.desktop.wall.walls import call, demo, pictured, sight_of


def drawn(name: str, elevation: int = 0, option: int = 0) -> Picture:
    found = pictured(sight_of(demo(name)), elevation, option)
    assert found is not None
    return found


@pytest.mark.parametrize("name", ["window_lime", "phone_call", "terrace", "quoin_cavity"])
def test_every_mark_that_is_priced_is_drawn(name: str) -> None:
    sight = sight_of(demo(name))
    for number, option in enumerate(sight.options):
        shown = set()
        for place in range(len(sight.work.survey.elevations)):
            picture = pictured(sight, place, number)
            assert picture is not None
            shapes = (
                *picture.cracks,
                *picture.bars,
                *picture.bricks,
                *picture.areas,
                *picture.joints,
            )
            shown |= {shape.mark for shape in shapes} | {picture.elevation}
        priced = {mark for line in option.offer.lines for mark in line.marks}
        assert priced <= shown


def test_a_measured_crack_is_sure_all_along() -> None:
    crack = drawn("window_lime").cracks[0]
    assert crack.sure and not crack.likely and not crack.beyond


def test_a_told_crack_is_sure_only_for_its_fewest_courses() -> None:
    survey = demo("phone_call")
    crack = drawn("phone_call").cracks[0]
    gauge = masonry_of(survey.elevations[0]).gauge_mm
    assert crack.sure[-1] == crack.likely[0]
    assert crack.likely[-1] == crack.beyond[0]
    assert (crack.sure[-1][1] - crack.sure[0][1]) / gauge == pytest.approx(10)
    assert (crack.likely[-1][1] - crack.sure[0][1]) / gauge == pytest.approx(14)
    assert (crack.beyond[-1][1] - crack.sure[0][1]) / gauge == pytest.approx(20)


def test_bars_beyond_the_sure_crack_are_guessed() -> None:
    picture = drawn("phone_call")
    top = picture.cracks[0].sure[-1][1]
    above = [bar for bar in picture.bars if bar.y > top + 20]
    assert above and all(bar.is_guessed for bar in above)
    assert any(not bar.is_guessed for bar in picture.bars)


def test_nothing_is_sure_before_the_first_answer() -> None:
    picture = pictured(sight_of(call()))
    assert picture is not None
    assert picture.guessed == frozenset(Part)
    assert not picture.cracks[0].sure
    assert all(bar.is_guessed for bar in picture.bars)


def test_each_answer_makes_its_part_sure() -> None:
    for part, choice in (
        (Part.OPENING, "corner"),
        (Part.SHAPE, "stepped"),
        (Part.BRICKS, "later"),
        (Part.LENGTH, "metre"),
    ):
        picture = pictured(sight_of(call(Asked(part.value, (choice,)))))
        assert picture is not None
        assert picture.guessed == frozenset(Part) - {part}
    unsure = pictured(sight_of(call(Asked("place", ("not_sure",)))))
    assert unsure is not None and Part.OPENING in unsure.guessed


def test_under_a_window_the_lower_end_is_the_unsure_one() -> None:
    survey = call(Asked("place", ("under_window",)), Asked("shape", ("stepped",)))
    picture = pictured(sight_of(survey))
    assert picture is not None
    crack = picture.cracks[0]
    assert min(y for _x, y in crack.likely) < min(y for _x, y in crack.sure)
    assert not crack.beyond


def test_no_wall_has_no_picture() -> None:
    bare = replace(sight_of(call()), job=OpenJob(Work(replace(call(), elevations=())), "1"))
    assert pictured(bare) is None
    assert pictured(sight_of(call()), 7) is None


def test_a_wall_with_no_price_is_drawn_without_bars() -> None:
    picture = drawn("refer")
    assert picture.cracks and not picture.bars and not picture.areas


def test_bricks_carry_what_is_done_with_them_where_they_are_priced() -> None:
    survey = demo("window_lime")
    bricks = tuple(
        CrackedBrick(9, place, treatment) for place, treatment in enumerate(Treatment, start=2)
    )
    marked = replace(survey, elevations=(replace(survey.elevations[0], bricks=bricks),))
    sight = sight_of(marked)
    states = [brick.state for brick in _picture(sight).bricks]
    assert states == [BrickState.REPLACE, BrickState.TURN, BrickState.PATCH, BrickState.CRACKED]
    unpriced = [brick.state for brick in _picture(replace(sight, options=())).bricks]
    assert set(unpriced) == {BrickState.CRACKED}


def _picture(sight: Sight) -> Picture:
    found = pictured(sight)
    assert found is not None
    return found


def test_the_same_wall_is_the_same_masonry_whatever_its_crack() -> None:
    survey = demo("window_lime")
    elevation = survey.elevations[0]
    assert masonry_of(elevation) is masonry_of(replace(elevation, cracks=()))
    assert masonry_of(elevation) is not masonry_of(replace(elevation, openings=()))


def test_tints_are_fixed_and_the_usual_one_is_the_commonest() -> None:
    tints = [tint_of(course, number) for course in range(40) for number in range(40)]
    assert tints == [tint_of(course, number) for course in range(40) for number in range(40)]
    assert set(tints) == {0, 1, 2, 3, 4}
    assert max(set(tints), key=tints.count) == 0


def test_the_dimension_says_whether_the_height_is_sure() -> None:
    measured, told = drawn("window_lime").height, drawn("phone_call").height
    assert measured is not None and measured[2]
    assert told is not None and not told[2]
    assert told[1] - told[0] == pytest.approx(
        14 * masonry_of(demo("phone_call").elevations[0]).gauge_mm
    )
    run = demo("phone_call").elevations[0].cracks[0].run
    assert likely(run.courses) == 14  # type: ignore[union-attr]
