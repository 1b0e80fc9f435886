"""A wall on a real session with its particulars, drawn on and typed at by real events."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.column import WallColumn
from estimator.desktop.wall.particulars.field import SizeField, TypedField
from estimator.desktop.wall.particulars.form import Form
from estimator.masonry.region import Point
from estimator.survey.survey import Elevation, Survey
from tests.desktop.fakes import rest, session_on

Key = Qt.Key


class Hands:
    """A column, and hands on it."""

    def __init__(self, column: WallColumn, qtbot: QtBot) -> None:
        self.column, self.qtbot = column, qtbot
        self.session, self.drafting = column.drafting.session, column.drafting
        self.board = column.board

    @property
    def survey(self) -> Survey:
        return self.session.work.survey

    @property
    def wall(self) -> Elevation:
        return self.survey.elevations[self.drafting.side]

    @property
    def form(self) -> Form:
        form = self.column.particulars.form
        assert form is not None
        return form

    def settle(self) -> None:
        """Let the wall follow the session, which it does in the next turn."""
        QApplication.processEvents()
        QApplication.processEvents()

    def take(self, tool: str) -> None:
        self.column.rail.take(tool)
        self.still()

    def still(self) -> None:
        """Wait until the view has come to rest."""
        self.qtbot.waitUntil(lambda: not self.board.is_moving)

    def at(self, place: Point) -> QPoint:
        assert self.board.view is not None
        return QPointF(*self.board.view.at(*place)).toPoint()

    def drag(self, start: Point, *along: Point, let_go: bool = True) -> None:
        self.still()
        spots = [self.at(one) for one in (start, *along)]
        QTest.mousePress(self.board, Qt.MouseButton.LeftButton, pos=spots[0])
        for spot in spots[1:]:
            QTest.mouseMove(self.board, spot)
        if let_go:
            QTest.mouseRelease(self.board, Qt.MouseButton.LeftButton, pos=spots[-1])
            self.settle()

    def click(self, place: Point) -> None:
        self.still()
        QTest.mouseClick(self.board, Qt.MouseButton.LeftButton, pos=self.at(place))
        self.settle()

    def press(self, *keys: Qt.Key) -> None:
        """Press keys where the keyboard is."""
        for key in keys:
            widget = QApplication.focusWidget()
            assert widget is not None, "nothing has the keyboard"
            QTest.keyClick(widget, key)
            self.settle()

    def field(self, label: str) -> TypedField:
        typed = (one for one in self.form.fields if isinstance(one, TypedField))
        return next(one for one in typed if one.about.label == label)

    def size(self, label: str) -> SizeField:
        field = self.field(label)
        assert isinstance(field, SizeField)
        return field

    def into(self, label: str) -> None:
        """Put the keyboard into a field, its text selected."""
        self.field(label).line.setFocus()
        self.field(label).line.selectAll()

    def type(self, text: str) -> None:
        widget = QApplication.focusWidget()
        assert widget is not None, "nothing has the keyboard"
        QTest.keyClicks(widget, text)
        self.settle()

    def undo(self) -> None:
        self.session.history.undo()
        self.settle()


@contextmanager
def hands_on(
    qtbot: QtBot, folder: Path, survey: Survey | None = None, size: tuple[int, int] = (640, 690)
) -> Iterator[Hands]:
    """Put a wall up on a session, and clear both away."""
    session = session_on(folder, survey)
    column = WallColumn(session)
    column.resize(*size)
    column.show()
    qtbot.waitExposed(column)
    column.activateWindow()
    column.take_focus()
    qtbot.waitUntil(column.board.hasFocus)
    yield Hands(column, qtbot)
    rest(session)
    column.close()
    column.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    session.filing.close()
