"""The middle column: the wall drawn live, with what is guessed drawn lighter."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words


class WallColumn(QFrame):
    """The wall."""

    pointed = Signal(object)
    """The marks under the pointer, a frozenset; empty when it leaves."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        layout = QVBoxLayout(self)
        layout.addWidget(words(_("The wall"), role="heading"))
        layout.addStretch()

    def light(self, marks: frozenset[str]) -> None:
        """Light up marks and let the rest fade; none lights all alike."""

    def take_focus(self) -> None:
        """Put the keyboard on the wall."""
        self.setFocus()
