"""The range while not everything is known, and what to ask next."""

from __future__ import annotations

import datetime
import pickle
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import fmean, pstdev

import pytest

from estimator.money import NOTHING, Money
from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.pricing.price_book import Ranges
from estimator.pricing.risk import DrawResult, Plan, ThreePoint, moved, quantile, sampled
from estimator.quoting import offering
from estimator.quoting.offering import Practice, prepare
from estimator.quoting.outlook import gathered, narrowing, outlook, slice_of
from estimator.quoting.quotation import Trader
from estimator.survey import enquiry, survey_file
from estimator.survey.ranges import Range, Told, likely
from estimator.survey.survey import (
    Answer,
    Area,
    Asked,
    Basis,
    Party,
    Site,
    SteppedRun,
    Survey,
)
from estimator.takeoff import rules
from estimator.takeoff.scope import LOCAL, PANEL, USUAL

DEMO = Path(__file__).resolve().parents[2] / "demo"
DAY = datetime.date(2026, 11, 25)
COURSES, WIDTH, FURTHER = (
    "elevations[0].cracks[0].run.courses",
    "elevations[0].cracks[0].width_mm",
    "elevations[0].hidden_bricks",
)


@pytest.fixture(scope="module")
def practice() -> Practice:
    return Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))


@pytest.fixture(scope="module")
def told() -> Survey:
    return survey_file.load(DEMO / "phone_call.json")


def with_courses(survey: Survey, courses: Told) -> Survey:
    (wall,) = survey.elevations
    (crack,) = wall.cracks
    assert isinstance(crack.run, SteppedRun)
    crack = replace(crack, run=replace(crack.run, courses=courses))
    return replace(survey, elevations=(replace(wall, cracks=(crack,)),))


def test_slices_run_in_any_order_say_the_same_as_one_run(told: Survey, practice: Practice) -> None:
    whole = outlook(told, practice, scopes=USUAL, date=DAY)
    plan = Plan.of(told, practice.book.ranges)
    parts = list(plan.slices(8))
    assert [place for part in parts for place in part] == list(range(plan.draws))
    found = {
        part.start: slice_of(told, practice, USUAL, DAY, part)
        for part in Random(4).sample(parts, len(parts))
    }
    found = pickle.loads(pickle.dumps(found))
    assert gathered([one for at in sorted(found) for one in found[at]], practice) == whole


def test_paper_and_screen_show_the_same_range(told: Survey, practice: Practice) -> None:
    on_screen = outlook(told, practice, scopes=USUAL, date=DAY)
    for option, band in zip(prepare(told, practice).options, on_screen.bands, strict=True):
        assert option.spread is not None
        shown = (option.spread.low, option.spread.likely, option.spread.high)
        assert shown == (band.low, band.likely, band.high)
        assert band.low <= band.likely <= band.high


def test_the_length_of_the_crack_is_worth_asking_first(told: Survey, practice: Practice) -> None:
    seen = outlook(told, practice, scopes=USUAL, date=DAY)
    assert seen.worths[0].question == COURSES
    assert {worth.question for worth in seen.worths} == {COURSES, WIDTH, FURTHER}
    shares = [worth.share for worth in seen.worths]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) < 1
    assert seen.worths[0].pounds > Money.of(50)


@pytest.mark.slow
def test_what_an_answer_is_worth_is_what_it_saves_on_average(
    told: Survey, practice: Practice
) -> None:
    plan = Plan.of(told, practice.book.ranges)
    worth = outlook(told, practice, scopes=USUAL, date=DAY).worths[0]
    likely_courses = ThreePoint(10, 14, 20)
    answers = [likely_courses.triangular_at(share) for share in (0.1, 0.3, 0.5, 0.7, 0.9)]
    low, high = band_of(told, practice, plan)[-1]
    widths = []
    for courses in answers:
        surely = with_courses(told, Range(courses, courses, courses))
        least, most = band_of(surely, practice, plan)[-1]
        widths.append(most - least)
    assert (high - low) - fmean(widths) == pytest.approx(worth.pounds.pence, rel=0.25)
    assert max(widths) < high - low


