"""The lines of a change, was and now, each with its basis; and what is agreed under them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.contract.contract import Sold
from estimator.contract.variation import Valued
from estimator.desktop.agreed import wording
from estimator.desktop.language import _
from estimator.desktop.money.ladder_rows import LadderRow
from estimator.desktop.money.row_list import RowList
from estimator.documents import formats
from estimator.money import Money
from estimator.units import Quantity

AGREED = "agreed"
"""Key of the row that opens to what is agreed."""


class ChangeRows(RowList):
    """Rows of a variation, pointing at their marks both ways as those of any price do."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin without rows."""
        super().__init__(parent)
        self._changes: tuple[LadderRow, ...] = ()
        self._agreed: tuple[LadderRow, ...] = ()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(self.lines)

    def show_lines(
        self, lines: Sequence[Valued], agreed: Sequence[Sold] = (), sums: Sequence[LadderRow] = ()
    ) -> None:
        """Show the lines of a change, and what is agreed folded up under them."""
        self._changes = (*change_rows(lines), *sums)
        self._agreed = tuple(_sold(n, one) for n, one in enumerate(agreed))
        self.fill()

    def rows_now(self) -> tuple[LadderRow, ...]:
        """Return the changes, then what is agreed where that is open."""
        if not self._agreed:
            return self._changes
        is_open = AGREED in self.opened
        head = LadderRow(
            AGREED,
            _("What is agreed, line by line"),
            marks=frozenset().union(*(row.marks for row in self._agreed)),
            is_open=is_open,
            is_struck=bool(self._changes),
        )
        return (*self._changes, head, *(self._agreed if is_open else ()))


def change_rows(lines: Iterable[Valued]) -> tuple[LadderRow, ...]:
    """Return a row to each line: what was, what is, how it is valued, and the change."""
    return tuple(_changed(n, one) for n, one in enumerate(lines))


def sum_row(key: str, title: str, amount: Money) -> LadderRow:
    """Return a row that strikes a sum of changes."""
    return LadderRow(key, title, wording.signed(amount), is_sum=True, is_struck=True)


def _changed(place: int, one: Valued) -> LadderRow:
    note = (wording.was_and_now(one), wording.basis(one))
    return LadderRow(
        f"change/{place}",
        one.description,
        wording.signed(one.amount),
        wording.change_of(one),
        " · ".join(note),
        marks=frozenset(one.marks),
    )


def _sold(place: int, one: Sold) -> LadderRow:
    return LadderRow(
        f"{AGREED}/{place}",
        one.description,
        formats.money(one.amount),
        formats.quantity(Quantity(one.quantity, one.unit)),
        level=1,
        marks=frozenset(one.marks),
    )
