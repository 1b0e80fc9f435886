"""The three columns that never move: what we know, the wall, the money."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.questions.column import QuestionsColumn
from estimator.desktop.session import Session
from estimator.desktop.state import knows_wall
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.side_by_side import SideBySide
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.account.accounting import Accounting
    from estimator.desktop.agreed.agreeing import Agreeing
    from estimator.desktop.money.column import MoneyColumn
    from estimator.desktop.papers.check import CheckColumn
    from estimator.desktop.papers.elevation_file import ElevationFile
    from estimator.desktop.papers.preview import PreviewColumn
    from estimator.desktop.papers.survey_column import SurveyColumn
    from estimator.desktop.pointing import Pointing
    from estimator.desktop.readings.panel import ReadingsPanel
    from estimator.desktop.state import OpenJob
    from estimator.desktop.wall.column import WallColumn
    from estimator.desktop.wall.compare import Comparison
    from estimator.desktop.works.working import Working

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
    agreeing: Agreeing
    working: Working
    accounting: Accounting
    wall: WallColumn
    money: MoneyColumn
    preview: PreviewColumn
    check: CheckColumn
    survey: SurveyColumn
    elevation: ElevationFile
    readings: ReadingsPanel
    comparison: Comparison
    pointing: Pointing

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Put the questions at the left; ``finish`` brings what needs the pricing engine."""
        super().__init__(parent)
        self._session, self._uid = session, session.job.uid
        self.questions = QuestionsColumn(session)
        self._home: QWidget = self.questions
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
        from estimator.desktop.agreed.agreeing import Agreeing  # noqa: PLC0415
        from estimator.desktop.money.column import MoneyColumn  # noqa: PLC0415
        from estimator.desktop.papers.check import CheckColumn  # noqa: PLC0415
        from estimator.desktop.papers.elevation_file import ElevationFile  # noqa: PLC0415
        from estimator.desktop.papers.preview import PreviewColumn  # noqa: PLC0415
        from estimator.desktop.papers.survey_column import SurveyColumn  # noqa: PLC0415
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
        self.survey = SurveyColumn(session, self.preview, self._option)
        self.elevation = ElevationFile(self.wall.drafting, self)
        self.agreeing = Agreeing(session, self.preview, self.money, self)
        self._put_works_in()
        for beside in (self.check, self.survey, self.agreeing.job):
            self._left.addWidget(beside)
        for page in (self.wall, self.preview, self.readings, self.comparison):
            self._middle.addWidget(page)
        self._middle.setCurrentWidget(self.wall)
        self._right.addWidget(self.money)
        self._right.setCurrentWidget(self.money)
        self.pointing = Pointing(self.wall, self.money)
        self._connect()

    def _connect(self) -> None:
        """Have the parts lead to one another."""
        from estimator.desktop.papers.heading import on_escape  # noqa: PLC0415 - as above

        self.money.compare_wanted.connect(self.compare)
        self.money.chosen.connect(self.comparison.show_chosen)
        self.comparison.chosen.connect(self.money.cards.choose)
        self.comparison.left.connect(self.look_at_wall)
        self.money.paper_wanted.connect(self.show_paper)
        self.money.chosen.connect(self.wall.show_option)
        self.money.chosen.connect(self.survey.show_option)
        self.check.left.connect(self.show_wall)
        self.check.wall_wanted.connect(self.show_on_wall)
        self.survey.left.connect(self.show_wall)
        self.survey.wall_wanted.connect(self.show_on_wall)
        self.readings.left.connect(self.show_wall)
        on_escape(self.readings, self.show_wall)
        self.check.accept_wanted.connect(self.agreeing.accept)
        self.agreeing.agreed.connect(self._agree)
        self.agreeing.paper_wanted.connect(self.show_issued)
        self.agreeing.job.opened.connect(self._show_job)
        self.agreeing.job.laid.connect(self._lay_beside_job)
        self.agreeing.job.left.connect(self.show_questions)
        self._session.job_changed.connect(self._job_changed)

    def _put_works_in(self) -> None:
        """Put what follows the agreement into the column of the job."""
        from estimator.desktop.account.accounting import Accounting  # noqa: PLC0415 - as above
        from estimator.desktop.works.working import Working  # noqa: PLC0415

        self.working = Working(self.agreeing, self.wall, self)
        self.accounting = Accounting(self.agreeing, self.working, self)

    @property
    def has_paper(self) -> bool:
        """Whether a paper lies in the middle."""
        return self._middle.currentWidget() is self.preview

    def show_paper(self) -> None:
        """Lay the paper beside the desk: checked at the left, looked at in the middle.

        Nothing is laid there while the wall needs somebody else first: no paper bears no price.
        """
        if self._session.sight.options:
            self._lay_paper(self.check)

    def show_survey_paper(self) -> None:
        """Lay the paper of the survey beside the desk, whether or not the wall may be priced."""
        if knows_wall(self._session.work.survey):
            self._lay_paper(self.survey)
            return
        why = _("nothing is known of the wall yet, so there is no paper of it")
        do = _("answer the first questions, or draw the wall")
        self._session.mistaken.emit(UserMistake(why, do=do))

    def show_issued(self, number: str) -> None:
        """Lay a paper that went out beside the desk, as it was kept."""
        self._lay_paper(self.check, begin=False)
        self.check.show_number(number)

    def _lay_paper(self, beside: CheckColumn | SurveyColumn, *, begin: bool = True) -> None:
        self._leave_job()
        self._left.show()
        self._left.setCurrentWidget(beside)
        self.preview.belong_to(beside)
        self._middle.setCurrentWidget(self.preview)
        # One filled button on the screen: the next thing to do is in the left column now.
        self.money.foot.hide()
        if begin:
            beside.begin()
        self.paper_state_changed.emit(True)

    def go_to(self, stage: str) -> None:
        """Bring up what belongs to a stage of the job."""
        if stage == "enquiry":
            self.show_questions()
        elif stage == "survey":
            self.look_at_wall()
        elif stage != "quotation":
            self.show_job(stage)
        elif numbers := self._session.job.papers:
            self.show_issued(numbers[-1])
        else:
            self.show_paper()

    # -- the job once it is agreed

    @property
    def is_at_job(self) -> bool:
        """Whether the left column shows what was agreed and what follows from it."""
        return self._left.currentWidget() is self.agreeing.job

    def show_job(self, name: str = "") -> None:
        """Bring the agreement up, with one of its parts in sight."""
        self.agreeing.job.open(name)

    def show_questions(self) -> None:
        """Bring what we know to the left, whatever is agreed."""
        self.show_wall()
        self._leave_job()
        self._left.setCurrentWidget(self.questions)
        self.questions.take_focus()

    def _show_job(self, page: str) -> None:
        """Show the column of the job; a page of its own has the one filled button."""
        self._left.show()
        self._left.setCurrentWidget(self.agreeing.job)
        if not self.agreeing.job.has_paper:
            self._middle.setCurrentWidget(self.wall)
        self.money.foot.setVisible(not page)

    def _lay_beside_job(self, is_laid: bool) -> None:  # noqa: FBT001 - Qt's
        if self.is_at_job:
            self.preview.owner = self.agreeing.job
            self._middle.setCurrentWidget(self.preview if is_laid else self.wall)
            self.paper_state_changed.emit(is_laid)

    def _leave_job(self) -> None:
        if self.is_at_job:
            self.agreeing.job.leave()

    def _agree(self, is_agreed: bool) -> None:  # noqa: FBT001 - Qt's
        """Have the left column begin from the job from now on, or from the questions again."""
        before, self._home = self._home, self.agreeing.job if is_agreed else self.questions
        if self._left.currentWidget() is before and not self.is_comparing:
            self._left.setCurrentWidget(self._home)

    def _option(self) -> int:
        return self.wall.option

    @property
    def has_survey_paper(self) -> bool:
        """Whether the paper in the middle is that of the survey."""
        return self.has_paper and self._left.currentWidget() is self.survey

    def show_on_wall(self, mark: str) -> None:
        """Bring the wall back with a mark of it selected, the keyboard on its sizes."""
        from estimator.desktop.papers.leading import show_on_wall  # noqa: PLC0415 - as above

        self.show_wall()
        show_on_wall(self.wall, mark)

    def _job_changed(self, job: OpenJob) -> None:
        """Put the paper of the job before away: it must never lie beside another one."""
        if job.uid != self._uid:
            self._uid, self.preview.owner = job.uid, None
            if self.has_paper or self.is_comparing:
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

    def take_focus(self) -> None:
        """Put the keyboard where the work is: on the paper that is checked, or the question."""
        if self._left.currentWidget() is not self.questions and self.is_at_job:
            self.agreeing.job.take_focus()
        elif self.has_survey_paper:
            self.survey.take_focus()
        elif self.has_paper:
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
        self._middle.setCurrentWidget(self.wall)
        self.money.foot.show()
        if self._home is self.questions:
            self._leave_job()
            self._left.setCurrentWidget(self.questions)
            self.questions.take_focus()
        else:
            self.agreeing.job.open()
        self.paper_state_changed.emit(False)
