"""The left column once a job is agreed: what was agreed, what changed, the works, the account."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from estimator.desktop.agreed.following import Following
from estimator.desktop.language import _
from estimator.desktop.papers.column_page import Contents, scrolled
from estimator.desktop.papers.heading import on_escape
from estimator.desktop.papers.preview import PreviewColumn
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.desktop.widgets import following as keyboard
from estimator.desktop.widgets import reading_order
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words

AGREEMENT, VARIATIONS, WORKS, ACCOUNT = "agreement", "variations", "works", "account"
SECTIONS = (AGREEMENT, VARIATIONS, WORKS, ACCOUNT)
"""The blocks of the first page, in their order."""


class JobColumn(QFrame):
    """The first page has a block to each part of the job; every other page has a way back to it.

    A part puts its block here by ``add_section``, its forms and lists by ``add_page``, brings one
    of them up by ``open`` and lays papers in the middle by ``lay_paper``.
    """

    left = Signal()
    """Back to what we know and the wall."""
    opened = Signal(str)
    """The name of the page that was brought up; empty for the first."""
    laid = Signal(bool)
    """A paper of the job is to lie in the middle, or the wall again."""

    def __init__(
        self,
        session: Session,
        following: Following,
        preview: PreviewColumn,
        parent: QWidget | None = None,
    ) -> None:
        """Begin with empty places."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self.session, self.following, self.preview = session, following, preview
        self._uid = session.job.uid
        self.has_paper = False
        """Whether a paper of the job lies in the middle."""
        self.sections: dict[str, QWidget] = {}
        self._pages: dict[str, QWidget] = {}
        self._places: dict[str, QVBoxLayout] = {}
        self.first = self._first_page()
        self.pages = QStackedWidget()
        self.pages.addWidget(self.first)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.pages)
        on_escape(self, self.back)
        session.job_changed.connect(self._job_changed)

    # -- what other parts put here

    def add_section(self, name: str, widget: QWidget) -> None:
        """Put a block in its place on the first page.

        Args:
            name: One of ``SECTIONS``.
            widget: Stays there; it may have a ``take_focus`` of its own.
        """
        self._places[name].addWidget(widget)
        self.sections[name] = widget

    def add_page(self, name: str, page: QWidget) -> None:
        """Give a form or a list the room of the whole column; ``open`` brings it up.

        It may have a ``begin`` called each time it is opened, a ``rest`` called when it is left,
        and a ``take_focus``.
        """
        self._pages[name] = page
        self.pages.addWidget(page)

    # -- what is shown

    @property
    def at(self) -> str:
        """Name of the page shown; empty for the first."""
        shown = self.pages.currentWidget()
        return next((name for name, page in self._pages.items() if page is shown), "")

    def open(self, name: str = "") -> None:
        """Bring up a page, or the first page with one of its blocks in sight."""
        page = self._pages.get(name, self.first)
        before = self.pages.currentWidget()
        if before is not page:
            _call(before, "rest")
        self.put_paper_away()
        self.pages.setCurrentWidget(page)
        self.opened.emit(self.at)
        _call(page, "begin")
        section = self.sections.get(name)
        if section is not None:
            # Its height is known once it was laid out.
            QTimer.singleShot(0, section, lambda: self._area.ensureWidgetVisible(section))
        reading_order.follow(self)
        self.take_focus(name)

    def back(self) -> None:
        """Go one step back: from a page to the first, from there to what we know."""
        if self.at:
            self.open()
        else:
            self.left.emit()

    def leave(self) -> None:
        """Let what is half typed be kept: something else comes into the column."""
        _call(self.pages.currentWidget(), "rest")
        self.put_paper_away()

    def take_focus(self, name: str = "") -> None:
        """Put the keyboard on what comes next."""
        shown = self.pages.currentWidget()
        if shown is not self.first:
            _call(shown, "take_focus")
            return
        places = (name,) if name in self.sections else SECTIONS
        section = next((self.sections[one] for one in places if one in self.sections), None)
        if section is not None:
            _call(section, "take_focus")

    def focusNextPrevChild(self, is_next: bool) -> bool:  # noqa: N802, FBT001 - Qt's own
        """Go on as one reads: what was made last does not come last."""
        reading_order.follow(self)
        return super().focusNextPrevChild(is_next)

    # -- papers in the middle

    def lay_paper(self, pdf: bytes, caption: str) -> None:
        """Show a paper of the job in the middle; none of another lies there until it is drawn."""
        if not self.has_paper:
            self.preview.make_way()
        self.preview.show_paper(pdf, caption)
        self._lay(is_laid=True)

    def await_paper(self) -> None:
        """Show in the middle that a paper is on its way."""
        self.preview.await_paper()
        self._lay(is_laid=True)

    def put_paper_away(self) -> None:
        """Show the wall in the middle again."""
        if self.has_paper:
            self._lay(is_laid=False)

    def _lay(self, *, is_laid: bool) -> None:
        if self.has_paper != is_laid:
            self.has_paper = is_laid
            self.laid.emit(is_laid)

    def _job_changed(self, job: OpenJob) -> None:
        is_another, self._uid = job.uid != self._uid, job.uid
        if is_another:
            self.leave()
            self.pages.setCurrentWidget(self.first)

    def _heading(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(20, 0, 12, 0)
        row.addWidget(words(_("The job"), role="heading"), 1)
        self.known = quiet_button(_("What we know"))
        self.known.setToolTip(_("What we know (F2)"))
        self.known.clicked.connect(lambda _ticked=False: self.left.emit())
        row.addWidget(self.known)
        return row

    def _first_page(self) -> QWidget:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(12, 0, 12, 12)
        inside.setSpacing(12)
        for name in SECTIONS:
            self._places[name] = QVBoxLayout()
            inside.addLayout(self._places[name])
        inside.addStretch(1)
        self._area = scrolled(inner)
        keyboard.Following(self._area)
        page = QWidget()
        layout = QVBoxLayout(page)
        layout.setContentsMargins(0, 16, 0, 0)
        layout.setSpacing(12)
        layout.addLayout(self._heading())
        layout.addWidget(self._area, 1)
        return page


def _call(part: QWidget | None, name: str) -> None:
    """Have a part do something, if it can."""
    act = getattr(part, name, None)
    if callable(act):
        act()
