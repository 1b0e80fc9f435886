"""The right column: each choice's price, always current, or the words to say instead of one."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import saying
from estimator.desktop.money.cards import Cards
from estimator.desktop.money.foot import Foot
from estimator.desktop.money.ladder import Ladder
from estimator.desktop.money.offer_section import OfferSection
from estimator.desktop.money.row_list import RowList
from estimator.desktop.money.triage import RefusalPanel, cautions_of
from estimator.desktop.session import Session
from estimator.desktop.state import Sight
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.following import Following
from estimator.desktop.widgets.words import figures, words

EDGE, CARD_EDGE = 20, 12
"""Room beside words and beside cards. [px]"""


class AgreedMoney(QWidget):
    """What takes the place of the offer once it is agreed: a part with a list of its prices."""

    rows: RowList


class MoneyColumn(QFrame):
    """The money."""

    pointed = Signal(object)
    """The marks of the price pointed at, a frozenset; empty when none is."""
    paper_wanted = Signal()
    """The next thing to do was asked for: write the estimate or the quotation."""
    compare_wanted = Signal()
    """The wall before and after was asked for."""
    marks_wanted = Signal()
    """The keyboard wants to go from a price to its marks on the wall."""
    chosen = Signal(int)
    """Which of the options of the sight is chosen, so that the wall can draw it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self._tax = figures(role="second")
        self.cards = Cards()
        self.ladder = Ladder()
        self.offer = OfferSection(session)
        self.refusal = RefusalPanel()
        self.caution = CautionBox()
        self.problem = CautionBox()
        self.foot = Foot()
        self._agreed: AgreedMoney | None = None
        self._said: tuple[tuple[str, str], tuple[str, str]] | None = None
        self._before_foot: QWidget | None = None
        self._lay_out()
        self.cards.chosen.connect(self._choose)
        self.offer.opened.connect(self._order_tabs)
        self.ladder.pointed.connect(self.pointed)
        self.ladder.marks_wanted.connect(self.marks_wanted)
        self.foot.paper_wanted.connect(self.paper_wanted)
        self.cards.compare.clicked.connect(self._compare)
        session.sight_changed.connect(self.show_sight)
        Following(self._scroll)
        self.show_sight(session.sight)

    def show_sight(self, sight: Sight) -> None:
        """Show what is known of the prices now."""
        self._tax.setText(saying.tax_note(sight.options))
        refused = not sight.assessment.route.allows_price
        if refused:
            self.refusal.show_assessment(sight.assessment)
        self.refusal.setVisible(refused)
        self.cards.setVisible(bool(sight.options) and self._agreed is None)
        self._caution(sight)
        self.cards.show_sight(sight)
        self._show_ladder()
        self.offer.show_sight(sight)
        self.offer.setHidden(refused or self._agreed is not None)
        self.foot.show_sight(sight)

    def light(self, marks: frozenset[str]) -> None:
        """Light up the prices that marks on the wall belong to."""
        self.list_now.light(marks)

    @property
    def list_now(self) -> RowList:
        """The list of prices that is shown: of what is offered, or of what is agreed."""
        return self.ladder if self._agreed is None else self._agreed.rows

    def agree(self, agreed: AgreedMoney | None) -> None:
        """Show what follows from an agreement in place of what is offered; None for neither."""
        if agreed is self._agreed:
            return
        if self._agreed is not None:
            self._agreed.hide()
        self._agreed = agreed
        if agreed is None:
            self.foot.stand_back(self._session.sight)
        else:
            if agreed.parent() is not self._inside:
                self._middle.insertWidget(self._middle.indexOf(self.cards), agreed)
                agreed.rows.pointed.connect(self.pointed)
                agreed.rows.marks_wanted.connect(self.marks_wanted)
            agreed.show()
        self.show_sight(self._session.sight)

    def take_focus(self) -> None:
        """Put the keyboard on the chosen card, or on what there is to do without one."""
        if self._agreed is not None and self._agreed.rows.take_focus():
            return
        if self.cards.isHidden() or not self.cards.take_focus():
            self.foot.button.setFocus()

    def edit_offer(self) -> None:
        """Open what is offered and by which rules, to be changed in place."""
        if not self.offer.isHidden():
            self.offer.open()
            # Its height is known once it was laid out.
            QTimer.singleShot(0, self, lambda: self._scroll.ensureWidgetVisible(self.offer.editor))

    def _caution(self, sight: Sight) -> None:
        said = (cautions_of(sight.assessment), saying.problem(sight))
        if said != self._said:
            self._said = said
            (heading, text), (what, do) = said
            self.caution.say(text, heading=heading)
            self.problem.say(do, heading=what)

    def _choose(self, place: int) -> None:
        self._show_ladder()
        self.chosen.emit(place)

    def _compare(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.compare_wanted.emit()

    def _show_ladder(self) -> None:
        sight = self._session.sight
        if sight.options:
            self.ladder.show_option(sight.options[self.cards.at], sight)
        self.ladder.setVisible(bool(sight.options) and self._agreed is None)
        if self.ladder.last_row is not self._before_foot:
            self._order_tabs()

    def _order_tabs(self) -> None:
        """Have Tab come to the offer and the foot last, also when more was put before them."""
        self._before_foot = last = self.ladder.last_row
        if self.cards.cards and last is not None:
            self.setTabOrder(self.cards.cards[-1], self.cards.compare)
            self.setTabOrder(self.cards.compare, self.ladder.rows[0])
        if last is not None:
            self.setTabOrder(last, self.offer.row)
        self.setTabOrder(self.offer.last_stop, self.foot.button)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Order the stops of Tab in the window the column came to."""
        super().showEvent(event)
        self._order_tabs()

    def _make_room(self, _least: int, most: int) -> None:
        """Let the scroll bar stand where the edge is, so that nothing moves when it comes."""
        right = CARD_EDGE if most == 0 else 0
        self._middle.setContentsMargins(CARD_EDGE, 0, right, 8)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(EDGE, 16, EDGE, 8)
        head.addWidget(words(_("The money"), role="heading", wrap=False))
        head.addStretch()
        head.addWidget(self._tax)
        inside = self._inside = QWidget()
        middle = QVBoxLayout(inside)
        middle.setContentsMargins(CARD_EDGE, 0, CARD_EDGE, 8)
        middle.setSpacing(12)
        for part in (self.refusal, self.caution, self.problem):
            middle.addWidget(part)
        middle.addWidget(self.cards)
        middle.addWidget(self.ladder)
        middle.addWidget(self.offer)
        middle.addStretch()
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidget(inside)
        self._middle = middle
        self._scroll.verticalScrollBar().rangeChanged.connect(self._make_room)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(head)
        layout.addWidget(self._scroll, 1)
        layout.addWidget(self.foot)
