"""A call: any answers at all make a wall that can be filed, measured and priced."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.masonry.crack import Piece
from estimator.masonry.region import Region
from estimator.pricing import price_book
from estimator.quoting.offering import Practice, prepare
from estimator.quoting.quotation import Trader
from estimator.sources import all_sources
from estimator.survey import enquiry, survey_file
from estimator.survey import questions as table
from estimator.survey.checks import check
from estimator.survey.enquiry import NONE_OF_THESE, NOT_SURE, Kind
from estimator.survey.ranges import Range, likely, settled
from estimator.survey.survey import (
    Answer,
    Asked,
    Basis,
    BedRun,
    Crack,
    Elevation,
    Ground,
    Mortar,
    Signs,
    Site,
    SteppedRun,
    StraightRun,
    Survey,
    WallBuild,
    WallEnd,
)
from estimator.survey.triage import Route, assess
from estimator.survey.undrawn import UNDRAWN
from estimator.survey.wall import coursing_of, path_of, ring_of
from estimator.takeoff import rules
from estimator.takeoff.measure import measure_all
from estimator.takeoff.scope import USUAL
from tests.survey.calls import CALL, DRAWN, told
from tests.survey.strategies import asked as any_answers
from tests.survey.walls import OUTLINE

CALM = {
    "indoors": "no",
    "growing": "same",
    "filled": "never",
    "warning": NONE_OF_THESE,
    "works": NONE_OF_THESE,
    "ground": NONE_OF_THESE,
    "owners": NONE_OF_THESE,
    "width": "coin",
    "count": "one",
    "shape": "stepped",
}
"""Answers of a caller with nothing to fear."""
QUESTIONS = [
    *("place", "height", "shape", "length", "width", "count", "bricks", "indoors", "growing"),
    *("filled", "warning", "works", "ground", "house", "mortar", "below", "owners"),
]


def after(asked: tuple[Asked, ...]) -> Survey:
    """A call in which these answers were given."""
    return enquiry.surveyed(replace(CALL, asked=asked))


def wall(survey: Survey) -> Elevation:
    """The one elevation of a call."""
    (elevation,) = survey.elevations
    return elevation


def crack(survey: Survey) -> Crack:
    """The first crack of a call."""
    return wall(survey).cracks[0]


def courses(survey: Survey) -> Range | float:
    """The courses that the first crack of a call crosses."""
    run = crack(survey).run
    assert isinstance(run, SteppedRun | StraightRun)
    return run.courses


def covered_by_an_opening(elevation: Elevation) -> bool:
    """Whether any crack runs through an opening or its sill."""
    coursing = coursing_of(elevation.brickwork)
    holes = [Region.of(ring_of(opening)).bounds for opening in elevation.openings]
    pieces = [piece for one in elevation.cracks for piece in path_of(one, coursing).pieces]
    return any(runs_into(hole, piece) for hole in holes for piece in pieces)


def runs_into(hole: tuple[float, float, float, float], piece: Piece) -> bool:
    """Whether a piece of a crack lies in a hole, further than measuring explains."""
    left, bottom, right, top = hole
    (x0, y0), (x1, y1) = piece.start, piece.end
    across = min(max(x0, x1), right - 1) - max(min(x0, x1), left + 1)
    up = min(max(y0, y1), top - 1) - max(min(y0, y1), bottom + 1)
    return across >= 0 and up >= 0


def room_beside(elevation: Elevation) -> tuple[float, float]:
    """Brickwork left and right of all cracks [mm]."""
    coursing = coursing_of(elevation.brickwork)
    reached = [x for one in elevation.cracks for x, _y in path_of(one, coursing).points]
    across = [x for x, _y in elevation.outline]
    return min(reached) - min(across), max(across) - max(reached)


def assert_usable(survey: Survey) -> None:
    """The wall can be filed, holds its cracks clear of openings, and has room for bars."""
    check(survey)
    elevation = wall(survey)
    assert not covered_by_an_opening(settled(elevation))
    anchorage = rules.shipped().anchorage_mm
    assert min(room_beside(elevation)) >= anchorage
    assert elevation.id == "wall"


def test_the_questions_have_the_keys_that_their_words_are_written_for() -> None:
    assert [one.key for one in enquiry.questions()] == QUESTIONS
    assert [one.key for one in table.question("length").choices] == ["short", "metre", "two_metres"]


@pytest.mark.parametrize("one", enquiry.questions(), ids=lambda one: one.key)
def test_a_question_is_whole(one: enquiry.Question) -> None:
    assert sum(choice.share for choice in one.choices) == pytest.approx(1)
    assert one.source in all_sources()
    is_amount = one.kind is Kind.AMOUNT
    assert (one.unknown is not None) is is_amount
    assert all((choice.amount is not None) is is_amount for choice in one.choices)
    assert (one.unit in ("mm", "nr")) is is_amount
    keys = [choice.key for choice in one.choices]
    assert (one.kind is not Kind.SEVERAL) or keys[-1] == NONE_OF_THESE


@pytest.mark.parametrize(("key", "on"), [("shape", "place"), ("mortar", "house")])
def test_shares_that_hang_on_another_answer_make_one(key: str, on: str) -> None:
    assert table.hangs_on(key) == on
    for choice in table.question(on).choices:
        assert sum(table.shares(key, choice.key)) == pytest.approx(1)


def test_things_held_against_a_crack_are_as_thick_as_they_are() -> None:
    """A bank card by ISO/IEC 7810, a pound coin by the Royal Mint; both from memory."""
    width = table.question("width")
    assert width.choice("card").amount == Range(0.2, 0.5, 0.76)
    coin = width.choice("coin").amount
    assert coin is not None
    assert (coin.low, coin.high) == (0.76, 2.8)


@pytest.mark.parametrize("one", enquiry.questions(), ids=lambda one: one.key)
def test_a_question_moves_the_work_where_it_says_so(one: enquiry.Question) -> None:
    base = told(**CALM | {"place": "over_opening", "height": "upstairs", "house": "to_1945"})
    work = {
        tuple((measure.lines, measure.needs, measure.reaches) for measure in measured)
        for choice in one.choices
        for measured in [measure_all(told(base, **{one.key: choice.key}), USUAL, rules.shipped())]
    }
    assert (len(work) > 1) is one.moves_price


@settings(max_examples=60, deadline=None)
@given(any_answers)
def test_any_answers_make_a_wall_that_can_be_filed(asked: tuple[Asked, ...]) -> None:
    survey = after(asked)
    assert_usable(survey)
    assert survey_file.read(survey_file.write(survey)) == survey
    assert enquiry.surveyed(survey) == survey


@settings(max_examples=60, deadline=None)
@given(any_answers, st.integers(0, 9999))
def test_any_draw_of_any_answers_can_be_measured(asked: tuple[Asked, ...], seed: int) -> None:
    survey = after(asked)
    drawn = enquiry.drawn(survey, Random(seed))
    assert settled(drawn.survey) is drawn.survey
    assert_usable(drawn.survey)
    assert (drawn.survey.signs, drawn.survey.site) == (survey.signs, survey.site)
    assert all(measure.lines for measure in measure_all(drawn.survey, USUAL, rules.shipped()))
    assert enquiry.drawn(survey, Random(seed)) == drawn


@pytest.mark.slow
@settings(max_examples=12, deadline=None)
@given(any_answers)
def test_any_answers_can_be_prepared(asked: tuple[Asked, ...]) -> None:
    book = price_book.shipped()
    book = replace(book, ranges=replace(book.ranges, draws=5))
    survey = after(asked)
    paper = prepare(survey, Practice(book, rules.shipped(), Trader("Sample Masonry")))
    assert bool(paper.options) is assess(survey).route.allows_price
    for option in paper.options:
        assert option.spread is not None
        assert option.spread.low <= option.spread.likely <= option.spread.high


def test_before_the_first_answer_there_is_a_wall_with_a_price() -> None:
    blank = enquiry.surveyed(CALL)
    assert_usable(blank)
    assert assess(blank).route is Route.VISIT
    assert isinstance(courses(blank), Range)
    assert wall(blank).openings
    measured = measure_all(blank, USUAL, rules.shipped())
    assert all(measure.bars for measure in measured)
    assert enquiry.surveyed(blank) == blank
    assert dict(enquiry.drawn(blank, Random(1)).inputs).keys() == {
        one.key for one in enquiry.questions() if one.moves_price
    }


def test_a_caller_with_nothing_to_fear_gets_a_range() -> None:
    survey = told(**CALM)
    assert assess(survey).route is Route.RANGE
    assert crack(survey).both_faces is Answer.NO


@pytest.mark.parametrize(
    ("key", "choice", "route"),
    [
        ("warning", "gas", Route.STOP),
        ("warning", "impact", Route.STOP),
        ("warning", "loose", Route.STOP),
        ("warning", "dropped", Route.STOP),
        ("warning", "floors", Route.REFER),
        ("warning", "leaning", Route.REFER),
        ("warning", "doors", Route.REFER),
        ("warning", NOT_SURE, Route.VISIT),
        ("growing", "bigger", Route.REFER),
        ("growing", "new", Route.REFER),
        ("growing", NOT_SURE, Route.VISIT),
        ("filled", "opened_again", Route.REFER),
        ("filled", "held", Route.RANGE),
        ("works", "walls_removed", Route.REFER),
        ("works", "loft", Route.REFER),
        ("works", "new_windows", Route.REFER),
        ("ground", "trees", Route.REFER),
        ("ground", "drains", Route.REFER),
        ("ground", "mining", Route.REFER),
        ("ground", "claim", Route.REFER),
        ("indoors", "yes", Route.VISIT),
        ("width", "pencil", Route.REFER),
        ("width", "wider", Route.REFER),
        ("width", NOT_SURE, Route.VISIT),
        ("owners", "listed", Route.RANGE),
        ("count", "three", Route.RANGE),
    ],
)
def test_one_answer_that_is_not_calm_moves_the_route(key: str, choice: str, route: Route) -> None:
    assert assess(told(**CALM | {key: choice})).route is route


@pytest.mark.parametrize(("key", "title"), [("listed", "Protected building"), ("shared", "Shared")])
def test_consent_is_asked_for_by_its_row(key: str, title: str) -> None:
    titles = [outcome.title for outcome in assess(told(owners=key)).outcomes]
    assert any(found.startswith(title) for found in titles)


def test_none_of_these_denies_every_sign_and_silence_denies_none() -> None:
    denied, silent = told(warning=NONE_OF_THESE).signs, told(place="corner").signs
    for sign in ("loose_or_falling", "bulging_or_leaning", "gas_smell", "doors_sticking"):
        assert getattr(denied, sign) is Answer.NO
        assert getattr(silent, sign) is Answer.NOT_SURE
    one = told(warning="doors").signs
    assert (one.doors_sticking, one.gas_smell) == (Answer.YES, Answer.NOT_SURE)


def test_work_on_another_part_of_the_house_says_nothing_of_the_crack() -> None:
    assert told(works="new_windows", place="under_window").signs.lintel_unknown is Answer.NOT_SURE
    assert told(works="new_windows", place="over_opening").signs.lintel_unknown is Answer.YES
    assert told(works="loft", height="low").signs.roof_spread is Answer.NOT_SURE
    assert told(works="loft", height="high").signs.roof_spread is Answer.YES


def test_a_straight_crack_at_a_junction_is_seen_before_it_is_priced() -> None:
    at_junction = told(**CALM | {"place": "junction", "shape": "straight"})
    assert assess(at_junction).route is Route.VISIT
    assert at_junction.signs.full_height_at_junction is Answer.YES
    assert told(place="junction").signs.full_height_at_junction is Answer.YES
    assert isinstance(crack(told(place="junction")).run, StraightRun)


def test_a_level_crack_over_an_opening_is_referred() -> None:
    over = told(**CALM | {"place": "over_opening", "shape": "level"})
    assert assess(over).route is Route.REFER
    assert isinstance(crack(over).run, BedRun)


def test_signs_no_question_asks_for_stay_as_they_were() -> None:
    call = replace(CALL, signs=Signs(bearing_lost=Answer.YES))
    assert told(call, growing="same").signs.bearing_lost is Answer.YES


def test_under_a_window_the_steps_start_at_the_sill_and_turn_back_half_way() -> None:
    survey = told(place="under_window", shape="stepped", house="later")
    run, (window,) = crack(survey).run, wall(survey).openings
    assert isinstance(run, SteppedRun)
    assert run.turn_after == likely(run.courses) // 2
    top_x, top_y = path_of(crack(survey), coursing_of(wall(survey).brickwork)).points[-1]
    assert window.left_mm + window.width_mm / 2 < top_x < window.left_mm + window.width_mm
    assert 0 < window.bottom_mm - window.sill_mm - top_y < 10


def test_from_a_corner_the_steps_lead_away_from_the_window() -> None:
    survey = told(place="corner", shape="stepped")
    (window,) = wall(survey).openings
    points = path_of(crack(survey), coursing_of(wall(survey).brickwork)).points
    assert points[-1][0] == pytest.approx(window.left_mm + window.width_mm)
    assert points[0][0] > points[-1][0]
    assert points[0][1] < points[-1][1]


@pytest.mark.parametrize(("height", "kind"), [("low", "door"), ("upstairs", "window")])
def test_over_an_opening_the_crack_climbs_from_its_corner(height: str, kind: str) -> None:
    survey = told(place="over_opening", shape="stepped", height=height)
    (opening,) = wall(survey).openings
    x, y = path_of(crack(survey), coursing_of(wall(survey).brickwork)).points[0]
    assert opening.kind == kind
    assert x == pytest.approx(opening.left_mm + opening.width_mm)
    assert 0 < y - opening.bottom_mm - opening.height_mm < 10


def test_at_a_junction_the_wall_ends_beside_the_crack() -> None:
    survey = told(place="junction", shape="straight", count="two")
    left, right = room_beside(wall(survey))
    assert rules.shipped().anchorage_mm <= right < left
    assert wall(survey).right_end is WallEnd.STOPPED


def test_the_house_gives_brick_bond_build_and_mortar() -> None:
    old, new = wall(told(house="before_1919")).brickwork, wall(told(house="later")).brickwork
    assert (old.build, old.bond, old.mortar) == (WallBuild.SOLID, "flemish", Mortar.LIME)
    assert (new.build, new.bond, new.mortar) == (
        WallBuild.OUTER_LEAF,
        "stretcher",
        Mortar.CEMENT_LIME,
    )
    assert wall(told(house="before_1919", mortar="hard")).brickwork.mortar is Mortar.HARD_CEMENT


def test_height_and_ground_are_what_access_goes_by() -> None:
    def means(**choices: str) -> str:
        survey = told(place="under_window", length="metre", **choices)
        return measure_all(survey, USUAL, rules.shipped())[0].reaches[0].means

    assert wall(told(below="roof")).ground is Ground.OVER_ROOF
    assert [means(height=key) for key in ("low", "upstairs", "high")] == [
        "ground",
        "tower",
        "scaffold",
    ]
    assert means(height="low", below="roof") == "scaffold"


@pytest.mark.parametrize(
    ("unit", "amount", "likeliest"), [("mm", 1350.0, 18), ("course", 18.0, 18), ("brick", 18.0, 18)]
)
def test_a_length_is_told_in_any_unit(unit: str, amount: float, likeliest: int) -> None:
    survey = enquiry.answered(told(house="later"), Asked("length", amount=amount, unit=unit))
    assert likely(courses(survey)) == likeliest


def test_bricks_along_a_level_crack_are_as_long_as_they_are_laid() -> None:
    level = told(house="later", shape="level")
    run = crack(enquiry.answered(level, Asked("length", amount=4.0, unit="brick"))).run
    assert isinstance(run, BedRun)
    assert run.to_mm - run.from_mm == pytest.approx(4 * 225)


def test_a_rough_figure_is_trusted_less_than_one_that_was_counted() -> None:
    def spread(**figure: object) -> float:
        answer = Asked("length", **figure)  # type: ignore[arg-type]
        found = courses(enquiry.answered(told(house="later"), answer))
        return found.high - found.low if isinstance(found, Range) else 0.0

    counted = spread(amount=30.0, unit="course")
    measured = spread(amount=2250.0, unit="mm")
    rough = spread(amount=2250.0, unit="mm", about=True)
    assert 0 < counted < measured < rough


def test_bricks_counted_are_known_and_bricks_unknown_follow_a_straight_crack() -> None:
    counted = enquiry.answered(CALL, Asked("bricks", amount=3.0, unit="nr"))
    assert wall(counted).hidden_bricks == 3
    straight = enquiry.answered(
        told(shape="straight", house="later", count="one"),
        Asked("length", amount=24.0, unit="course"),
    )
    hidden = wall(straight).hidden_bricks
    assert isinstance(hidden, Range)
    # In half bond a straight crack breaks a brick in every second course.
    broken = len(path_of(crack(straight), coursing_of(wall(straight).brickwork)).bricks)
    assert hidden.likely <= hidden.high == broken == 12


def test_several_cracks_stand_apart_and_alike() -> None:
    survey = told(count="three", shape="stepped")
    runs = [one.run for one in wall(survey).cracks]
    places = [run.x_mm for run in runs if isinstance(run, SteppedRun)]
    assert len(places) == 3
    anchorage = rules.shipped().anchorage_mm
    assert all(b - a >= 2 * anchorage for a, b in pairwise(places))


def test_another_answer_takes_the_place_of_the_first() -> None:
    survey = told(told(place="corner", shape="stepped"), place="plain")
    assert [one.question for one in survey.asked] == ["place", "shape"]
    assert not wall(survey).openings


def test_taking_an_answer_back_leaves_no_trace() -> None:
    assert enquiry.unanswered(told(shape="level", house="later"), "house") == told(shape="level")
    assert enquiry.unanswered(told(growing="new"), "growing") == enquiry.surveyed(CALL)
    assert enquiry.unanswered(CALL, "growing") == CALL


def test_what_was_known_of_the_site_and_the_caller_stays() -> None:
    survey = told(house="to_1945")
    assert survey.site == replace(CALL.site, built="1919 to 1945")
    assert (survey.title, survey.customer) == (CALL.title, CALL.customer)
    known = replace(CALL, site=replace(CALL.site, built="1931"))
    assert told(known, place="corner").site.built == "1931"


@pytest.mark.parametrize("asked", [Asked("colour", ("red",)), Asked("place", ("cellar",))])
def test_no_answer_is_kept_to_a_question_nobody_asks(asked: Asked) -> None:
    with pytest.raises(KeyError, match=r"colour|cellar"):
        enquiry.answered(CALL, asked)


def test_a_wall_that_was_measured_stays_as_measured() -> None:
    seen = replace(told(place="corner", growing="same"), basis=Basis.MEASURED)
    later = told(seen, place="plain", length="metre", mortar="hard", house="later")
    assert later.elevations == seen.elevations
    assert enquiry.surveyed(later) is later
    assert not enquiry.is_made(later)
    assert {one.question for one in later.asked} >= {"place", "length", "mortar", "house"}


@pytest.mark.parametrize("basis", Basis)
def test_answers_leave_a_drawn_wall_and_move_signs_and_site(basis: Basis) -> None:
    wall_drawn = replace(DRAWN, basis=basis)
    later = told(wall_drawn, length="short", growing="bigger", house="to_1945", owners="listed")
    assert later.elevations is wall_drawn.elevations
    assert later.signs.growing is Answer.YES
    assert later.signs.listed_or_conservation is Answer.YES
    assert later.site.built == "1919 to 1945"
    assert enquiry.unanswered(later, "growing").signs.growing is Answer.NOT_SURE
    assert enquiry.unanswered(later, "house").site.built == ""
    assert enquiry.unanswered(later, "length").elevations is wall_drawn.elevations


@pytest.mark.parametrize("basis", Basis)
def test_no_answer_denies_a_danger_that_somebody_noted(basis: Basis) -> None:
    noted = replace(DRAWN.signs, gas_smell=Answer.YES, growing=Answer.YES)
    seen = replace(DRAWN, basis=basis, signs=noted)
    later = told(seen, warning="none")
    assert later.signs.gas_smell is Answer.YES
    assert later.signs.floors_sloping is Answer.NO
    # It was the answer that had said it does not grow, and somebody noted that it does since.
    assert told(later, growing="same").signs.growing is Answer.YES


def test_an_answer_may_be_corrected_after_the_wall_was_drawn() -> None:
    slip = told(DRAWN, warning="gas")
    assert slip.signs.gas_smell is Answer.YES
    assert told(slip, warning="none").signs.gas_smell is Answer.NO


def test_a_drawn_wall_is_brought_up_to_date_once() -> None:
    behind = replace(DRAWN, signs=Signs())
    caught_up = enquiry.surveyed(behind)
    assert caught_up.signs.growing is Answer.NO
    assert caught_up.elevations is behind.elevations
    assert enquiry.surveyed(caught_up) is caught_up


@given(asked=any_answers, basis=st.sampled_from(Basis))
def test_what_is_no_longer_asked_moves_nothing_but_the_answers(
    asked: tuple[Asked, ...], basis: Basis
) -> None:
    seen = replace(DRAWN, basis=basis, asked=(), signs=Signs(), site=Site())
    still = enquiry.still_asked(seen)
    for one in asked:
        later = enquiry.answered(seen, one)
        if basis is Basis.MEASURED or one.question not in UNDRAWN:
            assert later.elevations is seen.elevations
        assert later.elevations[0].outline is seen.elevations[0].outline
        assert later.elevations[0].cracks is seen.elevations[0].cracks
        if one.question not in still:
            assert later == replace(seen, asked=later.asked)
        seen = later


def test_all_is_asked_while_the_wall_is_made() -> None:
    assert enquiry.still_asked(CALL) == tuple(one.key for one in enquiry.questions())
    assert not {"length", "width", "count", "bricks"} & {*enquiry.still_asked(DRAWN)}
    assert {*UNDRAWN} <= {*enquiry.still_asked(DRAWN)}
    assert not {*UNDRAWN} & {*enquiry.still_asked(replace(DRAWN, basis=Basis.MEASURED))}


def test_a_wall_drawn_by_hand_is_drawn_by_its_own_ranges() -> None:
    run = SteppedRun(2000.0, 2, Range(6.0, 9.0, 12.0))
    by_hand = Elevation("front", "Front", OUTLINE, cracks=(Crack("a", run, Range(1.0, 2.0, 4.0)),))
    call = replace(CALL, elevations=(by_hand,))
    assert enquiry.surveyed(call) is call
    drawn = enquiry.drawn(call, Random(3))
    assert [path for path, _number in drawn.inputs] == [
        "elevations[0].cracks[0].run.courses",
        "elevations[0].cracks[0].width_mm",
    ]
    check(drawn.survey)
    assert wall(drawn.survey).outline == OUTLINE


class Counting(Random):
    """A chance that counts how often it is asked."""

    asked = 0

    def random(self) -> float:
        self.asked += 1
        return super().random()


@settings(max_examples=40, deadline=None)
@given(any_answers, st.integers(0, 9999))
def test_each_open_question_takes_one_number_of_the_chance(
    asked: tuple[Asked, ...], seed: int
) -> None:
    chance = Counting(seed)
    drawn = enquiry.drawn(after(asked), chance)
    assert chance.asked == len(drawn.inputs)
    assert all(table.question(key).moves_price for key, _number in drawn.inputs)
    known = {
        one.question
        for one in asked
        if table.question(one.question).kind is Kind.CHOICE and one.choices != (NOT_SURE,)
    }
    assert not known & {key for key, _number in drawn.inputs}


@pytest.mark.parametrize(("house", "place"), [("before_1919", 0), ("to_1945", 1), ("later", 2)])
def test_choices_are_drawn_as_often_as_their_shares_say(house: str, place: int) -> None:
    survey, chance, draws = told(house=house), Random(11), 2000
    found = Counter(dict(enquiry.drawn(survey, chance).inputs)["mortar"] for _draw in range(draws))
    share = table.shares("mortar", house)[place]
    # Three standard deviations of a share in so many draws.
    near = 3 * (share * (1 - share) / draws) ** 0.5
    assert found[place] / draws == pytest.approx(share, abs=near)


def test_counts_are_drawn_whole() -> None:
    survey = told(count="more", bricks="several")
    for seed in range(40):
        inputs = dict(enquiry.drawn(survey, Random(seed)).inputs)
        assert inputs["count"].is_integer()
        assert 4 <= inputs["count"] <= 8
        assert inputs["bricks"].is_integer()
