"""Buttons: one filled, the rest quiet."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QAbstractButton, QPushButton, QToolButton

from estimator.desktop.theme.icons import icon
from estimator.desktop.theme.look import LOOK


def escaped(text: str) -> str:
    """Return text from data for a button or menu, where a lone ``&`` would vanish."""
    return text.replace("&", "&&")


def main_button(text: str) -> QPushButton:
    """Return the one filled button of a screen: the next thing to do."""
    return _dressed(MainButton(text), "main")


def button(text: str) -> QPushButton:
    """Return a usual button."""
    return _button(text, "")


def quiet_button(text: str) -> QPushButton:
    """Return a button that looks like words until it is wanted."""
    return _button(text, "quiet")


def row_button(text: str) -> QPushButton:
    """Return a line of a list that can be taken up, aligned left."""
    return _button(text, "row")


class MainButton(QPushButton):
    """A filled button that takes a double click for one press.

    The page under a finger changes with the first press; what stands there then was not meant.
    """

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take the second press for none."""
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take a key that is held down for one press."""
        if event.isAutoRepeat():
            event.accept()
        else:
            super().keyPressEvent(event)


class IconButton(QToolButton):
    """A button that shows an icon, redrawn with the look."""

    def __init__(self, name: str, said: str) -> None:
        """Show an icon, and say a name to a screen reader and a pointer."""
        super().__init__()
        self._icon = name
        self.setProperty("role", "quiet")
        self.setAccessibleName(said)
        self.setToolTip(said)
        self._redraw()
        # A bound method and no lambda: Qt then lets go of it when the button is gone.
        LOOK.changed.connect(self._redraw)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Be pressed by Enter too, which Qt gives to the space bar alone."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def _redraw(self) -> None:
        self.setIcon(icon(self._icon))
        self.setIconSize(QSize(LOOK.px(18), LOOK.px(18)))
        self.setMinimumSize(LOOK.px(32), LOOK.px(32))


def one_stop(buttons: Iterable[QAbstractButton]) -> None:
    """Let Tab stop once at buttons of which one is taken; arrows go on from there to the rest."""
    every = list(buttons)
    is_any = any(one.isChecked() for one in every)
    for one in every:
        is_stop = one.isChecked() or not is_any
        one.setFocusPolicy(Qt.FocusPolicy.StrongFocus if is_stop else Qt.FocusPolicy.ClickFocus)


def _button(text: str, role: str) -> QPushButton:
    return _dressed(QPushButton(text), role)


def _dressed(made: QPushButton, role: str) -> QPushButton:
    # Only so does Enter press it: without this, Qt gives Enter to dialogs alone.
    made.setAutoDefault(True)
    if role:
        made.setProperty("role", role)
    return made
