"""The programme: visits on working days, waits between them, keys that stay."""

from __future__ import annotations

import datetime
import math
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.contract.drafting import drawn_up
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.valuation import value
from estimator.contract.variation import Standing
from estimator.contract.works import Expected, Nation, Plan
from estimator.notices import UserMistake
from estimator.survey.survey import CrackedBrick, Treatment
from estimator.takeoff.scope import LOCAL, PANEL
from estimator.works.calendar import WorkingCalendar
from estimator.works.forecast import by_mortar
from estimator.works.programme import DatedTask, TaskKind, finish, finish_with, programme
from estimator.works.programme_notes import notes, visit_days
from estimator.works.weather import Verdict
from tests.works import made_up

ONE = datetime.timedelta(days=1)
jobs = st.tuples(st.sampled_from(made_up.JOBS), st.sampled_from(["local", "panel"]))
plans = st.builds(
    Plan,
    start=st.dates(datetime.date(2026, 1, 1), datetime.date(2029, 12, 31)),
    nation=st.sampled_from(Nation),
    working_week=st.sets(st.integers(0, 6), min_size=1).map(lambda days: tuple(sorted(days))),
    closed=st.lists(
        st.dates(datetime.date(2026, 1, 1), datetime.date(2030, 1, 31)), max_size=8
    ).map(tuple),
)


def by_key(tasks: tuple[DatedTask, ...]) -> dict[str, DatedTask]:
    return {task.key: task for task in tasks}


@given(jobs, plans)
def test_visits_lie_on_working_days_and_after_what_they_wait_for(
    job: tuple[str, str], plan: Plan
) -> None:
    so_far = made_up.accepted(*job, plan=plan)
    tasks, calendar = programme(so_far), WorkingCalendar.of(plan)
    assert len(by_key(tasks)) == len(tasks)
    worked = [task for task in tasks if task.is_worked]
    assert sum(task.days for task in worked) == so_far.contract.working_days  # type: ignore[union-attr]
    assert min(task.first for task in tasks) >= plan.start
    for task in worked:
        assert calendar.is_worked(task.first)
        assert calendar.is_worked(task.last)
        if task.kind is TaskKind.VISIT:
            days = calendar.worked_between(task.first, task.last)
            assert days == math.ceil(task.days)
    visits = [task for task in tasks if task.kind is TaskKind.VISIT]
    for wait in (task for task in tasks if task.kind is TaskKind.WAIT):
        # A whole number of calendar days between the visits, never fewer than asked for.
        assert (wait.last - wait.first).days + 1 == wait.days
        before = [task for task in visits if task.last < wait.first]
        after = [task for task in visits if task.first > wait.last]
        assert len(before) + len(after) == len(visits)


@given(jobs, plans, plans)
def test_keys_stay_when_the_works_are_planned_anew(
    job: tuple[str, str], plan: Plan, other: Plan
) -> None:
    tasks = programme(made_up.accepted(*job, plan=plan))
    again = programme(made_up.accepted(*job, plan=other))
    told = {key: (task.kind, task.title, task.days) for key, task in by_key(tasks).items()}
    assert told == {key: (task.kind, task.title, task.days) for key, task in by_key(again).items()}


@given(jobs, plans, st.integers(0, 60))
def test_a_task_put_off_begins_no_earlier_and_shortens_nothing(
    job: tuple[str, str], plan: Plan, days: int
) -> None:
    so_far = made_up.accepted(*job, plan=plan)
    usual = by_key(programme(so_far))
    last = max((key for key, task in usual.items() if task.kind is TaskKind.VISIT))
    asked = usual[last].first + days * ONE
    later = replace(so_far, plan=replace(plan, not_before=((last, asked),)))
    put_off = by_key(programme(later))
    assert put_off[last].first >= asked
    assert put_off[last].is_put_off == (put_off[last].first > usual[last].first)
    assert finish(later) >= finish(so_far)  # type: ignore[operator]
    assert put_off[last].days == usual[last].days


