"""Bars by hand worked out by hand: 75 mm courses, 500 mm anchorage, steps of 50 mm, gap 150 mm."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from decimal import Decimal

from hypothesis import assume, given
from hypothesis import strategies as st

from estimator.notices import Notice, Severity, UserMistake
from estimator.survey import survey_file
from estimator.survey.checks import check
from estimator.survey.survey import (
    BedRun,
    Crack,
    Elevation,
    HandBar,
    HandWork,
    ThinBed,
    WallEnd,
)
from estimator.takeoff.lines import Bar, Item, Measure, SetBy
from estimator.takeoff.rules import changed, shipped
from estimator.takeoff.scope import LOCAL, PANEL
from estimator.takeoff.stitching import stitch
from tests.takeoff.strategies import elevations
from tests.takeoff.walls import amount, line, measured, side, survey, upright, wall, window

KEPT, OUT = HandWork.KEPT, HandWork.LEFT_OUT
CRACK = upright("a", 2020)
"""Its bars lie from 1520 to 2520 in the beds under courses 2, 5, 8 and so on, 8 of them."""


def found(*bars: HandBar, crack: Crack = CRACK, **more: object) -> Measure:
    return measured(wall(crack, bars=bars, **more))


def by_hand(measure: Measure) -> list[Bar]:
    return [bar for bar in measure.bars if bar.set_by is SetBy.HAND]


def text(bar: Bar, code: str) -> str:
    return " ".join(reason.text for reason in bar.reasons if reason.code == code)


def said(measure: Measure, code: str) -> Notice:
    (one,) = [notice for notice in measure.notices if notice.code == code]
    return one


def test_a_bar_set_by_hand_takes_the_place_of_the_rules() -> None:
    measure = found(HandBar("h", 5, 1320, 2520))
    (bar,) = by_hand(measure)
    assert (bar.id, bar.hand, bar.left_mm, bar.right_mm) == ("front/bar/2", "h", 1320, 2520)
    assert (bar.pieces_mm, bar.cracks, bar.anchorage_mm) == ((1200,), ("a",), 500)
    assert bar.reasons[0].text == (
        "Set by hand: 1,200 mm. The rule's bar here was 1,000 mm, from 1,520 to 2,520 mm along."
    )
    assert text(bar, "anchorage") == (
        "It crosses crack a, with 700 mm beyond on the left and 500 mm on the right."
    )
    assert len(measure.bars) == 8
    assert line(measure, Item.CUT_SLOT).quantity.amount == Decimal("8.20")
    assert said(measure, "by_hand").text == "Front: 1 bar set by hand and 7 bars by the rule."


def test_a_bar_in_a_bed_of_its_own_is_numbered_among_the_rules() -> None:
    measure = found(HandBar("h", 6, 1520, 2520))
    assert [bar.course for bar in measure.bars] == [2, 5, 6, 8, 11, 14, 17, 20, 23]
    assert [bar.id for bar in measure.bars] == [f"front/bar/{n}" for n in range(1, 10)]
    assert by_hand(measure)[0].reasons[0].text == "Set by hand: 1,000 mm. The rule has no bar here."


def test_only_what_comes_nearer_than_bars_are_joined_gives_way() -> None:
    # The rule's bar ends at 2520: 149 mm from one hand bar, 150 from the other.
    assert len(found(HandBar("h", 5, 2669, 3000)).bars) == 8
    assert len(found(HandBar("h", 5, 2670, 3000)).bars) == 9


def test_a_bar_beyond_a_movement_joint_does_not_give_way() -> None:
    measure = found(HandBar("h", 5, 2600, 3200), movement_joints_mm=(2600.0,))
    assert [bar.set_by for bar in measure.bars if bar.course == 5] == [SetBy.RULE, SetBy.HAND]


def test_one_bar_may_take_the_place_of_two() -> None:
    both = wall(upright("a", 1120), upright("b", 3370), bars=(HandBar("h", 5, 620, 3870),))
    (bar,) = by_hand(measured(both))
    assert bar.cracks == ("a", "b")
    assert bar.reasons[0].text.endswith(
        "The rule's bars here were 1,000 mm, from 620 to 1,620 mm along and 1,000 mm, from 2,870 "
        "to 3,870 mm along."
    )


def test_a_bar_is_cut_back_at_a_window_a_lintel_and_a_joint() -> None:
    over = replace(window(2400, 0, 900, 300), lintel_mm=150, lintel_bearing_mm=100)
    low, high = by_hand(
        found(HandBar("x", 4, 1500, 2600), HandBar("y", 6, 1500, 2600), openings=(over,))
    )
    assert (low.right_mm, high.right_mm) == (2400, 2300)
    assert text(low, "opening") == (
        "Cut back on the right, from 2,600 to 2,400 mm along: there is the window."
    )
    assert text(high, "opening").endswith("to 2,300 mm along: there is the lintel.")
    (bar,) = by_hand(found(HandBar("h", 5, 1000, 2600), movement_joints_mm=(1200.0,)))
    assert (bar.left_mm, bar.pieces_mm) == (1200, (1400,))
    assert text(bar, "movement_joint").startswith("Cut back on the left, from 1,000 to 1,200 mm")


def test_a_bar_across_a_window_is_what_lies_on_its_longer_side() -> None:
    (bar,) = by_hand(found(HandBar("h", 4, 1500, 4000), openings=(window(2400, 0, 900, 600),)))
    assert (bar.left_mm, bar.right_mm) == (1500, 2400)


def test_where_no_brickwork_is_left_a_bar_is_not_counted() -> None:
    measure = found(HandBar("h", 4, 2500, 3200), openings=(window(2400, 0, 900, 600),))
    assert not by_hand(measure)
    assert said(measure, "hand_no_room").text == (
        "Front: the bar set by hand in the bed under course 4, from 2,500 to 3,200 mm along, is "
        "not counted: there is no brickwork for it."
    )


def test_where_the_wall_runs_on_a_bar_does_too() -> None:
    (bar,) = by_hand(found(HandBar("h", 5, -300, 700)))
    assert (bar.left_mm, bar.right_mm) == (-300, 700)
    (bar,) = by_hand(found(HandBar("h", 5, -100, 700), left_end=WallEnd.STOPPED))
    assert bar.left_mm == 0


def test_of_two_bars_over_each_other_the_last_one_counts() -> None:
    measure = found(HandBar("x", 6, 1500, 2500), HandBar("y", 6, 2000, 3000))
    assert [bar.hand for bar in by_hand(measure)] == ["y"]
    assert said(measure, "hand_overlap").severity is Severity.CAUTION
    assert len(by_hand(found(HandBar("x", 6, 1500, 2000), HandBar("y", 6, 2000, 3000)))) == 2


def test_a_bar_left_out_is_missed() -> None:
    measure = found(HandBar("h", 5, 1500, 2540, OUT))
    assert [bar.course for bar in measure.bars] == [2, 8, 11, 14, 17, 20, 23]
    notice = said(measure, "left_out")
    assert notice.severity is Severity.CAUTION
    assert notice.text == (
        "Front: the rule asks for a bar in the bed under course 5; it was left out by hand."
    )
    assert said(measure, "by_hand").text == "Front: 7 bars by the rule and 1 bar left out by hand."


def test_only_bars_whose_middle_is_in_the_stretch_are_left_out() -> None:
    # The middle of the rule's bar is at 2020.
    assert len(found(HandBar("h", 5, 1500, 2019, OUT)).bars) == 8
    nothing = found(HandBar("h", 6, 1500, 2500, OUT))
    assert said(nothing, "left_out").severity is Severity.NOTE
    assert len(nothing.bars) == 8


def test_a_bar_that_crosses_no_crack_is_spoken_of() -> None:
    measure = found(HandBar("h", 6, 3000, 3500))
    (bar,) = by_hand(measure)
    assert (bar.cracks, bar.anchorage_mm) == ((), 0)
    assert text(bar, "anchorage") == "It crosses no crack."
    assert said(measure, "no_crack").text == "Front: bar 3 set by hand crosses no crack."
    assert not [notice for notice in measure.notices if notice.code == "short_bar"]


def test_a_crack_along_the_bed_is_not_crossed() -> None:
    along = Crack("b", BedRun(6, 2900, 3600), 2.0)
    (bar,) = by_hand(measured(wall(CRACK, along, bars=(HandBar("h", 6, 3000, 3500),))))
    assert bar.cracks == ()


def test_a_bar_too_short_beyond_the_crack_asks_the_engineer() -> None:
    measure = found(HandBar("h", 5, 1520, 2220))
    (bar,) = by_hand(measure)
    assert bar.anchorage_mm == 200
    assert text(bar, "short").startswith("Only 200 mm beyond the crack on the right, where 300 mm")
    assert "bar 2 reaches less than 300 mm" in said(measure, "short_bar").text


def test_a_leg_is_turned_only_where_the_bar_reaches_the_quoin() -> None:
    near = upright("a", 445)
    reaching = HandBar("h", 5, 0, 945, turn_left_mm=300)
    (bar,) = by_hand(found(reaching, crack=near, left_end=WallEnd.QUOIN))
    assert (bar.turn_left_mm, bar.pieces_mm, bar.anchorage_mm) == (300, (1245,), 500)
    (bar,) = by_hand(found(replace(reaching, from_mm=100), crack=near, left_end=WallEnd.QUOIN))
    assert (bar.turn_left_mm, bar.pieces_mm) == (0, (845,))
    assert text(bar, "quoin") == "No leg on the left: the bar does not reach a quoin there."
    (bar,) = by_hand(found(reaching, crack=near, left_end=WallEnd.STOPPED))
    assert bar.turn_left_mm == 0


def test_a_long_bar_is_lapped_and_a_thin_bed_skimmed() -> None:
    rules = changed(shipped(), stock_lengths_mm=[3000], lap_mm=400)
    thin = (ThinBed(6, 1000, 1500, 5.0),)
    held = wall(CRACK, bars=(HandBar("h", 6, 500, 4000),), thin_beds=thin)
    (bar,) = by_hand(measured(held, rules=rules))
    assert bar.pieces_mm == (3000, 900)
    assert (bar.skim_mm, bar.thin) == (500, True)
    assert text(bar, "lap").endswith("2 pieces lapped 400 mm.")


def test_a_bar_kept_stays_while_the_crack_moves_on() -> None:
    kept = HandBar("h", 5, 1520, 2520, KEPT)
    (bar,) = by_hand(found(kept))
    assert bar.reasons[0].text == (
        "Kept by hand where the rule had it: 1,000 mm, from 1,520 to 2,520 mm along. The rule's "
        "bar here is the same."
    )
    assert bar.reasons[1].code == "spacing"
    (bar,) = by_hand(found(kept, crack=upright("a", 2245)))
    assert (bar.left_mm, bar.right_mm, bar.anchorage_mm) == (1520, 2520, 275)
    assert bar.reasons[0].text.endswith(
        "The rule's bar here is now 1,000 mm, from 1,745 to 2,745 mm along."
    )


def test_no_bar_is_cut_into_the_bed_of_the_damp_course() -> None:
    # The bed under course 2 lies at 75 to 85: that under course 3 has the bar instead.
    measure = found(damp_course_mm=80.0)
    assert [bar.course for bar in measure.bars] == [3, 5, 8, 11, 14, 17, 20, 23]
    assert measure.bars[0].reasons[0].text == (
        "The bed under course 2 holds the damp course, and cutting it would let damp up: the bed "
        "under course 3 has the bar of crack a instead."
    )
    assert said(measure, "damp_course").text == (
        "Front: no bar in the bed of the damp course, under course 2: cutting it would let damp up."
    )


def test_where_no_bed_is_left_beside_the_damp_course_there_is_a_bar_fewer() -> None:
    measure = found(crack=upright("a", 2020, 8, 2), damp_course_mm=605.0)
    assert measure.bars == ()
    assert said(measure, "damp_course").text.endswith("so crack a has one bar fewer.")


def test_a_damp_course_no_bar_would_lie_in_changes_nothing() -> None:
    assert found(damp_course_mm=-300.0).lines == found().lines
    assert not [one for one in found(damp_course_mm=155.0).notices if one.code == "damp_course"]


def test_a_bar_set_by_hand_into_the_damp_course_is_warned_of() -> None:
    measure = found(HandBar("h", 2, 1520, 2520), damp_course_mm=80.0)
    warned = [one for one in measure.notices if one.code == "damp_course"]
    assert [one.severity for one in warned] == [Severity.CAUTION]
    assert warned[0].text == (
        "Front: bar 1 set by hand lies in the bed of the damp course. Cutting it would let damp up."
    )


def test_a_bar_by_hand_in_the_damp_course_is_not_said_to_be_none() -> None:
    assert (
        "no bar in the bed of the damp course"
        in said(found(damp_course_mm=80.0), "damp_course").text
    )
    by_rule_and_hand = found(HandBar("h", 2, 1520, 2520), damp_course_mm=80.0)
    assert "no bar in" not in said(by_rule_and_hand, "damp_course").text


def test_a_crack_that_loses_its_bar_to_one_set_by_hand_is_named() -> None:
    # One bar of the rule's holds both cracks, from 1520 to 3420; the hand's reaches only one.
    both = wall(CRACK, upright("b", 2920), bars=(HandBar("h", 5, 1520, 2600),))
    notice = said(measured(both), "hand_bare")
    assert notice.severity is Severity.CAUTION
    assert notice.text == (
        "Front: crack b has no bar any more in the bed under course 5: what was set by hand there "
        "takes the place of the rule's bar and does not reach across the crack."
    )


def test_a_bar_set_beside_the_crack_does_not_hold_it_unsaid() -> None:
    # It comes within 150 mm of the rule's bar, which gives way to it.
    measure = found(HandBar("h", 5, 2600, 3200))
    assert "crack a has no bar any more" in said(measure, "hand_bare").text
    assert not [n for n in found(HandBar("h", 5, 2670, 3200)).notices if n.code == "hand_bare"]


def test_bars_left_out_are_told_in_one_sentence() -> None:
    out = tuple(HandBar(f"h{bed}", bed, 1400, 2600, OUT) for bed in (5, 8, 9))
    notices = [one.text for one in found(*out).notices if one.code == "left_out"]
    assert notices == [
        "Front: the rule asks for 2 bars in the beds under courses 5 and 8; they were left out by "
        "hand.",
        "Front: the rule has no bar any more to leave out in the bed under course 9.",
    ]


def test_a_bar_that_ends_in_the_crack_is_not_said_to_cross_it() -> None:
    (bar,) = by_hand(found(HandBar("h", 5, 1520, 2020)))
    assert text(bar, "anchorage") == (
        "It meets crack a, with 500 mm beyond on the left and nothing on the right."
    )
    assert text(bar, "short") == (
        "Nothing beyond the crack on the right, where 300 mm is the least: ask the engineer."
    )


def test_a_bar_kept_where_it_was_leaves_its_neighbour() -> None:
    # With 500 mm to each side of 2,020 and 3,257.5 there are 237.5 mm between them, so two bars.
    # Cut to steps of 367 mm they are 1,101 long and 136.5 mm apart, nearer than the 150 at which
    # a bar set by hand takes the place of another.
    rules = changed(shipped(), bar_rounding_mm=367)
    two = wall(upright("a", 2020), upright("b", 3257.5))
    ruled = [bar for bar in measured(two, rules=rules).bars if bar.course == 5]
    assert [(bar.left_mm, bar.right_mm) for bar in ruled] == [(1469.5, 2570.5), (2707, 3808)]
    kept = replace(two, bars=(kept_bar(ruled[0]),))
    after = measured(kept, rules=rules)
    assert [bar.cracks for bar in after.bars if bar.course == 5] == [("a",), ("b",)]
    assert not [one for one in after.notices if one.code == "hand_bare"]


def test_a_bar_moved_to_the_next_bed_is_no_alarm() -> None:
    moved = (HandBar("m", 6, 1520, 2520), HandBar("m-was", 5, 1520, 2520, OUT))
    assert said(found(*moved), "left_out").severity is Severity.NOTE


def test_a_crack_with_every_bar_left_out_asks_the_engineer() -> None:
    out = tuple(HandBar(f"h{bed}", bed, 1400, 2600, OUT) for bed in range(1, 26))
    notice = said(found(*out), "unheld")
    assert notice.severity is Severity.REFER
    assert notice.text == (
        "Front: no bar holds crack a. Pointing fills a crack and does not hold it: ask a "
        "structural engineer before it is left so."
    )
    assert not [one for one in found().notices if one.code == "unheld"]
    only_pointed = replace(CRACK, stitch=False)
    assert not [one for one in found(crack=only_pointed).notices if one.code == "unheld"]


def test_a_crack_whose_only_bed_is_the_damp_course_asks_the_engineer() -> None:
    measure = found(crack=upright("a", 2020, 1, 2), damp_course_mm=80.0)
    assert measure.bars == ()
    assert said(measure, "unheld").severity is Severity.REFER


def test_a_bar_set_up_to_an_edge_is_cautioned() -> None:
    # The rule keeps 50 mm from a movement joint and from an opening.
    flush = HandBar("h", 5, 1500, 2600)
    measure = found(flush, openings=(window(2600, 0, 900, 600),), movement_joints_mm=(1500.0,))
    assert [one.text for one in by_hand(measure)[0].reasons if one.code == "edge"] == [
        "Ends 0 mm from the movement joint on the left, where the rule keeps 50 mm: nothing may "
        "reach across the joint.",
        "Ends 0 mm from the window on the right, where the rule keeps 50 mm: the edge may break "
        "off when the bed is cut.",
    ]
    assert said(measure, "near_edge").severity is Severity.CAUTION
    kept = found(HandBar("h", 5, 1550, 2550), openings=(window(2600, 0, 900, 600),))
    assert not [one for one in kept.notices if one.code == "near_edge"]


def kept_bar(bar: Bar) -> HandBar:
    """The rule's bar, kept by hand."""
    legs = (bar.turn_left_mm, bar.turn_right_mm)
    return HandBar(f"k-{bar.id}", bar.course, bar.left_mm, bar.right_mm, KEPT, *legs)


