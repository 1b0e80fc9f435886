"""A wrong note of what was done, and of what it took, taken back on the desk."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from estimator.contract.deeds import BuiltThere, Struck
from estimator.contract.works import Feature
from estimator.desktop.columns import Columns
from estimator.store import happenings
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import answered
from tests.desktop.works.conftest import come_to


def noted(columns: Columns, qtbot: QtBot, count: int = 2) -> list[str]:
    """Note places as done, with one point signed for; return their marks."""
    columns.agreeing.job.open("built")
    page = columns.working.built
    marks = list(page.marks)[:count]
    for mark in marks:
        page.marks[mark].box.click()
    next(row for point, row in page.points.items() if point[0] is Feature.DEPTH).box.click()
    page.by.show_text("Jo Bell")
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.take.click()
    come_to(columns, qtbot, lambda works: len(works.noted) == count)
    return marks


def test_a_wrong_note_is_taken_back_with_what_was_signed(planned: Columns, qtbot: QtBot) -> None:
    wrong, right = noted(planned, qtbot)
    page, following = planned.working.built, planned.agreeing.following
    assert len(following.so_far.held) == 2
    row = next(iter(page.done.rows.values()))
    assert row.take_back.accessibleName() == f"Take back: {row.text.text()}"
    assert row.take_back.isVisible()
    row.take_back.click()
    come_to(planned, qtbot, lambda works: len(works.noted) == 1)
    assert [one.mark for one in following.so_far.built] == [right]
    assert [one.mark for one in following.so_far.held] == [right]
    assert wrong in page.marks
    assert "counts no more" in page.said.text()
    # It is struck out, not wiped away.
    found: list[tuple[happenings.Happening, ...]] = []
    uid = planned._session.job.uid
    planned._session.filing.ask(lambda place: happenings.of_job(place, uid), found.append)
    answered(planned._session)
    deeds = [one.deed for one in found[0]]
    assert sum(isinstance(one, BuiltThere) for one in deeds) == 2
    assert sum(isinstance(one, Struck) for one in deeds) == 2


def test_a_later_note_of_the_same_place_is_taken_back_alone(planned: Columns, qtbot: QtBot) -> None:
    from dataclasses import replace  # noqa: PLC0415

    from estimator.office import contracts  # noqa: PLC0415

    [mark] = noted(planned, qtbot, 1)
    following = planned.agreeing.following
    later = replace(following.so_far.built[0], batch="NHL-7", depth_mm=20)
    following.do(lambda place, job: contracts.do(place, job, BuiltThere(later)))
    come_to(planned, qtbot, lambda works: len(works.noted) == 2)
    first, second = planned.working.built.done.rows.values()
    assert "less deep" not in first.text.text()
    assert "batch NHL-7" in second.text.text()
    assert "less deep than planned" in second.text.text()
    second.take_back.click()
    come_to(planned, qtbot, lambda works: len(works.noted) == 1)
    assert [(one.mark, one.batch) for one in following.so_far.built] == [(mark, "")]
    # What was signed belongs to the note before.
    assert len(following.so_far.held) == 1


def test_any_booking_is_taken_back_not_only_the_last(planned: Columns, qtbot: QtBot) -> None:
    planned.agreeing.job.open("took")
    page, following = planned.working.hours, planned.agreeing.following
    for hours in ("1.5", "2.5"):
        page.hours.show_text(hours)
        with qtbot.waitSignal(page.booked, timeout=WAIT):
            page.take.click()
    come_to(planned, qtbot, lambda works: len(works.booked) == 2)
    first = next(iter(page.back.rows.values()))
    assert ": 1.5 h, Jo Bell" in first.text.text()
    first.take_back.click()
    come_to(planned, qtbot, lambda works: len(works.booked) == 1)
    assert [str(one.hours) for one in following.so_far.bookings] == ["2.5"]