def test_bricks_set_before_the_panel_is_raked_beside_them() -> None:
    # 22 and 23 December worked, a day's wait on the 24th; the 25th and 28th are bank holidays.
    tasks = by_key(programme(made_up.accepted("quoin_cavity", "panel")))
    assert [tasks[key].first.isoformat() for key in ("visit/1", "wait/1", "visit/2")] == [
        "2026-12-22",
        "2026-12-24",
        "2026-12-29",
    ]
    assert tasks["visit/1"].ends == datetime.datetime(2026, 12, 23, 12)
    assert tasks["covered/1"].ends == datetime.datetime(2027, 1, 1)


def test_lime_is_looked_after() -> None:
    so_far = made_up.accepted("window_lime", "panel", plan=Plan(datetime.date(2026, 6, 1)))
    tasks = by_key(programme(so_far))
    days = [tasks[key].first.isoformat() for key in ("visit/1", "look_in/1", "look_in/2")]
    assert days == ["2026-06-01", "2026-06-02", "2026-06-04"]
    assert tasks["covered/1"].last == datetime.date(2026, 6, 8)
    assert finish(so_far) == datetime.date(2026, 6, 4)


def test_grout_sets_before_pointing_unless_it_is_worked_wet_on_wet() -> None:
    book = made_up.BOOK.replace('"wet_on_wet": true', '"wet_on_wet": false')
    usual = programme(made_up.accepted("terrace"))
    waiting = programme(made_up.accepted("terrace", book=book))
    assert [task.key for task in usual] == ["visit/1", "covered/1"]
    assert [task.key for task in waiting] == ["visit/1", "wait/1", "visit/2", "covered/1"]
    assert "grout" in waiting[1].title


def test_nothing_is_dated_before_it_is_accepted_and_planned() -> None:
    so_far = made_up.accepted("terrace")
    assert programme(SoFar()) == programme(replace(so_far, plan=None)) == ()
    assert finish(replace(so_far, plan=None)) is None


def test_a_variation_moves_the_finish_by_its_days_and_only_once_agreed() -> None:
    # Tuesday 1 December 2026 and two days of work; a day and a half more ends on Friday at noon.
    so_far = made_up.accepted("terrace", plan=Plan(datetime.date(2026, 12, 1)))
    sent = made_up.varied(
        "a", made_up.survey("terrace"), PANEL, extra_days="1.5", standing=Standing.SENT
    )
    open_one = made_up.with_variation(so_far, sent)
    assert finish(so_far) == finish(open_one) == datetime.date(2026, 12, 2)
    assert finish_with(open_one, "a") == datetime.date(2026, 12, 4)
    agreed = made_up.with_variation(so_far, replace(sent, standing=Standing.AGREED))
    assert finish(agreed) == finish_with(open_one, "a")
    assert programme(agreed)[0].days == Decimal("3.5")
    declined = made_up.with_variation(so_far, replace(sent, standing=Standing.DECLINED))
    assert programme(declined) == programme(so_far)
    with pytest.raises(KeyError):
        finish_with(so_far, "z")


def test_days_taken_off_leave_half_a_day_at_the_least() -> None:
    so_far = made_up.accepted("window_lime")
    less = made_up.varied("a", made_up.survey("window_lime"), PANEL, extra_days="-9")
    tasks = programme(made_up.with_variation(so_far, less))
    assert tasks[0].days == Decimal("0.5")


def test_notes_say_what_the_season_and_the_calendar_bring() -> None:
    plan = Plan(datetime.date(2026, 12, 25))
    said = {note.code: note.text for note in notes(made_up.accepted("window_lime", plan=plan))}
    assert set(said) == {"weather_permitting", "lime_in_winter", "start_moved"}
    assert "work begins on Tuesday 29 December 2026" in said["start_moved"]
    spring = notes(made_up.accepted("window_lime", plan=Plan(datetime.date(2027, 4, 6))))
    assert [note.code for note in spring] == ["weather_permitting"]
    over_christmas = made_up.accepted("quoin_cavity", "panel")
    told = {note.code: note.text for note in notes(over_christmas)}
    assert told["not_worked"] == (
        "Not worked meanwhile: 25 December (Christmas Day), 28 December (Boxing Day (observed))."
    )


