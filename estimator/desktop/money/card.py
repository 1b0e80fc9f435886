"""One card an option: what it is called, its price in a sentence, what is seen, how long."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import saying
from estimator.desktop.money.beside import Beside
from estimator.desktop.money.scale_band import ScaleBand
from estimator.desktop.state import Sight
from estimator.desktop.widgets.words import figures, retone, words
from estimator.money import Money
from estimator.pricing.risk import Band
from estimator.quoting.quotation import Option

PLAIN, CHOSEN = (15, 11, 15, 11), (14, 10, 14, 10)
"""Room inside a card: the chosen one has the wider border, and its words stay where they were."""


class OptionCard(QFrame):
    """A card that can be chosen by a click, or by the arrow keys while one has the keyboard."""

    wanted = Signal()
    """This card was chosen."""
    stepped = Signal(int)
    """The arrow keys ask for the card before (-1) or after (1)."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty card."""
        super().__init__(parent)
        self.setProperty("role", "card")
        self.setProperty("chosen", "false")
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.title = words(role="title")
        self.price = words(role="price", wrap=False)
        self.likely = figures(role="second")
        self.band = ScaleBand()
        self.seen = words()
        self.time = words(role="second")
        self._line = Beside(self.price, self.likely)
        self._chosen = False
        layout = QVBoxLayout(self)
        layout.setContentsMargins(*PLAIN)
        layout.setSpacing(4)
        layout.addWidget(self.title)
        layout.addWidget(self._line)
        layout.addWidget(self.band)
        layout.addWidget(self.seen)
        layout.addWidget(self.time)

    def show_option(self, option: Option, sight: Sight, *, firm: bool) -> None:
        """Say an option anew; only what changed is drawn."""
        band = saying.band_of(sight, option)
        stale = sight.is_settling and band is not None
        price = saying.price(option, band, firm=firm)
        for label, text in (
            (self.title, option.offer.scope.title),
            (self.price, price),
            (self.likely, saying.likely(band)),
            (self.seen, saying.seen(option)),
            (self.time, saying.time(option.offer)),
        ):
            if label.text() != text:
                label.setText(text)
        self._line.look_again()
        retone(self.price, tone="quiet" if stale else "")
        total = option.offer.total
        low, likely, high = _ends(band, total)
        self.band.show_range(low, likely, high, stale=stale)
        said = saying.range_said(option, band, firm=firm)
        self.band.setAccessibleName(said)
        self._name(option.offer.scope.title, said)

    def set_chosen(self, *, chosen: bool) -> None:
        """Show whether this is the option whose ladder stands below."""
        self._chosen = chosen
        retone(self, chosen="true" if chosen else "false")
        # One stop for Tab: the arrow keys go between the cards.
        policy = Qt.FocusPolicy.StrongFocus if chosen else Qt.FocusPolicy.ClickFocus
        self.setFocusPolicy(policy)
        layout = self.layout()
        if layout is not None:
            layout.setContentsMargins(*(CHOSEN if chosen else PLAIN))
        self._name(self.title.text(), self.band.accessibleName())

    def _name(self, title: str, said: str) -> None:
        sentence = _("{title}, chosen. {price}") if self._chosen else _("{title}. {price}")
        name = sentence.format(title=title, price=said)
        if name != self.accessibleName():
            self.setAccessibleName(name)
            self.setAccessibleDescription(f"{self.seen.text()} {self.time.text()}")

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Choose this card."""
        self.wanted.emit()
        super().mousePressEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go to the next card, or choose this one."""
        key = event.key()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(1 if key == Qt.Key.Key_Down else -1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and not (
            event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            self.wanted.emit()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Choose the card the keyboard comes to."""
        self.wanted.emit()
        super().focusInEvent(event)


def _ends(band: Band | None, total: Money) -> tuple[Money, Money, Money]:
    return (total, total, total) if band is None else (band.low, band.likely, band.high)
