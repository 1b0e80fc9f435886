"""When the works begin: a day, and everything that follows from it, put off where it must be."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout

from estimator.contract.deeds import Planned
from estimator.contract.works import Nation, Plan
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.fields import Picked
from estimator.desktop.language import _
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import words
from estimator.desktop.works import wording
from estimator.desktop.works.coming import ComingDay
from estimator.desktop.works.form_page import FormPage
from estimator.desktop.works.overseeing import Overseeing
from estimator.desktop.works.task_row import TaskRow
from estimator.notices import Severity
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.desktop.works.state import Works
    from estimator.store.database import Database

REST_MS = 150
"""Rest after a key before the days are worked out anew. [ms]"""


class PlanPage(FormPage):
    """The programme as it would be, while it is typed."""

    planned = Signal()
    """The plan is kept."""

    def __init__(self, overseeing: Overseeing) -> None:
        """Ask nothing yet."""
        super().__init__(overseeing.following, _("When we come"), _("Keep these days"))
        self._overseeing = overseeing
        self.start = ComingDay(_("When do you start?"), hint=_("Monday, or 7 Dec"))
        self.why = words(role="second")
        self.gang = Written(_("Who comes"), most=LETTERS["name"], hint=_("Names, with commas"))
        self.nation = Picked(_("Bank holidays"), wording.nation_words())
        self.caution = CautionBox()
        self.rows: dict[str, TaskRow] = {}
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self.done_on = words(role="strong")
        self.notes = words(role="second")
        self._of: tuple[str, Plan | None] = ("", None)
        self._asked = 0
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._work_out)
        for field in (self.start, self.gang):
            field.typed.connect(self._typed)
        self.nation.changed.connect(self._typed)
        overseeing.changed.connect(self._known)
        self.add(self.start, self.why, self.gang, self.nation, self.caution)
        self.inside.addLayout(self._rows)
        self.add(self.done_on, self.notes)
        self.inside.addStretch(1)

    def begin(self) -> None:
        """Begin with what is planned, or the first sensible day; what is half typed stays."""
        plan = self.following.so_far.plan
        of = (self.following.session.job.uid, plan)
        if of != self._of or not self.start.text:
            self._of = of
            self._fill(plan)
        self.allow()
        self._work_out()

    def take_focus(self) -> None:
        """Put the cursor on the day."""
        self.start.take_focus()

    def plan(self) -> Plan | None:
        """Return the plan as it stands; None, and what is wrong said, while it is none."""
        today = self.following.session.today()
        start = self.start.read(today)
        if start is None:
            if not self.start.text.strip():
                self.start.complain(_("Say on which day you start."))
            return None
        before = self.following.so_far.plan or Plan(start)
        found = [(key, row.read(today)) for key, row in self.rows.items()]
        if any(row.is_wrong for row in self.rows.values()):
            return None
        return Plan(
            start,
            wording.names(self.gang.text),
            self.nation.value,
            before.working_week,
            before.closed,
            before.start_hour,
            tuple((key, day) for key, day in found if day is not None),
        )

    def keep(self) -> None:
        """Keep the plan."""
        plan = self.plan()
        if plan is None:
            self.say(_("One of the days is missing or is none; it is said beside it."), tone="stop")
            return

        def note(database: Database, uid: str) -> None:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            asked.do(database, uid, Planned(plan))

        self.do(note, lambda _done: self.planned.emit())

    def _fill(self, plan: Plan | None) -> None:
        for row in self.rows.values():
            self._rows.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.rows.clear()
        works = self._overseeing.works
        begins = works.beginning if works else None
        start = plan.start if plan else begins.on if begins else None
        self.start.show_text("" if start is None else agreed_wording.day(start))
        self.gang.show_text(", ".join(plan.gang) if plan else "")
        self.nation.pick(plan.nation if plan else Nation.ENGLAND_AND_WALES)
        self.say("")

    def _known(self) -> None:
        """Fill in the first sensible day where the page was open before it was worked out."""
        if self.isVisible() and not self.start.text:
            self.begin()

    def _typed(self, _typed: str = "") -> None:
        self._rest.start()

    def _work_out(self) -> None:
        """Have the days worked out in the file's thread; what came in between is dropped."""
        self._say_why()
        plan, so_far = self.plan(), self.following.so_far
        self._asked += 1
        number = self._asked
        if plan is None or so_far.contract is None:
            return

        def read(_database: Database) -> Works:
            from estimator.desktop.works import looked_at  # noqa: PLC0415 - loads the engine

            return looked_at.planned(so_far, plan)

        ask(
            self,
            self.following.session.filing,
            read,
            lambda found: self._show(number, found),
            on_mistake=self.refused,
        )

    def _say_why(self) -> None:
        """Say why the usual day is the usual day; once another is typed, which one it was."""
        works = self._overseeing.works
        begins = works.beginning if works else None
        self.why.setVisible(begins is not None)
        if begins is None:
            return
        start = self.start.read(self.following.session.today())
        is_usual = start in (None, begins.on)
        usual = agreed_wording.day_of_week(begins.on)
        text = begins.why if is_usual else _("{date} would be usual: {why}")
        self.why.setText(text if is_usual else text.format(date=usual, why=begins.why))

    def _show(self, number: int, works: Works) -> None:
        if number != self._asked:
            return
        put_off: dict[str, datetime.date] = {}
        if self.following.so_far.plan is not None:
            put_off = dict(self.following.so_far.plan.not_before)
        keys = [task.key for task in works.tasks]
        for key in [key for key in self.rows if key not in keys]:
            gone = self.rows.pop(key)
            self._rows.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        for place, task in enumerate(works.tasks):
            row = self.rows.get(task.key)
            if row is None:
                row = self.rows[task.key] = TaskRow(task.key)
                row.changed.connect(self._typed)
                row.show_task(task, put_off.get(task.key))
                self._rows.insertWidget(place, row)
            else:
                self._rows.removeWidget(row)
                self._rows.insertWidget(place, row)
                row.show_task(task, None)
        loud = [note.text for note in works.notes if note.severity >= Severity.CAUTION]
        self.caution.say("\n".join(loud))
        self.notes.setText(
            "\n".join(note.text for note in works.notes if note.severity < Severity.CAUTION)
        )
        finish = works.finish
        self.done_on.setText(
            _("Done by {date}").format(date=agreed_wording.day_of_week(finish)) if finish else ""
        )
