"""The right column: each choice's price, always current, or the words to say instead of one."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words


class MoneyColumn(QFrame):
    """The money."""

    pointed = Signal(object)
    """The marks of the price pointed at, a frozenset; empty when none is."""
    paper_wanted = Signal()
    """The next thing to do was asked for: write the estimate or the quotation."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        layout = QVBoxLayout(self)
        layout.addWidget(words(_("The money"), role="heading"))
        layout.addStretch()

    def light(self, marks: frozenset[str]) -> None:
        """Light up the prices that marks on the wall belong to."""

    def take_focus(self) -> None:
        """Put the keyboard on the first choice."""
        self.setFocus()

    def edit_offer(self) -> None:
        """Open what is offered and by which rules, to be changed in place."""