@given(elevations(), st.data())
def test_keeping_bars_where_the_rule_has_them_changes_no_quantity(
    front: Elevation, data: st.DataObject
) -> None:
    ruled = stitch(side(front)).bars
    assume(ruled)
    some = data.draw(st.lists(st.sampled_from(ruled), unique_by=lambda bar: bar.id))
    kept = replace(front, bars=tuple(map(kept_bar, some)))
    for scope in (LOCAL, PANEL):
        before, after = (measured(one, scope=scope) for one in (front, kept))
        assert (after.lines, after.needs) == (before.lines, before.needs)
        assert len(by_hand(after)) == len(some)


@given(elevations())
def test_leaving_every_bar_out_is_stitching_nothing(front: Elevation) -> None:
    ruled = stitch(side(front)).bars
    out = tuple(HandBar(f"o-{bar.id}", bar.course, bar.left_mm, bar.right_mm, OUT) for bar in ruled)
    bare = replace(front, cracks=tuple(replace(crack, stitch=False) for crack in front.cracks))
    for scope in (LOCAL, PANEL):
        left_out = measured(replace(front, bars=out), scope=scope)
        assert left_out.bars == ()
        assert left_out.lines == measured(bare, scope=scope).lines


@given(elevations(), st.integers(1, 40), st.integers(0, 5000), st.integers(2, 1000))
def test_a_bar_set_elsewhere_adds_its_own_length_of_slot(
    front: Elevation, course: int, left: int, length: int
) -> None:
    before = measured(front)
    assume(not [bar for bar in before.bars if bar.course == course])
    after = measured(replace(front, bars=(HandBar("h", course, left, left + length),)))
    new = sum(bar.length_mm for bar in by_hand(after))
    slots = sum(bar.length_mm for bar in after.bars)
    assert abs(slots - sum(bar.length_mm for bar in before.bars) - new) < 1e-6
    assert abs(amount(after, Item.CUT_SLOT) - slots / 1000) <= 0.005 + 1e-9
    assert new <= length


