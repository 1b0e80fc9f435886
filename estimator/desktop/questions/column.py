"""The left column of a call: what is known, the next question, and what may follow."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words


class QuestionsColumn(QFrame):
    """What we know."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        layout = QVBoxLayout(self)
        layout.addWidget(words(_("What we know"), role="heading"))
        layout.addStretch()

    def take_focus(self) -> None:
        """Put the cursor into the question that is open."""
        self.setFocus()

    def next_question(self) -> None:
        """Open the question best asked next."""

    def ask_customer(self) -> None:
        """Put the cursor into the caller's name."""
