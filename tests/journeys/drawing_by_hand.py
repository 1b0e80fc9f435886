"""Run in a process of its own: a wall drawn by hand to its survey paper, then a kill.

    python -m tests.journeys.drawing_by_hand FOLDER mouse|keys [PICTURES]

An empty job becomes a wall with two windows, a stepped crack and three cracked bricks; both options
are priced and the survey is put on paper, all by real events. What happened is printed as one line
of JSON before the process kills itself, as a power cut would. Each stage is pictured where a folder
for that is named.
"""

from __future__ import annotations

import base64
import json
import os
import signal
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget

from estimator.desktop import application
from estimator.desktop.application import Application
from estimator.desktop.columns import Columns
from estimator.desktop.wall.drawing_board import DrawingBoard
from estimator.desktop.wall.particulars.field import PickField
from estimator.masonry.region import Point
from estimator.survey.survey import Basis, CrackedBrick, Elevation, Treatment
from estimator.survey.wall import wall_of
from tests.journeys.call_by_keys import KEYS, command, found_a_firm, press, settled, wait_until

Key = Qt.Key
CALM = KEYS | {"filled": "1", "mortar": "1", "house": "2", "owners": "3\r", "indoors": "2"}
"""What is pressed at each question, nothing of it to worry about."""
MOST_STOPS = 60
"""Stops of Tab from one part of the desk to another; a longer way nobody finds."""


