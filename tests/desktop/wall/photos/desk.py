"""A wall on a session with an open file, and photographs dropped on it by real events."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QEvent, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.column import WallColumn
from estimator.desktop.wall.particulars.photo_form import PhotoForm
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.photos.number_line import NumberLine
from estimator.desktop.wall.photos.pane import PhotoPane
from estimator.survey.survey import Elevation, Photo, Survey
from tests.desktop.fakes import rest, session_on
from tests.desktop.wall.photos.scenes import CAMERA, crossing, photograph_in, seen

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
CORNERS = ((2, 2), (2, 16), (28, 16), (28, 2))
"""Courses up and bricks along of a stretch of the wall that is all in the picture."""


class PhotoHands:
    """A column, and hands on it."""

    def __init__(self, column: WallColumn, qtbot: QtBot) -> None:
        self.column, self.qtbot = column, qtbot
        self.session, self.drafting, self.board = (
            column.drafting.session,
            column.drafting,
            column.board,
        )

    @property
    def survey(self) -> Survey:
        return self.session.work.survey

    @property
    def wall(self) -> Elevation:
        return self.survey.elevations[self.drafting.side]

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

    def at(self, place: tuple[float, float]) -> QPoint:
        assert self.board.view is not None
        return QPointF(*self.board.view.at(*place)).toPoint()

    def click(self, place: tuple[float, float]) -> None:
        """Click on the drawing [mm]."""
        self.still()
        QTest.mouseClick(self.board, LEFT, pos=self.at(place))
        self.settle()

    def press(self, *keys: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        """Press keys where the keyboard is."""
        for key in keys:
            widget = QApplication.focusWidget()
            assert widget is not None
            QTest.keyClick(widget, key, held)
            self.settle()

    def undo(self) -> None:
        self.session.history.undo()
        self.settle()

    @property
    def album(self) -> Album:
        return self.drafting.album

    @property
    def pane(self) -> PhotoPane:
        return self.column.stage.pane

    @property
    def photo_form(self) -> PhotoForm:
        form = self.column.particulars.form
        assert isinstance(form, PhotoForm)
        return form

    @property
    def photo(self) -> Photo:
        return self.survey.photos[-1]

    def drop(self, data: QMimeData, onto: QWidget | None = None) -> bool:
        """Hold something over the wall and let it go; false where it was not welcome."""
        target = self.board if onto is None else onto
        middle = QPoint(target.width() // 2, target.height() // 2)
        actions = Qt.DropAction.CopyAction | Qt.DropAction.MoveAction
        none = Qt.KeyboardModifier.NoModifier
        held = QDragEnterEvent(middle, actions, data, LEFT, none)
        QApplication.sendEvent(target, held)
        if held.isAccepted():
            let_go = QDropEvent(QPointF(middle), actions, data, LEFT, none)
            QApplication.sendEvent(target, let_go)
        return held.isAccepted()

    def drop_files(self, *paths: Path) -> None:
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
        assert self.drop(data)

    def wait_for_photos(self, count: int = 1) -> None:
        self.qtbot.waitUntil(lambda: len(self.survey.photos) == count, timeout=20_000)
        self.qtbot.waitUntil(lambda: not self.album.taking.is_busy)
        self.settle()

    def drop_photograph(self, folder: Path, **named: bool) -> None:
        self.drop_files(photograph_in(folder, **named))
        self.wait_for_photos()
        self.qtbot.waitUntil(lambda: self.pane.isVisible() and self.pane.hasFocus())

    def on_pane(self, spot: tuple[float, float]) -> QPoint:
        return self.pane.sheet.at(spot).toPoint()

    def click_photo(self, spot: tuple[float, float]) -> None:
        """Click on the photograph, at a place of its picture [px]."""
        at = self.on_pane(spot)
        QTest.mouseMove(self.pane, at)
        QTest.mouseClick(self.pane, LEFT, pos=at)
        self.settle()

    def click_crossing(self, up: int, along: int) -> None:
        self.click_photo(seen(CAMERA, crossing(up, along)))

    def count(self, number: int, up: int | str, along: int | str) -> None:
        """Type where a point is, from 1."""
        row = self.photo_form.points.rows[number - 1]
        self.into_line(row.up, str(up))
        self.into_line(row.along, str(along))

    def into_line(self, line: NumberLine, text: str) -> None:
        line.setFocus()
        line.selectAll()
        QTest.keyClick(line, Qt.Key.Key_Delete)
        QTest.keyClicks(line, text)
        QTest.keyClick(line, Qt.Key.Key_Return)
        self.settle()

    def mark(self, counts: Sequence[tuple[int, int]] = CORNERS) -> None:
        """Click joints and type their counts."""
        first = len(self.album.marking.points)
        for up, along in counts:
            self.click_crossing(up, along)
        for number, (up, along) in enumerate(counts, first + 1):
            self.count(number, up, along)

    def finish(self) -> None:
        """Put the photograph down, and wait until it lies under the drawing."""
        QTest.mouseClick(self.photo_form.done, LEFT)
        self.settle()
        self.qtbot.waitUntil(self.board.hasFocus)
        self.wait_until_it_lies()

    def wait_until_it_lies(self) -> None:
        self.qtbot.waitUntil(lambda: self.album.lies_flat(self.photo), timeout=20_000)
        self.settle()

    def painted(self) -> QImage:
        return self.board.grab().toImage()


@contextmanager
def photo_hands(
    qtbot: QtBot, folder: Path, survey: Survey | None, size: tuple[int, int] = (640, 760)
) -> Iterator[PhotoHands]:
    """Put a wall up on a session whose file is open, and clear both away."""
    session = session_on(folder, survey)
    session.filing.open()
    column = WallColumn(session)
    column.resize(*size)
    column.show()
    qtbot.waitExposed(column)
    column.activateWindow()
    column.take_focus()
    qtbot.waitUntil(column.board.hasFocus)
    qtbot.waitUntil(lambda: session.filing.is_open, timeout=20_000)
    try:
        yield PhotoHands(column, qtbot)
        rest(session)
    finally:
        column.close()
        column.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        session.filing.close()