def band_of(survey: Survey, practice: Practice, plan: Plan) -> list[tuple[int, int]]:
    """Low and high in pence before they are rounded to steps, for each scope."""
    found = sampled(
        lambda drawn: offering.totals(drawn, practice, scopes=USUAL, date=DAY),
        survey,
        book=practice.book,
        plan=plan,
        part=range(plan.draws),
    )
    both = [moved([draw.pence[at] for draw in found], practice.book.ranges) for at in range(2)]
    return [(quantile(one, 0.1).pence, quantile(one, 0.9).pence) for one in both]


@pytest.mark.slow
def test_the_range_wavers_by_less_than_its_rounding(told: Survey, practice: Practice) -> None:
    usual = practice.book.ranges
    known = band_of(told, practice, Plan(1, 1500))
    found = [band_of(told, practice, Plan(seed, usual.draws)) for seed in range(100, 108)]
    for scope, ends in enumerate(known):
        for end, exact in enumerate(ends):
            figures = [one[scope][end] for one in found]
            assert fmean(figures) == pytest.approx(exact, rel=0.01)
            assert pstdev(figures) < 0.015 * exact


def scatter(practice: Practice, count: int) -> list[DrawResult]:
    chance = Random(count)
    return [
        DrawResult((("a", put := chance.random()),), (round(90000 + 20000 * put), 0))
        for _draw in range(count)
    ]


def test_a_scope_with_nothing_to_do_comes_to_nothing(practice: Practice, told: Survey) -> None:
    (wall,) = told.elevations
    low = Area("low", ((0, 0), (3000, 0), (3000, 900), (0, 900)))
    bare = replace(told, elevations=(replace(wall, cracks=(), hidden_bricks=0.0, areas=(low,)),))
    local, panel = offering.totals(bare, practice, scopes=(LOCAL, PANEL), date=DAY)
    assert local == NOTHING < panel


def test_draws_that_the_engine_refuses_are_left_out(practice: Practice) -> None:
    found = scatter(practice, 50)
    refused = DrawResult((("a", 0.5),), ())
    assert gathered([*found, refused, refused], practice) == gathered(found, practice)
    with pytest.raises(UserMistake, match="no wall here"):
        gathered([refused] * 5, practice)