def test_work_waits_for_the_end_of_cancelling_unless_it_was_asked_for() -> None:
    # Agreed on 25 November 2026 with notice: the last day is 9 December (Consumer Contracts
    # Regulations 2013, reg. 30, from memory).
    def said(start: datetime.date, asked: datetime.date | None) -> dict[str, str]:
        so_far = made_up.accepted("window_lime", plan=Plan(start))
        contract = so_far.contract
        assert contract is not None
        told = replace(contract.cancelling, early_start=asked)
        found = notes(replace(so_far, contract=replace(contract, cancelling=told)))
        return {note.code: note.text for note in found if "cancel" in note.text}

    early, late = datetime.date(2026, 12, 9), datetime.date(2026, 12, 10)
    assert said(late, None) == {}
    [text] = said(early, None).values()
    assert "may not begin before Thursday 10 December 2026" in text
    assert list(said(early, made_up.DAY)) == ["asked_to_begin"]


def test_each_day_of_a_visit_is_judged_by_the_forecast_typed_in() -> None:
    so_far = made_up.accepted("terrace", plan=Plan(datetime.date(2026, 12, 1)))
    days = visit_days(programme(so_far), so_far.plan)  # type: ignore[arg-type]
    assert [day.day for day in days] == [1, 2]
    least = {1: 6, 2: 4, 3: 4, 4: 2}
    typed = [Expected(datetime.date(2026, 12, day), Decimal(c)) for day, c in least.items()]
    [found] = by_mortar(so_far, typed, days[0])
    judged = found.days
    assert [one.verdict for one in judged] == [Verdict.WORKABLE, Verdict.NOT_WORKABLE]
    assert "2 °C is forecast on 4 December" in judged[1].notices[0].text


def test_days_on_a_variation_paper_are_the_days_of_the_programme() -> None:
    # Four more cracked bricks, then the panel after all, each valued and drawn up as on paper.
    so_far = made_up.accepted("quoin_cavity", plan=Plan(datetime.date(2026, 6, 1)))
    found = made_up.survey("quoin_cavity")
    side = found.elevations[0]
    more = tuple(CrackedBrick(course, 14, Treatment.REPLACE) for course in (9, 11, 13, 15))
    wall = replace(found, elevations=(replace(side, bricks=(*side.bricks, *more)),))
    days = so_far.contract.working_days  # type: ignore[union-attr]
    for scope in (LOCAL, PANEL):
        drawn = drawn_up(
            so_far,
            value(so_far, wall, scope),
            date=made_up.DAY,
            asked_by="found on site",
            reason="opened up",
            revision=2,
        )
        sent = made_up.with_variation(so_far, Varied(drawn, Standing.SENT))
        days += drawn.extra_days
        ends = finish_with(sent, drawn.key)
        so_far = made_up.with_variation(so_far, Varied(drawn, Standing.AGREED))
        assert finish(so_far) == ends
        assert sum(task.days for task in programme(so_far) if task.is_worked) == days
    assert days > made_up.option("quoin_cavity", "local").offer.working_days
    assert [task.key for task in programme(so_far)][:3] == ["visit/1", "wait/1", "visit/2"]


@pytest.mark.parametrize("day", [datetime.date(9999, 12, 30), datetime.date.max])
def test_where_no_day_comes_after_it_says_so(day: datetime.date) -> None:
    """Found wanting: a slip in the year ended in no sentence."""
    with pytest.raises(UserMistake, match="no day comes after that"):
        programme(made_up.accepted("window_lime", "panel", plan=Plan(day)))
