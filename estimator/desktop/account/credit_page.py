"""A credit note: what takes an invoice back, whole or in part, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Signal

from estimator.contract.account import CreditNote
from estimator.contract.invoicing import credit_of
from estimator.desktop.account import drawn
from estimator.desktop.account.figure_rows import FigureRows
from estimator.desktop.account.invoice_page import rows_of
from estimator.desktop.agreed.fields import DayField, pounds
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.half_typed import HalfTyped, Part
from estimator.desktop.agreed.job_column import JobColumn
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.language import _
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.words import words
from estimator.desktop.works.paper_draft import PaperDraft
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.store.database import Database

SHORT = 14
WHY_MEANWHILE = "…"
"""Stands for the reason while none is typed: the paper is looked at all the same."""


class CreditPage(FormPage):
    """Why, and how much of it; all of it where nothing is typed."""

    issued = Signal(str)
    """The number it was given."""

    def __init__(self, following: Following, job: JobColumn) -> None:
        """Show nothing yet."""
        super().__init__(following, _("A credit note"), _("Issue the credit note"))
        self._job, self.number = job, ""
        self.title = words(role="question")
        self.why = Written(_("What was wrong with it"), most=LETTERS["name"])
        self.much = Written(
            _("How much of it, before VAT (£)"), most=SHORT, hint=_("all that stands")
        )
        self.date = DayField(_("Date"))
        self.rows = FigureRows()
        self.draft = PaperDraft(following.session, self)
        self.draft.done.connect(self._lay)
        self.draft.begun.connect(self._await)
        for field in (self.why, self.much, self.date):
            field.typed.connect(self.look)
        typed = {"credit": Part(self._told, self._show_told, [])}
        self.half_typed = HalfTyped(following.session, "credit", typed, self)
        self.half_typed.shown.connect(self.look)
        for field in (self.why, self.much, self.date):
            field.typed.connect(self.half_typed.note)
        self.add(self.title, self.why, self.much, self.date, self.rows)
        self.inside.addStretch(1)

    def show_invoice(self, number: str) -> None:
        """Credit another invoice; what was typed for the one before is not of it."""
        if number != self.number:
            self.why.show_text("")
            self.much.show_text("")
        self.number = number

    def begin(self) -> None:
        """Begin with all of it, today; what was half typed for this invoice is there again."""
        self.title.setText(_("For {number}").format(number=self.number))
        self.date.show_text(_("today"))
        self.say("")
        self.why.complain("")
        self.why.show_text("")
        self.much.show_text("")
        self.half_typed.begin()
        self.draft.follow()
        self.look()

    def rest(self) -> None:
        """Make nothing more."""
        self.draft.rest()

    def take_focus(self) -> None:
        """Put the cursor on the reason."""
        self.why.take_focus()

    def look(self, _typed: str = "") -> None:
        """Show the note as it stands."""
        note = self._note(self.why.text.strip() or WHY_MEANWHILE)
        self.take.setEnabled(note is not None and self.following.session.filing.can_write)
        self.rows.setVisible(note is not None)
        if note is None:
            return
        self.rows.show_rows(rows_of(note))
        trader = self.following.session.practice.trader
        self.draft.show(drawn.credit, self.following.so_far, note, trader)

    def keep(self) -> None:
        """Give it its number, and keep it."""
        why, trader = self.why.text.strip(), self.following.session.practice.trader
        self.why.complain("" if why else _("Say what was wrong: it stands on the note."))
        note = self._note(why) if why else None
        if note is None:
            self.why.take_focus()
            return

        def issue(database: Database, uid: str) -> Kept:
            from estimator.desktop.account import asked  # noqa: PLC0415 - loads the database

            return asked.credit(database, uid, note, trader)

        self.do(issue, self._issued)

    def _issued(self, kept: object) -> None:
        if isinstance(kept, Kept):
            self.why.show_text("")
            self.much.show_text("")
            self.half_typed.done()
            self.issued.emit(kept.number)

    def _told(self) -> list[str]:
        """Return what is typed, and for which invoice; nothing where nothing is."""
        typed = [one.text for one in (self.why, self.much, self.date)]
        return [self.number, *typed] if typed != ["", "", _("today")] else []

    def _show_told(self, told: Any) -> None:
        """Show what was typed for this invoice; for another it is nothing."""
        if told[0] == self.number:
            for field, text in zip((self.why, self.much, self.date), told[1:], strict=True):
                field.show_text(text)

    def _note(self, why: str) -> CreditNote | None:
        date = self.date.read(self.following.session.today())
        net = pounds(self.much.text) if self.much.text.strip() else None
        is_wrong = bool(self.much.text.strip()) and net is None
        self.much.complain(_("Type a sum such as 84.00") if is_wrong else "")
        if date is None or is_wrong or not self.number:
            return None
        much = None if net is None else Money.of(net)
        try:
            note = credit_of(self.following.so_far, self.number, date=date, why=why, net=much)
        except UserMistake as mistake:
            self.refused(mistake)
            return None
        self.say("")
        return note

    def _await(self) -> None:
        if self._job.pages.currentWidget() is self and self._job.has_paper:
            self._job.await_paper()

    def _lay(self, pdf: object) -> None:
        if isinstance(pdf, bytes) and self._job.pages.currentWidget() is self:
            self._job.lay_paper(pdf, _("Not issued yet"))