def test_a_wall_that_chance_made_and_the_engine_refuses_stops_nothing(
    told: Survey, practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    priced = offering.priced

    def short_ones_only(survey: Survey, *given: Practice, **named: object) -> object:
        run = survey.elevations[0].cracks[0].run
        assert isinstance(run, SteppedRun)
        if likely(run.courses) > 15:
            raise UserMistake("the crack climbs above the wall")
        return priced(survey, *given, **named)  # type: ignore[arg-type]

    usual = Plan.of(told, practice.book.ranges).draws
    whole = outlook(told, practice, scopes=USUAL, date=DAY)
    monkeypatch.setattr(offering, "priced", short_ones_only)
    fewer = outlook(told, practice, scopes=USUAL, date=DAY)
    assert 0 < fewer.draws < usual == whole.draws
    assert fewer.bands[0].high < whole.bands[0].high


@pytest.mark.parametrize(
    ("share", "pounds"), [(0.0, "0"), (0.19, "40"), (0.75, "200"), (1.0, "400"), (0.02, "0")]
)
def test_worth_is_the_narrowing_to_be_expected(share: float, pounds: str) -> None:
    assert narrowing(Money.of(400), share) == Money.of(pounds)


def enquired(told: Survey) -> Survey:
    return replace(told, asked=(Asked("how_far", ("not_sure",)),))


def test_what_a_caller_left_open_is_drawn_by_the_enquiry(
    told: Survey, practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    def drawn(survey: Survey, chance: Random) -> enquiry.Drawn:
        courses = chance.triangular(8, 20, 14)
        plain = with_courses(survey, courses)
        (wall,) = plain.elevations
        crack = replace(wall.cracks[0], width_mm=2.0)
        wall = replace(wall, cracks=(crack,), hidden_bricks=2.0)
        return enquiry.Drawn(replace(plain, elevations=(wall,)), (("how_far", courses),))

    monkeypatch.setattr(enquiry, "drawn", drawn)
    (worth,) = outlook(enquired(told), practice, scopes=USUAL, date=DAY).worths
    assert worth.question == "how_far"
    assert worth.share > 0.4
    # Once the sizes are measured, the wall as drawn is what counts.
    measured = replace(enquired(told), basis=Basis.MEASURED)
    assert COURSES in {
        worth.question for worth in outlook(measured, practice, scopes=USUAL, date=DAY).worths
    }


def test_nothing_left_open_leaves_only_the_level_of_prices(
    told: Survey, practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = with_courses(told, 14.0)
    (wall,) = plain.elevations
    crack = replace(wall.cracks[0], width_mm=2.0)
    wall = replace(wall, cracks=(crack,), hidden_bricks=2.0)
    known = replace(enquired(plain), elevations=(wall,))
    monkeypatch.setattr(enquiry, "drawn", lambda survey, _chance: enquiry.Drawn(survey, ()))
    seen = outlook(known, practice, scopes=USUAL, date=DAY)
    assert seen.worths == ()
    usual: Ranges = practice.book.ranges
    for band in seen.bands:
        assert band.low < band.likely < band.high
        assert (
            band.high.pounds / band.low.pounds
            < 1 + (usual.rates_low_percent + usual.rates_high_percent) / 100
        )


def test_a_danger_has_no_say_in_what_is_drawn(told: Survey, practice: Practice) -> None:
    # The route is the caller's business; the range is of the wall alone.
    loud = replace(told, signs=replace(told.signs, growing=Answer.YES))
    seen = outlook(told, practice, scopes=USUAL, date=DAY)
    assert outlook(loud, practice, scopes=USUAL, date=DAY).bands == seen.bands


def test_the_answers_of_a_call_pull_the_range_in(practice: Practice) -> None:
    call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    nothing_known = outlook(call, practice, scopes=USUAL, date=DAY)
    assert {worth.question for worth in nothing_known.worths} >= {"length", "shape", "bricks"}
    assert nothing_known.draws == Plan.of(call, practice.book.ranges).draws
    for asked in (
        Asked("length", amount=1500.0, unit="mm"),
        Asked("count", amount=1.0, unit="nr"),
        Asked("bricks", amount=2.0, unit="nr"),
    ):
        call = enquiry.answered(call, asked)
    much_known = outlook(call, practice, scopes=USUAL, date=DAY)
    for before, after in zip(nothing_known.bands, much_known.bands, strict=True):
        assert (after.high - after.low).pence < 0.8 * (before.high - before.low).pence
    shares = {one.question: one.share for one in much_known.worths}
    assert not {"count", "bricks"} & set(shares)
    assert shares["length"] < min(0.1, nothing_known.worths[0].share)  # said to the nearest brick


def test_a_paper_from_a_call_shows_the_range_of_the_screen(practice: Practice) -> None:
    call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    call = enquiry.answered(call, Asked("bricks", ("not_sure",)))
    quoted = prepare(call, practice)
    scopes = [option.measure.scope for option in quoted.options]
    on_screen = outlook(call, practice, scopes=scopes, date=DAY)
    spreads = [option.spread for option in quoted.options]
    assert [(one.low, one.high) for one in spreads if one] == [
        (band.low, band.high) for band in on_screen.bands
    ]
    assert "bricks" in {worth.question for worth in on_screen.worths}


def test_an_answer_leaves_the_draws_of_other_questions_as_they_were(practice: Practice) -> None:
    # So that a range moves by what was answered, and not by luck as well.
    call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    later = enquiry.answered(call, Asked("place", (enquiry.questions()[0].choices[0].key,)))
    before, after = (
        [dict(draw.inputs) for draw in slice_of(one, practice, [LOCAL], DAY, range(30, 50))]
        for one in (call, later)
    )
    assert "place" in before[0]
    assert "place" not in after[0]
    for question in ("count", "height", "house"):
        assert [one[question] for one in before] == [one[question] for one in after]
