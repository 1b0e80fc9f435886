"""Who a paper is for: shown as it will be printed, and written down in place."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers import checks
from estimator.desktop.papers.checks import Problem
from estimator.desktop.papers.rows import Row
from estimator.desktop.session import Session
from estimator.desktop.widgets.buttons import button
from estimator.desktop.widgets.words import words
from estimator.quoting import edits
from estimator.survey.survey import Party

EMAIL = "email"


class CustomerRow(QWidget):
    """The customer's name, address and e-mail."""

    closed = Signal()
    """The fields were put away."""

    def __init__(self, session: Session) -> None:
        """Follow a session."""
        super().__init__()
        self._session = session
        self.row = Row(_("For"), change=_("Change who it is for"), act=self.open)
        self.fields: dict[str, QLineEdit] = {}
        self._problems: dict[str, QWidget] = {}
        self._form = _Form(self)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self.row)
        layout.addWidget(self._form)
        self._form.hide()

    def show_party(self, party: Party, problems: tuple[Problem, ...]) -> None:
        """Show who it is for, and say what is missing."""
        said = {one.field: one.text for one in problems}
        missing = [said[name] for name in (checks.NAME, checks.ADDRESS) if name in said]
        self.row.say(party.name.strip(), _lines(party))
        self.row.complain("\n".join(missing))
        self._form.say(said)

    def open(self, field: str = checks.NAME) -> None:
        """Show the fields, the cursor in one of them."""
        self._form.fill(self._session.work.survey.customer)
        self._form.show()
        self.row.hide()
        self._form.fields[field].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def close_fields(self) -> None:
        """Put the fields away; what was typed is kept already."""
        self._form.hide()
        self.row.show()
        self.closed.emit()

    @property
    def is_open(self) -> bool:
        """Whether the fields are shown."""
        return not self._form.isHidden()

    def take(self, field: str, typed: str) -> None:
        """Take down what was typed."""
        work = self._session.work
        party = work.survey.customer
        if field == checks.ADDRESS:
            lines = tuple(part.strip() for part in typed.split(",") if part.strip())
            changed = replace(party, address=lines)
        else:
            changed = replace(party, **{field: typed.strip()})  # type: ignore[arg-type]
        self._session.apply(edits.name_customer(work, changed, about=field))


class _Form(QWidget):
    """The fields themselves, each under its label."""

    def __init__(self, owner: CustomerRow) -> None:
        super().__init__()
        self._owner = owner
        self.fields: dict[str, QLineEdit] = {}
        self._said = {}
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 8)
        layout.setSpacing(4)
        for name, label, most in (
            (checks.NAME, _("Customer's name"), 200),
            (checks.ADDRESS, _("Customer's address, with commas between its lines"), 900),
            (EMAIL, _("E-mail, if they have one"), 200),
        ):
            field = QLineEdit()
            field.setMaxLength(most)
            field.setAccessibleName(label)
            field.textEdited.connect(lambda typed, name=name: owner.take(name, typed))
            field.returnPressed.connect(lambda name=name: self._next(name))
            said = words(tone="stop", role="text")
            said.hide()
            for part in (words(label, role="second"), field, said):
                layout.addWidget(part)
            self.fields[name], self._said[name] = field, said
        done = button(_("Done"))
        done.setAccessibleName(_("Done with who it is for"))
        done.clicked.connect(lambda _ticked=False: owner.close_fields())
        layout.addWidget(done, 0, Qt.AlignmentFlag.AlignLeft)

    def fill(self, party: Party) -> None:
        """Write what is known into the fields."""
        self.fields[checks.NAME].setText(party.name)
        self.fields[checks.ADDRESS].setText(", ".join(party.address))
        self.fields[EMAIL].setText(party.email)

    def say(self, said: dict[str, str]) -> None:
        """Say beside each field what is missing there."""
        for name, label in self._said.items():
            label.setText(said.get(name, ""))
            label.setVisible(name in said)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Close with Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self._owner.close_fields()
        else:
            super().keyPressEvent(event)

    def _next(self, name: str) -> None:
        names = list(self.fields)
        place = names.index(name) + 1
        if place < len(names):
            self.fields[names[place]].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self._owner.close_fields()


def _lines(party: Party) -> str:
    """Return the address as it is printed, the place of the work under it where it differs."""
    address = ", ".join(line for line in party.address if line.strip())
    site = ", ".join(line for line in party.site if line.strip())
    if not site or site == address:
        return address
    if not address:
        return site
    return "\n".join((address, _("Work at {place}").format(place=site)))
