"""What is written down for the paper of a survey: title, day, what was out of sight, what is on it.

Every key counts, but for the day, which counts once it is whole; the paper beside it is made anew
as soon as the hand rests.
"""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers.written import Written
from estimator.desktop.readings import typed
from estimator.desktop.session import Session
from estimator.documents import formats
from estimator.documents.wording import capital
from estimator.notices import UserMistake
from estimator.quoting import edits
from estimator.quoting.wall_edits import outline
from estimator.survey.limits import LETTERS
from estimator.survey.survey import Basis, Elevation, Survey


class SurveyNotes(QWidget):
    """The fields, each kept with the job as it is typed."""

    def __init__(self, session: Session) -> None:
        """Follow a session."""
        super().__init__()
        self._session = session
        self.title = Written(_("What it is called"), most=LETTERS["name"])
        self.date = Written(_("Day it was seen"), most=LETTERS["short"])
        self.not_seen = Written(
            _("What could not be seen"),
            most=LETTERS["notes"],
            lines=True,
            hint=_("Behind the downpipe, under the render, indoors"),
        )
        self.said = Written(_("What we were told"), most=LETTERS["notes"], lines=True)
        self.on_walls: dict[str, Written] = {}
        self._sides: tuple[tuple[str, str], ...] = ()
        self._walls = QVBoxLayout()
        self._walls.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        for field in (self.title, self.date, self.not_seen):
            layout.addWidget(field)
        layout.addLayout(self._walls)
        layout.addWidget(self.said)
        self.title.typed.connect(self._name)
        self.date.typed.connect(self._day_typed)
        self.date.left.connect(self._keep_day)
        self.not_seen.typed.connect(self._not_seen)
        self.said.typed.connect(self._said)

    def begin(self) -> None:
        """Forget what was typed for another job and could not be used."""
        for field in (self.title, self.date):
            field.complain("")

    def show_survey(self, survey: Survey) -> None:
        """Show what is written down, and a field for each side."""
        is_told = survey.basis is Basis.TOLD
        label = _("Day it was told") if is_told else _("Day it was seen")
        self.date.label.setText(label)
        self.date.editor.setAccessibleName(label)
        if not self.title.editor.hasFocus():
            self.title.show_text(survey.title)
        if not self.date.editor.hasFocus() and not self.date.problem.text():
            self.date.show_text(formats.date(survey.date))
        self.not_seen.show_text(survey.not_seen)
        self.said.show_text(survey.said)
        self._show_sides(survey.elevations)

    def _show_sides(self, sides: tuple[Elevation, ...]) -> None:
        named = tuple((one.id, one.name) for one in sides)
        if named != self._sides:
            self._sides = named
            for field in self.on_walls.values():
                self._walls.removeWidget(field)
                field.hide()
                field.deleteLater()
            self.on_walls = {side: self._on_wall(side, name) for side, name in named}
        for side in sides:
            self.on_walls[side.id].show_text(side.ornament)

    def _on_wall(self, side: str, name: str) -> Written:
        label = _("What else is on it: {name}").format(name=name)
        hint = _("Pipes, meters, climbers")
        field = Written(label, most=LETTERS["notes"], hint=hint)
        field.typed.connect(partial(self._ornament, side))
        self._walls.addWidget(field)
        return field

    # -- what is typed

    def _name(self, title: str) -> None:
        """Keep the title; one rubbed out is kept as it was, since a paper needs a name."""
        named = title.strip()
        self.title.complain("" if named else _("A survey needs a name."))
        if named:
            self._session.apply(edits.describe(self._session.work, title=named))

    def _day_typed(self, _text: str) -> None:
        self.date.complain("")

    def _keep_day(self) -> None:
        """Keep the day once it is whole: half of 24/12/2026 is a day of another year."""
        if self.date.text == formats.date(self._session.work.survey.date):
            return
        try:
            day = typed.day(self.date.text, today=self._session.today()).isoformat()
        except UserMistake as mistake:
            self.date.complain(capital(str(mistake)))
        else:
            self._session.apply(edits.describe(self._session.work, date=day))
            self.date.show_text(formats.date(day))

    def _not_seen(self, text: str) -> None:
        self._session.apply(edits.note(self._session.work, not_seen=text))

    def _said(self, text: str) -> None:
        self._session.apply(edits.note(self._session.work, said=text))

    def _ornament(self, side: str, text: str) -> None:
        self._session.apply(outline.set_ornament(self._session.work, side, text))
