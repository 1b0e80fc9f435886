"""The desk's own icons, drawn as SVG in ``resources/icons`` and coloured by the look in use."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap, QPixmapCache
from PySide6.QtSvg import QSvgRenderer

from estimator import resources
from estimator.desktop.theme.look import LOOK

SIZES = (18, 48)


def icon(name: str, token: str = "ink") -> QIcon:
    """Return an icon in a colour of the look in use.

    Raises:
        KeyError: when there is no such icon.
    """
    made = QIcon()
    for size in SIZES:
        made.addPixmap(pixmap(name, size, token))
    return made


def pixmap(name: str, size: int, token: str = "ink") -> QPixmap:
    """Return an icon as a picture, sharp at twice its size [px]."""
    colour = LOOK.colour(token).name()
    key = f"perpend/{name}/{size}/{colour}"
    kept = QPixmap()
    # Qt's own store, which is emptied with the application.
    if QPixmapCache.find(key, kept):
        return kept
    picture = _drawn(name, size, colour)
    QPixmapCache.insert(key, picture)
    return picture


def _drawn(name: str, size: int, colour: str) -> QPixmap:
    # The drawings say currentColor, as the standard has it; Qt paints that black.
    drawing = resources.path(f"icons/{name}.svg").read_text(encoding="utf-8")
    coloured = drawing.replace("currentColor", colour)
    renderer = QSvgRenderer(QByteArray(coloured.encode()))
    picture = QPixmap(QSize(size * 2, size * 2))
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    renderer.render(painter, QRectF(0, 0, size * 2, size * 2))
    painter.end()
    picture.setDevicePixelRatio(2)
    return picture
