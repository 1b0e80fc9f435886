"""A sheet that tells of what was noted: looked at first, then given its number and kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent

from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.job_column import JobColumn
from estimator.desktop.agreed.keeping import Papers
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.wrapped_line import WrappedLine
from estimator.desktop.widgets.buttons import button
from estimator.desktop.widgets.ways import Ways
from estimator.desktop.widgets.words import words
from estimator.desktop.works import paper_draft
from estimator.desktop.works.paper_draft import PaperDraft
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.store.database import Database

WITH_PHOTOS = ("as-built record",)
BUYING = "buying list"
WITHOUT_NUMBER = ("programme", BUYING)
"""Made anew whenever they are wanted: nobody refers to them by a number."""


class SheetPage(FormPage):
    """The sheet lies in the middle while it is looked at."""

    kept = Signal(str, str)
    """Number and title of a sheet that was kept, or is to be looked at again."""

    def __init__(self, following: Following, job: JobColumn, papers: Papers) -> None:
        """Show nothing yet."""
        super().__init__(following, _("A paper of the job"), _("Keep it under a number"))
        self._job, self._papers = job, papers
        self.kind, self._title, self._before = "", "", ""
        self._key = ""
        self.title = words(role="question")
        self.about = words(role="second")
        self.before = WrappedLine("")
        self.draft = PaperDraft(following.session, self)
        self.print_, self.save = button(_("Print…")), button(_("Save a copy…"))
        self.draft.done.connect(self._lay)
        self.draft.begun.connect(self._await)
        self.draft.missed.connect(self._missed)
        self.print_.clicked.connect(lambda _ticked=False: papers.print_paper())
        self.save.clicked.connect(lambda _ticked=False: papers.save())
        papers.said.connect(self.say)
        following.changed.connect(self._order)
        self.foot.insertWidget(1, Ways(self.print_, self.save))
        self.add(self.title, self.about, self.before)
        self.inside.addStretch(1)

    def show_kind(
        self, kind: str, title: str, about: str, before: str = "", *, key: str = ""
    ) -> None:
        """Show another sheet.

        Args:
            kind: A key of ``SHEETS``.
            title: What it is.
            about: What it says, in a sentence.
            before: Number of the newest such sheet, empty for none.
            key: Of the hours it is about, empty where it is about the whole job.
        """
        self._key = key
        self.kind, self._title, self._before = kind, title, before
        self.title.setText(in_full(title))
        self.about.setText(about)
        ways = {"programme": _("E-mail…"), BUYING: _("Print…")}
        self.take.setText(ways.get(kind) or _("Keep it under a number"))
        self.print_.setVisible(self.take.text() != self.print_.text())
        self.say("")

    def begin(self) -> None:
        """Have it made, and keep it as things are while it is looked at."""
        self._papers.shown = None
        self._allow(is_made=False)
        self.draft.follow()
        self._order()
        self._show_before()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Make a buying list anew on coming back to it: who sells what may have been said since."""
        super().showEvent(event)
        if self.kind == BUYING and not event.spontaneous():
            self.draft.follow()

    def rest(self) -> None:
        """Make nothing more."""
        self.draft.rest()

    def keep(self) -> None:
        """Give it its number, or send on what has none."""
        if self.kind == "programme":
            self._papers.email()
            return
        if self.kind == BUYING:
            self._papers.print_paper()
            return
        kind, key, trader = self.kind, self._key, self.following.session.practice.trader

        def make(database: Database, uid: str) -> Kept:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            return asked.sheet(database, uid, kind, trader, key)

        self.do(make, self._kept)

    def _kept(self, kept: object) -> None:
        if isinstance(kept, Kept):
            self.kept.emit(kept.number, self._title)

    def _show_before(self) -> None:
        self.inside.removeWidget(self.before)
        self.before.hide()
        self.before.deleteLater()
        self.before = WrappedLine(
            _("{number} is kept already. Show it as it was.").format(number=self._before)
        )
        self.before.clicked.connect(lambda _ticked=False: self._again())
        self.inside.insertWidget(2, self.before)
        self.before.setVisible(bool(self._before))

    def _again(self) -> None:
        self.kept.emit(self._before, self._title)

    def _order(self) -> None:
        session, so_far = self.following.session, self.following.so_far
        if self.kind and so_far.contract is not None:
            kind = (self.kind, self._key)
            about = (kind, so_far, session.practice.trader, session.today())
            photos = {name for one in so_far.built for name in one.photos}
            shown = sorted(photos) if self.kind in WITH_PHOTOS else ()
            is_bought = self.kind == BUYING
            self.draft.show(paper_draft.sheet, *about, photos=shown, is_bought=is_bought)

    def _allow(self, *, is_made: bool) -> None:
        for way in (self.print_, self.save):
            way.setEnabled(is_made)
        can_keep = self.kind in WITHOUT_NUMBER or self.following.session.filing.can_write
        self.take.setEnabled(is_made and can_keep)

    def _await(self) -> None:
        """Keep the draft before in sight until the next is there; the wall before the first."""
        self._allow(is_made=False)
        if self._job.has_paper and self._job.pages.currentWidget() is self:
            self._job.await_paper()

    def _lay(self, pdf: object) -> None:
        if not isinstance(pdf, bytes) or self._job.pages.currentWidget() is not self:
            return
        caption = _("Not kept yet") if self.kind not in WITHOUT_NUMBER else in_full(self._title)
        self._papers.shown = Kept(in_full(self._title), pdf, is_numbered=False)
        self._allow(is_made=True)
        is_first = not self._job.has_paper
        self._job.lay_paper(pdf, caption)
        if is_first:
            self.take_focus()

    def _missed(self, why: str) -> None:
        self.refused(UserMistake(why))
