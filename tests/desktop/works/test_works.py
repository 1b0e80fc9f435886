"""The works at the desk: planned, noted, booked and done, in the real columns over a real file."""

from __future__ import annotations

import datetime
from decimal import Decimal
from pathlib import Path

import icalendar
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from estimator.contract.works import Feature
from estimator.desktop.columns import Columns
from estimator.desktop.works import took_bars
from estimator.desktop.works.looked_at import beginning
from estimator.desktop.works.section import hardest_day
from estimator.store import jobs
from estimator.takeoff.lines import Item
from estimator.works.day_work import DayWork
from estimator.works.vibration import exposures
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import TODAY, answered
from tests.desktop.works.conftest import come_to, plan


def test_it_begins_once_they_can_no_longer_cancel(agreed: Columns, qtbot: QtBot) -> None:
    """Consumer Contracts Regulations 2013, reg. 30: the 14th day is the last, from memory."""
    come_to(agreed, qtbot, lambda _works: True)
    works = agreed.working.overseeing.works
    assert works is not None
    assert works.beginning is not None
    assert works.beginning.on == TODAY + datetime.timedelta(days=15)
    assert "until when they may cancel" in works.beginning.why
    assert "Thursday 10 December 2026" in agreed.working.section.lines.text()
    assert agreed.working.section.act.text() == "Plan the works"


def test_a_weekend_and_an_express_request_move_the_first_day(agreed: Columns) -> None:
    """Reg. 36: only an express request lets work begin earlier; Saturdays are not worked."""
    from dataclasses import replace  # noqa: PLC0415

    contract = agreed.agreeing.following.so_far.contract
    assert contract is not None
    friday = datetime.date(2026, 11, 27)
    later = replace(contract, accepted_on=friday)
    told = replace(later.cancelling, notice_given=friday)
    found = beginning(replace(later, cancelling=told), None, TODAY)
    assert found.on == datetime.date(2026, 12, 14)
    asked = replace(contract.cancelling, early_start=TODAY)
    found = beginning(replace(contract, cancelling=asked), None, TODAY)
    assert found.on == TODAY + datetime.timedelta(days=1)
    assert "asked in writing" in found.why


def test_a_task_put_off_is_kept_and_moves_what_follows(agreed: Columns, qtbot: QtBot) -> None:
    plan(agreed, qtbot, datetime.date(2026, 12, 10))
    agreed.agreeing.job.open("plan")
    page = agreed.working.plan
    answered(agreed._session)
    row = page.rows["visit/1"]
    row.put_off.click()
    row.until.show_text("18 Dec")
    row.until.typed.emit("18 Dec")
    qtbot.waitUntil(lambda: row.days.text() == "Fri 18 Dec", timeout=WAIT)
    with qtbot.waitSignal(page.planned, timeout=WAIT):
        page.take.click()
    come_to(agreed, qtbot, lambda works: works.tasks[0].is_put_off)
    told = agreed.agreeing.following.so_far.plan
    assert told is not None
    assert told.not_before == (("visit/1", datetime.date(2026, 12, 18)),)
    assert told.gang == ("Jo Bell", "Sam Reed")


def test_a_day_that_is_none_is_said_at_the_field(agreed: Columns, qtbot: QtBot) -> None:
    come_to(agreed, qtbot, lambda _works: True)
    agreed.agreeing.job.open("plan")
    page = agreed.working.plan
    page.start.show_text("soonish")
    page.take.click()
    assert "is no day" in page.start.problem.text()
    assert page.start.text == "soonish"
    page.start.show_text("")
    page.take.click()
    assert page.start.problem.text() == "Say on which day you start."
    assert agreed.agreeing.following.so_far.plan is None
    page.start.show_text("10 Dec")


def test_what_is_half_typed_is_there_again(agreed: Columns, qtbot: QtBot) -> None:
    come_to(agreed, qtbot, lambda _works: True)
    agreed.agreeing.job.open("plan")
    page = agreed.working.plan
    qtbot.keyClicks(page.gang.editor, "Jo B")
    agreed.agreeing.job.back()
    agreed.agreeing.job.open("plan")
    assert page.gang.text == "Jo B"


