"""A hand on the wall: real presses and keys on the board of a column over a real session."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.column import WallColumn
from estimator.drawing.shapes import Picture
from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.survey.survey import Crack, Elevation, Opening, SteppedRun, Survey
from estimator.survey.wall import wall_of
from tests.desktop.fakes import session_on
from tests.desktop.wall.walls import demo

NONE = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
CTRL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier
LEFT = Qt.MouseButton.LeftButton

WINDOW = Opening("window", 1800.0, 900.0, 900.0, 1200.0)
CRACK = Crack("a", SteppedRun(1010.0, 4, 8), 2.0)


def plain_wall(**fields: object) -> Survey:
    """A wall of stretchers with a window, 16 bricks long and 32 courses high."""
    outline = ((0.0, 0.0), (3600.0, 0.0), (3600.0, 2400.0), (0.0, 2400.0))
    front = Elevation("front", "Front", outline, openings=(WINDOW,), cracks=(CRACK,))
    return replace(demo("window_lime"), elevations=(replace(front, **fields),))


class Hand:
    """What somebody does to the board."""

    def __init__(self, column: WallColumn) -> None:
        self.column = column
        self.board, self.drafting = column.board, column.drafting
        self.session = column.drafting.session
        self.said: list[str] = []
        self.drafting.said.connect(self._hear)

    def _hear(self, words: str) -> None:
        if words:
            self.said.append(words)

    # -- what there is

    @property
    def wall(self) -> Elevation:
        """The wall as the session has it, without what is tried out."""
        return self.session.work.survey.elevations[self.drafting.side]

    @property
    def coursing(self) -> Coursing:
        return wall_of(self.wall).coursing

    @property
    def picture(self) -> Picture:
        picture = self.drafting.shown
        assert picture is not None
        return picture

    @property
    def selection(self) -> str:
        return self.drafting.selection

    @property
    def hint(self) -> str:
        return self.column.hint.text()

    def words(self) -> list[str]:
        """What is said beside the hand."""
        ghosts = self.drafting.tool.ghosts()
        return [one.words for one in ghosts if hasattr(one, "words")]

    def joint(self, course: int, after: int) -> Point:
        """The middle of the bed under a course, where a perpend of it comes down after a brick."""
        return self.coursing.rhythm(course).perpend_after(after), self.coursing.bed_middle(course)

    # -- by mouse

    def take(self, name: str) -> None:
        self.column.rail.take(name)
        self.turn()

    def turn(self) -> None:
        QApplication.processEvents()
        QApplication.processEvents()

    def at(self, place: Point) -> QPoint:
        view = self.board.view
        assert view is not None
        return QPointF(*view.at(*place)).toPoint()

    def click(self, *places: Point, held: Qt.KeyboardModifier = NONE) -> None:
        for place in places:
            QTest.mouseMove(self.board, self.at(place))
            QTest.mouseClick(self.board, LEFT, held, self.at(place))
            self.turn()

    def right_click(self, place: Point) -> None:
        QTest.mouseClick(self.board, Qt.MouseButton.RightButton, NONE, self.at(place))
        self.turn()

    def double(self, place: Point) -> None:
        QTest.mouseMove(self.board, self.at(place))
        QTest.mouseDClick(self.board, LEFT, NONE, self.at(place))
        self.turn()

    def hover(self, place: Point) -> None:
        QTest.mouseMove(self.board, self.at(place))
        self.turn()

    def press(self, *places: Point) -> None:
        """Press at the first place and draw to the others, without letting go."""
        QTest.mousePress(self.board, LEFT, NONE, self.at(places[0]))
        for place in places[1:]:
            QTest.mouseMove(self.board, self.at(place))

    def let_go(self, place: Point) -> None:
        QTest.mouseRelease(self.board, LEFT, NONE, self.at(place))
        self.turn()

    def drag(self, *places: Point) -> None:
        self.press(*places)
        self.let_go(places[-1])

    # -- by keys

    def keys(self, *keys: Qt.Key | str, held: Qt.KeyboardModifier = NONE) -> None:
        for key in keys:
            QTest.keyClick(self.board, key, held)
            self.turn()

    def undo(self) -> None:
        self.session.history.undo()
        self.turn()


@contextmanager
def hand_on(
    qtbot: QtBot, folder: Path, survey: Survey, size: tuple[int, int] = (900, 1100)
) -> Iterator[Hand]:
    """A hand on a wall large enough to be seen whole."""
    session = session_on(folder, survey)
    column = WallColumn(session)
    qtbot.addWidget(column)
    column.resize(*size)
    column.show()
    qtbot.waitExposed(column)
    hand = Hand(column)
    room = column.board._room()
    assert room is not None
    # As far off as it goes, so that all of the wall can be reached.
    column.board.zoom(0.01, QPointF(0, 0))
    hand.turn()
    yield hand
    session.filing.close()