class Watch(QObject):
    """Notes every window that opens beside the desk, be it for a moment."""

    def __init__(self) -> None:
        super().__init__()
        self.windows: list[str] = []

    def eventFilter(self, seen: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        if event.type() == QEvent.Type.Show and isinstance(seen, QWidget) and seen.isWindow():
            self.windows.append(type(seen).__name__)
        return False


class Surveyor:
    """Somebody at the board."""

    def __init__(self, shown: Application, pictures: Path | None) -> None:
        self.shown, self.pictures = shown, pictures
        assert shown.desk.columns is not None
        self.columns: Columns = shown.desk.columns

    @property
    def board(self) -> DrawingBoard:
        return self.columns.wall.board

    @property
    def wall(self) -> Elevation:
        return self.shown.session.work.survey.elevations[0]

    def still(self) -> None:
        """Let the desk follow, and wait until the view has come to rest."""
        QApplication.processEvents()
        wait_until(lambda: not self.board.is_moving, "the view did not come to rest")
        QApplication.processEvents()

    def picture(self, name: str) -> None:
        if self.pictures is not None:
            self.still()
            self.shown.desk.grab().save(str(self.pictures / f"{name}.png"))

    def at(self, place: Point) -> QPoint:
        assert self.board.view is not None
        spot = QPointF(*self.board.view.at(*place)).toPoint()
        assert self.board.rect().contains(spot), f"{place} is not in sight"
        return spot

    def key(self, *keys: Key) -> None:
        for one in keys:
            QTest.keyClick(QApplication.focusWidget() or self.shown.desk, one)
            self.still()

    def click(self, place: Point) -> None:
        QTest.mouseMove(self.board, self.at(place))
        QTest.mouseClick(self.board, Qt.MouseButton.LeftButton, pos=self.at(place))
        self.still()

    def drag(self, start: Point, end: Point) -> None:
        here, there = self.at(start), self.at(end)
        QTest.mousePress(self.board, Qt.MouseButton.LeftButton, pos=here)
        for share in (0.3, 0.7, 1.0):
            on = here + (there - here) * share
            QTest.mouseMove(self.board, on)
            QApplication.processEvents()
        QTest.mouseRelease(self.board, Qt.MouseButton.LeftButton, pos=there)
        self.still()

    def tab_to(self, widget: QWidget, key: Key = Key.Key_Tab) -> None:
        """Go from stop to stop; to a choice that is not taken, by arrows from the one that is."""
        beside = widget.parentWidget()
        for _stop in range(MOST_STOPS):
            self.key(key)
            here = QApplication.focusWidget()
            if here is widget:
                return
            if here is not None and here.parentWidget() is beside and type(here) is type(widget):
                self.key(Key.Key_Left if here.x() > widget.x() else Key.Key_Right)
                if QApplication.focusWidget() is widget:
                    return
        raise AssertionError(f"the keyboard does not come to {widget.accessibleName()}")

    def press_button(self, widget: QWidget) -> None:
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
        self.still()


def joint(side: Elevation, course: int, bricks: int) -> Point:
    """Return the crossing over the perpend after so many bricks of a course [mm]."""
    coursing = wall_of(side).coursing
    rhythm = coursing.rhythm(course)
    return rhythm.perpend_after(rhythm.face_at(1.0) + bricks - 1), coursing.bed_middle(course)


def middle(side: Elevation, course: int, place: int) -> Point:
    """Return the middle of a brick [mm]."""
    wall = wall_of(side)
    left, right = wall.coursing.rhythm(course).face_span(
        wall.face_of(CrackedBrick(course, place, Treatment.LEAVE))
    )
    return (left + right) / 2, wall.coursing.course_middle(course)


def draw_by_mouse(one: Surveyor) -> None:
    """Draw the wall, its windows, its crack and its bricks with the mouse."""
    one.key(Key.Key_F3, Key.Key_W)
    one.click((1500.0, 1200.0))
    one.key(Key.Key_E)
    type_over("20 bricks")
    type_over("36 courses")
    one.picture("1-wall")
    one.key(Key.Key_F3, Key.Key_O)
    for left in (675.0, 2700.0):
        one.drag((left, 900.0), (left + 1125.0, 2100.0))
    one.picture("2-windows")
    one.key(Key.Key_F3, Key.Key_C)
    one.click(joint(one.wall, 3, 9))
    one.click(joint(one.wall, 8, 7))
    one.click(joint(one.wall, 12, 5))
    one.key(Key.Key_Return)
    press("2.5\r")
    one.press_button(outside_only(one))
    one.picture("3-crack")
    one.key(Key.Key_F3, Key.Key_B)
    one.click(middle(one.wall, 6, 12))
    one.click(middle(one.wall, 7, 13))
    one.key(Key.Key_3)
    one.click(middle(one.wall, 9, 14))
    one.picture("4-bricks")


def outside_only(one: Surveyor) -> QWidget:
    """Return the button that says a crack is not seen on both faces."""
    form = one.columns.wall.particulars.form
    assert form is not None
    named = [box for box in form.findChildren(PickField) if box.about.label == "On both faces"]
    buttons = [each for each in named[0].findChildren(QAbstractButton) if each.text() == "No"]
    return buttons[0]


def type_over(text: str) -> None:
    """Type over what a field holds, and go on to the next."""
    QTest.keyClick(QApplication.focusWidget(), Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    press(text + "\r")
    QApplication.processEvents()


def arrows(one: Surveyor, across: int, up: int) -> None:
    """Move the cross of the keyboard so many joints across and up."""
    one.key(*[Key.Key_Right if across > 0 else Key.Key_Left] * abs(across))
    one.key(*[Key.Key_Up if up > 0 else Key.Key_Down] * abs(up))


def draw_by_keys(one: Surveyor) -> None:
    """Draw the same without a mouse: the cross goes from joint to joint, Enter presses."""
    one.key(Key.Key_F3, Key.Key_W, Key.Key_Return, Key.Key_E)
    type_over("20 bricks")
    type_over("36 courses")
    one.key(Key.Key_F3, Key.Key_O)
    arrows(one, -7, -2)
    one.key(Key.Key_Return)
    arrows(one, 5, 13)
    one.key(Key.Key_Return)
    arrows(one, 4, -13)
    one.key(Key.Key_Return)
    arrows(one, 5, 13)
    one.key(Key.Key_Return)
    one.picture("2-windows-keys")
    one.key(Key.Key_C)
    arrows(one, 0, -18)
    one.key(Key.Key_Return)
    arrows(one, -4, 5)
    one.key(Key.Key_Return)
    arrows(one, -2, 3)
    one.key(Key.Key_Return, Key.Key_Return)
    press("2.5\r")
    one.key(Key.Key_E)
    one.tab_to(outside_only(one))
    one.key(Key.Key_Space)
    one.picture("3-crack-keys")
    one.key(Key.Key_F3, Key.Key_B)
    arrows(one, 5, -10)
    one.key(Key.Key_Return)
    arrows(one, 1, 1)
    one.key(Key.Key_Return, Key.Key_3)
    arrows(one, 1, 1)
    one.key(Key.Key_Return)
    one.picture("4-bricks-keys")


def answer_what_is_left(one: Surveyor) -> None:
    """Answer the questions that still move something, so that the wall may be priced for good."""
    one.key(Key.Key_F2)
    card = one.columns.questions.card
    for _round in range(20):
        if card.question is None:
            return
        key = card.question.key
        press(CALM.get(key, "1\r"))
        QApplication.processEvents()
        if card.question is not None and card.question.key == key:
            press("\r")
            QApplication.processEvents()


def measured(one: Surveyor, *, by_keys: bool) -> None:
    """Say that the sizes were taken on site."""
    button = one.columns.wall.basis.buttons[Basis.MEASURED]
    if by_keys:
        one.key(Key.Key_F3)
        one.tab_to(button, Key.Key_Backtab)
        one.key(Key.Key_Space)
    else:
        one.press_button(button)


def price(one: Surveyor, *, by_keys: bool) -> dict[str, Any]:
    """Go from a mark to its price and back, see before and after, and tell what was priced."""
    sight = settled(one.shown)
    columns = one.columns
    pointed = point_by_keys(one) if by_keys else point_by_mouse(one)
    one.picture("5-price")
    one.key(Key.Key_Escape, Key.Key_F6)
    wait_until(lambda: columns.is_comparing, "before and after did not come up")
    one.picture("6-before-and-after")
    one.key(Key.Key_F6)
    return pointed | {
        "totals": [option.offer.total.pence for option in sight.options],
        "spreads": [option.spread is not None for option in sight.options],
        "route": sight.assessment.route.value,
        "button": columns.money.foot.button.text(),
        "compared": not columns.is_comparing,
    }


def point_by_mouse(one: Surveyor) -> dict[str, Any]:
    """Hold the pointer over a bar, which lights prices; then take a price up, which lights bars."""
    ladder, board = one.columns.money.ladder, one.board
    one.press_button(one.columns.wall.rail.buttons["point"])
    assert board.picture is not None
    bar = board.picture.bars[0]
    QTest.mouseMove(board, one.at((bar.left + 20, bar.y)))
    one.still()
    lit = [row.row.title for row in ladder.rows if row.is_lit]
    QTest.mouseMove(board, QPoint(2, 2))
    row = next(row for row in ladder.rows if bar.mark in row.row.marks)
    one.press_button(row)
    return {"mark": bar.mark, "prices": lit, "row": row.row.title, "lit": sorted(board.lit)}


def point_by_keys(one: Surveyor) -> dict[str, Any]:
    """Take a mark up on the wall, go to its price by M, and by M back to all its marks."""
    ladder, board = one.columns.money.ladder, one.board
    one.key(Key.Key_F3, Key.Key_P)
    while board.chosen is None or "/bar/" not in board.chosen.mark:
        one.key(Key.Key_Tab)
        assert board.hasFocus(), "no bar was met"
    mark = board.chosen.mark
    one.key(Key.Key_M)
    row = ladder.row_at
    assert row is not None, "the keyboard did not come to a price"
    lit = [row.row.title for row in ladder.rows if row.is_lit]
    one.key(Key.Key_M)
    assert board.hasFocus(), "the keyboard did not come back to the wall"
    return {"mark": mark, "prices": lit, "row": row.row.title, "lit": sorted(board.lit)}


def survey_paper(one: Surveyor) -> bytes:
    """Lay the survey paper beside the desk, and return it."""
    one.key(Key.Key_F7)
    preview = one.columns.preview
    wait_until(lambda: preview.shown is not None, "no survey paper was made")
    one.picture("7-survey-paper")
    assert preview.shown is not None
    return preview.shown.pdf


def half_way(one: Surveyor, saved: list[object]) -> bool:
    """Mark one more brick, wait until it is kept, and begin a crack; return whether it shows."""
    one.key(Key.Key_Escape, Key.Key_F3, Key.Key_B, Key.Key_4)
    saved.clear()
    one.click(middle(one.wall, 20, 2))
    wait_until(lambda: bool(saved), "the marked brick was not kept")
    one.key(Key.Key_C)
    one.click(joint(one.wall, 30, 14))
    QTest.mouseMove(one.board, one.at(joint(one.wall, 33, 16)))
    one.still()
    return one.columns.wall.drafting.is_trying


def opened(folder: Path) -> Iterator[Application]:
    QApplication.setStyle("Fusion")
    application.application(["perpend"])
    looks = QSettings(str(folder / "desk.ini"), QSettings.Format.IniFormat)
    shown = Application(folder, looks)
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    shown.desk.activateWindow()
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    wait_until(lambda: QApplication.focusWidget() is not None, "nothing has the keyboard")
    yield shown


DRAW: dict[str, Callable[[Surveyor], None]] = {"mouse": draw_by_mouse, "keys": draw_by_keys}


def main() -> None:
    folder, way = Path(sys.argv[1]), sys.argv[2]
    pictures = Path(sys.argv[3]) if len(sys.argv) > 3 else None
    found_a_firm(folder)
    for shown in opened(folder):
        watch = Watch()
        QApplication.instance().installEventFilter(watch)  # type: ignore[union-attr]
        saved: list[object] = []
        shown.session.saved.connect(saved.append)
        command(shown, Key.Key_N)
        began = time.monotonic()
        one = Surveyor(shown, pictures)
        DRAW[way](one)
        measured(one, by_keys=way == "keys")
        answer_what_is_left(one)
        told = price(one, by_keys=way == "keys")
        told["paper"] = base64.b64encode(survey_paper(one)).decode()
        told["seconds"] = time.monotonic() - began
        told |= {"uid": shown.session.job.uid, "half_drawn": half_way(one, saved)}
        told["windows"] = watch.windows
        print(json.dumps(told), flush=True)
        os.kill(os.getpid(), signal.SIGKILL)


if __name__ == "__main__":
    main()
