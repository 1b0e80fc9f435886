"""Over the money, once a job is agreed: what the wall as found changes, and what else could be."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout

from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.change_rows import ChangeRows
from estimator.desktop.agreed.reckoning import Choice
from estimator.desktop.agreed.valuing import Valuing
from estimator.desktop.language import _
from estimator.desktop.money.beside import Beside
from estimator.desktop.money.column import AgreedMoney
from estimator.desktop.papers.wrapped_line import EDGE, WrappedLine
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import figures, retone, words
from estimator.survey.survey import Treatment
from estimator.takeoff.scope import LOCAL, PANEL


class Since(AgreedMoney):
    """The live change against the agreement, with its lines, and the choices offered again."""

    chosen = Signal(object)
    """The ``Scope`` the work is to be done by; None for the way that is agreed."""
    repair_chosen = Signal(object)
    """An ``OtherRepair`` of the bricks found since."""

    def __init__(self, valuing: Valuing) -> None:
        """Follow what is valued."""
        super().__init__()
        self._valuing = valuing
        self.card = QFrame()
        self.card.setProperty("role", "card")
        self.title = words(_("Since the agreement"), role="title", wrap=False)
        self.days = figures(role="second")
        self.price = words(role="price", wrap=False)
        self.taxed = figures(role="second")
        self.what = words()
        self.notes = words(role="second")
        self.problem = CautionBox()
        self.rows = self.changes = ChangeRows()
        self.other = words(_("Or do it another way"), role="second")
        self._choices = QVBoxLayout()
        self._choices.setSpacing(0)
        self._choices.setContentsMargins(16 - EDGE, 0, 0, 0)
        self._lines: list[WrappedLine] = []
        self._told: tuple[Choice, ...] = ()
        self._lay_out()
        valuing.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show what it comes to now."""
        valuing = self._valuing
        valued = valuing.valuation
        self.problem.say(
            valuing.problem, heading=_("This cannot be valued") if valuing.problem else ""
        )
        is_change = valuing.is_anything
        self.title.setText(_since(valuing.following.so_far))
        self.days.setText(wording.days(valued.extra_days) if valued is not None else "")
        nothing = _("Working it out…") if valuing.is_settling else _("No change")
        self.price.setText(wording.signed(valuing.total) if is_change else nothing)
        retone(self.price, tone="quiet" if valuing.is_settling else "")
        self.taxed.setText(self._taxed() if is_change else "")
        if is_change and valued is not None:
            self.what.setText(valuing.title)
            self.notes.setText("\n".join((*valued.warnings, *valued.notes)))
        else:
            said = _nothing(valuing.following.so_far, valuing.title)
            self.what.setText("" if valuing.is_settling else said)
            self.notes.clear()
        self.notes.setVisible(bool(self.notes.text()))
        self.days.setVisible(bool(self.days.text()))
        for line in (self._head, self._figures):
            line.look_again()
        self._show_rows()
        self._show_choices()

    def _taxed(self) -> str:
        contract = self._valuing.following.so_far.contract
        if contract is None or contract.net == contract.total:
            return _("no VAT to pay")
        return _("with VAT")

    def _show_rows(self) -> None:
        from estimator.contract.position import position  # noqa: PLC0415 - loads the engine

        valuing = self._valuing
        so_far = valuing.following.so_far
        agreed = position(so_far) if valuing.following.has_contract else ()
        lines = valuing.valuation.lines if valuing.valuation is not None else ()
        self.changes.show_lines(lines, agreed)

    def _show_choices(self) -> None:
        found = self._valuing.choices
        self.other.setVisible(bool(found))
        if found == self._told:
            return
        self._told = found
        for line in self._lines:
            self._choices.removeWidget(line)
            line.hide()
            line.deleteLater()
        self._lines = [self._line(one) for one in found]

    def _line(self, one: Choice) -> WrappedLine:
        line = WrappedLine(choice_title(one), wording.signed(one.amount), said=choice_said(one))
        wanted = self.chosen if one.repair is None else self.repair_chosen
        what = (None if one.is_agreed else one.scope) if one.repair is None else one.repair
        line.clicked.connect(lambda _ticked=False: wanted.emit(what))
        self._choices.addWidget(line)
        return line

    @property
    def choice_lines(self) -> tuple[WrappedLine, ...]:
        """The lines of the other choices, each to be taken up."""
        return tuple(self._lines)

    def _lay_out(self) -> None:
        self._head = Beside(self.title, self.days)
        self._figures = Beside(self.price, self.taxed)
        inside = QVBoxLayout(self.card)
        inside.setContentsMargins(15, 11, 15, 13)
        inside.setSpacing(4)
        for part in (self._head, self._figures, self.what, self.notes):
            inside.addWidget(part)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(self.problem)
        layout.addWidget(self.card)
        self.other.setIndent(16)
        layout.addWidget(self.other)
        layout.addLayout(self._choices)
        layout.addWidget(self.rows)
        layout.setAlignment(Qt.AlignmentFlag.AlignTop)


def _since(so_far: SoFar) -> str:
    """Return since when the change is: the last variation that covers what was found."""
    covering = (one.number for one in so_far.variations if one.standing.is_covered and one.number)
    last = max(covering, default="")
    return _("Since {number}").format(number=last) if last else _("Since the agreement")


def _nothing(so_far: SoFar, found: str) -> str:
    """Return what to do where the wall is as it is agreed, or waits to be."""
    if so_far.called_off is not None:
        return _("The agreement is cancelled, so nothing of it can be changed.")
    waiting = [one.number for one in so_far.variations if one.standing is Standing.SENT]
    if waiting:
        said = _("All that is marked is in {numbers}, which waits for an answer.")
        if len(waiting) > 1:
            said = _("All that is marked is in {numbers}, which wait for an answer.")
        return said.format(numbers=", ".join(waiting))
    if found:
        return _("{found}: it changes nothing of the price.").format(found=found)
    return _("Mark on the wall what is found: each change is valued here.")


def choice_title(one: Choice) -> str:
    """Return another way to do the work."""
    if one.repair is not None:
        if one.repair.treatment is Treatment.PATCH:
            return _("Patch the bricks found, not replace them")
        return _("Replace the bricks found, not patch them")
    if one.is_agreed:
        return _("As agreed")
    if one.scope.key == PANEL.key:
        return _("Repoint the whole panel after all")
    if one.scope.key == LOCAL.key:
        return _("Stitch, and point where we cut after all")
    return _("{title} after all").format(title=one.scope.title)


def choice_said(one: Choice) -> str:
    """Return another way to do the work, and what it changes, in one sentence."""
    return _("{way}: {amount}").format(way=choice_title(one), amount=wording.signed(one.amount))
