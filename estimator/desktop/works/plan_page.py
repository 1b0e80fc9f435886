"""When the works begin: a day, and everything that follows from it, put off where it must be."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout

from estimator.contract.deeds import Planned
from estimator.contract.works import Nation, Plan
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.fields import Picked
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.half_typed import HalfTyped, Part
from estimator.desktop.inputs.days import coming_day
from estimator.desktop.language import _
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import words
from estimator.desktop.works import wording
from estimator.desktop.works.coming import ComingDay
from estimator.desktop.works.forecast_panel import ForecastPanel
from estimator.desktop.works.overseeing import Overseeing
from estimator.desktop.works.task_row import TaskRow
from estimator.notices import Severity, UserMistake
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
        self.forecast = ForecastPanel()
        self._until: dict[str, str] = {}
        self.half_typed = HalfTyped(
            self.following.session,
            "plan",
            {
                "start": self.start,
                "gang": self.gang,
                "nation": self.nation,
                "until": Part(lambda: dict(self._until), self._put_off_again),
                "forecast": Part(self.forecast.told, self.forecast.show_told),
            },
            self,
        )
        self._of = ""
        self._is_known = False
        self._asked = 0
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._work_out)
        for field in (self.start, self.gang):
            field.typed.connect(self._typed)
        self.nation.changed.connect(self._typed)
        self.forecast.changed.connect(self._typed)
        self.forecast.changed.connect(self.half_typed.note)
        self.half_typed.shown.connect(self._work_out)
        overseeing.changed.connect(self._known)
        self.add(self.start, self.why, self.gang, self.nation, self.caution)
        self.inside.addLayout(self._rows)
        self.add(self.done_on, self.notes, self.forecast)
        self.inside.addStretch(1)

    def begin(self) -> None:
        """Begin with what is planned, or the first sensible day, and what was half typed."""
        plan = self.following.so_far.plan
        self._is_known = plan is not None or self._overseeing.works is not None
        self._fill(plan)
        if self._is_known:
            self.half_typed.begin()
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
        # Before the tasks are worked out for the first time there are no rows yet.
        rowless = [key for key in self._until if key not in self.rows]
        found += [(key, _day(self._until[key], today)) for key in rowless]
        if any(row.is_wrong for row in self.rows.values()):
            return None
        expected = self.forecast.read()
        # A forecast is as old as what was typed last; days that are past tell nothing new.
        is_new = expected != tuple(one for one in before.expected if one.on >= today)
        return Plan(
            start,
            wording.names(self.gang.text),
            self.nation.value,
            before.working_week,
            before.closed,
            before.start_hour,
            tuple((key, day) for key, day in found if day is not None),
            expected,
            (today if expected else None) if is_new else before.expected_on,
        )

    def keep(self) -> None:
        """Keep the plan."""
        plan = self.plan()
        if plan is None or self.forecast.is_wrong:
            self.say(_("One of the days is missing or is none; it is said beside it."), tone="stop")
            return

        def note(database: Database, uid: str) -> None:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            asked.do(database, uid, Planned(plan))

        self.do(note, self._kept)

    def _kept(self, _done: object) -> None:
        self.half_typed.done()
        self.planned.emit()

    def _fill(self, plan: Plan | None) -> None:
        if self._of != self.following.session.job.uid:
            self._of = self.following.session.job.uid
            for row in self.rows.values():
                self._rows.removeWidget(row)
                row.hide()
                row.deleteLater()
            self.rows.clear()
        put_off = plan.not_before if plan else ()
        # With the year: a day that is past would else be taken for one in the next.
        self._put_off_again({key: agreed_wording.day(day) for key, day in put_off})
        self.forecast.begin(plan.expected if plan else (), self.following.session.today())
        works = self._overseeing.works
        begins = works.beginning if works else None
        start = plan.start if plan else begins.on if begins else None
        self.start.show_text("" if start is None else agreed_wording.day(start))
        self.gang.show_text(", ".join(plan.gang) if plan else "")
        self.nation.pick(plan.nation if plan else Nation.ENGLAND_AND_WALES)
        self.say("")

    def _known(self) -> None:
        """Fill in the first sensible day where the page was open before it was worked out."""
        if self.isVisible() and not self._is_known:
            self.begin()

    def _typed(self, _typed: str = "") -> None:
        self._rest.start()

    def _put_off(self) -> None:
        told = ((key, row.told) for key, row in self.rows.items())
        self._until = {key: text for key, text in told if text is not None}
        self._rest.start()
        self.half_typed.note()

    def _put_off_again(self, told: Any) -> None:
        self._until = {str(key): str(text) for key, text in dict(told).items()}
        for key, row in self.rows.items():
            row.show_until(self._until.get(key))

    def _work_out(self) -> None:
        """Have the days worked out in the file's thread; what came in between is dropped."""
        self._say_why()
        plan, so_far = self.plan(), self.following.so_far
        today = self.following.session.today()
        self._asked += 1
        number = self._asked
        if plan is None or so_far.contract is None:
            return

        def read(_database: Database) -> Works:
            from estimator.desktop.works import looked_at  # noqa: PLC0415 - loads the engine

            return looked_at.planned(so_far, plan, today)

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
                row.changed.connect(self._put_off)
                row.show_task(task)
                row.show_until(self._until.get(task.key))
                self._rows.insertWidget(place, row)
            else:
                self._rows.removeWidget(row)
                self._rows.insertWidget(place, row)
                row.show_task(task)
        loud = [note.text for note in works.notes if note.severity >= Severity.CAUTION]
        self.caution.say("\n".join(loud))
        self.notes.setText(
            "\n".join(note.text for note in works.notes if note.severity < Severity.CAUTION)
        )
        self.forecast.show_works(works)
        finish = works.finish
        self.done_on.setText(
            _("Done by {date}").format(date=agreed_wording.day_of_week(finish)) if finish else ""
        )


def _day(text: str, today: datetime.date) -> datetime.date | None:
    try:
        return coming_day(text, today=today)
    except UserMistake:
        return None
