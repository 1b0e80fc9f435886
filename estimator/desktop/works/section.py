"""The works in one block: when, how far, and the next thing to do."""

from __future__ import annotations

import datetime
from decimal import Decimal

from PySide6.QtCore import Signal

from estimator.contract.so_far import SoFar
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.section import Section
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.opening_rows import OpeningRows
from estimator.desktop.works import wording
from estimator.desktop.works.not_agreed import NotAgreed
from estimator.desktop.works.overseeing import Overseeing
from estimator.desktop.works.state import Works
from estimator.notices import Severity
from estimator.works.vibration import Level

PLAN, PAPERS, BUILT, HOURS, OUTPUTS, DONE = "plan", "papers", "built", "took", "outputs", "done"
"""What can be asked for: pages of the column."""
COMPLETION = "completion"
DAYWORK = "daywork/"
"""Begins the name of a sheet of hours; its key follows."""
NONE = Decimal(0)


class WorksSection(Section):
    """One headline, the dated lines, and rows that open the rest."""

    asked = Signal(str)
    """A page was asked for."""

    def __init__(self, overseeing: Overseeing, not_agreed: NotAgreed) -> None:
        """Follow the works, and what of the wall is not agreed."""
        super().__init__(_("Works"))
        self._overseeing, self._not_agreed = overseeing, not_agreed
        self._next = PLAN
        self.list = OpeningRows()
        self.add_row(self.list)
        self.list.asked.connect(self.asked)
        self.wanted.connect(lambda: self.asked.emit(self._next))
        overseeing.changed.connect(self.refresh)
        overseeing.following.changed.connect(self.refresh)
        not_agreed.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show how the works stand."""
        so_far, works = self._overseeing.following.so_far, self._overseeing.works
        self.setVisible(so_far.contract is not None)
        if so_far.contract is None:
            return
        if works is None:
            self.say(_("Working it out…"))
            self.list.show_rows(())
        elif so_far.called_off is not None:
            self.say(_("The agreement is cancelled: no more work is done."))
            self.list.show_rows(self._sheet_rows(works))
        elif so_far.completion is not None:
            self._complete(so_far, works)
        elif so_far.plan is None:
            self._not_planned(works)
        else:
            self._planned(so_far, works)

    def _not_planned(self, works: Works) -> None:
        self._next = PLAN
        begins = works.beginning
        self.say(
            _("Not planned yet."),
            _("It can begin on {date}. {why}").format(
                date=agreed_wording.day_of_week(begins.on), why=begins.why
            )
            if begins
            else "",
            caution=self._not_agreed.text,
            act=_("Plan the works"),
        )
        self.list.show_rows((self._papers_row(), *self._sheet_rows(works), *self._hours_row(works)))

    def _planned(self, so_far: SoFar, works: Works) -> None:
        today = self._overseeing.following.session.today()
        first = min((task.first for task in works.tasks), default=None)
        has_begun = first is not None and today >= first
        is_noted = not works.still_to_do
        self._next = DONE if is_noted and has_begun else BUILT if has_begun else PAPERS
        loud = (self._not_agreed.text, *_weather(so_far, works), *cautions(works))
        self.say(
            _headline(works, today),
            wording.task_lines(works.tasks),
            state=_noted(works) if has_begun else "",
            caution="\n".join(filter(None, loud)),
            act={
                DONE: _("The work is done"),
                BUILT: _("Note what was done"),
                PAPERS: _("Papers for the gang"),
            }[self._next],
        )
        rows = [
            (PLAN, _("Change the days")),
            (BUILT, _("What was done: {noted}").format(noted=_noted(works))),
            *self._hours_row(works),
            self._papers_row(),
            *self._sheet_rows(works),
            (DONE, _("The work is done")),
        ]
        self.list.show_rows(tuple(row for row in rows if row[0] != self._next))

    def _complete(self, so_far: SoFar, works: Works) -> None:
        completion = so_far.completion
        assert completion is not None
        number = works.papers.get("completion", "")
        self._next = COMPLETION if number else PAPERS
        self.say(
            _("Done on {date}").format(date=agreed_wording.day(completion.on)),
            "\n".join(completion.notes),
            state=_noted(works),
            act=_("Show the completion paper") if number else _("Papers of the works"),
        )
        self.list.show_rows(
            (
                (BUILT, _("What was done: {noted}").format(noted=_noted(works))),
                *self._hours_row(works),
                self._papers_row(),
                *self._sheet_rows(works),
            )
        )

    def _papers_row(self) -> tuple[str, str]:
        return PAPERS, _("Site sheet, programme, buying list")

    def _sheet_rows(self, works: Works) -> tuple[tuple[str, str], ...]:
        """Return a row to each sheet of hours that has no paper yet."""
        text = _("Make the daywork sheet: {what}")
        return tuple(
            (DAYWORK + one.key, text.format(what=in_full(one.what)))
            for one in works.daywork
            if not one.number
        )

    def _hours_row(self, works: Works) -> tuple[tuple[str, str], ...]:
        booked = sum((one.booked for one in works.took), NONE)
        quoted = sum((one.quoted for one in works.took), NONE)
        if not quoted:
            return ()
        if not booked:
            said = _("Hours and materials: {quoted} quoted").format(quoted=wording.hours(quoted))
        else:
            said = _("Hours and materials: {booked} of {quoted}").format(
                booked=wording.hours(booked), quoted=wording.hours(quoted)
            )
        return ((HOURS, said), (OUTPUTS, _("Our own outputs, from hours booked")))


def cautions(works: Works) -> tuple[str, ...]:
    """Return what must not be overlooked: weather and season, and the day that shakes most."""
    loud = [note.text for note in works.notes if note.severity >= Severity.CAUTION]
    shaken = hardest_day(works)
    return (*loud, shaken) if shaken else tuple(loud)


def hardest_day(works: Works) -> str:
    """Return what the hardest day with the tools comes to; nothing where it is below the values."""
    worst = max(works.exposures, key=lambda day: day.points, default=None)
    if worst is None or worst.level is Level.BELOW:
        return ""
    gaps = {"points": f"{worst.points:.0f}", "words": worst.words, "n": worst.operatives}
    if worst.level is Level.ACTION or worst.operatives < 2:
        text = _("Vibration, hardest day: {points} points for one person. {words}")
    else:
        text = _(
            "Vibration, hardest day: {points} points for one person. {words} Shared by {n} it "
            "stays within the limit."
        )
    return text.format(**gaps)


def _weather(so_far: SoFar, works: Works) -> tuple[str, ...]:
    """Return what the forecast kept with the plan says against coming days."""
    against, _fine = wording.weather(works.weather)
    if not against or so_far.plan is None or so_far.plan.expected_on is None:
        return ()
    text = _("By the forecast of {date}. {what}")
    day = wording.day(so_far.plan.expected_on)
    return tuple(text.format(date=day, what=one) for one in against)


def _headline(works: Works, today: datetime.date) -> str:
    first = min((task.first for task in works.tasks), default=None)
    if first is None or works.finish is None:
        return _("Planned, with nobody needed there.")
    gaps = {"first": wording.day(first), "last": wording.day(works.finish)}
    if today < first:
        if first == works.finish:
            return gaps["first"]
        return _("{first} to {last}").format(**gaps)
    return _("Under way, done by {last}").format(last=gaps["last"])


def _noted(works: Works) -> str:
    planned = [one for one in works.marks if one.items]
    gaps = {"n": len(planned) - len(works.still_to_do), "all": len(planned)}
    return _("{n} of {all}").format(**gaps)
