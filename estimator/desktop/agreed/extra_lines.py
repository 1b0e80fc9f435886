"""Lines no measuring gives: a provisional sum, written in under the measured lines."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.contract.drafting import one_sum
from estimator.contract.variation import Valued, ValuedBy
from estimator.desktop.agreed.fields import pounds
from estimator.desktop.language import _
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.money import Money
from estimator.survey.limits import LETTERS

LONGEST_SUM = 12
ITEM = "provisional_sum"
"""What a line is called that stands for no kind of work."""


class ExtraLines(QWidget):
    """A quiet button that opens to a short form."""

    written = Signal(object)
    """A ``Valued`` that is to stand under the measured lines."""
    hours_wanted = Signal()
    """The sheet of hours, materials and plant is wanted."""

    def __init__(self) -> None:
        """Begin folded up."""
        super().__init__()
        self.open_sum = quiet_button(_("Add a provisional sum"))
        self.open_hours = quiet_button(_("Add hours worked"))
        self.what = Written(_("What it is for"), most=LETTERS["name"])
        self.amount = Written(_("Sum before VAT (£)"), most=LONGEST_SUM)
        self.add = button(_("Add it"))
        self.form = QFrame()
        self.open_sum.clicked.connect(self._open)
        self.open_hours.clicked.connect(self._want_hours)
        self.add.clicked.connect(self._add)
        for field in (self.what, self.amount):
            field.editor.returnPressed.connect(self._add)  # type: ignore[union-attr]
        self._lay_out()
        self.close_form()

    def close_form(self) -> None:
        """Fold the form up, empty."""
        self.form.hide()
        self.open_sum.show()
        for field in (self.what, self.amount):
            field.show_text("")
            field.complain("")

    def _open(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.form.show()
        self.open_sum.hide()
        self.what.take_focus()

    def _want_hours(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.hours_wanted.emit()

    def _add(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        what, sum_ = self.what.text.strip(), pounds(self.amount.text)
        self.what.complain("" if what else _("Say what the sum is for."))
        self.amount.complain("" if sum_ else _("Type a sum such as 350 or -350."))
        if not what:
            self.what.take_focus()
        elif not sum_:
            self.amount.take_focus()
        else:
            self.written.emit(provisional(what, Money.of(sum_)))
            self.close_form()
            self.open_sum.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lay_out(self) -> None:
        inside = QVBoxLayout(self.form)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.what)
        inside.addWidget(self.amount)
        inside.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 4)
        layout.setSpacing(4)
        layout.addWidget(self.form)
        for part in (self.open_sum, self.open_hours):
            layout.addWidget(part, 0, Qt.AlignmentFlag.AlignLeft)


def provisional(what: str, amount: Money) -> Valued:
    """Return a provisional sum as a line: added, or taken off where it is negative."""
    return one_sum(ITEM, what, amount, ValuedBy.PROVISIONAL_SUM, "")
