"""The frame: menus, the strip, and the pages it leads to. What happens is each page's own."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QSettings, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeyEvent, QPaintEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.in_sight import InSight
from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLabel

    from estimator.desktop.columns import Columns
    from estimator.desktop.commands import Actions
    from estimator.desktop.session import Session
    from estimator.desktop.state import OpenJob, Sight
    from estimator.desktop.strip import Strip
    from estimator.desktop.widgets.caution import CautionBox
    from estimator.notices import UserMistake

LEAST = QSize(1100, 640)
USUAL = QSize(1366, 740)
SCALES = (1.0, 1.1, 1.25, 1.5, 1.75, 2.0)
STAGE_OF = {
    "enquiry": "enquiry",
    "surveyed": "survey",
    "offered": "quotation",
    "accepted": "works",
    "done": "account",
    "lost": "quotation",
}
"""Where on the strip a job of the file stands."""


class Desk(QMainWindow):
    """The window. It is shown empty, and furnished once it is on the screen."""

    painted = Signal()
    """The frame is on the screen for the first time."""

    actions_: Actions
    strip: Strip
    notice: CautionBox
    news: QLabel
    """What was done, where no other place says so."""
    pages: QStackedWidget

    def __init__(self, settings: QSettings) -> None:
        """Make the bare window: cheap, so that it is on the screen at once."""
        super().__init__()
        self.setWindowTitle("Perpend")
        self._settings = settings
        self.columns: Columns | None = None
        self._session: Session | None = None
        self._is_painted = self._tells_mistake = False
        self._place_on_screen()

    def build(self) -> None:
        """Put the menus and the strip in."""
        # Loaded only now: the window is on the screen already.
        from estimator.desktop.commands import Actions  # noqa: PLC0415
        from estimator.desktop.strip import Strip  # noqa: PLC0415
        from estimator.desktop.theme.icons import icon  # noqa: PLC0415
        from estimator.desktop.widgets.caution import CautionBox  # noqa: PLC0415
        from estimator.desktop.widgets.words import words  # noqa: PLC0415

        self.setWindowIcon(icon("perpend", "act"))
        self.actions_ = Actions(self)
        self.strip = Strip()
        self.notice = CautionBox()
        self.news = words(role="second", tone="done")
        self.news.setContentsMargins(20, 8, 20, 8)
        self.notice.hide()
        self.news.hide()
        self.pages = QStackedWidget()
        middle = QWidget()
        layout = QVBoxLayout(middle)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.strip)
        layout.addWidget(self.notice)
        layout.addWidget(self.news)
        layout.addWidget(self.pages, 1)
        self.setCentralWidget(middle)
        self.strip.show_job("", "", "enquiry")
        self.strip.back.clicked.connect(lambda _ticked=False: self.go_back())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Tell when the frame is painted for the first time."""
        super().paintEvent(event)
        if not self._is_painted:
            self._is_painted = True
            QTimer.singleShot(0, self.painted.emit)

    def furnish(self, session: Session, columns: Columns) -> None:
        """Put the first question on the desk and follow the session."""
        self._session, self.columns = session, columns
        self.pages.addWidget(columns)
        state = self._settings.value("columns")
        if isinstance(state, QByteArray):
            columns.splitter.restoreState(state)
        session.job_changed.connect(self._show_job)
        session.sight_changed.connect(self._show_sight)
        session.saved.connect(self.strip.show_saved)
        # What went wrong before is over once something is safely kept.
        session.saved.connect(self._forget_mistake)
        session.saved.connect(self._forget_news)
        session.mistaken.connect(self.tell)
        self._show_job(session.job)
        columns.questions.take_focus()

    def complete(self, session: Session, columns: Columns) -> None:
        """Bring the wall and the money, and let every command do something."""
        columns.finish()
        columns.elevation.said.connect(self.tell_news)
        columns.elevation.mistaken.connect(self.tell)
        self._hang_acts(session, columns)

    def add_page(self, page: QWidget) -> None:
        """Give another page room beside the columns."""
        self.pages.addWidget(page)

    def show_page(self, page: QWidget, *, can_go_back: bool = True) -> None:
        """Bring a page to the front, with a way back to the desk unless that would be empty."""
        self.pages.setCurrentWidget(page)
        self.strip.back.setVisible(can_go_back and page is not self.columns)

    def go_back(self) -> None:
        """Bring the job back to the front."""
        self._to(lambda: None if self.columns is None else self.columns.take_focus())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take an Escape nobody else had a use for: empty the field of finding, then go back."""
        if event.key() != Qt.Key.Key_Escape:
            super().keyPressEvent(event)
        elif self.strip.seek.hasFocus() and self.strip.seek.text():
            self.strip.seek.clear()
            self.strip.sought.emit("")
        elif self.strip.back.isVisible():
            self.go_back()

    def tell(self, mistake: UserMistake | str) -> None:
        """Say what went wrong above the page, where it stops nothing."""
        self._tells_mistake = isinstance(mistake, Exception)
        said = str(mistake)
        self.notice.say(said[:1].upper() + said[1:])

    def tell_news(self, news: str) -> None:
        """Say above the page what was done, until something else is."""
        self.news.setText(news)
        self.news.setVisible(bool(news))

    def _forget_news(self, _at: object) -> None:
        self.tell_news("")

    def _forget_mistake(self, _at: object) -> None:
        if self._tells_mistake:
            self.tell("")

    def _show_sight(self, sight: Sight) -> None:
        self._show_job(sight.job)

    def _show_job(self, job: OpenJob) -> None:
        from estimator.desktop.state import stage_now  # noqa: PLC0415 - loaded by now

        party = job.work.survey.customer
        address = next((line for line in (*party.site, *party.address) if line), "")
        where = " · ".join(part for part in (address, party.telephone) if part)
        self.strip.show_job(party.name, where, STAGE_OF[stage_now(job)])
        self.setWindowTitle(" – ".join(part for part in (party.name, "Perpend") if part))

    def _hang_acts(self, session: Session, columns: Columns) -> None:
        history, in_sight = session.history, InSight(columns)
        self.actions_.hang(
            {
                "new": self.new_call,
                "undo": history.undo,
                "redo": history.redo,
                "find": self.strip.seek.setFocus,
                "questions": lambda: self._to(columns.show_questions),
                "agreement": lambda: self._to(columns.show_job),
                "works": lambda: self._to(lambda: columns.show_job("works")),
                "account": lambda: self._to(lambda: columns.show_job("account")),
                "wall": lambda: self._to(columns.look_at_wall),
                "money": lambda: self._to(columns.money.take_focus),
                "compare": lambda: self._to(columns.compare),
                "next_question": lambda: self._to(columns.questions.next_question),
                "customer": lambda: self._to(columns.questions.ask_customer),
                "offer": lambda: self._to(columns.money.edit_offer),
                "paper": lambda: self._to(in_sight.next_thing),
                "readings": lambda: self._to(columns.show_readings),
                "survey_paper": lambda: self._to(columns.show_survey_paper),
                "elevation": lambda: self._to(columns.elevation.save),
                "print": in_sight.print_paper,
                "email": in_sight.email_paper,
                "light": lambda: self.dress(Scheme.LIGHT, LOOK.scale),
                "dark": lambda: self.dress(Scheme.DARK, LOOK.scale),
                "larger": lambda: self.dress(LOOK.scheme, _next_scale(1)),
                "smaller": lambda: self.dress(LOOK.scheme, _next_scale(-1)),
                "usual_size": lambda: self.dress(LOOK.scheme, 1.0),
                "full_screen": self._toggle_full_screen,
                "quit": self.close,
            }
        )
        self.strip.stages.wanted.connect(lambda stage: self._to(lambda: columns.go_to(stage)))
        history.undoTextChanged.connect(self._name_undo)
        history.redoTextChanged.connect(self._name_redo)
        history.canUndoChanged.connect(self.actions_["undo"].setEnabled)
        history.canRedoChanged.connect(self.actions_["redo"].setEnabled)
        self.actions_["undo"].setEnabled(history.canUndo())
        self.actions_["redo"].setEnabled(history.canRedo())

    def new_call(self) -> None:
        """Take a call: an empty job, the cursor ready."""
        if self._session is not None and self.columns is not None:
            self._session.new_job()
            self.show_page(self.columns)
            self.columns.show_wall()

    def dress(self, scheme: Scheme, scale: float, *, as_system: bool = False) -> None:
        """Change colours or size, and remember."""
        LOOK.apply(scheme, scale=scale)
        self._settings.setValue("scheme", "system" if as_system else scheme.value)
        self._settings.setValue("scale", scale)

    @property
    def follows_system(self) -> bool:
        """Whether the colours are those the system asks for."""
        return self._settings.value("scheme", "system") == "system"

    def show_saved(self, at: datetime.datetime | None, *, read_only: bool = False) -> None:
        """Show when everything typed was last kept."""
        self.strip.show_saved(at, read_only=read_only)

    def _to(self, act: object) -> None:
        if self.columns is not None and callable(act):
            self.show_page(self.columns)
            act()

    def _name_undo(self, step: str) -> None:
        self.actions_["undo"].setText(_("&Undo {step}").format(step=step) if step else _("&Undo"))

    def _name_redo(self, step: str) -> None:
        self.actions_["redo"].setText(_("&Redo {step}").format(step=step) if step else _("&Redo"))

    def _toggle_full_screen(self) -> None:
        self.showNormal() if self.isFullScreen() else self.showFullScreen()

    def _place_on_screen(self) -> None:
        """Put the window where it was, if that is still on a screen."""
        self.setMinimumSize(LEAST)
        self.resize(USUAL)
        state = self._settings.value("geometry")
        if isinstance(state, QByteArray):
            self.restoreGeometry(state)
        if QGuiApplication.screenAt(self.geometry().center()) is None:
            self.move(0, 0)
            self.resize(USUAL)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Go at once: everything is kept already, so there is nothing to ask."""
        self._settings.setValue("geometry", self.saveGeometry())
        if self.columns is not None:
            self._settings.setValue("columns", self.columns.splitter.saveState())
        if self._session is not None:
            self._session.accept()
        event.accept()
        QApplication.quit()


def _next_scale(step: int) -> float:
    nearest = min(range(len(SCALES)), key=lambda n: abs(SCALES[n] - LOOK.scale))
    return SCALES[min(max(nearest + step, 0), len(SCALES) - 1)]
