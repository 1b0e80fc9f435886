"""The ladder of the chosen option: what each part of the work comes to, opened in place."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import ladder_rows, saying
from estimator.desktop.money.row import DEEPEST, RowWidget
from estimator.desktop.state import Sight
from estimator.desktop.widgets.words import figures, words
from estimator.quoting.quotation import Option

NONE: frozenset[str] = frozenset()


class Ladder(QWidget):
    """Rows are kept and filled anew; more are made only where more are shown than ever before."""

    pointed = Signal(object)
    """The marks of the row pointed at, a frozenset; empty when none is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin without rows."""
        super().__init__(parent)
        self.rows: list[RowWidget] = []
        self._shown = 0
        self._option: Option | None = None
        self._firm, self._note = False, ""
        self._opened: set[str] = set()
        self._lit = self._told = NONE
        self._title = words(role="second")
        self._heads = figures(role="second")
        self.brick = words(role="second")
        self._lay_out()
        # The pointer leaves one row before it comes to the next: told once, when it has settled.
        self._telling = QTimer(self)
        self._telling.setSingleShot(True)
        self._telling.setInterval(0)
        self._telling.timeout.connect(self._tell)

    def show_option(self, option: Option, sight: Sight) -> None:
        """Show the ladder of an option."""
        self._option, self._firm = option, saying.is_firm(sight)
        self._note = saying.above(saying.band_of(sight, option))
        for label, text in (
            (self._title, option.offer.scope.title),
            (self._heads, "" if self._firm else _("likely")),
            (self.brick, saying.further_brick(option.offer, firm=self._firm)),
        ):
            if label.text() != text:
                label.setText(text)
        self._fill()

    def light(self, marks: frozenset[str]) -> None:
        """Light the rows that have any of these marks, and say what of them belongs to it."""
        if marks != self._lit:
            self._lit = marks
            for row in self.rows[: self._shown]:
                self._light_row(row)

    @property
    def last_row(self) -> RowWidget | None:
        """The last row ever made, after which Tab leaves the ladder."""
        return self.rows[-1] if self.rows else None

    def open(self, key: str) -> None:
        """Open a row, or close it where it is open."""
        self._opened ^= {key}
        self._fill()

    def _fill(self) -> None:
        if self._option is None:
            return
        focused = next((row.row.key for row in self.rows[: self._shown] if row.hasFocus()), "")
        shown = (
            *ladder_rows.rows_of(
                self._option.offer, self._opened, firm=self._firm, note=self._note
            ),
            *ladder_rows.seen_rows(saying.all_seen(self._option), self._opened),
        )
        while len(self.rows) < len(shown):
            self._add()
        for widget, row in zip(self.rows, shown, strict=False):
            widget.show_row(row)
            self._light_row(widget)
        self._show_only(len(shown))
        self._put_focus(focused)
        self._telling.start()

    def _put_focus(self, key: str) -> None:
        """Keep the keyboard on its row when rows above it come or go."""
        place = next(
            (n for n, one in enumerate(self.rows[: self._shown]) if one.row.key == key), -1
        )
        if key and place >= 0 and not self.rows[place].hasFocus():
            self.rows[place].setFocus()
        elif key and place < 0 and self._shown:
            self.rows[0].setFocus()
        if not any(
            one.focusPolicy() == Qt.FocusPolicy.StrongFocus for one in self.rows[: self._shown]
        ):
            self._rove(0)

    def _light_row(self, widget: RowWidget) -> None:
        lit = widget.row.level < DEEPEST and bool(self._lit & widget.row.marks)
        share = ""
        if lit and self._option is not None:
            lines = ladder_rows.lines_of(self._option.offer, widget.row.key)
            part = ladder_rows.share_of(lines, self._lit)
            whole = sum(line.amount.pence for line in lines)
            if part.pence < whole:
                share = _("{share} of it").format(share=saying.whole(part))
        widget.light(lit=lit, share=share)

    def _show_only(self, count: int) -> None:
        for place in range(min(count, self._shown), max(count, self._shown)):
            self.rows[place].setVisible(place < count)
        self._shown = count

    def _add(self) -> None:
        row, place = RowWidget(), len(self.rows)
        row.setVisible(False)
        row.clicked.connect(lambda: self._toggle(place))
        row.stepped.connect(lambda how: self._step(place, how))
        row.pointed.connect(lambda _here: self._telling.start())
        self._layout.addWidget(row)
        if self.rows:
            self.setTabOrder(self.rows[-1], row)
        self.rows.append(row)

    def _toggle(self, place: int) -> None:
        self._rove(place)
        if self.rows[place].row.is_open is not None:
            self.open(self.rows[place].row.key)

    def _step(self, place: int, how: str) -> None:
        row = self.rows[place].row
        if (how == "right" and row.is_open is False) or (how == "left" and row.is_open):
            self.open(row.key)
            return
        to = {
            "up": place - 1,
            "down": place + 1,
            "home": 0,
            "end": self._shown - 1,
            "left": self._above(place),
            "right": place + 1 if row.is_open else place,
        }[how]
        if 0 <= to < self._shown:
            self._rove(to)
            self.rows[to].setFocus()

    def _above(self, place: int) -> int:
        """Return the row that a row stands within."""
        level = self.rows[place].row.level
        return next((n for n in range(place, -1, -1) if self.rows[n].row.level < level), place)

    def _rove(self, place: int) -> None:
        """Leave Tab one stop in the ladder: the row the keyboard was last on."""
        for n, row in enumerate(self.rows):
            row.make_tab_stop(stop=n == place)

    def _tell(self) -> None:
        shown = self.rows[: self._shown] if self.isVisible() else []
        under = next((row for row in shown if row.underMouse()), None)
        row = under or next((row for row in shown if row.hasFocus()), None)
        marks = NONE if row is None else row.row.marks
        if marks != self._told:
            self._told = marks
            self.pointed.emit(marks)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Point at nothing while there is no ladder."""
        super().hideEvent(event)
        self._tell()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(16, 0, 8, 0)
        head.addWidget(self._title, 1)
        head.addWidget(self._heads)
        self._layout = QVBoxLayout()
        self._layout.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addLayout(head)
        layout.addLayout(self._layout)
        foot = QHBoxLayout()
        foot.setContentsMargins(16, 4, 8, 0)
        foot.addWidget(self.brick)
        layout.addLayout(foot)
