"""From a survey to an offer: which paper, and when no price may be given."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.quoting.offering import Practice, prepare
from estimator.quoting.quotation import Paper, Quotation, Trader
from estimator.survey import survey_file
from estimator.survey.ranges import Range
from estimator.survey.survey import Answer, Area, Basis, EngineersReport, Survey
from estimator.survey.triage import Route
from estimator.takeoff import rules
from estimator.takeoff.scope import ALL, LOCAL, PANEL

DEMO = Path(__file__).resolve().parents[2] / "demo"
PENCE_IN_TEN_POUNDS = 1000


@pytest.fixture(scope="module")
def practice() -> Practice:
    return Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))


@pytest.fixture(scope="module")
def seen() -> Survey:
    return survey_file.load(DEMO / "window_lime.json")


def signed(survey: Survey, **signs: Answer) -> Survey:
    return replace(survey, signs=replace(survey.signs, **signs))


def test_a_measured_wall_gets_a_quotation_with_both_choices(
    seen: Survey, practice: Practice
) -> None:
    quoted = prepare(seen, practice, number="Q-1")
    assert quoted.paper is Paper.QUOTATION
    assert [option.measure.scope for option in quoted.options] == [LOCAL, PANEL]
    assert all(option.spread is None for option in quoted.options)


def test_a_wall_told_by_telephone_gets_an_estimate_with_ranges(
    seen: Survey, practice: Practice
) -> None:
    told = prepare(replace(seen, basis=Basis.TOLD), practice)
    assert told.assessment.route is Route.RANGE
    assert told.paper is Paper.ESTIMATE
    for option in told.options:
        spread = option.spread
        assert spread is not None
        assert spread.low <= spread.likely <= spread.high
        assert spread.low < spread.high
        for end in (spread.low, spread.likely, spread.high):
            assert end.pence % PENCE_IN_TEN_POUNDS == 0


def test_a_range_in_a_measured_survey_makes_it_an_estimate(
    seen: Survey, practice: Practice
) -> None:
    front = seen.elevations[0]
    unsure = replace(seen, elevations=(replace(front, hidden_bricks=Range(0, 2, 6)),))
    quoted = prepare(unsure, practice)
    assert quoted.assessment.route is Route.PRICE
    assert quoted.paper is Paper.ESTIMATE


@pytest.mark.parametrize(("sign", "route"), [("gas_smell", Route.STOP), ("growing", Route.REFER)])
def test_danger_gives_no_price(seen: Survey, practice: Practice, sign: str, route: Route) -> None:
    quoted = prepare(signed(seen, **{sign: Answer.YES}), practice)
    assert quoted.assessment.route is route
    assert quoted.options == ()
    assert quoted.paper is Paper.ESTIMATE


def test_an_engineers_report_lifts_a_referral(seen: Survey, practice: Practice) -> None:
    growing = signed(seen, growing=Answer.YES)
    report = EngineersReport("A. Sample CEng MIStructE", "R-17", "2026-11-20")
    assert prepare(growing, practice).options == ()
    assert prepare(replace(growing, engineers_report=report), practice).options


def test_the_same_survey_gives_the_same_offer(seen: Survey, practice: Practice) -> None:
    told = replace(seen, basis=Basis.TOLD)
    assert _figures(prepare(told, practice)) == _figures(prepare(told, practice))


def _figures(quoted: Quotation) -> list[object]:
    return [(option.spread, option.offer.lines) for option in quoted.options]


def test_an_offer_stands_for_thirty_days_across_a_year_end(
    seen: Survey, practice: Practice
) -> None:
    quoted = prepare(seen, practice, date="2026-12-18")
    assert (quoted.date, quoted.valid_until) == ("2026-12-18", "2027-01-17")


def test_the_panel_costs_more_than_pointing_where_we_cut(seen: Survey, practice: Practice) -> None:
    local, panel = prepare(seen, practice).options
    assert panel.offer.net > local.offer.net


def test_bars_are_laid_in_the_lengths_the_price_book_sells(practice: Practice) -> None:
    assert practice.fitted_rules.stock_lengths_mm == practice.book.bar_lengths_mm


@pytest.mark.parametrize(
    ("keys", "date", "words"),
    [
        ((), "", "nothing to price"),
        (("local", "local"), "", "asked for twice"),
        (("local",), "25/11/2026", "not a date"),
        (("local",), "9999-12-31", "too far ahead"),
    ],
)
def test_a_request_that_makes_no_sense_is_answered_plainly(
    seen: Survey, practice: Practice, keys: tuple[str, ...], date: str, words: str
) -> None:
    with pytest.raises(UserMistake, match=words):
        prepare(seen, practice, scopes=[ALL[key] for key in keys], date=date)


def uncracked(survey: Survey) -> Survey:
    """The same wall without a crack, its lower part to be repointed."""
    front = survey.elevations[0]
    low = Area("low", ((0, 0), (4000, 0), (4000, 900), (0, 900)))
    return replace(survey, elevations=(replace(front, cracks=(), bricks=(), areas=(low,)),))


@pytest.mark.parametrize("basis", Basis)
def test_a_choice_with_nothing_to_do_is_not_offered_at_no_price(
    seen: Survey, practice: Practice, basis: Basis
) -> None:
    (only,) = prepare(replace(uncracked(seen), basis=basis), practice).options
    assert (only.offer.scope.key, only.offer.scope.title) == ("panel", "Repoint the whole panel")
    assert only.offer.total.pence > 0


def test_a_survey_that_asks_for_no_work_is_no_paper_for_nothing(
    seen: Survey, practice: Practice
) -> None:
    (wall,) = uncracked(seen).elevations
    with pytest.raises(UserMistake, match="mark a crack, a brick to repair or an area"):
        prepare(replace(seen, elevations=(replace(wall, areas=()),)), practice)


def test_no_title_promises_stitching_where_no_bar_is_set(seen: Survey, practice: Practice) -> None:
    front = seen.elevations[0]
    pointed = tuple(replace(crack, stitch=False) for crack in front.cracks)
    quoted = prepare(replace(seen, elevations=(replace(front, cracks=pointed),)), practice)
    titles = [option.offer.scope.title for option in quoted.options]
    assert titles == ["Repair only what is cracked", "Repoint the whole panel"]
