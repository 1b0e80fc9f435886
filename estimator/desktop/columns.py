"""The three columns that never move: what we know, the wall, the money."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSplitter, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.money.column import MoneyColumn
from estimator.desktop.papers.check import CheckColumn
from estimator.desktop.papers.preview import PreviewColumn
from estimator.desktop.questions.column import QuestionsColumn
from estimator.desktop.readings.panel import ReadingsPanel
from estimator.desktop.session import Session
from estimator.desktop.wall.column import WallColumn

SHARES = (350, 640, 376)
"""Widths at 1366; what is more goes to the wall. [px]"""
LEAST = (300, 380, 330)


class Columns(QWidget):
    """Columns side by side; only what is in the left and the middle changes with the stage."""

    paper_state_changed = Signal(bool)
    """Whether a paper lies in the middle."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Lay the columns out over one session."""
        super().__init__(parent)
        self.questions = QuestionsColumn(session)
        self.wall = WallColumn(session)
        self.money = MoneyColumn(session)
        self.preview = PreviewColumn(session)
        self.check = CheckColumn(session, self.preview)
        self.readings = ReadingsPanel(session)
        self._session = session
        self._left, self._middle = QStackedWidget(), QStackedWidget()
        for stack, pages in (
            (self._left, (self.questions, self.check)),
            (self._middle, (self.wall, self.preview, self.readings)),
        ):
            for page in pages:
                stack.addWidget(page)
        splitter = QSplitter(Qt.Orientation.Horizontal)
        splitter.setHandleWidth(1)
        splitter.setChildrenCollapsible(False)
        for place, part in enumerate((self._left, self._middle, self.money)):
            part.setMinimumWidth(LEAST[place])
            splitter.addWidget(part)
            splitter.setStretchFactor(place, 1 if part is self._middle else 0)
        splitter.setSizes(list(SHARES))
        self.splitter = splitter
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(splitter)
        # Point at a price and the wall lights up; point at the wall and the price lights up.
        self.money.pointed.connect(self.wall.light)
        self.wall.pointed.connect(self.money.light)
        self.money.paper_wanted.connect(self.show_paper)
        self.money.chosen.connect(self.wall.show_option)
        self.check.left.connect(self.show_wall)

    @property
    def has_paper(self) -> bool:
        """Whether a paper lies in the middle."""
        return self._middle.currentWidget() is self.preview

    def show_paper(self) -> None:
        """Lay the paper beside the desk: checked at the left, looked at in the middle.

        Nothing is laid there while the wall needs somebody else first: no paper bears no price.
        """
        if not self._session.sight.options:
            return
        self._left.setCurrentWidget(self.check)
        self._middle.setCurrentWidget(self.preview)
        # One filled button on the screen: the next thing to do is in the left column now.
        self.money.foot.hide()
        self.check.begin()
        self.paper_state_changed.emit(True)

    def next_thing(self) -> None:
        """Do what the one filled button does: write the paper, issue it, send it."""
        button = self.money.foot.button
        if self.has_paper:
            checking = self.check.pages.currentWidget() is self.check.page
            button = self.check.page.issue if checking else self.check.gone_page.email
        if button.isEnabled():
            button.click()

    def show_readings(self) -> None:
        """Put the readings of watched cracks where the wall was."""
        self.show_wall()
        self._middle.setCurrentWidget(self.readings)
        self.readings.take_focus()

    def look_at_wall(self) -> None:
        """Put the keyboard on the wall, whatever lay over it."""
        self.show_wall()
        self.wall.take_focus()

    def show_wall(self) -> None:
        """Put the paper away."""
        self._left.setCurrentWidget(self.questions)
        self._middle.setCurrentWidget(self.wall)
        self.money.foot.show()
        self.questions.take_focus()
        self.paper_state_changed.emit(False)
