"""What is half typed about the works is there again after a restart, or a kill."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from estimator.desktop.session import Session
from estimator.takeoff.lines import Item
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import TODAY, answered
from tests.desktop.works.conftest import come_to, killed, names
from tests.desktop.works.test_photographs import photograph, taken

Typed = dict[str, str]


def test_half_typed_hours_are_there_after_a_kill(
    planned: Columns, qtbot: QtBot, tmp_path: Path, again: list[Session]
) -> None:
    planned.agreeing.job.open("took")
    page = planned.working.hours
    page.item.pick(Item.SET_BAR)
    page.item.changed.emit()
    qtbot.keyClicks(page.hours.editor, "2.5")
    page.material.pick("grout")
    page.material.changed.emit()
    qtbot.keyClicks(page.much.editor, "3")
    qtbot.waitUntil(lambda: "hours" in names(planned), timeout=WAIT)
    fresh = killed(planned, qtbot, tmp_path, again)
    fresh.agreeing.job.open("took")
    page = fresh.working.hours
    assert page.item.value is Item.SET_BAR
    assert (page.hours.text, page.much.text) == ("2.5", "3")
    assert page.material.value == "grout"
    assert page.much.isVisible()
    # What was not typed follows what is known: the first of the gang, and today.
    assert page.who.text == "Jo Bell"
    with qtbot.waitSignal(page.booked, timeout=WAIT):
        page.take.click()
    come_to(fresh, qtbot, lambda works: bool(works.booked))
    fresh.agreeing.job.back()
    fresh.agreeing.job.open("took")
    assert (page.hours.text, page.much.text) == ("", "")


def test_ticks_and_photographs_not_noted_yet_are_there_after_a_kill(
    planned: Columns, qtbot: QtBot, tmp_path: Path, again: list[Session]
) -> None:
    planned.agreeing.job.open("built")
    page = planned.working.built
    mark = list(page.marks)[1]
    page.marks[mark].box.click()
    point = next(iter(page.points))
    page.points[point].box.click()
    taken(page, qtbot, photograph(tmp_path / "bar.jpg"))
    qtbot.keyClicks(page.photos.rows[0].caption, "Dry fit")
    qtbot.keyClicks(page.batch.editor, "NHL-2291")
    picture = page.photos.photos[0]
    qtbot.waitUntil(lambda: "built" in names(planned), timeout=WAIT)
    qtbot.waitUntil(lambda: not page.half_typed._is_new, timeout=WAIT)
    # As when another job is taken up: what nothing names is thrown away.
    planned._session._let_go_of_pictures()
    fresh = killed(planned, qtbot, tmp_path, again)
    fresh.agreeing.job.open("built")
    page = fresh.working.built
    assert [one.mark for one in page.ticked] == [mark]
    assert page.marks[mark].is_on
    assert page.points[point].is_on
    assert page.batch.text == "NHL-2291"
    assert page.photos.told() == [[picture, "Dry fit"]]
    qtbot.waitUntil(lambda: not page.photos.rows[0].thumb.pixmap().isNull(), timeout=WAIT)
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.by.show_text("Jo Bell")
        page.take.click()
    [built] = fresh.agreeing.following.so_far.built
    assert (built.photos, built.captions, built.batch) == ((picture,), ("Dry fit",), "NHL-2291")


def test_a_plan_half_changed_is_there_after_a_kill(
    planned: Columns, qtbot: QtBot, tmp_path: Path, again: list[Session]
) -> None:
    planned.agreeing.job.open("plan")
    page = planned.working.plan
    qtbot.waitUntil(lambda: bool(page.forecast.rows), timeout=WAIT)
    page.gang.editor.clear()
    qtbot.keyClicks(page.gang.editor, "Ada B")
    row = page.rows["visit/1"]
    row.put_off.click()
    qtbot.keyClicks(row.until.editor, "18 Dec")
    first = next(iter(page.forecast.rows.values()))
    qtbot.keyClicks(first.editor, "3 to 9, ra")
    qtbot.waitUntil(lambda: not page.half_typed._is_new, timeout=WAIT)
    fresh = killed(planned, qtbot, tmp_path, again)
    fresh.agreeing.job.open("plan")
    page = fresh.working.plan
    assert page.gang.text == "Ada B"
    qtbot.waitUntil(lambda: page.done_on.text().endswith("18 December 2026"), timeout=WAIT)
    assert page.rows["visit/1"].until.text == "18 Dec"
    assert page.forecast.told() == {TODAY.isoformat(): "3 to 9, ra"}
    # Nothing of it is planned before it is kept.
    plan = fresh.agreeing.following.so_far.plan
    assert plan is not None
    assert plan.gang == ("Jo Bell", "Sam Reed")
    with qtbot.waitSignal(page.planned, timeout=WAIT):
        page.forecast.show_told({})
        page.take.click()
    assert "plan" not in names(fresh)


def test_each_job_has_its_own(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("took")
    page, session = planned.working.hours, planned._session
    qtbot.keyClicks(page.hours.editor, "7")
    job = session.job
    session.new_job()
    assert not page.half_typed.is_anything
    answered(session)
    session.show_job(replace(session.job, uid=job.uid, work=job.work))
    come_to(planned, qtbot, lambda works: bool(works.tasks))
    planned.agreeing.job.open("took")
    assert page.hours.text == "7"


def test_typed_and_wiped_again_is_nothing(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("took")
    page = planned.working.hours
    qtbot.keyClicks(page.hours.editor, "7")
    qtbot.waitUntil(lambda: "hours" in names(planned), timeout=WAIT)
    page.hours.editor.clear()
    qtbot.keyClicks(page.hours.editor, "7\b")
    qtbot.waitUntil(lambda: "hours" not in names(planned), timeout=WAIT)


def test_a_day_put_off_long_ago_is_not_next_year(planned: Columns, qtbot: QtBot) -> None:
    page, session = planned.working.plan, planned._session
    planned.agreeing.job.open("plan")
    qtbot.waitUntil(lambda: bool(page.rows), timeout=WAIT)
    row = page.rows["visit/1"]
    row.put_off.click()
    qtbot.keyClicks(row.until.editor, "18 Dec")
    with qtbot.waitSignal(page.planned, timeout=WAIT):
        page.take.click()
    session.today = lambda: datetime.date(2026, 12, 21)
    planned.agreeing.job.open("plan")
    told = page.plan()
    assert told is not None
    assert told.not_before == (("visit/1", datetime.date(2026, 12, 18)),)


def test_a_forecast_is_kept_with_the_plan(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("plan")
    page = planned.working.plan
    qtbot.waitUntil(lambda: bool(page.forecast.rows), timeout=WAIT)
    assert not page.forecast.lead.isVisible()
    page.forecast.open.click()
    first = next(iter(page.forecast.rows.values()))
    assert first.editor.hasFocus()
    assert first.editor.accessibleName() == "Forecast for Tonight"
    qtbot.keyClicks(first.editor, "soggy")
    page.take.click()
    assert "is no forecast" in first.problem.text()
    assert planned.agreeing.following.so_far.plan.expected == ()  # type: ignore[union-attr]
    first.editor.clear()
    qtbot.keyClicks(first.editor, "4°, dry")
    qtbot.waitUntil(
        lambda: "4 °C is forecast that day" in page.forecast.caution.accessibleName(), timeout=WAIT
    )
    with qtbot.waitSignal(page.planned, timeout=WAIT):
        page.take.click()
    come_to(planned, qtbot, lambda works: bool(works.weather))
    plan = planned.agreeing.following.so_far.plan
    assert plan is not None
    assert [(one.on, str(one.least_c)) for one in plan.expected] == [(TODAY, "4")]
    assert plan.expected_on == TODAY
    said = planned.working.section.caution.text()
    assert "By the forecast of Wed 25 Nov. Hydraulic lime and sand 1:3: not on Wed 25 Nov." in said
    # It is there again, and as old as it was typed.
    planned._session.today = lambda: TODAY
    planned.agreeing.job.open("plan")
    assert page.forecast.told() == {TODAY.isoformat(): "4°, dry"}
    assert page.plan() == plan
