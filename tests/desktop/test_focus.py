"""The keyboard goes round every screen and comes back, and one always sees where it is.

WCAG 2.2: 2.1.2 no keyboard trap, 2.4.7 focus visible, 2.4.11 focus not obscured, and the least
area of 2.4.13 focus appearance: as many pixels change as a line round half the widget has.
"""

from __future__ import annotations

import gc
from collections import Counter
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from itertools import pairwise

import pytest
from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QMenuBar,
    QPushButton,
    QScrollArea,
    QSplitterHandle,
    QWidget,
)

from estimator.desktop import application, kept
from estimator.desktop.application import Application
from estimator.desktop.money.card import OptionCard
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.store import settings
from tests.desktop import walk
from tests.desktop.fakes import DEMO
from tests.desktop.test_walk import go
from tests.journeys.call_by_keys import wait_until

MOST_STEPS = 400
WHOLE = QImage.Format.Format_RGB32
LEAST_CONTRAST = 1.5
"""House rule: less is not seen across a desk. WCAG's 3 : 1 (2.4.13) is of level AAA."""
SCREENS = ("call", "paper", "survey_paper", "jobs", "price_book", "settings")


@dataclass(frozen=True)
class Stop:
    """A widget Tab came to: how it looked with the keyboard, and then without."""

    widget: QWidget
    told: str
    is_seen: bool
    ringed: int
    """Pixels that differ enough."""
    wanted: int
    """Half of a line round the widget, or what a list may do with [px]."""


@pytest.fixture(scope="module")
def desk(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Application]:
    """The whole program, with the keyboard on it."""
    folder = tmp_path_factory.mktemp("focus")
    with closing(kept.opened(folder)) as database:
        settings.keep(database, kept.FIRM, (DEMO / "firm.json").read_text(encoding="utf-8"))
    application.application(["perpend"])
    blinks, beats = qapp.cursorFlashTime(), qapp.styleHints()
    # A cursor that blinks would differ by itself.
    beats.setCursorFlashTime(0)
    shown = Application(folder, QSettings(str(folder / "x.ini"), QSettings.Format.IniFormat))
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    shown.desk.resize(1366, 768)
    shown.desk.activateWindow()
    wait_until(shown.desk.isActiveWindow, "the window is not in front")
    yield shown
    beats.setCursorFlashTime(blinks)
    shown.desk.close()
    shown.end()
    shown.desk.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()


@pytest.fixture(autouse=True)
def dressed() -> None:
    """Take the place of the fixture that looks for windows left open: this one stays."""


