"""What is offered and by which rules, changed in place: the prices above follow each key."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QCheckBox, QLineEdit, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money.rule_field import RuleField
from estimator.desktop.session import Session
from estimator.desktop.state import Sight
from estimator.desktop.widgets.buttons import escaped
from estimator.desktop.widgets.words import words
from estimator.notices import UserMistake
from estimator.quoting import edits
from estimator.takeoff import rules, scope
from estimator.takeoff.scope import Scope, Work

RULES = (
    "spacing_courses",
    "anchorage_mm",
    "slot_depth_leaf_mm",
    "slot_depth_solid_mm",
    "pointing_over_slot_mm",
    "rake_widths",
    "least_rake_mm",
    "panel_margin_mm",
    "panel_margin_courses",
    "grout_waste",
    "pointing_waste",
)
"""The rules that move a price most; all others stand in the settings."""
OWN = "own"
LONGEST_TITLE = 80


def work_words() -> dict[Work, str]:
    """Return the kinds of work as they are ticked."""
    return {
        Work.STITCH: _("Stitch with bars in cut beds"),
        Work.POINT_CRACK: _("Rake and point along the cracks"),
        Work.BRICKS: _("Replace, turn or patch cracked bricks"),
        Work.REPOINT_PANEL: _("Rake out and repoint the panel"),
    }


class OfferEditor(QWidget):
    """Ticks for the choices, one choice of one's own, and a field for each rule that matters."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Show what the open job offers now."""
        super().__init__(parent)
        self._session = session
        self.choices = {one.key: QCheckBox(escaped(one.title)) for one in scope.ALL.values()}
        self.own = QCheckBox(_("A choice of our own"))
        self.title = QLineEdit()
        self.title.setMaxLength(LONGEST_TITLE)
        self.title.setPlaceholderText(_("What to call it"))
        self.title.setAccessibleName(_("What to call our own choice"))
        self.works = {work: QCheckBox(text) for work, text in work_words().items()}
        self.message = words(role="second", tone="caution")
        self.fields = {key: RuleField(rules.rule_info(key)) for key in RULES}
        self._own_part = QWidget()
        self._lay_out()
        for box in (*self.choices.values(), self.own, *self.works.values()):
            box.clicked.connect(self._offer)
        self.title.textEdited.connect(self._offer)
        for key, field in self.fields.items():
            field.typed.connect(lambda value, key=key: self._set_rule(key, value))
            field.entered.connect(lambda key=key: self._give_reason(key))
            field.usual_wanted.connect(lambda key=key: self._set_rule(key, None))
        self.show_sight(session.sight)

    def show_sight(self, sight: Sight) -> None:
        """Show what is offered, and the rules that hold."""
        scopes = {one.key: one for one in sight.work.scopes}
        for key, box in self.choices.items():
            _tick(box, ticked=key in scopes)
        mine = next((one for one in sight.work.scopes if one.key not in scope.ALL), None)
        _tick(self.own, ticked=mine is not None)
        self._own_part.setVisible(mine is not None)
        if mine is not None:
            for work, box in self.works.items():
                _tick(box, ticked=work in mine)
            if self.title.text().strip() != mine.title and not self.title.hasFocus():
                self.title.setText(mine.title)
        usual, held = self._session.practice.rules, sight.practice.rules
        for key, field in self.fields.items():
            field.show_value(getattr(held, key), getattr(usual, key))

    @property
    def last_stop(self) -> QWidget:
        """The last thing in here that Tab stops at."""
        return self.fields[RULES[-1]].usual

    def take_focus(self) -> None:
        """Put the keyboard on the first tick."""
        next(iter(self.choices.values())).setFocus()

    def _offer(self) -> None:
        """Offer what is ticked, or say why not and tick again what is offered."""
        self.refuse("")
        ticked = [scope.ALL[key] for key, box in self.choices.items() if box.isChecked()]
        if self.own.isChecked():
            works = frozenset(work for work, box in self.works.items() if box.isChecked())
            ticked.append(self._own_scope(works or self._first_own()))
        if not ticked:
            self.refuse(_("One choice at least is offered; tick another one first."))
            self.show_sight(self._session.sight)
            return
        self._session.apply(edits.offer(self._session.work, tuple(ticked)))
        self.show_sight(self._session.sight)

    def refuse(self, sentence: str) -> None:
        """Say why a tick cannot be taken away; nothing where it can."""
        self.message.setText(sentence)
        self.message.setVisible(bool(sentence))

    def _own_scope(self, works: frozenset[Work]) -> Scope:
        title = self.title.text().strip() or _("Our own choice")
        return scope.own(title, works, key=OWN)

    def _first_own(self) -> frozenset[Work]:
        """Return the work of a new choice, or of one whose last tick was taken away."""
        mine = next((one for one in self._session.work.scopes if one.key not in scope.ALL), None)
        if mine is None:
            return frozenset({Work.STITCH})
        self.refuse(_("A choice holds one kind of work at least; tick another one first."))
        return mine.works

    def _set_rule(self, key: str, value: float | None) -> None:
        usual = self._session.practice.rules
        if value == getattr(usual, key):
            value = None
        edit = edits.set_rule(self._session.work, key, value)
        try:
            edit.after.rules(usual)
        except UserMistake as mistake:
            said = str(mistake)
            self.fields[key].refuse(said[:1].upper() + said[1:])
            return
        self.fields[key].refuse("")
        self._session.apply(edit)
        self.show_sight(self._session.sight)

    def _give_reason(self, key: str) -> None:
        for name, field in self.fields.items():
            field.give_reason(shown=name == key)

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 0, 8, 8)
        layout.setSpacing(4)
        layout.addWidget(words(_("Offer these"), role="strong"))
        for box in (*self.choices.values(), self.own):
            layout.addWidget(box)
        within = QVBoxLayout(self._own_part)
        within.setContentsMargins(24, 0, 0, 0)
        within.setSpacing(0)
        within.addWidget(self.title)
        for box in self.works.values():
            within.addWidget(box)
        layout.addWidget(self._own_part)
        layout.addWidget(self.message)
        self.message.hide()
        layout.addSpacing(12)
        layout.addWidget(words(_("Rules for this job"), role="strong"))
        layout.addWidget(words(_("In a field, Ctrl U puts our usual figure back."), role="second"))
        for field in self.fields.values():
            layout.addSpacing(4)
            layout.addWidget(field)


def _tick(box: QCheckBox, *, ticked: bool) -> None:
    if box.isChecked() != ticked:
        with QSignalBlocker(box):
            box.setChecked(ticked)
