"""The cards of all options on one scale, one of them chosen, and how they differ."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import saying
from estimator.desktop.money.card import OptionCard
from estimator.desktop.state import Sight
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words


class Cards(QWidget):
    """One card an option; they are kept and said anew, and made only when there are more."""

    chosen = Signal(int)
    """The place of the option that is chosen now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin without cards."""
        super().__init__(parent)
        self.cards: list[OptionCard] = []
        self.difference = words(role="second")
        self.compare = quiet_button(_("See before and after"))
        self.compare.setToolTip(_("Before and after, side by side (F6)"))
        self._at = 0
        self._key = ""
        self._keys: list[str] = []
        self._shown = 0
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(12)
        line = QHBoxLayout()
        line.setContentsMargins(8, 0, 8, 0)
        line.addWidget(self.difference)
        self._layout.addLayout(line)
        self._layout.addWidget(self.compare, 0, Qt.AlignmentFlag.AlignLeft)

    @property
    def at(self) -> int:
        """The place of the chosen card."""
        return self._at

    def show_sight(self, sight: Sight) -> None:
        """Show every option there is now."""
        firm, options = saying.is_firm(sight), sight.options
        while len(self.cards) < len(options):
            self._add()
        bands = [saying.band_of(sight, option) for option in options]
        sums = [
            option.offer.total if band is None else band.high
            for option, band in zip(options, bands, strict=True)
        ]
        end = saying.scale_end(sums)
        for option, card in zip(options, self.cards, strict=False):
            card.show_option(option, sight, firm=firm)
            card.band.set_end(end)
        self._show_only(len(options))
        self.difference.setText(saying.difference(options, sight))
        self.difference.setVisible(bool(self.difference.text()))
        self._keep_choice([option.measure.scope.key for option in options])

    def _keep_choice(self, keys: list[str]) -> None:
        """Keep the same option chosen where it now stands; the first where it is gone."""
        self._keys = keys
        if keys:
            self.choose(keys.index(self._key) if self._key in keys else 0)

    def choose(self, place: int) -> None:
        """Choose a card, if there is one at that place."""
        if not 0 <= place < self._shown:
            return
        self._key = self._keys[place]
        if place != self._at:
            self._at = place
            self._mark()
            self.chosen.emit(place)

    def take_focus(self) -> bool:
        """Put the keyboard on the chosen card; say whether there is one."""
        if self._shown:
            self.cards[self._at].setFocus()
        return self._shown > 0

    def _step(self, place: int) -> None:
        if 0 <= place < self._shown:
            self.choose(place)
            self.cards[place].setFocus()

    def _show_only(self, count: int) -> None:
        if count == self._shown:
            return
        self._shown = count
        for place, card in enumerate(self.cards):
            card.setVisible(place < count)

    def _mark(self) -> None:
        for place, card in enumerate(self.cards):
            card.set_chosen(chosen=place == self._at)

    def _add(self) -> None:
        card, place = OptionCard(), len(self.cards)
        self._layout.insertWidget(place, card)
        if self.cards:
            self.setTabOrder(self.cards[-1], card)
        self.cards.append(card)
        card.wanted.connect(lambda: self.choose(place))
        card.stepped.connect(lambda by: self._step(place + by))
        self._mark()
