"""What is drawn, before anything is painted."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.desktop.state import OpenJob, Sight
from estimator.drawing.courses import masonry_of, tint_of
from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import BrickState, Part, Picture
from estimator.quoting.edits import Work
from estimator.survey.ranges import likely
from estimator.survey.survey import (
    Asked,
    CrackedBrick,
    Elevation,
    HandBar,
    HandWork,
    Lintel,
    ThinBed,
    Treatment,
    WallEnd,
    WidthAt,
)
from estimator.takeoff import rules
from estimator.takeoff.measure import measure
from estimator.takeoff.scope import LOCAL
from estimator.takeoff.side import side_of
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
                *picture.beds,
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


def front_of(**changes: Any) -> Picture:
    """The window's wall with something changed, and its first option's work."""
    survey = demo("window_lime")
    changed = replace(survey, elevations=(replace(survey.elevations[0], **changes),))
    return _picture(sight_of(changed))


def test_a_lintel_shows_over_its_opening_and_beyond_it() -> None:
    opening = demo("window_lime").elevations[0].openings[0]
    seen = replace(opening, lintel=Lintel.STONE, lintel_mm=140, lintel_bearing_mm=150)
    (hole,) = front_of(openings=(seen,)).masonry.holes
    left, top = opening.left_mm, opening.bottom_mm + opening.height_mm
    assert hole.lintel is Lintel.STONE
    assert hole.lintel_box == (left - 150, top, left + opening.width_mm + 150, top + 140)
    (bare,) = front_of().masonry.holes
    assert bare.lintel_box is None


def test_a_damp_course_lies_where_it_was_seen_or_where_it_is_usual() -> None:
    seen, usual = front_of(damp_course_mm=239.0).masonry, front_of().masonry
    assert (seen.damp_course, seen.damp_course_seen) == (239.0, True)
    assert usual.damp_course is not None and not usual.damp_course_seen


def test_bars_of_the_hand_are_told_from_the_rules() -> None:
    survey = demo("window_lime")
    rule = drawn("window_lime").bars[0]
    hand = (
        HandBar("h", 9, 300, 1100),
        HandBar("k", rule.course, rule.left, rule.right, HandWork.KEPT),
    )
    bars = front_of(bars=hand).bars
    assert all(not bar.by_hand and not bar.kept for bar in drawn("window_lime").bars)
    assert [(bar.course, bar.left, bar.right) for bar in bars if bar.by_hand and not bar.kept] == [
        (9, 300, 1100)
    ]
    assert [(bar.course, bar.left) for bar in bars if bar.kept] == [(rule.course, rule.left)]
    assert all(bar.by_hand for bar in bars if bar.kept)
    assert not survey.elevations[0].bars


def test_widths_are_drawn_at_their_places_and_the_widest_is_told() -> None:
    crack = demo("window_lime").elevations[0].cracks[0]
    widths = (WidthAt(1500, 100, 0.5), WidthAt(1600, 300, 2.0), WidthAt(1700, 500, 2.0))
    (shape,) = front_of(cracks=(replace(crack, widths=widths),)).cracks
    assert [(one.point, one.width_mm) for one in shape.widths] == [
        ((one.x_mm, one.y_mm), one.width_mm) for one in widths
    ]
    assert [one.is_widest for one in shape.widths] == [False, True, True]


def test_thin_beds_lie_in_their_beds() -> None:
    thin = (ThinBed(5, 300, 1200, 6.0), ThinBed(7, 0, 900, 5.0))
    picture = front_of(thin_beds=thin)
    gauge, bed = picture.masonry.gauge_mm, picture.masonry.bed_mm
    assert [one.mark.rsplit("/", 2)[1:] for one in picture.thin_beds] == [
        ["thin", "1"],
        ["thin", "2"],
    ]
    for shape, told in zip(picture.thin_beds, thin, strict=True):
        assert (shape.left, shape.right) == (told.from_mm, told.to_mm)
        assert shape.y == pytest.approx((told.course - 1) * gauge + bed / 2)


@pytest.mark.parametrize("name", ["window_lime", "terrace", "quoin_cavity"])
def test_beds_along_the_cracks_are_as_long_as_the_takeoff_says(name: str) -> None:
    """Held to ``takeoff``'s own sum, which knows nothing of shapes."""
    survey = demo(name)
    picture = drawn(name)
    side = side_of(survey.elevations[0], rules.shipped(), "nhl35_1_3")
    for shape in picture.beds:
        long = sum(right - left for left, _low, right, _top in shape.boxes)
        run = sum(right - left for left, right in side.cracked_beds[shape.course])
        assert long == pytest.approx(run)
        assert shape.mark == f"{picture.elevation}/bed/{shape.course}"
        assert set(shape.cracks) <= {crack.mark for crack in picture.cracks}
    assert {shape.course for shape in picture.beds} == set(side.cracked_beds)


def test_legs_show_on_the_wall_round_the_quoin_and_nowhere_else() -> None:
    survey = demo("quoin_cavity")
    (gable,) = survey.elevations
    outline = ((0.0, 0.0), (3000.0, 0.0), (3000.0, 2400.0), (0.0, 2400.0))
    side = Elevation("rear", "Rear", outline, gable.brickwork, left_end=WallEnd.QUOIN)
    both = replace(survey, elevations=(replace(gable, right_return="rear"), side))
    work = measure(both, LOCAL, rules.shipped())
    turned = picture_of(both, 1, work)
    straight = picture_of(both, 0, work)
    assert turned is not None and straight is not None
    assert not straight.legs
    assert {leg.mark for leg in turned.legs} == {bar.mark for bar in straight.bars}
    for leg, bar in zip(turned.legs, work.bars, strict=True):
        assert leg.right - leg.left == pytest.approx(bar.turn_right_mm)
        assert (leg.left, leg.y) == (0.0, pytest.approx(bar.y_mm))
        assert not leg.at_right
    bare = picture_of(both, 1, None)
    assert bare is not None and not bare.legs


def test_a_wall_drawn_by_hand_is_drawn_as_sure_as_it_was_drawn() -> None:
    told = pictured(sight_of(call()))
    by_hand = pictured(sight_of(replace(call(), drawn=True)))
    assert told is not None and by_hand is not None
    assert told.guessed and not by_hand.guessed
