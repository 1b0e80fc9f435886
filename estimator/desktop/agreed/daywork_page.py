"""A sheet of hours, materials and plant, for work that could not be measured."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator import resources
from estimator.contract.daywork import DayworkSheet, Hours, Spent
from estimator.contract.deeds import DayworkKept
from estimator.contract.drafting import daywork_line
from estimator.desktop.agreed.fields import DayField, amount_in, pounds
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.half_typed import HalfTyped, Part
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.column_page import Contents, lay_page
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import main_button, quiet_button
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.money import Money, total
from estimator.notices import UserMistake
from estimator.pricing.provisional import Daywork, daywork
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.contract.variation import Valued
    from estimator.store.database import Database

SHORT = 12
NONE = Decimal(0)
MOST_HOURS = Decimal(24)


class Person(QWidget):
    """One person's hours on one day."""

    changed = Signal()

    def __init__(self) -> None:
        """Begin empty, with today."""
        super().__init__()
        self.who = Written(_("Who worked"), most=LETTERS["name"])
        self.trade = Written(_("Trade"), most=LETTERS["short"])
        self.on = DayField(_("On which day"))
        self.hours = Written(_("Hours"), most=SHORT)
        self.rate = Written(_("Prime cost an hour (£)"), most=SHORT)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        beside = QHBoxLayout()
        beside.setSpacing(8)
        beside.addWidget(self.hours)
        beside.addWidget(self.rate)
        for field in (self.who, self.trade, self.on):
            layout.addWidget(field)
        layout.addLayout(beside)
        self._fields = (self.who, self.trade, self.on, self.hours, self.rate)
        for field in self._fields:
            field.typed.connect(lambda _typed: self.changed.emit())

    @property
    def told(self) -> list[str]:
        """What stands in the fields."""
        return [field.text for field in self._fields]

    def show_told(self, told: list[str]) -> None:
        """Show what stood in the fields."""
        for field, text in zip(self._fields, told, strict=False):
            field.show_text(text)

    @property
    def cost(self) -> Money:
        """What the hours cost; nothing while they are not typed in full."""
        hours, rate = pounds(self.hours.text) or NONE, pounds(self.rate.text) or NONE
        return Money.of(max(rate, NONE)).times(max(hours, NONE))

    def read(self, today: datetime.date) -> Hours | None:
        """Return the hours; None, and what is wrong said, where something is missing."""
        who, on = self.who.text.strip(), self.on.read(today)
        hours, rate = pounds(self.hours.text), pounds(self.rate.text)
        self.who.complain("" if who else _("Say who worked."))
        is_day = hours is not None and 0 < hours <= MOST_HOURS
        self.hours.complain("" if is_day else _("Type hours such as 2.5"))
        self.rate.complain("" if rate is not None and rate > 0 else _("Type a rate such as 24.00"))
        if not who or on is None or hours is None or not is_day or rate is None or rate <= 0:
            return None
        return Hours(on, who, self.trade.text.strip(), hours, Money.of(rate))


