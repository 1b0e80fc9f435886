"""Who is calling: one quiet line that opens into fields, and offers those already known."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QFormLayout, QFrame, QLineEdit, QVBoxLayout, QWidget

from estimator.desktop.filing import Filing
from estimator.desktop.language import _
from estimator.desktop.questions.line import LABEL, LEAST, Line
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import words
from estimator.survey.survey import Party

if TYPE_CHECKING:
    from estimator.store.customers import Customer
    from estimator.store.database import Database

OFFERED = 4
"""Known customers shown at a time."""
LEAST_TYPED = 2
BESIDE = 260
"""Least width for labels beside their fields. [px]"""
POSTCODE = re.compile(r"[A-Z]{1,2}\d[A-Z\d]? ?\d[A-Z]{2}", re.IGNORECASE)
"""The shape of a British postcode; common practice, no source."""
FIELDS = ("name", "telephone", "address", "postcode")


class CallerField(QLineEdit):
    """A field that passes on what moves between fields."""

    stepped = Signal(int)
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Move by the arrows and Enter; go by Esc."""
        key = event.key()
        if key == Qt.Key.Key_Escape:
            self.left.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.modifiers():
            self.stepped.emit(0)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not event.modifiers():
            self.stepped.emit(1 if key == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)


class CallerBlock(QFrame):
    """The caller's name, telephone, address and postcode."""

    changed = Signal(object, str)
    """A ``Party`` and the field it was typed in."""
    chosen = Signal(object, str)
    """A ``Party`` that is known, and what the file calls it."""
    left = Signal()
    """Done here; back to the question."""
    stepped = Signal(int)

    def __init__(self, filing: Filing, parent: QWidget | None = None) -> None:
        """Begin closed and empty."""
        super().__init__(parent)
        self._filing = filing
        self._party = Party()
        self._asked = 0
        self._found: tuple[Customer, ...] = ()
        self.line = Line()
        self.fields = {name: CallerField() for name in FIELDS}
        self.offers = [Line() for _place in range(OFFERED)]
        self._form = QWidget()
        form = self._rows = QFormLayout(self._form)
        form.setContentsMargins(8, 4, 0, 8)
        form.setSpacing(4)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        for name, field in self.fields.items():
            self._add(form, name, field)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.line)
        layout.addWidget(self._form)
        self._form.hide()
        for place, offer in enumerate(self.offers):
            offer.clicked.connect(lambda _on=False, place=place: self._choose(place))
            offer.stepped.connect(lambda step, place=place: self._from_offer(place, step))
        self.line.clicked.connect(self._toggle)
        self.line.stepped.connect(self._from_line)
        self._say()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Put labels above their fields where there is no room beside them."""
        super().resizeEvent(event)
        wrap = QFormLayout.RowWrapPolicy
        is_narrow = event.size().width() < LOOK.px(BESIDE)
        self._rows.setRowWrapPolicy(wrap.WrapAllRows if is_narrow else wrap.DontWrapRows)
        for field in self.fields.values():
            # The fields begin where the answers below them do.
            label = self._rows.labelForField(field)
            label.setMinimumWidth(0 if is_narrow else LOOK.px(LABEL) - self._rows.spacing())

    def _add(self, form: QFormLayout, name: str, field: CallerField) -> None:
        label = words(_title(name), role="second", wrap=False)
        label.setMinimumHeight(LEAST)
        form.addRow(label, field)
        field.setAccessibleName(_title(name))
        field.textEdited.connect(lambda _text: self._typed(name))
        field.stepped.connect(lambda step: self._step(name, step))
        field.left.connect(self.close_up)
        if name == "name":
            for offer in self.offers:
                form.addRow(offer)
                offer.hide()

    @property
    def is_open(self) -> bool:
        """Whether the fields are shown."""
        return not self._form.isHidden()

    def show_party(self, party: Party) -> None:
        """Show who is calling; what is being typed here is left alone."""
        if party == self._party:
            return
        self._party = party
        self._say()
        *lines, last = ("", *party.address)
        is_code = bool(POSTCODE.fullmatch(last.strip()))
        street = ", ".join(line for line in ([*lines] if is_code else [*lines, last]) if line)
        shown = {
            "name": party.name,
            "telephone": party.telephone,
            "address": street,
            "postcode": last if is_code else "",
        }
        for key, text in shown.items():
            self.fields[key].setText(text)

    def open_up(self) -> None:
        """Show the fields, the cursor in the first that is empty."""
        self._form.show()
        self._say()
        empty = (field for field in self.fields.values() if not field.text())
        next(empty, self.fields["name"]).setFocus()

    def close_up(self) -> None:
        """Fold into one line again."""
        self._forget()
        self._form.hide()
        self._say()
        self.left.emit()

    def _toggle(self) -> None:
        self.close_up() if self.is_open else self.open_up()

    def _say(self) -> None:
        parts = (self._party.name.strip(), self._party.telephone.strip())
        known = " · ".join(part for part in parts if part)
        if known and not self.is_open:
            self.line.say(known, label=_("Calling"))
        else:
            self.line.say(
                _("Who is calling?"), remark=_("Esc") if self.is_open else _("Ctrl K"), quiet=True
            )

    def _from_line(self, step: int) -> None:
        if step == 1 and self.is_open:
            self.fields["name"].setFocus()
        else:
            self.stepped.emit(step)

    # -- typing

    def _typed(self, name: str) -> None:
        party = self._from_fields()
        self._party = party
        self.changed.emit(party, name)
        if name in ("name", "telephone"):
            self._look_up(self.fields[name].text().strip())

    def _from_fields(self) -> Party:
        text = {name: field.text() for name, field in self.fields.items()}
        parts = [part.strip() for part in text["address"].split(",")]
        address = tuple(part for part in (*parts, text["postcode"].strip()) if part)
        return replace(self._party, name=text["name"], telephone=text["telephone"], address=address)

    def _step(self, name: str, step: int) -> None:
        """Move to the field before or after; Enter in the last goes back to the question."""
        offers = [offer for offer in self.offers if offer.isVisible()]
        if name == "name" and step == 1 and offers:
            offers[0].setFocus()
            return
        at = FIELDS.index(name) + (step or 1)
        if at == len(FIELDS) and not step:
            self.close_up()
        elif at < 0:
            self.line.setFocus()
        elif at == len(FIELDS):
            self.stepped.emit(1)
        else:
            self.fields[FIELDS[at]].setFocus()

    # -- those who are known

    def _look_up(self, typed: str) -> None:
        self._asked += 1
        asked = self._asked
        if len(typed) < LEAST_TYPED or not self._filing.is_open:
            self._offer(())
            return

        def found_by(database: Database) -> tuple[Customer, ...]:
            from estimator.store import customers  # noqa: PLC0415 - loads the database library

            return customers.suggest(database, typed, limit=OFFERED)

        def show(found: tuple[Customer, ...]) -> None:
            if asked == self._asked:
                self._offer(found)

        self._filing.ask(found_by, show)

    def _offer(self, found: tuple[Customer, ...]) -> None:
        self._found = found
        for place, offer in enumerate(self.offers):
            offer.setVisible(place < len(found))
            if place < len(found):
                one = found[place]
                where = ", ".join(one.address[:1])
                offer.say(" · ".join(part for part in (one.name, where, one.telephone) if part))

    def _forget(self) -> None:
        self._asked += 1
        self._offer(())

    def _from_offer(self, place: int, step: int) -> None:
        at = place + step
        if at < 0:
            self.fields["name"].setFocus()
        elif at < len(self._found):
            self.offers[at].setFocus()
        else:
            self.fields["telephone"].setFocus()

    def _choose(self, place: int) -> None:
        one = self._found[place]
        party = Party(
            name=one.name,
            kind=one.kind,
            address=one.address,
            telephone=one.telephone,
            email=one.email,
            vat_number=one.vat_number,
        )
        self.chosen.emit(party, one.uid)
        self.close_up()


def _title(name: str) -> str:
    return {
        "name": _("Name"),
        "telephone": _("Telephone"),
        "address": _("Address"),
        "postcode": _("Postcode"),
    }[name]
