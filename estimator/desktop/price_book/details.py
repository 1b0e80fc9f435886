"""One entry at the right: its figures to edit, where it is from, and what it was before."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.price_book.bought_from import BoughtFrom, Seller
from estimator.desktop.price_book.figure import (
    Figure,
    figures_of,
    rate_words,
    sources_of,
    with_figure,
)
from estimator.desktop.price_book.model import EXAMPLE, source_word, state_words
from estimator.desktop.price_book.shelf import BOUGHT
from estimator.desktop.price_book.wording import day, money, number, typed_as, understood
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import figures, retone, words
from estimator.notices import UserMistake
from estimator.sources import all_sources
from estimator.store.book_parts import Entry

if TYPE_CHECKING:
    from estimator.store.price_books import Rate

FIELD = 108
"""Width of a field. [px]"""
MOST_HISTORY = 12
"""Changes shown; the file keeps all."""


class FigureField(QWidget):
    """A figure with its name before it; what was understood is said below while it is typed."""

    trying = Signal(object, object)
    """The ``Figure`` and what is typed for it; None when that is no figure."""
    taken = Signal(object, object)
    """The ``Figure`` and what is to stand for it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty line, to be used for one figure after another."""
        super().__init__(parent)
        self._figure: Figure | None = None
        self._currency = "GBP"
        self._label = words()
        self.field = QLineEdit()
        self.field.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._echo = words(role="second")
        self._echo.setAlignment(Qt.AlignmentFlag.AlignRight)
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(self._label, 1)
        line.addWidget(self.field)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(line)
        layout.addWidget(self._echo)
        self._size()
        self.field.textEdited.connect(lambda _text: self._look())
        self.field.returnPressed.connect(self._take)
        LOOK.changed.connect(self._size)

    def show_figure(self, figure: Figure, currency: str, *, can_edit: bool) -> None:
        """Show a figure."""
        self._figure, self._currency = figure, currency
        self._label.setText(figure.label)
        self.field.setAccessibleName(figure.label)
        self.field.setReadOnly(not can_edit)
        self.put_back()

    def put_back(self) -> None:
        """Show the figure as it is kept."""
        if self._figure is not None:
            self.field.setText(typed_as(self._figure.value, is_money=self._figure.is_money))
            self.field.setModified(False)
        self._echo.hide()

    def refuse(self, why: str) -> None:
        """Say why a figure cannot be kept; what is typed stays."""
        retone(self._echo, tone="stop")
        self._echo.setText(why)
        self._echo.show()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Give up what is typed on Escape."""
        if event.key() == Qt.Key.Key_Escape and self.field.isModified():
            self.put_back()
            self.trying.emit(self._figure, None)
            return
        super().keyPressEvent(event)

    def _size(self) -> None:
        self.field.setFixedWidth(LOOK.px(FIELD))

    def _look(self) -> Decimal | None:
        if self._figure is None:
            return None
        found = understood(self.field.text(), self._figure.label, whole=self._figure.whole)
        if found.value is None:
            self.refuse(found.why_not)
        else:
            is_money = self._figure.is_money
            shown = money(found.value, self._currency) if is_money else number(found.value)
            retone(self._echo, tone="done")
            self._echo.setText(f"= {shown}")
            self._echo.show()
        self.trying.emit(self._figure, found.value)
        return found.value

    def _take(self) -> None:
        if self._figure is None or self.field.isReadOnly():
            return
        value = self._look()
        if value is not None and value != self._figure.value:
            self.taken.emit(self._figure, value)
        elif value is not None:
            self.put_back()


