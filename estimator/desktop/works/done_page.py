"""The work is done: since when, who says so, and what the customer should know."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from estimator.contract.works import Completion
from estimator.desktop.agreed.fields import DayField
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.half_typed import HalfTyped
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.language import _, counted
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import words
from estimator.desktop.works.overseeing import Overseeing
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.store.database import Database


class DonePage(FormPage):
    """What nobody noted is said before it is noted as done; it hinders nothing."""

    completed = Signal(str)
    """The number of the completion paper."""

    def __init__(self, overseeing: Overseeing) -> None:
        """Ask nothing yet."""
        super().__init__(overseeing.following, _("The work is done"), _("It is done"))
        self._overseeing = overseeing
        self.open = CautionBox()
        self.on = DayField(_("Done on"))
        self.by = Written(_("Who says so"), most=LETTERS["name"])
        self.notes = Written(
            _("What the customer should know, a sentence a line"), most=LETTERS["notes"], lines=True
        )
        self.add(self.open, self.on, self.by, self.notes)
        self.add(
            words(
                _("The completion paper says what was done where, and what the repair cannot do."),
                role="second",
            )
        )
        self.inside.addStretch(1)
        fields = {"on": self.on, "by": self.by, "notes": self.notes}
        self.half_typed = HalfTyped(self.following.session, "done", fields, self)

    def begin(self) -> None:
        """Begin with today and the first of the gang; what is half typed of this job stays."""
        plan = self.following.so_far.plan
        self.on.show_text(_("today"))
        self.by.show_text(plan.gang[0] if plan is not None and plan.gang else "")
        self.notes.show_text("")
        for field in (self.on, self.by):
            field.complain("")
        self.half_typed.begin()
        self.say("")
        self.allow()
        heading, text = self._not_noted()
        self.open.say(text, heading=heading)

    def take_focus(self) -> None:
        """Put the cursor on who says so."""
        self.by.take_focus()

    def keep(self) -> None:
        """Note it, with the paper that says so."""
        on, by = self.on.read(self.following.session.today()), self.by.text.strip()
        self.by.complain("" if by else _("Say who says that it is done."))
        if on is None or not by:
            self.say(_("Something is missing; it is said beside it."), tone="stop")
            return
        lines = self.notes.text.splitlines()
        told = Completion(on, by, tuple(line.strip() for line in lines if line.strip()))
        trader = self.following.session.practice.trader

        def complete(database: Database, uid: str) -> Kept:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            return asked.complete(database, uid, told, trader)

        self.do(complete, self._completed)

    def _completed(self, kept: object) -> None:
        if isinstance(kept, Kept):
            self.notes.show_text("")
            self.by.show_text("")
            self.half_typed.done()
            self.completed.emit(kept.number)

    def _not_noted(self) -> tuple[str, str]:
        works = self._overseeing.works
        if works is None:
            return "", ""
        places = len(works.still_to_do)
        points = sum(len(one.missing) for one in works.marks)
        said = []
        if places:
            said.append(
                counted(
                    "{n} place has no note of what was done.",
                    "{n} places have no note of what was done.",
                    places,
                )
            )
        if points:
            said.append(
                counted("{n} hold point is not signed.", "{n} hold points are not signed.", points)
            )
        if not said:
            return "", ""
        said.append(_("The paper will say so."))
        return _("Not everything is noted"), "\n".join(said)
