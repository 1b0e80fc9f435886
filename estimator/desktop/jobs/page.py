"""All jobs: found by name, place or number; what needs me today first."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words


class JobsPage(QFrame):
    """Jobs, as a page of its own."""

    opened = Signal(str)
    """The uid of the job somebody wants on the desk."""
    new_wanted = Signal()
    """Somebody wants a new call."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session; nothing is asked of the file before the page is shown."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        layout = QVBoxLayout(self)
        layout.addWidget(words(_("Jobs"), role="heading"))
        layout.addStretch()

    def begin(self) -> None:
        """Show what there is now; called whenever the page comes to the front."""

    def seek(self, words_typed: str) -> None:
        """Show what fits the words typed into the field above."""
