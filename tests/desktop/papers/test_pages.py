"""Pages drawn from a PDF, and the column they lie in."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from estimator.desktop.papers import pages
from estimator.desktop.papers.made import Draft, made
from estimator.desktop.papers.pages import Page
from estimator.desktop.papers.preview import PreviewColumn
from estimator.desktop.session import Session
from estimator.desktop.workers import Workers
from estimator.pricing import price_book
from estimator.quoting import trader_file
from estimator.quoting.offering import Practice
from estimator.takeoff import rules
from estimator.takeoff.scope import USUAL
from tests.desktop.fakes import DEMO, TODAY, demo_survey, session_on
from tests.desktop.papers.conftest import MEASURED
from tests.documents.reading import flat, reader

WAIT = 20_000
LONGEST_STALL_MS = 50
TICK_MS = 5


@cache
def draft() -> Draft:
    """The paper for a measured wall."""
    firm = trader_file.load(DEMO / "firm.json")
    practice = Practice(price_book.shipped(), rules.shipped(), firm)
    return made(demo_survey(MEASURED), practice, USUAL, TODAY)


@pytest.fixture
def column(qtbot: QtBot, session: Session) -> PreviewColumn:
    """An empty preview on the screen."""
    shown = PreviewColumn(session)
    shown.resize(500, 600)
    qtbot.addWidget(shown)
    with qtbot.waitExposed(shown):
        shown.show()
    return shown


def test_every_page_is_drawn_at_the_width_and_ratio_asked_for() -> None:
    found = pages.drawn(draft().pdf, 400, 2.0)
    assert len(found) == len(reader(draft().pdf).pages)
    for page in found:
        assert abs(page.image.deviceIndependentSize().width() - 400) <= 0.5
        assert page.image.width() in (800, 801)
        # A4 is 210 by 297 mm, ISO 216.
        assert page.image.height() / page.image.width() == pytest.approx(297 / 210, abs=0.005)
    assert flat("Tarn & Pike") in flat(found[0].text)
    assert flat(draft().offered[0].price) in flat(found[0].text)


def test_a_page_is_white_with_ink_on_it() -> None:
    image = pages.drawn(draft().pdf, 200, 1.0)[0].image
    seen = {image.pixelColor(x, y).name() for x in range(0, 200, 2) for y in range(0, 280, 2)}
    assert "#ffffff" in seen
    assert len(seen) > 20


def test_pages_nobody_wants_any_more_are_not_drawn() -> None:
    assert pages.drawn(draft().pdf, 200, 1.0, wanted=lambda: False) == ()


def test_two_threads_draw_the_same_as_one() -> None:
    alone = [page.image for page in pages.drawn(draft().pdf, 150, 1.0)]
    with ThreadPoolExecutor(3) as pool:
        runs = [pool.submit(pages.drawn, draft().pdf, 150, 1.0) for _run in range(6)]
    for run in runs:
        assert [page.image for page in run.result()] == alone


def test_nothing_is_drawn_in_the_windows_thread(
    column: PreviewColumn, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn, threads = pages.drawn, []

    def noted(*given: object, **named: object) -> tuple[Page, ...]:
        threads.append(threading.current_thread())
        return drawn(*given, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(pages, "drawn", noted)
    with qtbot.waitSignal(column.page_drawn, timeout=WAIT):
        column.show_paper(draft().pdf, "Not issued yet")
    assert threads
    assert threading.main_thread() not in threads


def test_old_pages_stay_until_the_new_ones_are_there(
    column: PreviewColumn, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    with qtbot.waitSignal(column.page_drawn, timeout=WAIT):
        column.show_paper(draft().pdf, "Not issued yet")
    before = [(sheet, sheet.page) for sheet in column.area.sheets]
    drawn, gate = pages.drawn, threading.Event()

    def held(*given: object, **named: object) -> tuple[Page, ...]:
        gate.wait(WAIT / 1000)
        return drawn(*given, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(pages, "drawn", held)
    column.await_paper()
    column.show_paper(draft().pdf, "Q-0001, as it went out")
    qtbot.waitUntil(lambda: column.caption.text() == "Making the paper…", timeout=WAIT)
    assert [(sheet, sheet.page) for sheet in column.area.sheets] == before
    with qtbot.waitSignal(column.page_drawn, timeout=WAIT):
        gate.set()
    assert column.caption.text() == "Q-0001, as it went out"
    assert [sheet for sheet, _page in before] == column.area.sheets
    assert column.area.sheets[0].page is not before[0][1]


def test_pages_follow_the_width_of_the_column(column: PreviewColumn, qtbot: QtBot) -> None:
    with qtbot.waitSignal(column.page_drawn, timeout=WAIT):
        column.show_paper(draft().pdf, "Not issued yet")
    with qtbot.waitSignal(column.page_drawn, timeout=WAIT):
        column.resize(700, 600)
    sheet = column.area.sheets[0]
    assert sheet.page is not None
    # Two pixels are the hairline round it.
    assert sheet.page.image.width() == sheet.width() - 2


def test_keys_move_the_pages_and_a_screen_reader_hears_them(
    column: PreviewColumn, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(column.page_drawn, timeout=WAIT):
        column.show_paper(draft().pdf, "Not issued yet")
    area, bar = column.area, column.area.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0, timeout=WAIT)
    column.take_focus()
    places = []
    for key in ("End", "Home", "PageDown", "Space", "Down", "Up", "PageUp"):
        qtbot.keyClick(area, getattr(Qt.Key, f"Key_{key}"))
        places.append(bar.value())
    assert places[:2] == [bar.maximum(), 0]
    assert places[2] < places[3] < places[4] > places[5] > places[6]
    first = area.sheets[0]
    count = len(area.sheets)
    assert first.accessibleName() == f"Page 1 of {count}"
    assert flat("Tarn & Pike") in flat(first.accessibleDescription())


def test_why_there_is_no_paper_is_said_in_its_place(column: PreviewColumn, qtbot: QtBot) -> None:
    with qtbot.waitSignal(column.page_drawn, timeout=WAIT):
        column.show_paper(draft().pdf, "Not issued yet")
    column.show_nothing("No price is given.")
    assert column.area.said == "No price is given."
    assert not column.area.sheets


def test_what_is_no_paper_is_said_and_told_on(
    column: PreviewColumn, session: Session, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(session.filing.broke, timeout=WAIT):
        column.show_paper(b"%PDF-1.7 and nothing more", "Not issued yet")
    assert "cannot be shown here" in column.area.said


@pytest.mark.slow
def test_the_window_never_waits_for_a_paper(
    qtbot: QtBot, tmp_path: Path, laid: Callable[[Session], Columns]
) -> None:
    workers = Workers()
    session = session_on(tmp_path, demo_survey(MEASURED), workers=workers)  # type: ignore[arg-type]
    columns = laid(session)
    try:
        with qtbot.waitSignal(columns.preview.page_drawn, timeout=3 * WAIT):
            pass
        stalls = watched(columns, qtbot)
    finally:
        workers.close()
        session.filing.close()
    busy, waited = (sorted(times) for times in zip(*stalls, strict=True))
    assert len(stalls) > 10
    assert busy[-1] < LONGEST_STALL_MS, busy[-5:]
    # By the clock on the wall other programs count too, so the worst twentieth is left out.
    assert waited[len(waited) * 19 // 20 - 1] < LONGEST_STALL_MS, waited[-5:]


def watched(columns: Columns, qtbot: QtBot) -> list[tuple[float, float]]:
    """Time between two ticks of the window's thread while a paper is made: its own, any [ms]."""
    stalls: list[tuple[float, float]] = []
    last = [time.thread_time(), time.perf_counter()]
    clock = QTimer()
    clock.setTimerType(Qt.TimerType.PreciseTimer)
    clock.setInterval(TICK_MS)

    def tick() -> None:
        now = [time.thread_time(), time.perf_counter()]
        stalls.append(((now[0] - last[0]) * 1000, (now[1] - last[1]) * 1000))
        last[:] = now

    clock.timeout.connect(tick)
    with qtbot.waitSignal(columns.preview.page_drawn, timeout=3 * WAIT):
        clock.start()
        columns.check.drafting.follow()
    clock.stop()
    return stalls
