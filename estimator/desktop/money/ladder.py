"""The ladder of the chosen option: what each part of the work comes to, opened in place."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import ladder_rows, saying
from estimator.desktop.money.ladder_head import LadderHead
from estimator.desktop.money.ladder_rows import LadderRow
from estimator.desktop.money.row import DEEPEST, RowWidget
from estimator.desktop.money.row_list import RowList
from estimator.desktop.money.sharing import carried, shares
from estimator.desktop.state import Sight
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.money import Money, total
from estimator.quoting.quotation import Option


class Ladder(RowList):
    """The rows of one option, what is pointed at said above them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin without rows."""
        super().__init__(parent)
        self._option: Option | None = None
        self._sight: Sight | None = None
        self._firm, self._note = False, ""
        self._shares: tuple[tuple[Money, ...], tuple[Money, ...]] = ((), ())
        self.head = LadderHead()
        self.brick = words(role="second")
        self._lay_out()

    def show_option(self, option: Option, sight: Sight) -> None:
        """Show the ladder of an option."""
        self._option, self._sight, self._firm = option, sight, saying.is_firm(sight)
        self._note = saying.above(saying.band_of(sight, option))
        for label, text in ((self.brick, saying.further_brick(option.offer, firm=self._firm)),):
            if label.text() != text:
                label.setText(text)
        self.fill()
        self._say_head()

    def rows_now(self) -> tuple[LadderRow, ...]:
        """Return the work by groups, opened to lines, and what will be seen."""
        option = self._option
        if option is None:
            return ()
        return (
            *ladder_rows.rows_of(
                option.offer,
                self.opened,
                firm=self._firm,
                note=self._note,
                whole=frozenset(line.elevation for line in option.measure.lines),
            ),
            *ladder_rows.seen_rows(saying.all_seen(option), self.opened),
        )

    def light(self, marks: frozenset[str]) -> None:
        """Light the rows that have any of these marks, and say what of them belongs to it."""
        if marks != self.lit:
            super().light(marks)
            self._say_head()

    def light_rows(self) -> None:
        """Light every row anew, with its share of what is pointed at."""
        self._shares = self._parts()
        super().light_rows()

    def _parts(self) -> tuple[tuple[Money, ...], tuple[Money, ...]]:
        """Return what is pointed at carries of each line, exact and in the money shown."""
        if not self.lit or self._option is None or self._sight is None:
            return (), ()
        exact = shares(self._sight, self._option).of(self.lit)
        return exact, exact if self._firm else saying.in_whole_pounds(exact)

    def _say_head(self) -> None:
        """Say whose prices these are, or what is pointed at carries of them."""
        if self._option is None:
            return
        said = self._carried(self._option)
        if said:
            self.head.say(said, pointed=True)
        else:
            title = self._option.offer.scope.title
            self.head.say(title, "" if self._firm else _("likely"))

    def _carried(self, option: Option) -> str:
        if not self.lit or self._sight is None:
            return ""
        found = carried(self._sight, option, self.lit)
        if not found.amount:
            return ""
        taxed = bool(option.offer.taxes)
        return saying.carried(self.lit, found.amount, found.lines, firm=self._firm, taxed=taxed)

    def light_row(self, widget: RowWidget) -> None:
        """Light a row, and say what of it belongs to the marks pointed at."""
        share, lit = "", widget.row.level < DEEPEST and bool(self.lit & widget.row.marks)
        exact, shown = self._shares
        if lit and self._option is not None and exact:
            offer = self._option.offer
            places = ladder_rows.places_of(offer, widget.row.key)
            part = total(exact[n] for n in places)
            lit = bool(part)
            if lit and part < total(offer.lines[n].amount for n in places):
                money = total(shown[n] for n in places)
                said = formats.money(money) if self._firm else saying.whole(money)
                share = _("{share} of {whole}").format(share=said, whole=widget.row.amount)
        widget.light(lit=lit, share=share)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(16, 0, 8, 0)
        head.addWidget(self.head, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addLayout(head)
        layout.addLayout(self.lines)
        foot = QHBoxLayout()
        foot.setContentsMargins(16, 4, 8, 0)
        foot.addWidget(self.brick)
        layout.addLayout(foot)
