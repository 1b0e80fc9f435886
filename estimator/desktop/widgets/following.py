"""Keeps what the keyboard comes to in sight, from wherever it comes."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from estimator.desktop.theme.look import LOOK

ROUND = 12
"""Room kept above and below. [px]"""


class Following(QObject):
    """Scrolls an area to what takes the keyboard; Qt does so only for Tab from within."""

    def __init__(self, area: QScrollArea) -> None:
        """Follow the keyboard for one area."""
        super().__init__(area)
        self._area = area
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow)

    def _follow(self, _before: QWidget | None, now: QWidget | None) -> None:
        # A press of the mouse must not move what it hits.
        pressed = QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton
        if now is not None and not pressed and self._area.isAncestorOf(now):
            self._area.ensureWidgetVisible(now, 0, LOOK.px(ROUND))
