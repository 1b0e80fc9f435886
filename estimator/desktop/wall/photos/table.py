"""A board photographs can be dropped on, and lie under."""

from __future__ import annotations

from PySide6.QtGui import QDragEnterEvent, QDropEvent, QPainter
from PySide6.QtWidgets import QWidget

from estimator.desktop.wall.board import Board
from estimator.desktop.wall.photos import dropping
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.view import View


class PhotoTable(Board):
    """A board with an album under it."""

    def __init__(self, album: Album, parent: QWidget | None = None) -> None:
        """Lie over photographs."""
        super().__init__(parent)
        self._album = album
        self.setAcceptDrops(True)
        album.changed.connect(self.update)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802 - Qt's name
        """Welcome photographs."""
        dropping.welcome(event)

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802 - Qt's name
        """Take photographs in."""
        dropping.drop(self._album, event)

    def paint_under(self, painter: QPainter, seen: View) -> None:
        """Paint the photographs that lie square on the wall."""
        self._album.paint(painter, seen, self.size())
