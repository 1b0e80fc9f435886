"""Rows of prices one under the other: opened in place, walked by keys, pointing at their marks."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.money.ladder_rows import LadderRow
from estimator.desktop.money.row import DEEPEST, RowWidget

NONE: frozenset[str] = frozenset()


class RowList(QWidget):
    """Rows are kept and filled anew; more are made only where more are shown than ever before."""

    pointed = Signal(object)
    """The marks of the row pointed at, a frozenset; empty when none is."""
    marks_wanted = Signal()
    """The keyboard wants to go from a row to its marks on the wall."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin without rows."""
        super().__init__(parent)
        self.rows: list[RowWidget] = []
        self.shown = 0
        """How many of the rows are shown."""
        self.held = ""
        """Key of the row whose marks are kept lit; empty for none."""
        self.opened: set[str] = set()
        self.lit = NONE
        """The marks on the wall that are pointed at."""
        self._told = NONE
        self.lines = QVBoxLayout()
        self.lines.setSpacing(0)
        # The pointer leaves one row before it comes to the next: told once, when it has settled.
        self._telling = QTimer(self)
        self._telling.setSingleShot(True)
        self._telling.setInterval(0)
        self._telling.timeout.connect(self._tell)

    def rows_now(self) -> tuple[LadderRow, ...]:
        """Return what is to be shown now."""
        raise NotImplementedError

    def light_row(self, widget: RowWidget) -> None:
        """Light a row that has any of the marks pointed at."""
        lit = widget.row.level < DEEPEST and bool(self.lit & widget.row.marks)
        widget.light(lit=lit, share="")

    def light(self, marks: frozenset[str]) -> None:
        """Light the rows that have any of these marks."""
        if marks != self.lit:
            self.lit = marks
            self.light_rows()

    def light_rows(self) -> None:
        """Light every row anew."""
        for row in self.rows[: self.shown]:
            self.light_row(row)

    def fill(self) -> None:
        """Show what there is now; the keyboard and what is kept lit stay where they are."""
        focused = next((row.row.key for row in self.rows[: self.shown] if row.hasFocus()), "")
        shown = self.rows_now()
        while len(self.rows) < len(shown):
            self._add()
        if self.held not in {row.key for row in shown}:
            self.held = ""
        for widget, row in zip(self.rows, shown, strict=False):
            widget.show_row(row)
            widget.hold(held=bool(row.key) and row.key == self.held)
        self._show_only(len(shown))
        self.light_rows()
        self._put_focus(focused)
        self._telling.start()

    @property
    def last_row(self) -> RowWidget | None:
        """The last row ever made, after which Tab leaves the list."""
        return self.rows[-1] if self.rows else None

    def open(self, key: str) -> None:
        """Open a row, or close it where it is open."""
        self.opened ^= {key}
        self.fill()

    def _put_focus(self, key: str) -> None:
        """Keep the keyboard on its row when rows above it come or go."""
        place = next((n for n, one in enumerate(self.rows[: self.shown]) if one.row.key == key), -1)
        if key and place >= 0 and not self.rows[place].hasFocus():
            self.rows[place].setFocus()
        elif key and place < 0 and self.shown:
            self.rows[0].setFocus()
        if not any(
            one.focusPolicy() == Qt.FocusPolicy.StrongFocus for one in self.rows[: self.shown]
        ):
            self._rove(0)

    def _show_only(self, count: int) -> None:
        for place in range(min(count, self.shown), max(count, self.shown)):
            self.rows[place].setVisible(place < count)
        self.shown = count

    def _add(self) -> None:
        row, place = RowWidget(), len(self.rows)
        row.setVisible(False)
        row.clicked.connect(lambda: self._toggle(place))
        row.stepped.connect(lambda how: self._step(place, how))
        row.pointed.connect(lambda _here: self._telling.start())
        self.lines.addWidget(row)
        if self.rows:
            self.setTabOrder(self.rows[-1], row)
        self.rows.append(row)

    def _toggle(self, place: int) -> None:
        """Take a row up: its marks stay lit and it opens; or let it go again."""
        self._rove(place)
        row = self.rows[place].row
        if row.marks and self.held != row.key and row.level < DEEPEST:
            self.hold(row.key)
            if row.is_open is False:
                self.open(row.key)
            return
        self.let_go()
        if row.is_open is not None:
            self.open(row.key)

    def hold(self, key: str) -> None:
        """Keep the marks of a row lit, wherever the keyboard goes."""
        self.held = key
        for row in self.rows[: self.shown]:
            row.hold(held=row.row.key == key)
        self._telling.start()

    def take_focus(self) -> bool:
        """Put the keyboard on the row it was last on; say whether there is one."""
        shown = self.rows[: self.shown]
        stops = (row for row in shown if row.focusPolicy() == Qt.FocusPolicy.StrongFocus)
        row = next(stops, None)
        if row is not None:
            row.setFocus(Qt.FocusReason.ShortcutFocusReason)
        return row is not None

    def let_go(self) -> bool:
        """Keep no row's marks lit any more; false where none were."""
        was_held = bool(self.held)
        self.held = ""
        for row in self.rows:
            row.hold(held=False)
        self._telling.start()
        return was_held

    @property
    def row_at(self) -> RowWidget | None:
        """The row with the keyboard."""
        return next((row for row in self.rows[: self.shown] if row.hasFocus()), None)

    def go_to(self, marks: frozenset[str], *, back_to: str = "") -> bool:
        """Put the keyboard on the first line that marks carry, or back on a row it came from."""
        found = self._first(marks, back_to) or self._first(marks)
        if found is None:
            return False
        if found.row.level == 0 and found.row.is_open is False:
            self.open(found.row.key)
        within = f"{found.row.key}/"
        lines = (row for row in self.rows[: self.shown] if row.row.key.startswith(within))
        first = next((row for row in lines if row.row.level == 1 and row.row.marks & marks), None)
        row = first if first is not None and found.row.key != back_to else found
        self._rove(self.rows.index(row))
        row.setFocus(Qt.FocusReason.ShortcutFocusReason)
        return True

    def _first(self, marks: frozenset[str], key: str = "") -> RowWidget | None:
        shown = (row for row in self.rows[: self.shown] if row.row.marks & marks)
        return next((row for row in shown if not key or row.row.key == key), None)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take the keys no row has a use for: M goes to the marks, Escape lets go."""
        is_plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if event.key() == Qt.Key.Key_M and is_plain:
            self._want_marks()
        elif event.key() != Qt.Key.Key_Escape or not self.let_go():
            super().keyPressEvent(event)

    def _want_marks(self) -> None:
        row = self.row_at
        if row is not None and row.row.marks:
            self.hold(row.row.key)
            self.marks_wanted.emit()

    def _step(self, place: int, how: str) -> None:
        row = self.rows[place].row
        if (how == "right" and row.is_open is False) or (how == "left" and row.is_open):
            self.open(row.key)
            return
        if how == "right" and row.is_open is None:
            self._want_marks()
            return
        to = {
            "up": place - 1,
            "down": place + 1,
            "home": 0,
            "end": self.shown - 1,
            "left": self._above(place),
            "right": place + 1 if row.is_open else place,
        }[how]
        if 0 <= to < self.shown:
            self._rove(to)
            self.rows[to].setFocus()

    def _above(self, place: int) -> int:
        """Return the row that a row stands within."""
        level = self.rows[place].row.level
        return next((n for n in range(place, -1, -1) if self.rows[n].row.level < level), place)

    def _rove(self, place: int) -> None:
        """Leave Tab one stop in the list: the row the keyboard was last on."""
        for n, row in enumerate(self.rows):
            row.make_tab_stop(stop=n == place)

    def _tell(self) -> None:
        shown = self.rows[: self.shown] if self.isVisible() else []
        under = next((row for row in shown if row.underMouse()), None)
        held = next((row for row in shown if row.is_held), None)
        row = under or held or next((row for row in shown if row.hasFocus()), None)
        marks = NONE if row is None else row.row.marks
        if marks != self._told:
            self._told = marks
            self.pointed.emit(marks)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Point at nothing while nothing is shown."""
        super().hideEvent(event)
        self._tell()
