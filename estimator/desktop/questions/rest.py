"""What is not asked yet: quiet lines with what each is worth, the best first."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import counted, in_context
from estimator.desktop.questions import answers
from estimator.desktop.questions.line import Line
from estimator.desktop.questions.wordings import wording
from estimator.money import Money

SHOWN = 6
"""Questions listed before the rest is asked for."""


class Rest(QWidget):
    """Lines made once, sorted and shown as they are needed."""

    taken = Signal(str)
    """A question to open."""
    stepped = Signal(object, int)
    """A line, and up (-1) or down (1)."""

    def __init__(self, keys: Sequence[str], parent: QWidget | None = None) -> None:
        """Make a line for every question."""
        super().__init__(parent)
        self.lines = {key: Line(has_mark=True) for key in keys}
        self.more = Line()
        self._order = tuple(keys)
        self._shows_all = False
        self._shown: tuple[str, ...] = ()
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(0)
        for line in (*self.lines.values(), self.more):
            self._rows.addWidget(line)
            line.hide()
            line.stepped.connect(lambda step, line=line: self.stepped.emit(line, step))
        for key, line in self.lines.items():
            line.clicked.connect(lambda _on=False, key=key: self.taken.emit(key))
        self.more.clicked.connect(self._show_all)

    @property
    def in_sight(self) -> list[Line]:
        """The lines that are shown, from the top."""
        every = [*(self.lines[key] for key in self._order), self.more]
        return [line for line in every if not line.isHidden()]

    @property
    def is_aimed_at(self) -> bool:
        """Whether somebody is about to take one up, so that none may move."""
        return any(line.hasFocus() or line.underMouse() for line in self.in_sight)

    def begin(self) -> None:
        """Show only the best few, as for a new call."""
        self._shows_all = False

    def sort(self, best_first: Sequence[str]) -> None:
        """Put the lines into an order; those not in it go to the end."""
        left = (key for key in self.lines if key not in best_first)
        self._order = (*best_first, *left)
        for place, key in enumerate(self._order):
            if self._rows.indexOf(self.lines[key]) != place:
                self._rows.insertWidget(place, self.lines[key])

    def show_questions(
        self, keys: Sequence[str], worths: Mapping[str, Money], *, noted: Collection[str] = ()
    ) -> None:
        """Show these questions, in the order the lines have, and what each is worth."""
        self._shown = tuple(key for key in self._order if key in keys)
        for key in self._shown:
            said = wording(key)
            remark = said.tag or answers.worth(worths.get(key))
            if key in noted:
                remark = in_context("question", "noted")
            self.lines[key].say(said.brief or said.ask, remark=remark)
        self._uncover()

    def _uncover(self) -> None:
        few = self._shown if self._shows_all else self._shown[:SHOWN]
        for key, line in self.lines.items():
            line.be_shown(shown=key in few)
        hidden = len(self._shown) - len(few)
        self.more.say(counted("{n} more question", "{n} more questions", hidden), quiet=True)
        self.more.be_shown(shown=hidden > 0)

    def _show_all(self) -> None:
        first = self._shown[SHOWN]
        self._shows_all = True
        self._uncover()
        self.lines[first].setFocus()
