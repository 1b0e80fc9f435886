"""The right column: each choice's price, always current, or the words to say instead of one."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import saying
from estimator.desktop.money.cards import Cards
from estimator.desktop.money.foot import Foot
from estimator.desktop.session import Session
from estimator.desktop.state import Sight
from estimator.desktop.widgets.words import figures, words

EDGE = 16
"""Room at the sides of the column. [px]"""


class MoneyColumn(QFrame):
    """The money."""

    pointed = Signal(object)
    """The marks of the price pointed at, a frozenset; empty when none is."""
    paper_wanted = Signal()
    """The next thing to do was asked for: write the estimate or the quotation."""
    chosen = Signal(int)
    """Which of the options of the sight is chosen, so that the wall can draw it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self._tax = figures(role="second")
        self.cards = Cards()
        self.foot = Foot()
        self._lay_out()
        self.cards.chosen.connect(self.chosen)
        self.foot.paper_wanted.connect(self.paper_wanted)
        session.sight_changed.connect(self.show_sight)
        self.show_sight(session.sight)

    def show_sight(self, sight: Sight) -> None:
        """Show what is known of the prices now."""
        self._tax.setText(saying.tax_note(sight.options))
        self.cards.show_sight(sight)
        self.foot.show_sight(sight)

    def light(self, marks: frozenset[str]) -> None:
        """Light up the prices that marks on the wall belong to."""

    def take_focus(self) -> None:
        """Put the keyboard on the first choice."""
        self.cards.take_focus()

    def edit_offer(self) -> None:
        """Open what is offered and by which rules, to be changed in place."""

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(EDGE, 16, EDGE, 8)
        head.addWidget(words(_("The money"), role="heading", wrap=False))
        head.addStretch()
        head.addWidget(self._tax)
        inside = QWidget()
        middle = QVBoxLayout(inside)
        middle.setContentsMargins(8, 0, 8, 8)
        middle.setSpacing(12)
        middle.addWidget(self.cards)
        middle.addStretch()
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidget(inside)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(head)
        layout.addWidget(self._scroll, 1)
        layout.addWidget(self.foot)