class Details(QWidget):
    """What is known of the entry the cursor is on."""

    trying = Signal(object)
    """The entry with a figure being typed, alone; none when nothing is tried any more."""
    changed = Signal(object, str)
    """The entry with its new figure, and which figure that was, in words."""
    supplied = Signal(object, str)
    """The entry, and who sells it; empty for the merchant."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with nothing chosen."""
        super().__init__(parent)
        self._entry: Entry | None = None
        self._currency, self._has_figures, self._can_edit = "GBP", True, False
        self._title = words(role="title")
        self._where = words(role="second")
        self._fields: list[FigureField] = []
        self.bought_from = BoughtFrom()
        self.bought_from.taken.connect(self._supply)
        self._source = words(role="second")
        self._notes = words()
        self._past_heading = words(_("What it was"), role="strong")
        self._past: list[tuple[QLabel, QLabel, QLabel]] = []
        self._figures = QVBoxLayout()
        self._figures.setSpacing(4)
        self._history = QVBoxLayout()
        self._history.setSpacing(4)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(self._title)
        layout.addWidget(self._where)
        layout.addLayout(self._figures)
        layout.addWidget(self.bought_from)
        layout.addWidget(self._source)
        layout.addWidget(self._notes)
        layout.addSpacing(4)
        layout.addWidget(self._past_heading)
        layout.addLayout(self._history)
        self.show_nothing()

    @property
    def entry(self) -> Entry | None:
        """The entry shown."""
        return self._entry

    @property
    def stops(self) -> list[QWidget]:
        """Where the keyboard stops, from the top."""
        return [*(one.field for one in self._fields), *self.bought_from.stops]

    @property
    def has_figures(self) -> bool:
        """Whether its figures are shown to be edited."""
        return self._has_figures

    def show_nothing(self) -> None:
        """Say what goes here."""
        self.say(
            _("Choose a rate"),
            _("Its figures, where they come from and what they were stand here."),
        )

    def say(self, title: str, text: str) -> None:
        """Say something of what is in the middle, where that is no single entry."""
        self._entry = None
        self._title.setText(title)
        self._where.setText(text)
        shown = (self.bought_from, self._source, self._notes, self._past_heading, *self._fields)
        for widget in shown:
            widget.hide()
        self.show_history(())

    def show_entry(
        self, entry: Entry, currency: str, *, can_edit: bool, with_figures: bool = True
    ) -> None:
        """Show an entry; its history comes when the file has told it."""
        self._entry, self._currency, self._has_figures = entry, currency, with_figures
        self._can_edit = can_edit
        self._title.setText(entry.title)
        since = _("since {day}").format(day=day(entry.dated)) if entry.dated else ""
        parts = (entry.group, entry.supplier, since, state_words(entry).lower())
        self._where.setText(" · ".join(part for part in parts if part))
        self._show_figures(figures_of(entry) if with_figures else (), can_edit=can_edit)
        self.bought_from.show_seller(Seller(), can_edit=False)
        self.bought_from.setVisible(with_figures and entry.kind in BOUGHT)
        self._source.setText(source_words(entry))
        self._source.setVisible(bool(self._source.text()))
        self._notes.setText(entry.notes)
        self._notes.setVisible(bool(entry.notes))
        self.show_history(())

    def show_history(self, rates: Sequence[Rate]) -> None:
        """Show what the entry was, the newest first."""
        shown = rates[:MOST_HISTORY]
        while len(self._past) < len(shown):
            self._add_past()
        for place, labels in enumerate(self._past):
            for label in labels:
                label.setVisible(place < len(shown))
            if place < len(shown):
                self._say_past(labels, shown[place])
        self._past_heading.setVisible(bool(shown))

    def show_told(self, entry: Entry, history: Sequence[Rate], seller: Seller) -> None:
        """Show what the file tells of an entry, and leave alone what somebody is typing."""
        if entry != self._entry:
            return
        self.show_history(history)
        if not self.bought_from.field.isModified():
            self.bought_from.show_seller(seller, can_edit=self._can_edit)

    def take_focus(self) -> None:
        """Put the cursor into the first figure."""
        if self._fields and not self._fields[0].isHidden():
            self._fields[0].field.setFocus()
            self._fields[0].field.selectAll()

    def refuse(self, why: str) -> None:
        """Say why what is typed cannot be kept, beside it."""
        for one in self._fields:
            if not one.isHidden() and one.field.isModified():
                one.refuse(why)
        if self.bought_from.is_awaited:
            self.bought_from.refuse(why)

    def _show_figures(self, found: Sequence[Figure], *, can_edit: bool) -> None:
        while len(self._fields) < len(found):
            field = FigureField()
            field.trying.connect(self._try)
            field.taken.connect(self._take)
            self._fields.append(field)
            self._figures.addWidget(field)
        for place, field in enumerate(self._fields):
            field.setVisible(place < len(found))
            if place < len(found):
                field.show_figure(found[place], self._currency, can_edit=can_edit)

    def _with(self, figure: Figure, value: Decimal) -> Entry | None:
        if self._entry is None:
            return None
        try:
            return with_figure(self._entry, figure.path, value)
        except UserMistake as mistake:
            self.refuse(str(mistake))
            return None

    def _try(self, figure: Figure, value: Decimal | None) -> None:
        is_new = value is not None and value != figure.value
        changed = self._with(figure, value) if is_new and value is not None else None
        self.trying.emit((changed,) if changed is not None else ())

    def _take(self, figure: Figure, value: Decimal) -> None:
        changed = self._with(figure, value)
        if changed is not None:
            self.changed.emit(changed, change_words(figure, value, self._currency))

    def _supply(self, name: str) -> None:
        if self._entry is not None:
            self.supplied.emit(self._entry, name)

    def _add_past(self) -> None:
        when, what, why = words(wrap=False), figures(), words(role="second")
        line = QHBoxLayout()
        line.addWidget(when)
        line.addStretch()
        line.addWidget(what)
        self._history.addLayout(line)
        self._history.addWidget(why)
        self._past.append((when, what, why))

    def _say_past(self, labels: tuple[QLabel, QLabel, QLabel], rate: Rate) -> None:
        when, what, why = labels
        when.setText(day(rate.book.dated))
        old = rate_words(rate.old, self._currency) if rate.old else ""
        new = rate_words(rate.new, self._currency) if rate.new else _("dropped")
        both = _("{was} to {now}").format(was=old, now=new)
        what.setText(both if old and old != new else new)
        why.setText(rate.book.why)


def source_words(entry: Entry) -> str:
    """Return where an entry's figures come from and how far to trust them."""
    if entry.confirmed and EXAMPLE in sources_of(entry):
        return _("From: you. It began as an example that ships with the program.")
    said = "; ".join(_source(key) for key in sources_of(entry))
    return _("From: {sources}").format(sources=said) if said else ""


def _source(key: str) -> str:
    known = all_sources().get(key)
    if known is None:
        return source_word(key)
    return str(known) if known.is_print else known.title


def change_words(figure: Figure, value: Decimal, currency: str) -> str:
    """Return what a change was, as the book keeps it."""

    def shown(one: Decimal) -> str:
        return money(one, currency) if figure.is_money else number(one)

    told = _("{figure}: {was} to {now}")
    return told.format(figure=figure.label, was=shown(figure.value), now=shown(value))