class DayworkPage(QWidget):
    """What was done, by whom, with what; kept as a sheet and charged as one line."""

    left = Signal()
    kept = Signal(object)
    """The ``Valued`` that charges the sheet, once it is in the file."""

    def __init__(self, following: Following) -> None:
        """Begin with one person."""
        super().__init__()
        self._following = following
        self.what = Written(_("What was done"), most=LETTERS["name"])
        self.people: list[Person] = []
        self._people = QVBoxLayout()
        self.another = quiet_button(_("Somebody else, or another day"))
        self.materials = Written(_("Materials, at what they cost before VAT (£)"), most=SHORT)
        self.plant = Written(_("Plant, at what it cost before VAT (£)"), most=SHORT)
        self.percents = {
            "labour_percent": Written(_("Added to hours (%)"), most=SHORT),
            "materials_percent": Written(_("Added to materials (%)"), most=SHORT),
            "plant_percent": Written(_("Added to plant (%)"), most=SHORT),
        }
        self.signed = Written(_("Who signed the sheet, for what was done"), most=LETTERS["name"])
        self.sum = words(role="strong")
        self.note = words(tone="stop")
        self.take = main_button(_("Keep the sheet"))
        self.another.clicked.connect(self._another)
        self.take.clicked.connect(self._take)
        for field in (self.materials, self.plant, *self.percents.values()):
            field.typed.connect(self._look)
        self.half_typed = HalfTyped(
            following.session,
            "daywork",
            {
                "what": self.what,
                "people": Part(self._told_of_people, self._show_people),
                "materials": self.materials,
                "plant": self.plant,
                **self.percents,
                "signed": self.signed,
            },
            self,
        )
        self.half_typed.shown.connect(self._look)
        self._lay_out()

    def begin(self) -> None:
        """Begin a new sheet; what was half typed is there again."""
        self._clear()
        self.half_typed.begin()
        self.note.hide()
        self._look()

    def _clear(self) -> None:
        self._show_people([])
        for field in (self.what, self.materials, self.plant, self.signed):
            field.show_text("")
            field.complain("")
        usual = resources.data("contract.json")["daywork"]
        for name, field in self.percents.items():
            field.show_text(usual[name])
            field.complain("")

    def take_focus(self) -> None:
        """Put the cursor on what was done."""
        self.what.take_focus()

    def sheet(self) -> DayworkSheet | None:
        """Return the sheet as it stands; None, and what is wrong said, while it cannot be kept."""
        what, today = self.what.text.strip(), self._following.session.today()
        self.what.complain("" if what else _("Say what was done."))
        hours = [one.read(today) for one in self.people]
        spent = [
            amount_in(field, _("Type a sum such as 84.00"))
            for field in (self.materials, self.plant)
        ]
        percents = {name: self._percent(field) for name, field in self.percents.items()}
        told = tuple(one for one in hours if one is not None)
        if not what or len(told) < len(hours) or None in spent or None in percents.values():
            return None
        labels = (_("Materials"), _("Plant"))
        materials, plant = (
            (Spent(label, "", cost),) if (cost := Money.of(one or NONE)) else ()
            for label, one in zip(labels, spent, strict=True)
        )
        signed = self.signed.text.strip()
        return DayworkSheet(
            key=_next_key(self._following),
            variation="",
            what=what,
            hours=told,
            materials=materials,
            plant=plant,
            signed_by=signed,
            signed_on=today if signed else None,
            **{name: percent for name, percent in percents.items() if percent is not None},
        )

    def _percent(self, field: Written) -> Decimal | None:
        found = pounds(field.text)
        is_share = found is not None and found >= 0
        field.complain("" if is_share else _("Type a share such as 15"))
        return found if is_share else None

    def _look(self, _typed: str = "") -> None:
        """Say what the sheet comes to, without a word on what is still missing."""
        amount = daywork(
            total(one.cost for one in self.people),
            _sum(self.materials),
            _sum(self.plant),
            Daywork(**{name: pounds(one.text) or NONE for name, one in self.percents.items()}),
        )
        self.sum.setText(
            _("The sheet comes to {amount} before VAT").format(amount=formats.money(amount))
        )
        self.take.setEnabled(self._following.session.filing.can_write)

    def _told_of_people(self) -> list[list[str]]:
        return [person.told for person in self.people]

    def _show_people(self, told: list[list[str]]) -> None:
        for person in self.people:
            self._people.removeWidget(person)
            person.hide()
            person.deleteLater()
        self.people.clear()
        for one in told or [[]]:
            self._add().show_told(one)

    def _add(self) -> Person:
        person = Person()
        person.changed.connect(self._look)
        person.changed.connect(self.half_typed.note)
        self.people.append(person)
        self._people.addWidget(person)
        return person

    def _another(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        before = self.people[-1]
        person = self._add()
        person.rate.show_text(before.rate.text)
        person.trade.show_text(before.trade.text)
        person.who.take_focus()
        self.half_typed.note()

    def _take(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        sheet = self.sheet()
        if sheet is None:
            self.note.setText(_("Something is missing; it is said beside it."))
            self.note.show()
            return
        self.note.hide()

        def keep(database: Database, uid: str) -> None:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            asked.do(database, uid, DayworkKept(sheet))

        line = daywork_line(sheet)
        self._following.do(keep, lambda _done: self._kept(line), on_mistake=self._refused)

    def _kept(self, line: Valued) -> None:
        self._clear()
        self.half_typed.done()
        self.kept.emit(line)

    def _refused(self, mistake: UserMistake) -> None:
        self.note.setText(in_full(mistake))
        self.note.show()

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(20, 0, 20, 12)
        inside.setSpacing(2)
        inside.addWidget(self.what)
        inside.addLayout(self._people)
        inside.addWidget(self.another, 0, Qt.AlignmentFlag.AlignLeft)
        for field in (self.materials, self.plant, *self.percents.values(), self.signed):
            inside.addWidget(field)
        inside.addWidget(
            words(_("A signature says that it was done, not that it is extra."), role="second")
        )
        inside.addStretch(1)
        for label in (self.sum, self.note):
            label.setIndent(8)
        under = (self.sum, self.note, self.take)
        lay_page(self, _("Hours worked"), self.left.emit, inner, *under)


def _sum(field: Written) -> Money:
    return Money.of(pounds(field.text) or NONE)


def _next_key(following: Following) -> str:
    taken = {one.key for one in following.so_far.daywork}
    number = len(taken) + 1
    while (key := f"d{number}") in taken:
        number += 1
    return key
