"""The paper as it will be printed, drawn off the window's thread."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words


class PreviewColumn(QFrame):
    """The pages of a PDF, one under the other."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        layout = QVBoxLayout(self)
        layout.addWidget(words(_("The paper"), role="heading"))
        layout.addStretch()
