"""The tick and the dot of boxes to be ticked: a style sheet takes pictures from files only."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt, QTemporaryDir
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QPolygonF

SIDE = 36
"""Twice the size they are shown at. [px]"""
TICK = ((9.0, 18.5), (15.5, 25.0), (27.0, 11.5))


class Marks:
    """Draws the marks in a colour and keeps them in a folder of its own while the window lives."""

    def __init__(self) -> None:
        """Make the folder."""
        self._folder = QTemporaryDir()

    def tick(self, colour: QColor) -> str:
        """Return the file of a tick."""
        picture = _blank()
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        round_cap, round_join = Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
        painter.setPen(QPen(colour, 4.5, Qt.PenStyle.SolidLine, round_cap, round_join))
        painter.drawPolyline(QPolygonF([QPointF(*point) for point in TICK]))
        painter.end()
        return self._kept(picture, f"tick-{colour.rgb():x}")

    def dot(self, colour: QColor) -> str:
        """Return the file of a dot."""
        picture = _blank()
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawEllipse(QPointF(SIDE / 2, SIDE / 2), SIDE / 4.5, SIDE / 4.5)
        painter.end()
        return self._kept(picture, f"dot-{colour.rgb():x}")

    def _kept(self, picture: QImage, name: str) -> str:
        path = self._folder.filePath(f"{name}.png")
        picture.save(path)
        return path


def _blank() -> QImage:
    picture = QImage(SIDE, SIDE, QImage.Format.Format_ARGB32_Premultiplied)
    picture.fill(Qt.GlobalColor.transparent)
    return picture