def brightness(colour: int) -> float:
    """Relative luminance of a colour, 0xRRGGBB (WCAG 2.2)."""
    parts = ((colour >> shift & 0xFF) / 255 for shift in (16, 8, 0))
    red, green, blue = (
        one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def ringed(one: QImage, two: QImage) -> int:
    """Count the pixels whose contrast from one picture to the other is enough."""
    both = one.rect() & two.rect()
    plain = [image.copy(both).convertToFormat(WHOLE) for image in (one, two)]
    before, after = (memoryview(bytes(image.constBits())).cast("I") for image in plain)
    changes = Counter(pair for pair in zip(before, after, strict=True) if pair[0] != pair[1])
    return sum(
        count
        for pair, count in changes.items()
        if (max(map(brightness, pair)) + 0.05) / (min(map(brightness, pair)) + 0.05)
        >= LEAST_CONTRAST
    )


def looked_at(widget: QWidget) -> QImage:
    QApplication.processEvents()
    return widget.grab().toImage()


def round_trip() -> list[Stop]:
    """Press Tab until the keyboard is back where it was, and tell what it came by."""
    first = QApplication.focusWidget()
    assert first is not None
    stops: list[Stop] = []
    here: QWidget = first
    with_it = looked_at(here)
    for _step in range(MOST_STEPS):
        is_seen = not here.visibleRegion().isEmpty()
        QTest.keyClick(here, Qt.Key.Key_Tab)
        there = QApplication.focusWidget()
        assert there is not None, f"the keyboard is lost after {walk.described(here)}"
        if there is here:
            # The wall goes from mark to mark before it lets the keyboard go on.
            continue
        seen = ringed(with_it, looked_at(here))
        told = f"{walk.described(here)}: {walk.name_of(here)}"
        stops.append(Stop(here, told, is_seen, seen, wanted(here)))
        if there is first:
            return stops
        here, with_it = there, looked_at(there)
    raise AssertionError(f"the keyboard does not come back; it is at {walk.described(here)}")


def wanted(widget: QWidget) -> int:
    """Return how many pixels have to change [px].

    A list may show the keyboard at its current row alone: by a bar of two pixels beside it.
    """
    if isinstance(widget, QAbstractItemView):
        return 2 * widget.visualRect(widget.currentIndex()).height()
    return widget.width() + widget.height()


def scrolled(widget: QWidget) -> QScrollArea | None:
    """Return what a widget is scrolled in."""
    one = widget.parentWidget()
    while one is not None and not isinstance(one, QScrollArea):
        one = one.parentWidget()
    return one


def reachable(window: QWidget) -> list[QWidget]:
    """Return every widget the keyboard should come to by Tab."""
    return [
        one
        for one in walk.seen(window)
        if one.isEnabled()
        and one.focusPolicy() & Qt.FocusPolicy.TabFocus
        and one.focusProxy() is None
        and not isinstance(one, QSplitterHandle | QMenuBar)
    ]


@pytest.mark.slow
@pytest.mark.parametrize("scheme", [Scheme.LIGHT, Scheme.DARK])
@pytest.mark.parametrize("screen", SCREENS)
def test_the_keyboard_goes_round_and_is_always_seen(
    desk: Application, screen: str, scheme: Scheme
) -> None:
    LOOK.apply(scheme)
    go(desk, screen)
    desk.desk.activateWindow()
    wait_until(desk.desk.isActiveWindow, "the window is not in front")
    # The page is entered by Tab, which brings what it comes to into sight.
    QTest.keyClick(QApplication.focusWidget() or desk.desk, Qt.Key.Key_Tab)
    before = reachable(desk.desk)
    stops = round_trip()
    visited = [one.widget for one in stops]
    found = {
        "twice": [one.told for one in stops if visited.count(one.widget) > 1],
        "never": [
            walk.described(one)
            for one in reachable(desk.desk)
            if one in before and one not in visited
        ],
        "out of sight": [
            two.told
            for one, two in pairwise(stops)
            if not two.is_seen and scrolled(one.widget) is scrolled(two.widget)
        ],
        "not to be seen": [
            f"{one.ringed} of {one.wanted} px: {one.told}"
            for one in stops
            if one.ringed < one.wanted and not isinstance(one.widget, OptionCard)
        ],
    }
    assert len(stops) > 3
    assert not {fault: which for fault, which in found.items() if which}


@pytest.mark.slow
def test_a_chosen_price_shows_the_keyboard(desk: Application) -> None:
    go(desk, "call")
    desk.desk.activateWindow()
    wait_until(desk.desk.isActiveWindow, "the window is not in front")
    card = next(
        one
        for one in desk.desk.findChildren(OptionCard)
        if one.focusPolicy() is Qt.FocusPolicy.StrongFocus
    )
    desk.desk.strip.seek.setFocus()
    without = looked_at(card)
    card.setFocus(Qt.FocusReason.TabFocusReason)
    assert ringed(without, looked_at(card)) >= wanted(card)


@pytest.mark.slow
def test_what_is_scrolled_away_comes_into_sight(desk: Application) -> None:
    """The questions are scrolled to their end; then Tab comes to the first from the strip."""
    go(desk, "call")
    desk.desk.activateWindow()
    wait_until(desk.desk.isActiveWindow, "the window is not in front")
    assert desk.desk.columns is not None
    bar = next(
        one.verticalScrollBar()
        for one in desk.desk.columns.questions.findChildren(QScrollArea)
        if one.verticalScrollBar().maximum() > 0
    )
    bar.setValue(bar.maximum())
    desk.desk.strip.seek.setFocus()
    QTest.keyClick(desk.desk.strip.seek, Qt.Key.Key_Tab)
    QApplication.processEvents()
    reached = QApplication.focusWidget()
    assert reached is not None
    assert scrolled(reached) is not None
    assert not reached.visibleRegion().isEmpty()


def test_a_widget_without_a_ring_is_noticed(qapp: QApplication) -> None:
    button = QPushButton("Wall")
    button.resize(80, 32)
    plain = looked_at(button)
    assert ringed(plain, looked_at(button)) == 0
    button.setStyleSheet("border: 2px solid black")
    assert ringed(plain, looked_at(button)) >= 80 + 32
    button.deleteLater()
