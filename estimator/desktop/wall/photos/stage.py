"""The photograph beside the drawing where there is room for both, else in its place."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.drawing_board import DrawingBoard
from estimator.desktop.wall.photos.pane import PhotoPane

ROOM_FOR_BOTH_PX = 860
"""From this width on the drawing stays beside the photograph [px]."""


class Stage(QObject):
    """Brings the photograph to the front while its points are being marked."""

    def __init__(self, board: DrawingBoard, layout: QHBoxLayout, column: QWidget) -> None:
        """Stand beside a board."""
        super().__init__(column)
        self.board, self._column = board, column
        self.pane = PhotoPane(board.drafting.album)
        self.pane.hide()
        layout.insertWidget(layout.indexOf(board), self.pane, 1)
        self._marking = board.drafting.album.marking
        self._marking.changed.connect(self._follow)
        self._marking.changed.connect(board.drafting.ghosts_changed)
        board.drafting.album.wanted.connect(self._take_tool)
        board.drafting.album.changed.connect(self._say_trouble)
        board.drafting.left_particulars.connect(self._take_back)
        column.installEventFilter(self)

    @property
    def has_room_for_both(self) -> bool:
        """Whether photograph and drawing stand side by side."""
        return self._column.width() >= LOOK.px(ROOM_FOR_BOTH_PX)

    def _take_tool(self) -> None:
        self.board.letter("F")

    def _take_back(self) -> None:
        """Take the keyboard back from the particulars while the photograph is in front."""
        if self.pane.isVisible():
            self._give_keyboard(self.pane)

    def _say_trouble(self) -> None:
        """Say above the board what the particulars say once there is a wall."""
        drafting = self.board.drafting
        if drafting.elevation is None and drafting.album.trouble:
            drafting.said.emit(drafting.album.trouble)

    def _follow(self) -> None:
        is_marking = bool(self._marking.photo)
        shows_pane = is_marking and (self.has_room_for_both or not self._marking.is_awaiting)
        shows_board = not is_marking or self.has_room_for_both or self._marking.is_awaiting
        had_keyboard = self.board.hasFocus() or self.pane.hasFocus()
        came = shows_pane and self.pane.isHidden()
        changed = came or self.board.isHidden() == shows_board or self.pane.isHidden() == shows_pane
        self.pane.setVisible(shows_pane)
        self.board.setVisible(shows_board)
        if changed and (had_keyboard or came):
            self._give_keyboard(self.pane if shows_pane else self.board)

    def _give_keyboard(self, to: QWidget) -> None:
        if to.isVisible():
            to.setFocus(Qt.FocusReason.OtherFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """See whether there is room for both whenever the column is made wider."""
        if event.type() == QEvent.Type.Resize and self._marking.photo:
            self._follow()
        return super().eventFilter(watched, event)