hands = st.builds(
    lambda course, left, length, work: HandBar("", course, left, left + length, work),
    st.integers(1, 42),
    st.integers(-500, 6000).map(float),
    st.integers(1, 4000).map(float),
    st.sampled_from(HandWork),
)


@given(elevations(), st.lists(hands, max_size=6), st.none() | st.integers(0, 3000).map(float))
def test_whatever_is_done_by_hand_bars_stay_in_brickwork_and_apart(
    front: Elevation, bars: list[HandBar], damp: float | None
) -> None:
    named = tuple(replace(bar, id=f"h{n}") for n, bar in enumerate(bars))
    front = replace(front, bars=named, damp_course_mm=damp)
    measure = measured(front)
    assert all(one.marks for one in measure.lines)
    ids = [bar.id for bar in measure.bars]
    assert ids == [f"front/bar/{n + 1}" for n in range(len(ids))]
    places = [(bar.course, bar.left_mm) for bar in measure.bars]
    assert places == sorted(places)
    for one, two in zip(measure.bars, measure.bars[1:], strict=False):
        assert one.course != two.course or one.right_mm <= two.left_mm + 1e-6
    net = side(front).wall.net
    left, right = net.bounds[0], net.bounds[2]
    for bar in measure.bars:
        assert (bar.set_by is SetBy.HAND) == bool(bar.hand)
        assert (bar.reasons[0].code == "hand") == bool(bar.hand)
        assert bar.set_by is SetBy.HAND or bar.course != side(front).damp_bed
        for x in (bar.left_mm + 1e-3, (bar.left_mm + bar.right_mm) / 2, bar.right_mm - 1e-3):
            assert not left < x < right or net.holds((x, bar.y_mm))
    assert {bar.hand for bar in by_hand(measure)} <= {
        bar.id for bar in named if bar.work is not OUT
    }


@given(elevations(), st.data())
def test_bars_kept_are_filed_and_measure_the_same(front: Elevation, data: st.DataObject) -> None:
    # Not every wall here may be filed: some of its cracks leave it.
    with suppress(UserMistake):
        check(survey(front))
        ruled = stitch(side(front)).bars
        assume(ruled)
        some = data.draw(st.lists(st.sampled_from(ruled), unique_by=lambda bar: bar.id))
        named = tuple(replace(kept_bar(bar), id=f"k{n}") for n, bar in enumerate(some))
        seen = survey(replace(front, bars=named))
        text = survey_file.write(seen)
        try:
            read = survey_file.read(text)
        except UserMistake as mistake:
            raise AssertionError(str(mistake)) from mistake
        assert measured(*read.elevations) == measured(*seen.elevations)
