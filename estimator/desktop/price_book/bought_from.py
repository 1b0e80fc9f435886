"""Who sells what is bought: a name typed at its card, with the names already used offered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.questions.line import Line
from estimator.desktop.widgets.following import ROUND
from estimator.desktop.widgets.words import retone, words
from estimator.works.suppliers import MOST_LETTERS, folded, tidy

OFFERED = 4
"""Names offered at a time."""


@dataclass(frozen=True, slots=True)
class Seller:
    """Who sells something, and who might."""

    name: str = ""
    """Empty for the merchant."""
    used: tuple[str, ...] = ()
    """Names that stand at other things, or on price lists."""
    on_lists: tuple[str, ...] = ()
    """Whose price lists have it, the newest first."""


class NameField(QLineEdit):
    """A field that leads on to what is offered below it."""

    stepped = Signal()
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go down by the arrow, give up what is typed on Escape."""
        if event.key() == Qt.Key.Key_Down and not event.modifiers():
            self.stepped.emit()
        elif event.key() == Qt.Key.Key_Escape and self.isModified():
            self.left.emit()
        else:
            super().keyPressEvent(event)


class BoughtFrom(QWidget):
    """Bought from: taken by Enter, by leaving the field, or by one of the names offered."""

    taken = Signal(str)
    """What is to stand; empty for the merchant."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with nobody."""
        super().__init__(parent)
        self._seller = Seller()
        self.label = words(_("Bought from"), role="strong")
        self.field = NameField()
        self.field.setAccessibleName(_("Bought from"))
        self.field.setPlaceholderText(_("The merchant"))
        self.field.setMaxLength(MOST_LETTERS)
        self.said = words(role="second")
        self.offers = [Line() for _place in range(OFFERED)]
        self._names: tuple[str, ...] = ()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 4)
        layout.setSpacing(4)
        for part in (self.label, self.field, self.said, *self.offers):
            layout.addWidget(part)
        self.field.textEdited.connect(self._typed)
        self.field.returnPressed.connect(self._take)
        self.field.stepped.connect(self._to_first)
        self.field.left.connect(self.put_back)
        for place, offer in enumerate(self.offers):
            offer.clicked.connect(lambda _on=False, place=place: self._choose(place))
            offer.stepped.connect(lambda step, place=place: self._from_offer(place, step))
        desk = QApplication.instance()
        if isinstance(desk, QApplication):
            desk.focusChanged.connect(self._moved)
        self.show_seller(Seller(), can_edit=False)

    @property
    def stops(self) -> list[QWidget]:
        """Where the keyboard stops, from the top."""
        return [self.field, *self.offers]

    @property
    def is_awaited(self) -> bool:
        """Whether what stands in the field is not what is kept."""
        return self.field.text() != self._seller.name

    def show_seller(self, seller: Seller, *, can_edit: bool) -> None:
        """Show who sells it, as it is kept."""
        self._seller = seller
        self.field.setReadOnly(not can_edit)
        self.put_back()

    def put_back(self) -> None:
        """Show the name as it is kept, and whose list has it where nobody is named."""
        self.field.setText(self._seller.name)
        self.field.setModified(False)
        self.said.hide()
        is_open = not self._seller.name and not self.field.isReadOnly()
        self._offer(self._seller.on_lists if is_open else (), _("has it on a list"))

    def refuse(self, why: str) -> None:
        """Say why a name cannot be kept; what is typed stays."""
        retone(self.said, tone="stop")
        self.said.setText(why)
        self.said.show()
        self.field.setModified(True)

    def _typed(self, text: str) -> None:
        self.said.hide()
        part = folded(text)
        found = [name for name in self._seller.used if part in folded(name)]
        # What begins so is meant more often than what has it somewhere inside.
        found.sort(key=lambda name: not folded(name).startswith(part))
        self._offer([name for name in found if name != tidy(text)] if part else ())

    def _offer(self, names: Sequence[str], remark: str = "") -> None:
        self._names = tuple(names[:OFFERED])
        for place, offer in enumerate(self.offers):
            is_used = place < len(self._names)
            if is_used:
                offer.say(self._names[place], remark=remark)
            offer.be_shown(shown=is_used)
        if self._names and self.field.hasFocus():
            # Its place is known once it was laid out.
            QTimer.singleShot(0, self, self._bring_into_sight)

    def _bring_into_sight(self) -> None:
        """Scroll so far that what is offered is seen below the field."""
        area: QWidget | None = self.parentWidget()
        while area is not None and not isinstance(area, QScrollArea):
            area = area.parentWidget()
        if isinstance(area, QScrollArea) and self._names:
            for part in (self.offers[len(self._names) - 1], self.field):
                area.ensureWidgetVisible(part, 0, ROUND)

    def _to_first(self) -> None:
        if self._names:
            self.offers[0].setFocus()

    def _from_offer(self, place: int, step: int) -> None:
        at = place + step
        if at < 0:
            self.field.setFocus()
        elif at < len(self._names):
            self.offers[at].setFocus()

    def _choose(self, place: int) -> None:
        self.field.setText(self._names[place])
        self.field.setModified(True)
        self.field.setFocus()
        self._take()

    def _take(self) -> None:
        if self.field.isReadOnly() or not self.field.isModified():
            return
        typed = tidy(self.field.text())
        if typed == self._seller.name:
            self.put_back()
            return
        self._offer(())
        self.field.setModified(False)
        self.taken.emit(typed)

    def _moved(self, before: QWidget | None, now: QWidget | None) -> None:
        """Take what is typed when the keyboard goes elsewhere, but not on the way to an offer."""
        if before in self.stops and now is not None and now not in self.stops:
            self._take()


def bought_words(title: str, name: str) -> str:
    """Return in words who sells something from now on."""
    if not name:
        return _("{title}. Bought from the merchant").format(title=title)
    return _("{title}. Bought from {name}").format(title=title, name=name)
