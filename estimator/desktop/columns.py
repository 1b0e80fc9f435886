"""The three columns that never move: what we know, the wall, the money."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.questions.column import QuestionsColumn
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.side_by_side import SideBySide

if TYPE_CHECKING:
    from estimator.desktop.money.column import MoneyColumn
    from estimator.desktop.papers.check import CheckColumn
    from estimator.desktop.papers.preview import PreviewColumn
    from estimator.desktop.pointing import Pointing
    from estimator.desktop.readings.panel import ReadingsPanel
    from estimator.desktop.state import OpenJob
    from estimator.desktop.wall.column import WallColumn
    from estimator.desktop.wall.compare import Comparison

SHARES = (350, 640, 376)
"""Widths at 1366; what is more goes to the wall. [px]"""
LEAST = (300, 380, 330)
ABREAST = 900
"""Room in which drawings abreast are read well; with less, the questions give way. [px]"""


class Columns(QWidget):
    """Columns side by side; only what is in the left and the middle changes with the stage.

    They are filled from the left: the first question can be answered while the rest is loading.
    """

    paper_state_changed = Signal(bool)
    """Whether a paper lies in the middle."""
    wall: WallColumn
    money: MoneyColumn
    preview: PreviewColumn
    check: CheckColumn
    readings: ReadingsPanel
    comparison: Comparison
    pointing: Pointing

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Put the questions at the left; ``finish`` brings what needs the pricing engine."""
        super().__init__(parent)
        self._session, self._uid = session, session.job.uid
        self.questions = QuestionsColumn(session)
        self._left, self._middle = QStackedWidget(), QStackedWidget()
        self._left.addWidget(self.questions)
        self._right = QStackedWidget()
        for stack in (self._middle, self._right):
            ground = QFrame()
            ground.setProperty("role", "column")
            stack.addWidget(ground)
        parts = (self._left, self._middle, self._right)
        self.splitter = SideBySide(parts, shares=SHARES, least=LEAST)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.splitter)

    def finish(self) -> None:
        """Load the pricing engine, and put the wall, the money and the papers in."""
        # Loaded only now: the first question stands open while this comes in.
        from estimator.desktop.money.column import MoneyColumn  # noqa: PLC0415
        from estimator.desktop.papers.check import CheckColumn  # noqa: PLC0415
        from estimator.desktop.papers.heading import on_escape  # noqa: PLC0415
        from estimator.desktop.papers.preview import PreviewColumn  # noqa: PLC0415
        from estimator.desktop.pointing import Pointing  # noqa: PLC0415
        from estimator.desktop.readings.panel import ReadingsPanel  # noqa: PLC0415
        from estimator.desktop.wall.column import WallColumn  # noqa: PLC0415
        from estimator.desktop.wall.compare import Comparison  # noqa: PLC0415

        session = self._session
        session.refresh()
        self.wall, self.money = WallColumn(session), MoneyColumn(session)
        self.preview, self.readings = PreviewColumn(session), ReadingsPanel(session)
        self.check = CheckColumn(session, self.preview)
        self.comparison = Comparison(session)
        self._left.addWidget(self.check)
        for page in (self.wall, self.preview, self.readings, self.comparison):
            self._middle.addWidget(page)
        self._middle.setCurrentWidget(self.wall)
        self._right.addWidget(self.money)
        self._right.setCurrentWidget(self.money)
        self.pointing = Pointing(self.wall, self.money)
        self.money.compare_wanted.connect(self.compare)
        self.money.chosen.connect(self.comparison.show_chosen)
        self.comparison.chosen.connect(self.money.cards.choose)
        self.comparison.left.connect(self.look_at_wall)
        self.money.paper_wanted.connect(self.show_paper)
        self.money.chosen.connect(self.wall.show_option)
        self.check.left.connect(self.show_wall)
        self.readings.left.connect(self.show_wall)
        on_escape(self.readings, self.show_wall)
        session.job_changed.connect(self._job_changed)

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
        self._left.show()
        self._left.setCurrentWidget(self.check)
        self._middle.setCurrentWidget(self.preview)
        # One filled button on the screen: the next thing to do is in the left column now.
        self.money.foot.hide()
        self.check.begin()
        self.paper_state_changed.emit(True)

    def _job_changed(self, job: OpenJob) -> None:
        """Put the paper of the job before away: it must never lie beside another one."""
        is_another, self._uid = job.uid != self._uid, job.uid
        if is_another and (self.has_paper or self.is_comparing):
            self.show_wall()

    @property
    def is_comparing(self) -> bool:
        """Whether the wall before and after stands in the middle."""
        return self._middle.currentWidget() is self.comparison

    def compare(self) -> None:
        """Put the wall as it is and after each option side by side, or put the wall back."""
        if self.is_comparing:
            self.look_at_wall()
        elif self._session.sight.options:
            self.show_wall()
            self._left.setVisible(self._middle.width() >= LOOK.px(ABREAST))
            self._middle.setCurrentWidget(self.comparison)
            self.comparison.begin(self.wall.drafting.side, self.money.cards.at)

    def next_thing(self) -> None:
        """Do what the one filled button does: write the paper, issue it, send it."""
        button = self.money.foot.button
        if self.has_paper:
            checking = self.check.pages.currentWidget() is self.check.page
            button = self.check.page.issue if checking else self.check.gone_page.email
        if button.isEnabled():
            button.click()

    def take_focus(self) -> None:
        """Put the keyboard where the work is: on the paper that is checked, or the question."""
        if self.has_paper:
            self.check.take_focus()
        else:
            self.questions.take_focus()

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
        """Put the paper away, or the drawings beside each other."""
        self._left.show()
        self._left.setCurrentWidget(self.questions)
        self._middle.setCurrentWidget(self.wall)
        self.money.foot.show()
        self.questions.take_focus()
        self.paper_state_changed.emit(False)
