"""The lines of a variation as they go on paper, each of which may be left out."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.contract.variation import Valued, ValuedBy
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.fields import Ticked
from estimator.desktop.language import _, in_full
from estimator.desktop.widgets.buttons import quiet_button

BY_HAND = (ValuedBy.DAYWORK, ValuedBy.PROVISIONAL_SUM)
"""Lines that no measuring gives: somebody writes them in."""


class Line(QWidget):
    """One line with its tick; one that was written in can go again."""

    changed = Signal()
    removed = Signal()
    """A line somebody wrote in is to go."""

    def __init__(self, one: Valued) -> None:
        """Show a line, ticked."""
        super().__init__()
        self.valued = one
        self.ticked = Ticked("", ticked=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.ticked)
        if one.basis in BY_HAND:
            self.remove = quiet_button(_("Take this line off"))
            self.remove.clicked.connect(lambda _ticked=False: self.removed.emit())
            layout.addWidget(self.remove, 0, Qt.AlignmentFlag.AlignLeft)
        self.ticked.changed.connect(self.changed)
        self._say()

    def _say(self) -> None:
        line = self.valued
        text = _("{what}: {amount}").format(
            what=in_full(line.description), amount=wording.signed(line.amount)
        )
        quantity = " · ".join(
            part for part in (wording.change_of(line), wording.was_and_now(line)) if part
        )
        under = [part for part in (quantity, wording.basis(line)) if part]
        self.ticked.say(text, "\n".join(under))


class ChangeTicks(QWidget):
    """All lines, those that were measured and those that were written in."""

    changed = Signal()

    def __init__(self) -> None:
        """Begin without lines."""
        super().__init__()
        self.lines: list[Line] = []
        self._written: list[Valued] = []
        self._measured: tuple[Valued, ...] = ()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(4)

    def show_lines(self, measured: Sequence[Valued], written: Sequence[Valued]) -> None:
        """Show lines; ticks and rates stay with the lines that are the same work."""
        if tuple(measured) == self._measured and list(written) == self._written:
            return
        self._measured, self._written = tuple(measured), list(written)
        off = {_name(one.valued) for one in self.lines if not one.ticked.is_on}
        for old in self.lines:
            self._layout.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.lines = [self._line(one) for one in (*self._measured, *self._written)]
        for line in self.lines:
            line.ticked.tick(on=_name(line.valued) not in off)

    def leave_out(self, names: frozenset[tuple[str, str]]) -> None:
        """Untick lines by the names of their work."""
        for line in self.lines:
            line.ticked.tick(on=_name(line.valued) not in names)

    def write_in(self, one: Valued) -> None:
        """Add a line no measuring gives."""
        self.show_lines(self._measured, (*self._written, one))
        self.changed.emit()

    @property
    def by_hand(self) -> tuple[Valued, ...]:
        """The lines somebody wrote in, ticked or not."""
        return tuple(self._written)

    @property
    def written(self) -> tuple[Valued, ...]:
        """The lines somebody wrote in, those that are ticked."""
        count = len(self._measured)
        return tuple(line.valued for line in self.lines[count:] if line.ticked.is_on)

    @property
    def left_out(self) -> frozenset[int]:
        """Places of the measured lines that are not ticked."""
        count = len(self._measured)
        return frozenset(
            place for place, line in enumerate(self.lines[:count]) if not line.ticked.is_on
        )

    def _line(self, one: Valued) -> Line:
        line = Line(one)
        line.changed.connect(self.changed)
        line.removed.connect(lambda: self._remove(one))
        self._layout.addWidget(line)
        return line

    def _remove(self, one: Valued) -> None:
        self.show_lines(self._measured, [other for other in self._written if other is not one])
        self.changed.emit()


def _name(one: Valued) -> tuple[str, str]:
    """Return what tells a line from the others of a variation, whatever its quantity."""
    return one.item, one.description


def names_missing(
    measured: Sequence[Valued], drafted: Sequence[Valued]
) -> frozenset[tuple[str, str]]:
    """Return the measured lines a draft left out."""
    there = {_name(one) for one in drafted}
    return frozenset(_name(one) for one in measured) - there
