"""The head of a page in the left column: what it is, and the way back."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words


def heading(text: str, go_back: Callable[[], object]) -> QHBoxLayout:
    """Return a heading with a quiet button back to the wall at its right."""
    row = QHBoxLayout()
    row.setContentsMargins(20, 0, 12, 0)
    row.addWidget(words(text, role="heading"), 1)
    back = quiet_button(_("Back"))
    back.setAccessibleName(_("Back to the wall"))
    back.setToolTip(_("Back to the wall (Esc)"))
    back.clicked.connect(lambda _ticked=False: go_back())
    row.addWidget(back)
    return row


def on_escape(widget: QWidget, act: Callable[[], object]) -> None:
    """Have Escape do something wherever the keyboard is in a part of the window."""
    key = QShortcut(QKeySequence(Qt.Key.Key_Escape), widget)
    key.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
    key.activated.connect(act)
