"""Buttons: one filled, the rest quiet."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QPushButton, QToolButton

from estimator.desktop.theme.icons import icon
from estimator.desktop.theme.look import LOOK


def escaped(text: str) -> str:
    """Return text from data for a button or menu, where a lone ``&`` would vanish."""
    return text.replace("&", "&&")


def main_button(text: str) -> QPushButton:
    """Return the one filled button of a screen: the next thing to do."""
    return _button(text, "main")


def button(text: str) -> QPushButton:
    """Return a usual button."""
    return _button(text, "")


def quiet_button(text: str) -> QPushButton:
    """Return a button that looks like words until it is wanted."""
    return _button(text, "quiet")


def row_button(text: str) -> QPushButton:
    """Return a line of a list that can be taken up, aligned left."""
    return _button(text, "row")


def icon_button(name: str, said: str) -> QToolButton:
    """Return a button that shows an icon and says its name to a screen reader and a pointer."""
    made = QToolButton()
    made.setIcon(icon(name))
    made.setIconSize(QSize(LOOK.px(18), LOOK.px(18)))
    made.setProperty("role", "quiet")
    made.setAccessibleName(said)
    made.setToolTip(said)
    made.setMinimumSize(LOOK.px(32), LOOK.px(32))
    LOOK.changed.connect(lambda: made.setIcon(icon(name)))
    return made


def _button(text: str, role: str) -> QPushButton:
    made = QPushButton(text)
    made.setAutoDefault(False)
    if role:
        made.setProperty("role", role)
    return made
