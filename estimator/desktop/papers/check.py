"""One page to check before a paper goes out; then it is frozen, numbered and kept."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers.preview import PreviewColumn
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words


class CheckColumn(QFrame):
    """What the paper will say, line by line, each with a way to change it."""

    left = Signal()
    """Back to the wall."""

    def __init__(
        self, session: Session, preview: PreviewColumn, parent: QWidget | None = None
    ) -> None:
        """Follow a session, and show its paper in a preview."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session, self._preview = session, preview
        layout = QVBoxLayout(self)
        layout.addWidget(words(_("Check before it goes out"), role="heading"))
        layout.addStretch()

    def begin(self) -> None:
        """Make the paper anew and start checking."""

    def email(self) -> None:
        """Put the last paper into a message of the person's own mail program."""

    def print_paper(self) -> None:
        """Print the paper."""
