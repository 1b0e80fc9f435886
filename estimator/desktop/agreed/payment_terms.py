"""The terms of payment: said in words in one quiet row, which opens where they are others."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from estimator.contract.acceptance import deducted_percent
from estimator.contract.contract import Contract, Retention
from estimator.contract.stages import usual_due_days, usual_retention_months
from estimator.desktop.agreed import typed_terms
from estimator.desktop.agreed.fields import Picked
from estimator.desktop.language import _, counted, in_context
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.notices import UserMistake
from estimator.pricing.tax_habits import Deduction
from estimator.survey.survey import CustomerKind

T = TypeVar("T")
SHORT = 20


@dataclass(frozen=True, slots=True)
class AgreedTerms:
    """Until when an invoice is paid, and what is kept back of it."""

    due_days: int
    retention: Retention
    deduction: Deduction | None
    """None for as quoted."""


class PaymentTerms(QWidget):
    """Days to pay for anybody; what is kept back for a business, the tax office for trade."""

    changed = Signal()
    entered = Signal()
    """Enter was pressed in a field."""

    def __init__(self) -> None:
        """Begin closed, with what is usual."""
        super().__init__()
        self._percents: dict[Deduction, Decimal] = {}
        self._may_keep_back = False
        self.change = quiet_button("")
        self.change.clicked.connect(self._turn)
        self.said = words()
        self.scheme_said = words(role="second")
        self.days = Written(
            _("Days to pay"), most=SHORT, hint=counted("{n} day", "{n} days", usual_due_days())
        )
        self.kept = Written(
            _("They keep back of each invoice, before VAT (%)"), most=SHORT, hint=_("nothing")
        )
        self.months = Written(
            _("Half of it comes on completion, the rest how many months later"),
            most=SHORT,
            hint=counted("{n} month", "{n} months", usual_retention_months()),
        )
        self.scheme = Picked(
            _("They keep back of the labour, for the tax office"), {Deduction.NONE: ""}
        )
        self.household = words(
            _("A household keeps nothing back: that is for work between businesses."),
            role="second",
        )
        self.fields = QWidget()
        self._lay_out()

    @property
    def terms(self) -> AgreedTerms | None:
        """What is agreed; None while something typed cannot be read."""
        days, percent, months = self._days(), self._kept(), self._months()
        if days is None or percent is None or months is None:
            return None
        retention = Retention(percent, months) if percent else Retention()
        return AgreedTerms(days, retention, self.scheme.value if self._percents else None)

    def begin(self) -> None:
        """Begin with what is usual: nothing typed before is of this job."""
        for field in (self.days, self.kept, self.months):
            field.show_text("")
        self._percents = {}
        self._open(on=False)

    def show_for(self, quoted: Contract, *, is_household: bool) -> None:
        """Ask what this customer may agree to.

        Args:
            quoted: What would be agreed as it was quoted.
            is_household: Whether the customer is one by now.
        """
        was_household = quoted.terms.customer is CustomerKind.HOUSEHOLD
        self._may_keep_back = not (is_household or was_household)
        self.household.setVisible(is_household and not was_household)
        percents = {one: deducted_percent(one, quoted.terms) for one in Deduction}
        found = {one: percent for one, percent in percents.items() if percent is not None}
        if not self._may_keep_back:
            found = {}
        if found != self._percents:
            self._percents = found
            self.scheme.offer(_scheme_words(found) or {Deduction.NONE: ""})
            self.scheme.pick(quoted.terms.deduction)
        self._say()

    def lead_to_mistake(self) -> bool:
        """Put the cursor on what cannot be read; return whether there is anything such."""
        asked = ((self.days, self._days), (self.kept, self._kept), (self.months, self._months))
        for field, read in asked:
            if read() is None:
                self._open(on=True)
                QTimer.singleShot(0, self, field.take_focus)
                return True
        return False

    def _turn(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        """Open the fields, or close them where all of them can be read."""
        if not self.fields.isHidden():
            if not self.lead_to_mistake():
                self._open(on=False)
            return
        self._open(on=True)
        # Its place in what is scrolled is known with the next turn.
        QTimer.singleShot(0, self, self.days.take_focus)

    def _open(self, *, on: bool) -> None:
        self.fields.setVisible(on)
        self.change.setText(_("Done") if on else _("Change"))
        self.change.setAccessibleName(
            _("Done with the terms of payment") if on else _("Change the terms of payment")
        )

    # -- what is typed

    def _days(self) -> int | None:
        return _read(self.days, typed_terms.due_days)

    def _kept(self) -> Decimal | None:
        return _read(self.kept, typed_terms.kept_back) if self._may_keep_back else Decimal(0)

    def _months(self) -> int | None:
        return _read(self.months, typed_terms.months) if self._kept() else 0

    def _look(self, _typed: object = None) -> None:
        self._say()
        self.changed.emit()

    def _say(self) -> None:
        """Say in words what is agreed; what cannot be read leaves the words as they were."""
        self.kept.setVisible(self._may_keep_back)
        self.months.setVisible(bool(self._kept()))
        self.scheme.setVisible(bool(self._percents))
        terms = self.terms
        if terms is not None:
            self.said.setText(said(terms.due_days, terms.retention))
        scheme = self._said_of_scheme()
        self.scheme_said.setText(scheme)
        self.scheme_said.setVisible(bool(scheme))

    def _said_of_scheme(self) -> str:
        percent = self._percents.get(self.scheme.value)
        if not percent:
            return ""
        return _("{percent} % of the labour goes to the tax office.").format(
            percent=formats.plain(percent)
        )

    def _lay_out(self) -> None:
        inside = QVBoxLayout(self.fields)
        inside.setContentsMargins(0, 0, 0, 6)
        inside.setSpacing(0)
        head = QHBoxLayout()
        head.addWidget(words(_("Terms of payment"), role="second"), 1)
        head.addWidget(self.change)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 6, 0, 6)
        layout.setSpacing(0)
        layout.addLayout(head)
        for field in (self.days, self.kept, self.months):
            inside.addWidget(field)
            field.typed.connect(self._look)
            editor = field.editor
            assert isinstance(editor, QLineEdit)
            editor.returnPressed.connect(self.entered)
        inside.addWidget(self.scheme)
        self.scheme.changed.connect(self._look)
        for part in (self.said, self.scheme_said, self.household, self.fields):
            layout.addWidget(part)
        for part in (self.scheme_said, self.household):
            part.hide()
        self.begin()


def said(days: int, kept: Retention) -> str:
    """Return terms of payment in a sentence."""
    paid = counted("Paid within {n} day", "Paid within {n} days", days)
    if not days:
        paid = _("Paid on the day of the invoice")
    if not kept.percent:
        return _("{paid}, nothing kept back.").format(paid=paid)
    gaps = {"paid": paid, "percent": formats.plain(kept.percent)}
    if not kept.months:
        return _("{paid}; {percent} % kept back until the work is done.").format(**gaps)
    later = counted("{n} month", "{n} months", kept.months)
    return _(
        "{paid}; {percent} % kept back, half until the work is done, half until {later} later."
    ).format(later=later, **gaps)


def _scheme_words(percents: dict[Deduction, Decimal]) -> dict[Deduction, str]:
    """Return how a contractor may stand to us in the construction scheme."""
    why = {
        Deduction.REGISTERED: in_context("scheme", "we are registered"),
        Deduction.UNVERIFIED: in_context("scheme", "we are not verified"),
        Deduction.GROSS: in_context("scheme", "we are paid gross"),
        Deduction.NONE: in_context("scheme", "the scheme does not apply"),
    }
    nothing, share = _("nothing: {why}"), _("{percent} %: {why}")
    return {
        one: (share if percents[one] else nothing).format(
            percent=formats.plain(percents[one]), why=why[one]
        )
        for one in why
        if one in percents
    }


def _read(field: Written, read: Callable[[str], T]) -> T | None:
    """Return what a field says, or None and say in it what is wrong."""
    try:
        found = read(field.text)
    except UserMistake as mistake:
        field.complain(str(mistake))
        return None
    field.complain("")
    return found