def test_the_calendar_file_is_read_by_others(
    planned: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    """RFC 5545, read back by the library icalendar."""
    path = tmp_path / "works.ics"
    planned.working.files.choose_path = lambda _out, then: then(str(path))
    with qtbot.waitSignal(planned.working.files.said, timeout=WAIT):
        planned.working.papers.rows["calendar"].click()
    found = icalendar.Calendar.from_ical(path.read_bytes())
    days = [one.decoded("dtstart") for one in found.walk("VEVENT")]
    works = planned.working.overseeing.works
    assert works is not None
    assert days == [task.first for task in works.tasks]


def test_what_is_ticked_is_noted_in_one_go(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("built")
    page = planned.working.built
    marks = list(page.marks)
    page.take.click()
    assert page.said.text() == "Tick what was done, here or on the wall."
    page.marks[marks[0]].box.click()
    planned.wall.drafting.select(marks[1])
    assert [one.mark for one in page.ticked] == marks[:2]
    assert page.take.text() == "Note 2 places as done"
    page.batch.show_text("NHL-2291")
    page.deep.show_text("28")
    point = next(row for point, row in page.points.items() if point[0] is Feature.DEPTH)
    point.box.click()
    page.take.click()
    assert page.by.problem.text() == "Say who signs."
    assert planned.agreeing.following.so_far.built == ()
    page.by.show_text("Jo Bell")
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.take.click()
    so_far = planned.agreeing.following.so_far
    assert [one.mark for one in so_far.built] == marks[:2]
    assert {one.batch for one in so_far.built} == {"NHL-2291"}
    assert [(one.feature, one.by) for one in so_far.held] == [(Feature.DEPTH, "Jo Bell")] * 2
    come_to(planned, qtbot, lambda works: len(works.still_to_do) == len(marks) - 2)
    assert "7 mm less deep than planned" in page.done.text
    assert not set(marks[:2]) & set(page.marks)


def test_the_places_are_listed_before_anybody_looks(planned: Columns, qtbot: QtBot) -> None:
    """Making them all at once as the page opens held the window up for longer than a frame."""
    page, works = planned.working.built, planned.working.overseeing.works
    assert works is not None
    qtbot.waitUntil(lambda: len(page._rows.rows) == len(works.still_to_do) > 0, timeout=WAIT)
    assert list(page._rows.rows) == [one.mark for one in works.still_to_do]
    before = list(page._rows.rows.values())
    planned.agreeing.job.open("built")
    assert list(page.marks.values()) == before


def test_a_press_on_the_wall_takes_a_tick_off_again(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("built")
    page = planned.working.built
    mark = next(iter(page.marks))
    planned.wall.drafting.select(mark)
    assert page.marks[mark].is_on
    qtbot.waitUntil(lambda: not planned.wall.drafting.selection)
    planned.wall.drafting.select(mark)
    assert not page.marks[mark].is_on
    qtbot.waitUntil(lambda: not planned.wall.drafting.selection)


def test_hours_are_booked_beside_what_was_quoted(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("took")
    page = planned.working.hours
    assert page.item.value is Item.CUT_SLOT
    page.hours.show_text("lots")
    page.take.click()
    assert page.hours.problem.text() == "Type hours such as 2.5"
    page.hours.show_text("1.5")
    page.done.show_text("4.8")
    assert page.who.text == "Jo Bell"
    page.material.pick("grout")
    page._look()
    page.much.show_text("1")
    page.cost.show_text("23.50")
    with qtbot.waitSignal(page.booked, timeout=WAIT):
        page.take.click()
    [booking] = planned.agreeing.following.so_far.bookings
    assert (booking.item, booking.hours, booking.done) == (
        Item.CUT_SLOT,
        Decimal("1.5"),
        Decimal("4.8"),
    )
    assert str(booking.used[0].cost) == "23.50"
    come_to(planned, qtbot, lambda works: works.took[0].booked > 0)
    # 4.8 m of slot at 0.1799 h/m is 0.86 h: the first outputs of the shipped book.
    assert page.bars.lines[0].endswith("1.5 h, more than the 0.9 h quoted")
    assert page.hours.text == ""
    next(iter(page.back.rows.values())).take_back.click()
    qtbot.waitUntil(lambda: not planned.agreeing.following.so_far.bookings, timeout=WAIT)
    come_to(planned, qtbot, lambda works: not works.took[0].booked)
    assert not page.back.isVisible()


def test_bars_say_in_words_what_they_show(planned: Columns) -> None:
    works = planned.working.overseeing.works
    assert works is not None
    assert all(took_bars.said(one).endswith("quoted") for one in works.took)


def test_done_is_noted_with_its_paper(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("done")
    page = planned.working.done
    assert "have no note" in page.open.accessibleName()
    page.by.show_text("")
    page.take.click()
    assert page.by.problem.text() == "Say who says that it is done."
    page.by.show_text("Jo Bell")
    page.notes.show_text("Keep it damp.\n\nRing us about the gutter.")
    with qtbot.waitSignal(page.completed, timeout=WAIT):
        page.take.click()
    told = planned.agreeing.following.so_far.completion
    assert told is not None
    assert told.notes == ("Keep it damp.", "Ring us about the gutter.")
    assert planned._session.job.stage == jobs.Stage.DONE.value
    qtbot.waitUntil(lambda: planned.has_paper, timeout=WAIT)
    assert planned.working.paper.title.text() == "S-0001: completion"
    come_to(planned, qtbot, lambda works: "completion" in works.papers)
    assert planned.working.section.act.text() == "Show the completion paper"


def test_a_site_sheet_is_looked_at_before_it_has_a_number(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("papers")
    planned.working.papers.rows["site_sheet"].click()
    sheet = planned.working.sheet
    qtbot.waitUntil(lambda: planned.has_paper, timeout=WAIT)
    assert sheet.take.text() == "Keep it under a number"
    with qtbot.waitSignal(sheet.kept, timeout=WAIT):
        sheet.take.click()
    assert planned.working.paper.title.text() == "S-0001: site sheet"
    answered(planned._session)


def test_a_programme_needs_no_number(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("papers")
    planned.working.papers.rows["programme"].click()
    qtbot.waitUntil(lambda: planned.has_paper, timeout=WAIT)
    assert planned.working.sheet.take.text() == "E-mail…"
    assert not planned.working.papers.isVisible()


def test_a_day_that_shakes_too_much_is_said(planned: Columns) -> None:
    """Control of Vibration at Work Regulations 2005: 100 points act, 400 are the limit; 2 × a² an
    hour, as HSE counts them."""
    from dataclasses import replace  # noqa: PLC0415

    works = planned.working.overseeing.works
    assert works is not None
    calm = exposures((DayWork(1, 1, {Item.RAKE_OUT: Decimal("0.5")}),))
    assert hardest_day(replace(works, exposures=calm)) == ""
    hard = exposures((DayWork(1, 1, {Item.RAKE_OUT: Decimal(2)}),))
    assert "179 points for one person. At or above" in hardest_day(replace(works, exposures=hard))
    over = exposures((DayWork(1, 1, {Item.RAKE_OUT: Decimal(5)}),))
    said = hardest_day(replace(works, exposures=over))
    assert "448 points" in said
    assert "Over the daily limit" in said
    assert "Shared by 2" in said


def test_by_keys_alone(agreed: Columns, qtbot: QtBot) -> None:
    come_to(agreed, qtbot, lambda _works: True)
    section, page = agreed.working.section, agreed.working.plan
    qtbot.keyClick(section.act, Qt.Key.Key_Space)
    qtbot.waitUntil(page.start.editor.hasFocus, timeout=WAIT)
    qtbot.keyClick(page.take, Qt.Key.Key_Return)
    come_to(agreed, qtbot, lambda works: bool(works.tasks))
    assert agreed.working.overseeing.works is not None
    assert agreed.working.overseeing.works.tasks[0].first == datetime.date(2026, 12, 10)


def test_every_field_has_a_name(planned: Columns) -> None:
    from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QPlainTextEdit  # noqa: PLC0415

    kinds = (QCheckBox, QComboBox, QLineEdit, QPlainTextEdit)
    for name in ("plan", "built", "took", "done"):
        planned.agreeing.job.open(name)
        page = planned.agreeing.job.pages.currentWidget()
        fields = [one for kind in kinds for one in page.findChildren(kind)]
        assert fields
        assert all(one.accessibleName() for one in fields)
